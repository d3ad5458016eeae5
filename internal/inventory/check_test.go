package inventory

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/notice"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// checkedAt is the moment at which the tests check their rows: noon on 1 October in Anchorage.
var checkedAt = time.Date(2026, time.October, 1, 20, 0, 0, 0, time.UTC)

// sound holds one sound row of each kind.
type sound struct {
	plant    *Plant
	tank     *Tank // a lying cylinder of 1.2 m by 4 m: 4 524 L
	other    *Tank // known by its capacity alone
	meter    *Meter
	reading  *MeterReading
	swap     *MeterSwap
	gauging  *Gauging
	total    *PeriodTotal
	delivery *Delivery
	transfer *Transfer
	draw     *Draw
	order    *Order
	route    *Route
	fallback *Route
	service  *Service
	window   *Window
}

func soundRows() *sound {
	e := Entry{Key: "k"}
	at := checkedAt.Add(-time.Hour)
	first, last := calendar.Date(2026, time.September, 1), calendar.Date(2026, time.September, 30)
	m := Measure{Volume: 1000, Temperature: ptr(units.Celsius(4)), Basis: BasisObserved}
	return &sound{
		plant: &Plant{Entry: e, ID: "NAK", Name: "Naknek", Zone: "America/Anchorage", Product: "diesel-2-s15"},
		tank: &Tank{Entry: e, Plant: "NAK", ID: "T1", Role: Storage, Product: "diesel-2-s15", Shape: ShapeHorizontal,
			Diameter: ptr(units.Millimetres(1200)), Length: ptr(units.Millimetres(4000))},
		other:    &Tank{Entry: e, Plant: "NAK", ID: "T2", Role: DayTank, Product: "diesel-2-s15", Shape: ShapeVolume, Capacity: ptr(units.Litres(900))},
		meter:    &Meter{Entry: e, Plant: "NAK", ID: "M1", Digits: 6, LitresPerCount: 1},
		reading:  &MeterReading{Entry: e, Plant: "NAK", Meter: "M1", At: at, Register: 999999.9},
		swap:     &MeterSwap{Entry: e, Plant: "NAK", Meter: "M1", At: at, Closing: ptr(5.0), Opening: ptr(0.0)},
		gauging:  &Gauging{Entry: e, Plant: "NAK", Tank: "T1", At: at, Depth: ptr(units.Millimetres(600)), Water: ptr(units.Millimetres(20)), Temperature: ptr(units.Celsius(4))},
		total:    &PeriodTotal{Entry: e, Measure: m, Plant: "NAK", FirstDay: first, LastDay: last},
		delivery: &Delivery{Entry: e, Measure: m, Plant: "NAK", Tank: "T1", At: at},
		transfer: &Transfer{Entry: e, Measure: m, Plant: "NAK", From: "T1", To: "T2", At: at},
		draw:     &Draw{Entry: e, Measure: m, Plant: "NAK", FirstDay: first, LastDay: last, Purpose: Heat},
		order: &Order{Entry: e, Measure: m, Plant: "NAK", ID: "PO1", Route: "river", State: Committed,
			OrderedOn: first, Early: last + 200, Likely: last + 210, Late: last + 230},
		route:    &Route{Entry: e, ID: "river", Mode: Barge, LeadDays: 30, PricePerLitre: 1.2, Currency: "USD"},
		fallback: &Route{Entry: e, ID: "air", Mode: Air, LeadDays: 3, Fallback: true, LotMax: 9000},
		service:  &Service{Entry: e, Route: "river", Plant: "NAK"},
		window:   &Window{Entry: e, Route: "river", Name: "summer", Opens: MonthDay{6, 5}, Closes: MonthDay{9, 25}, OrderBy: &MonthDay{4, 15}},
	}
}

type checker interface {
	Record
	Check(dir *Directory, now time.Time) []fault.Field
}

func (s *sound) all() []checker {
	return []checker{s.plant, s.tank, s.other, s.meter, s.reading, s.swap, s.gauging, s.total, s.delivery, s.transfer,
		s.draw, s.order, s.route, s.fallback, s.service, s.window}
}

func (s *sound) directory() *Directory {
	var rows Rows
	for _, r := range s.all() {
		rows.Add(r)
	}
	return NewDirectory(rows)
}

// found gives what is wrong with any of the rows.
func (s *sound) found() []string {
	var lines []string
	for _, r := range s.all() {
		for _, f := range r.Check(s.directory(), checkedAt) {
			lines = append(lines, f.Where+": "+f.Message)
		}
	}
	return lines
}

func TestSoundRowsPassTheirCheck(t *testing.T) {
	if got := soundRows().found(); got != nil {
		t.Error(got)
	}
}

func TestAWrongRowIsToldWhatToDo(t *testing.T) {
	tests := []struct {
		name   string
		change func(s *sound)
		want   string
	}{
		{"no key", func(s *sound) { s.draw.Key = "" }, "key: blank: a row needs a key of its own"},
		{"tab in an id", func(s *sound) { s.order.ID = "a\tb" }, `order: "a\tb" holds a control character, such as a tab or a line break: take it out`},
		{"long id", func(s *sound) { s.window.Name = strings.Repeat("é", 65) }, "window: 65 characters: expected at most 64"},
		{"not UTF-8", func(s *sound) { s.plant.Name = "a\xff" }, `name: "a\xff" is not UTF-8`},
		{"space at the end", func(s *sound) { s.plant.Group = "bay " }, `group: "bay " begins or ends with a space: take it off`},
		{"void without replaces", func(s *sound) { s.draw.Void = true }, "void: a row that withdraws another says which: put that row's key into replaces"},
		{"zone", func(s *sound) { s.service.Plant, s.plant.Zone = "NAK", "Alaska" }, `zone: "Alaska" is no time zone: expected an IANA name such as America/Anchorage`},
		{"product", func(s *sound) { s.plant.Product = "diesel" }, `product: "diesel" is not known: expected one of diesel-1-s15, diesel-2-s15, diesel-arctic, diesel-en590, jet-a1`},
		{"density", func(s *sound) { s.plant.Density15 = ptr(units.KgPerM3(0.845)) }, "density: 0.845 kg/m³ is out of range: expected 600 to 1 100 kg/m³"},
		{"density without a factor", func(s *sound) { s.plant.Density15 = ptr(units.KgPerM3(605)) }, "density: 605 kg/m³ at 15 °C is outside the range of the volume correction: expected"},
		{"an id that an address takes for a folder", func(s *sound) { s.plant.ID = ".." }, `plant: ".." cannot stand in an address: expected a name with a letter or a digit`},
		{"two reserves", func(s *sound) { s.plant.ReserveDays, s.plant.ReserveLitres = ptr(30), ptr(units.LitresAt15(5)) }, "reserve_days: the reserve is given as days and as a volume: leave one of them blank"},
		{"negative reserve", func(s *sound) { s.plant.ReserveLitres = ptr(units.LitresAt15(-5)) }, "reserve: -5 L is out of range: expected 0 to 1 000 000 000 L"},
		{"risk", func(s *sound) { s.plant.RiskTarget = ptr(5.0) }, "risk_target: 5 is out of range: expected 0.001 to 0.5"},
		{"risk not a number", func(s *sound) { s.plant.RiskTarget = ptr(math.NaN()) }, "risk_target: not a number is out of range: expected 0.001 to 0.5"},
		{"warm to", func(s *sound) { s.plant.WarmTo = ptr(units.Celsius(-51)) }, "warm_to: -51 °C is out of range: expected -50 to 150 °C"},
		{"display", func(s *sound) { s.plant.Display.Volume = "gal" }, `display_volume: "gal" is not known: expected one of l, us_gal, imp_gal, m3, kl, bbl`},

		{"role", func(s *sound) { s.tank.Role = "main" }, `role: "main" is not known: expected one of storage, intermediate, day`},
		{"missing length", func(s *sound) { s.tank.Length = nil }, "length: a horizontal tank needs it"},
		{"no diameter", func(s *sound) { s.tank.Diameter = ptr(units.Millimetres(0)) }, "diameter: 0 mm is no inside diameter: expected 0.1 to 1000000 mm"},
		{"missing capacity", func(s *sound) { s.other.Capacity = nil }, "capacity: a volume tank needs it"},
		{"one point", func(s *sound) { s.tank.Shape, s.tank.Table = ShapeTable, []tanks.Point{{Depth: 0, Volume: 0}} }, "shape: the tank's capacity table has 1 points: expected at least 2"},
		{"flat table", func(s *sound) {
			s.tank.Shape, s.tank.Table = ShapeTable, []tanks.Point{{Depth: 5}, {Depth: 5, Volume: 9}}
		}, "shape: row 2: 5 mm, 9 L: expected a depth above the 5 mm of the row before"},
		{"safe fill too high", func(s *sound) { s.tank.SafeFillDepth = ptr(units.Millimetres(1300)) }, "safe_fill_depth: 1 300 mm is above the tank's 1 200 mm: check it and the tank's shape"},
		{"safe fill twice", func(s *sound) {
			s.tank.SafeFillDepth, s.tank.SafeFillVolume = ptr(units.Millimetres(1100)), ptr(units.Litres(4000))
		}, "safe_fill_depth: the level is given as a depth and as a volume: leave one of them blank"},
		{"safe fill of nothing", func(s *sound) { s.other.SafeFillVolume = ptr(units.Litres(0)) }, "safe_fill: a safe fill of nothing leaves no tank: expected more than 0"},
		{"suction above safe fill", func(s *sound) { s.other.UnusableVolume = ptr(units.Litres(860)) }, "unusable: 860 L cannot be reached, but safe fill is 855 L: expected the suction level below it"},
		{"depth of a volume tank", func(s *sound) { s.other.SuctionDepth = ptr(units.Millimetres(50)) }, "suction_depth: only the capacity of this tank is known: give a volume instead"},
		{"timer of days", func(s *sound) { s.plant.LowTimerHours = ptr(120.0) }, "low_level_timer_hours: 120 hours is out of range: expected 0.05 to 48 hours"},
		{"fill band of a storage tank", func(s *sound) { s.tank.FillStart = ptr(units.Litres(900)) }, `fill_start: only a day tank has it, and the tank's role is "storage": leave it blank`},
		{"pump that stops above the tank", func(s *sound) { s.other.FillStop = ptr(units.Litres(901)) }, "fill_stop: fill levels: the pump starts at 675 L and stops at 901 L: expected 0 < start < stop ≤ the capacity of 900 L"},
		{"pump that starts above its stop", func(s *sound) {
			s.other.FillStart, s.other.FillStop = ptr(units.Litres(800)), ptr(units.Litres(700))
		}, "fill_start: fill levels: the pump starts at 800 L and stops at 700 L"},
		{"float above the start of the pump", func(s *sound) { s.other.LowLevel = ptr(units.Litres(700)) }, "low_level: the float trips at 700 L: expected 0 L, which the suction cannot reach, to less than the 675 L at which the pump starts"},
		{"float at the bottom", func(s *sound) { s.other.LowLevel = ptr(units.Litres(0)) }, "low_level: a float at the bottom gives no warning"},
		{"suction above the start of the pump", func(s *sound) {
			s.other.UnusableVolume, s.other.LowLevel = ptr(units.Litres(700)), ptr(units.Litres(100))
		}, "unusable: 700 L cannot be reached: expected 0 to less than the 675 L at which the pump starts"},
		{"fill of days", func(s *sound) { s.other.FillMinutes = ptr(3000.0) }, "fill_minutes: 3 000 minutes is out of range: expected 0.1 to 1 440 minutes"},
		{"back before out", func(s *sound) {
			s.tank.OutFrom, s.tank.BackOn = ptr(calendar.Date(2027, 2, 1)), ptr(calendar.Date(2027, 2, 1))
		}, "back_on: 2027-02-01 is not after out_from, 2027-02-01: expected the first day on which the tank is in service again"},
		{"back but never out", func(s *sound) { s.tank.BackOn = ptr(calendar.Date(2027, 2, 1)) }, "back_on: in service again from 2027-02-01, but never out: fill in out_from, or leave back_on blank"},

		{"digits", func(s *sound) { s.meter.Digits = 13 }, "digits: a register of 13 digits is not known: expected 3 to 12, or blank where it never rolls over"},
		{"factor", func(s *sound) { s.meter.Factor = 9985 }, "factor: 9 985 is out of range: expected 0.5 to 2"},
		{"count", func(s *sound) { s.meter.LitresPerCount = 0 }, "count: 0 L a count is out of range: expected 0.01 to 158 987.295 L a count"},
		{"register beyond its digits", func(s *sound) { s.reading.Register = 1e6 }, "register: 1 000 000 cannot stand on a register of 6 digits: expected 0 or more and less than 1 000 000; check the reading and the meter's digits"},
		{"register below zero", func(s *sound) { s.meter.Digits, s.reading.Register = 0, -1 }, "register: -1 counts is out of range: expected 0 to 1 000 000 000 000 counts"},
		{"closing", func(s *sound) { s.swap.Closing = ptr(math.Inf(1)) }, "closing: not a number cannot stand on a register of 6 digits"},
		{"unknown meter", func(s *sound) { s.swap.Meter = "M2" }, `meter: there is no meter "M2" at plant NAK: expected one of M1, or enter the meter first`},
		{"future reading", func(s *sound) { s.reading.At = checkedAt.Add(time.Minute) }, "at: 2026-10-01 12:01 is in the future: at the plant it is now 2026-10-01 12:00; check the date (a bare day means noon)"},
		{"ancient reading", func(s *sound) { s.reading.At = time.Date(26, 3, 2, 0, 0, 0, 0, time.UTC) }, "at: the year 26 cannot be meant: expected 1900 to 2200"},

		{"depth and volume", func(s *sound) { s.gauging.Volume = ptr(units.Litres(5)) }, "depth: both a depth and a volume: give the one that was read and leave the other blank"},
		{"neither", func(s *sound) { s.gauging.Depth = nil }, "depth: neither a depth nor a volume: give the one that was read"},
		{"depth and ullage", func(s *sound) { s.gauging.Ullage = ptr(units.Millimetres(5)) }, "ullage: beside an ullage there is a depth or a volume: give the one that was read and leave the others blank"},
		{"ullage without a reference height", func(s *sound) { s.gauging.Depth, s.gauging.Ullage = nil, ptr(units.Millimetres(5)) },
			"ullage: the height from which it is counted is not known: state the tank's reference height, or give the depth instead"},
		{"ullage beyond the reference height", func(s *sound) {
			s.tank.ReferenceHeight = ptr(units.Millimetres(1500))
			s.gauging.Depth, s.gauging.Water, s.gauging.Ullage = nil, nil, ptr(units.Millimetres(1501))
		}, "ullage: 1501 mm: expected 300 mm, where the tank is full, to 1500 mm, the reference height, where it is empty"},
		{"ullage in a volume tank", func(s *sound) {
			s.gauging.Tank, s.gauging.Depth, s.gauging.Water, s.gauging.Ullage = "T2", nil, nil, ptr(units.Millimetres(5))
		}, "ullage: only the capacity of this tank is known: give a volume, or a capacity table with the tank"},
		{"unknown gauge", func(s *sound) { s.gauging.Gauge = "eye" },
			"gauge: \"eye\" is not known: expected one of stick, tape, float-eighths, sight-glass, automatic-inventory, automatic-custody, drum-count"},
		{"reference height inside the tank", func(s *sound) { s.tank.ReferenceHeight = ptr(units.Millimetres(500)) },
			"reference_height: 500 mm is less than half of the tank's 1 200 mm: expected the height of the gauge hatch above the bottom"},
		{"depth above the tank", func(s *sound) { s.gauging.Depth = ptr(units.Millimetres(1250)) }, "depth: 1 250 mm is above the tank's 1 200 mm: check the dip and the tank's shape"},
		{"depth below nothing", func(s *sound) { s.gauging.Depth, s.gauging.Water = ptr(units.Millimetres(-1)), nil }, "depth: -1 mm is below nothing: expected 0 to 1 200 mm"},
		{"depth in a volume tank", func(s *sound) { s.gauging.Tank = "T2" }, "depth: only the capacity of this tank is known: give a volume, or a capacity table with the tank"},
		{"volume above capacity", func(s *sound) {
			s.gauging.Tank, s.gauging.Depth, s.gauging.Water, s.gauging.Volume = "T2", nil, nil, ptr(units.Litres(901))
		}, "volume: 901 L is above the tank's 900 L: check the gauge and the tank's capacity"},
		{"water above the depth", func(s *sound) { s.gauging.Water = ptr(units.Millimetres(601)) }, "water: 601 mm of water stand above the depth of 600 mm: expected the depth of all liquid, water included"},
		{"water above the volume", func(s *sound) {
			s.gauging.Depth, s.gauging.Volume, s.gauging.Water = nil, ptr(units.Litres(10)), ptr(units.Millimetres(600))
		}, "water: 2261.947 L of water are more than the 10 L of all liquid: was the fuel alone given?"},
		{"temperature", func(s *sound) { s.gauging.Temperature = ptr(units.Celsius(-61)) }, "temperature: -61 °C is out of range: expected -60 to 150 °C"},
		{"precision", func(s *sound) { s.gauging.Precision = -1 }, "precision: -1 mm is out of range: expected 0 to 1 000 mm"},

		{"days the wrong way round", func(s *sound) { s.draw.FirstDay = s.draw.LastDay + 1 }, "first_day: 2026-10-01 is after the last day, 2026-09-30: expected the earlier day first"},
		{"future total", func(s *sound) { s.total.LastDay = calendar.Date(2026, 10, 2) }, "last_day: 2026-10-02 is in the future: at the plant it is now 2026-10-01; check the date"},
		{"total not finite", func(s *sound) { s.total.Volume = units.Litres(math.NaN()) }, "volume: not a number is out of range: expected -1 000 000 000 to 1 000 000 000 L"},
		{"basis", func(s *sound) { s.total.Basis = "60F" }, `basis: "60F" is not known: expected one of observed, 15C`},
		{"purpose", func(s *sound) { s.draw.Purpose = "gift" }, `purpose: "gift" is not known: expected one of heat, vehicles, sale, loan`},
		{"no volume", func(s *sound) { s.delivery.Volume = 0 }, "volume: 0 L cannot be moved: expected more than 0 and at most 1 000 000 000 L"},
		{"unknown tank", func(s *sound) { s.delivery.Tank = "T3" }, `tank: there is no tank "T3" at plant NAK: expected one of T1, T2, or enter the tank first`},
		{"unknown plant", func(s *sound) { s.transfer.Plant = "NAC" }, `plant: there is no plant "NAC": expected one of NAK, or enter the plant first`},
		{"there and back", func(s *sound) { s.transfer.To = "T1" }, "to_tank: the fuel leaves tank T1 and goes back into it: expected two tanks"},
		{"ordered tomorrow", func(s *sound) { s.order.OrderedOn = calendar.Date(2026, 10, 2) }, "ordered_on: 2026-10-02 is in the future: at the plant it is now 2026-10-01; check the date"},
		{"early after likely", func(s *sound) { s.order.Early = s.order.Likely + 1 }, "early: 2027-04-29 is after likely, 2027-04-28: expected early, likely and late in order"},
		{"late before likely", func(s *sound) { s.order.Late = s.order.Likely - 1 }, "late: 2027-04-27 is before likely, 2027-04-28: expected early, likely and late in order"},
		{"unknown route", func(s *sound) { s.order.Route = "road" }, `route: there is no supply route "road": expected one of river, air, or enter the supply route first`},
		{"state", func(s *sound) { s.order.State = "lost" }, `state: "lost" is not known: expected one of committed, in-transit, received, cancelled`},

		{"mode", func(s *sound) { s.route.Mode = "ship" }, `mode: "ship" is not known: expected one of barge, sealift, winter-road, all-season-road, air, small-boat`},
		{"spread", func(s *sound) { s.route.LeadSDDays = -1 }, "lead_sd_days: -1 days is out of range: expected 0 to 3 660 days"},
		{"lots", func(s *sound) { s.route.LotMin, s.route.LotMax = 5000, 4000 }, "lot_min: 5 000 L is more than lot_max, 4 000 L: expected the smaller lot first"},
		{"load", func(s *sound) { s.fallback.LotMax = 0 }, "lot_max: blank: a fallback route needs it, as the size of one load"},
		{"currency", func(s *sound) { s.route.Currency = "usd" }, `currency: "usd" is no currency code: expected three capital letters such as USD`},
		{"price of nothing", func(s *sound) { s.route.Currency = "" }, "currency: blank: a price needs its currency, such as USD"},
		{"window of a fallback", func(s *sound) { s.window.Route = "air" }, "route: route air is a fallback, open all year: take the window out, or the route's fallback"},
		{"no such day", func(s *sound) { s.window.Closes = MonthDay{9, 31} }, "closes: 09-31 is no day of the year: expected MM-DD such as 06-15"},
		{"chance", func(s *sound) { s.window.FailChance = 5 }, "fail_chance: 5 is out of range: expected 0 to 1"},
		{"year", func(s *sound) { s.window.Year = 26 }, "year: the year 26 cannot be meant: expected 1900 to 2200"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := soundRows()
			tt.change(s)
			got := s.found()
			if len(got) == 0 || !strings.HasPrefix(got[0], tt.want) {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

func TestAWithdrawalNeedsNoContent(t *testing.T) {
	void := Entry{Key: "k2", Replaces: "k", Void: true}
	rows := []checker{
		&Plant{Entry: void, ID: "X"}, &Tank{Entry: void, Plant: "X", ID: "T"}, &Meter{Entry: void, Plant: "X", ID: "M"},
		&MeterReading{Entry: void, Plant: "X"}, &MeterSwap{Entry: void, Plant: "X"}, &Gauging{Entry: void, Plant: "X"},
		&PeriodTotal{Entry: void, Plant: "X"}, &Delivery{Entry: void, Plant: "X"}, &Transfer{Entry: void, Plant: "X"},
		&Draw{Entry: void, Plant: "X"}, &Order{Entry: void, Plant: "X", ID: "O"}, &Route{Entry: void, ID: "R"},
		&Service{Entry: void, Route: "R", Plant: "X"}, &Window{Entry: void, Route: "R", Name: "W"},
	}
	for _, r := range rows {
		if got := r.Check(NewDirectory(Rows{}), checkedAt); got != nil {
			t.Errorf("%s: %v", r.Kind(), got)
		}
	}
}

type doubter interface {
	Doubts(*Directory) []notice.Notice
}

func TestDoubtfulValuesAreNoticed(t *testing.T) {
	tests := []struct {
		name   string
		change func(s *sound)
		row    func(s *sound) doubter
		want   string
	}{
		{"cold", func(s *sound) { s.gauging.Temperature = ptr(units.Celsius(-50.5)) },
			func(s *sound) doubter { return s.gauging }, CodeTemperatureOdd},
		{"warm reading", func(s *sound) { s.reading.Temperature = ptr(units.Celsius(51)) },
			func(s *sound) doubter { return s.reading }, CodeTemperatureOdd},
		{"no temperature", func(s *sound) { s.delivery.Temperature, s.delivery.Basis = nil, BasisUnknown },
			func(s *sound) doubter { return s.delivery }, CodeBasisUnknown},
		{"observed without its temperature", func(s *sound) { s.draw.Temperature = nil },
			func(s *sound) doubter { return s.draw }, CodeBasisUnknown},
		{"gauging without temperature", func(s *sound) { s.gauging.Temperature = nil },
			func(s *sound) doubter { return s.gauging }, CodeBasisUnknown},
		{"total of zero", func(s *sound) { s.total.Volume = 0 },
			func(s *sound) doubter { return s.total }, CodeTotalNotPositive},
		{"more than the tank", func(s *sound) { s.delivery.Tank, s.delivery.Volume = "T2", 901 },
			func(s *sound) doubter { return s.delivery }, CodeDeliveryTooLarge},
		// π/4 · 1.2² · 4 m³ + 0.9 m³ = 5.424 m³
		{"more than all tanks", func(s *sound) { s.delivery.Tank, s.delivery.Volume = "", 5425 },
			func(s *sound) doubter { return s.delivery }, CodeDeliveryTooLarge},
		{"as much as all tanks", func(s *sound) { s.delivery.Tank, s.delivery.Volume = "", 5423 },
			func(s *sound) doubter { return s.delivery }, ""},
		{"at 15 °C", func(s *sound) { s.order.Temperature, s.order.Basis = nil, Basis15 },
			func(s *sound) doubter { return s.order }, ""},
		{"nothing odd", func(*sound) {},
			func(s *sound) doubter { return s.transfer }, ""},
	}
	for _, tt := range tests {
		s := soundRows()
		tt.change(s)
		var codes []string
		for _, n := range tt.row(s).Doubts(s.directory()) {
			codes = append(codes, n.Code)
		}
		if got := strings.Join(codes, " "); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

func TestABackwardMeterIsNoRolloverAndNoSwap(t *testing.T) {
	tests := []struct {
		name      string
		registers []float64
		swapHours []int // after the first reading; readings are 24 h apart
		digits    int
		want      int
	}{
		{"forward", []float64{1, 2, 2, 3}, nil, 6, 0},
		{"backward", []float64{1000, 900}, nil, 6, 1},
		{"twice", []float64{1000, 900, 950, 10}, nil, 6, 2},
		{"rollover", []float64{999900, 100}, nil, 6, 0},
		{"half the range is no rollover", []float64{500000, 0}, nil, 6, 1},
		{"no digits, no rollover", []float64{999900, 100}, nil, 0, 1},
		{"swap between", []float64{1000, 3}, []int{5}, 6, 0},
		{"swap with the reading", []float64{1000, 0}, []int{24}, 6, 0},
		{"swap elsewhere", []float64{1000, 3, 4}, []int{30}, 6, 1},
	}
	for _, tt := range tests {
		s := soundRows()
		s.meter.Digits = tt.digits
		start := time.Date(2026, 3, 2, 17, 0, 0, 0, time.UTC)
		var readings []*MeterReading
		for i, register := range tt.registers { // the latest first
			r := &MeterReading{Plant: "NAK", Meter: "M1", At: start.AddDate(0, 0, i), Register: register}
			readings = append([]*MeterReading{r}, readings...)
		}
		var swaps []*MeterSwap
		for _, h := range tt.swapHours {
			swaps = append(swaps, &MeterSwap{Plant: "NAK", Meter: "M1", At: start.Add(time.Duration(h) * time.Hour)})
		}
		if got := BackwardMeters(readings, swaps, s.directory()); len(got) != tt.want {
			t.Errorf("%s: %v, want %d", tt.name, got, tt.want)
		}
	}
}

func TestFiguresAreSetInThousands(t *testing.T) {
	for value, want := range map[float64]string{
		0: "0", 12: "12", 1250: "1 250", -1250.5: "-1 250.5", 1234567.8916: "1 234 567.892", 1e20: "1e+20", 0.0001: "0.0001", 999.9999: "1 000",
	} {
		if got := figure(value); got != want {
			t.Errorf("%s is written %s, want %s", fmt.Sprint(value), got, want)
		}
	}
	if got := amount(math.NaN(), "L"); got != "not a number" {
		t.Errorf("NaN L is written %s", got)
	}
}
