package inventory

import (
	"math"
	"testing"
	"time"

	"overwinter/internal/units"
)

func TestWrongTermsOfARouteAreToldWhatToDo(t *testing.T) {
	toldWhatToDo(t, []wrongRow{
		{"negative stop cost", func(s *sound) { s.route.StopCost = -1 }, "stop_cost: -1 is out of range: expected 0 to 1 000 000 000 000"},
		{"negative freight", func(s *sound) { s.route.FreightPerLitre = -0.05 }, "freight_per: -0.05 a litre is out of range: expected 0 to 1 000 000 a litre"},
		{"stop cost in no money", func(s *sound) { s.route.PricePerLitre, s.route.FreightPerLitre, s.route.Currency = 0, 0, "" }, "currency: blank: a price needs its currency, such as USD"},
		{"growth in percent", func(s *sound) { s.route.PriceGrowth = 3 }, "price_growth_per_year: 3 is out of range: expected -0.5 to 0.9, as a share: 0.08 is 8 %"},
		{"spread in percent", func(s *sound) { s.route.PriceSD = 25 }, "price_sd_per_year: 25 is out of range: expected 0 to 2, as a share: 0.08 is 8 %"},
		{"spread below zero", func(s *sound) { s.route.PriceSD = -0.1 }, "price_sd_per_year: -0.1 is out of range"},
		{"no number", func(s *sound) { s.route.PriceGrowth = math.NaN() }, "price_growth_per_year: not a number is out of range"},
		{"too many deliveries", func(s *sound) { s.route.Deliveries = 7 }, "deliveries: 7 is out of range: expected 0 to 6"},
		{"days between one", func(s *sound) { s.route.Deliveries = 0 }, "days_between: 20 days, but one delivery a window: state deliveries, or leave it blank"},
		{"deliveries of a fallback", func(s *sound) { s.fallback.Deliveries = 2 }, "deliveries: a fallback route has no windows"},
		{"pay from", func(s *sound) { s.route.PayFrom = "invoice" }, `pay_from: "invoice" is not known: expected one of order, delivery`},
		{"pay days", func(s *sound) { s.route.PayDays = -3 }, "pay_days: -3 days is out of range: expected 0 to 3 660 days"},
	})
}

func TestALoadMustFitTheLimitsOfALot(t *testing.T) {
	load := func(load, least, most, step units.LitresAt15) func(*sound) {
		return func(s *sound) {
			s.limit.LotMax = 1e6
			s.route.Load, s.route.LotMin, s.route.LotMax, s.route.LotStep = load, least, most, step
		}
	}
	toldWhatToDo(t, []wrongRow{
		{"negative", load(-1, 0, 0, 0), "load: -1 L is out of range: expected 0 to 1 000 000 000 L"},
		{"more than a lot", load(5000, 0, 4000, 0), "load: 5 000 L is more than lot_max, 4 000 L: not one load would fit"},
		{"a step of no loads", load(4000, 0, 0, 6000), "lot_step: 6 000 L is no whole number of loads of 4 000 L: leave it blank, and lots are whole loads"},
		{"none between the limits", load(4000, 5000, 7000, 0), "lot_min: no whole number of loads of 4 000 L lies between lot_min, 5 000 L, and lot_max, 7 000 L"},
		{"said twice", func(s *sound) { s.fallback.Load = 5000 }, "load: 5 000 L, and lot_max is 9 000 L: of a fallback route both are the size of one load; leave one of them blank"},
		{"more than the days allow", func(s *sound) { s.route.Load = 6000 }, "lot_max: 5 000 L is less than one load of route river, 6 000 L: nothing could be delivered; end the window by cut_off instead"},
	})
	for name, change := range map[string]func(*sound){
		"loads in a step":              load(4000, 0, 0, 8000),
		"a lot of one and a half":      load(4000, 0, 6000, 0),
		"a third of a gallon":          load(units.LitresPerUSGallon/3, 0, 0, units.LitresPerUSGallon),
		"a load in place of a lot_max": func(s *sound) { s.fallback.LotMax, s.fallback.Load = 0, 9000 },
		"both alike":                   func(s *sound) { s.fallback.Load = 9000 },
	} {
		s := soundRows()
		change(s)
		if got := s.found(); got != nil {
			t.Errorf("%s: %v", name, got)
		}
	}
}

func TestAWrongReserveOrCostOfHoldingIsToldWhatToDo(t *testing.T) {
	toldWhatToDo(t, []wrongRow{
		{"months and a percentage", func(s *sound) { s.plant.ReserveMonths, s.plant.ReservePercent = ptr(2.0), ptr(20.0) },
			"reserve_months: the reserve is given as months and as a percentage: keep one of them and leave the others blank"},
		{"all four", func(s *sound) {
			s.plant.ReserveDays, s.plant.ReserveMonths, s.plant.ReservePercent, s.plant.ReserveLitres = ptr(1), ptr(1.0), ptr(1.0), ptr(units.LitresAt15(1))
		}, "reserve_days: the reserve is given as days and as months and as a percentage and as a volume: keep one of them"},
		{"a share for a percentage", func(s *sound) { s.plant.ReservePercent = ptr(0.2) }, "reserve_percent: 0.2 is out of range: expected 1 to 100, as a percentage: 20 is 20 % of what the tanks hold"},
		{"more than all", func(s *sound) { s.plant.ReservePercent = ptr(101.0) }, "reserve_percent: 101 is out of range"},
		{"no number", func(s *sound) { s.plant.ReservePercent = ptr(math.NaN()) }, "reserve_percent: not a number is out of range"},
		{"months", func(s *sound) { s.plant.ReserveMonths = ptr(-1.0) }, "reserve_months: -1 months is out of range: expected 0 to 120 months"},
		{"holding in percent", func(s *sound) { s.plant.Carrying = ptr(8.0) }, "carrying_per_year: 8 is out of range: expected 0 to 0.9, as a share: 0.08 is 8 %"},
		{"fallback", func(s *sound) { s.plant.FallbackAtDays = ptr(-1) }, "fallback_at_days: -1 days is out of range: expected 0 to 3 660 days"},
	})
}

func TestAWrongWindowLimitIsToldWhatToDo(t *testing.T) {
	toldWhatToDo(t, []wrongRow{
		{"route", func(s *sound) { s.limit.Route = "rivet" }, `route: there is no supply route "rivet": expected one of river, air`},
		{"window", func(s *sound) { s.limit.Name = "autumn" }, `window: there is no window "autumn" of route river: expected one of summer, or enter the window first`},
		{"from", func(s *sound) { s.limit.From = MonthDay{2, 30} }, "from: 02-30 is no day of the year: expected MM-DD such as 06-15"},
		{"until", func(s *sound) { s.limit.Until = MonthDay{13, 1} }, "until: 13-01 is no day of the year"},
		{"nothing", func(s *sound) { s.limit.LotMax = 0 }, "lot_max: 0 L: expected more than 0 and at most 1 000 000 000 L; for days without any delivery end the window by cut_off"},
		{"cause", func(s *sound) { s.limit.Cause = "ice" }, `cause: "ice" is not known: expected one of draft, weight, tide, other`},
	})
}

func TestAWrongSpendingLimitIsToldWhatToDo(t *testing.T) {
	toldWhatToDo(t, []wrongRow{
		{"plant", func(s *sound) { s.spending.Plant = "NAC" }, `plant: there is no plant "NAC": expected one of NAK`},
		{"name", func(s *sound) { s.spending.Name = "" }, "name: blank: expected a short name"},
		{"kind", func(s *sound) { s.spending.Of = "bank" }, `kind: "bank" is not known: expected one of credit, loan, supplier`},
		{"order", func(s *sound) { s.spending.Until = s.spending.From - 1 }, "until: 2026-08-31 is before from, 2026-09-01: expected the first day first"},
		{"nothing", func(s *sound) { s.spending.Amount, s.spending.Currency = nil, "" }, "amount: blank, and so is the volume: expected what may be spent, what may be ordered, or both"},
		{"negative", func(s *sound) { s.spending.Amount = ptr(-5.0) }, "amount: -5 is out of range: expected 0 to"},
		{"negative volume", func(s *sound) { s.spending.Volume = ptr(units.LitresAt15(-5)) }, "volume: -5 L is out of range"},
		{"no currency", func(s *sound) { s.spending.Currency = "" }, "currency: blank: a price needs its currency, such as USD"},
		{"form of the currency", func(s *sound) { s.spending.Currency = "dollars" }, `currency: "dollars" is no currency code`},
		{"currency of litres", func(s *sound) { s.spending.Amount, s.spending.Volume = nil, ptr(units.LitresAt15(5)) },
			`currency: "USD" without an amount: state the amount, or leave it blank`},
		{"another currency", func(s *sound) { s.spending.Currency = "CAD" },
			"currency: CAD, and route river that serves the plant is priced in USD: expected one currency; state the limit as a volume where there are several"},
	})
}

// A cut-off may lie after the usual closing, since some closings are later, but not just before the next opening.
func TestACutOffIsOfItsOwnWindow(t *testing.T) {
	day := func(month time.Month, day int) MonthDay { return MonthDay{month, day} }
	for _, tt := range []struct {
		name                  string
		opens, closes, cutOff MonthDay
		want                  string
	}{
		{"before the closing", day(6, 5), day(9, 25), day(9, 10), ""},
		{"on the opening", day(6, 5), day(9, 25), day(6, 5), ""},
		{"a month after the closing", day(6, 5), day(9, 25), day(10, 25), ""},
		{"a week before the opening", day(6, 5), day(9, 25), day(5, 29), "cut_off: 05-29 lies 7 days before the opening, 06-05: expected a day from the opening to about the closing, 09-25"},
		{"over New Year", day(12, 20), day(3, 10), day(2, 29), ""},
		{"over New Year, before it", day(12, 20), day(3, 10), day(12, 31), ""},
		{"over New Year, a week before the opening", day(12, 20), day(3, 10), day(12, 13), "cut_off: 12-13 lies 7 days before"},
		{"of a southern summer", day(11, 15), day(4, 5), day(3, 31), ""},
		{"of a year without a gap", day(1, 1), day(12, 31), day(12, 31), ""},
		{"no day", day(6, 5), day(9, 25), day(9, 31), "cut_off: 09-31 is no day of the year"},
	} {
		s := soundRows()
		s.window.Opens, s.window.Closes, s.window.CutOff = tt.opens, tt.closes, &tt.cutOff
		got := s.found()
		if tt.want == "" && got != nil || tt.want != "" && (len(got) != 1 || len(got[0]) < len(tt.want) || got[0][:len(tt.want)] != tt.want) {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

// What the directory says of a plant changes with every limit on its routes and its orders, and with no other's.
func TestLimitsAreInputsOfThePlantsThatTheyBound(t *testing.T) {
	s := soundRows()
	before := s.directory().Version("NAK")
	s.limit.LotMax++
	limited := s.directory().Version("NAK")
	*s.spending.Amount++
	if spent := s.directory().Version("NAK"); before == limited || limited == spent {
		t.Error("a limit is no input")
	}
	s = soundRows()
	s.limit.Route, s.spending.Plant = "other", "OTH"
	without := s.directory().Version("NAK")
	s.limit.LotMax++
	*s.spending.Amount++
	if s.directory().Version("NAK") != without {
		t.Error("another plant's limits are inputs")
	}
}
