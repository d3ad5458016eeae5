package advice_test

import (
	"math"
	"testing"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/demo"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// Plover Bight has not reported for six weeks: no stock, no dates, but what can be known is shown.
func TestAStalePlantStillHasItsTanksWindowsAndBurn(t *testing.T) {
	p := advise(t, newLedger(some("plover-bight", "alder-slough")), adviserOptions()).Plants[0]
	if p.Plant != "plover-bight" || p.Stock.Known {
		t.Fatalf("%s is known", p.Plant)
	}
	if p.Projection != nil || len(p.Windows) == 0 || len(p.BurnByMonth) != 25 || len(p.Stock.Tanks) == 0 {
		t.Errorf("projection %v, %d windows, %d months, %d tanks", p.Projection, len(p.Windows), len(p.BurnByMonth), len(p.Stock.Tanks))
	}
	for _, tank := range p.Stock.Tanks {
		if tank.Gauged == nil || !tank.Gauged.Before(demo.Now.AddDate(0, 0, -35)) || tank.Usable == nil || tank.Room == nil {
			t.Errorf("tank %s: %+v", tank.Tank, tank)
		}
	}
}

func TestTheProjectionStartsAtTheStockNowAndFallsToNothing(t *testing.T) {
	p := advise(t, newLedger(some("cape-orrin")), options()).Plants[0]
	x := p.Projection
	if x == nil || x.From != demo.AsOf || x.Step != 7 || len(x.P50) != len(x.P10) || len(x.P90) != len(x.P50) || len(x.Reserve) != len(x.P50) {
		t.Fatalf("projection %+v", x)
	}
	if off := math.Abs(float64(x.P50[0]) - *p.Stock.Usable); off > *p.Stock.Sigma {
		t.Errorf("it starts at %d, the stock is %.0f", x.P50[0], *p.Stock.Usable)
	}
	if off := math.Abs(float64(x.Reserve[0]) - p.Reserve.Litres); off > 0.005*p.Reserve.Litres { // one is interpolated between paths
		t.Errorf("its reserve starts at %d, the reserve is %.0f", x.Reserve[0], p.Reserve.Litres)
	}
	for i := range x.P50 {
		if x.P10[i] < 0 || x.P10[i] > x.P50[i] || x.P50[i] > x.P90[i] {
			t.Errorf("point %d: %d, %d, %d", i, x.P10[i], x.P50[i], x.P90[i])
		}
	}
	dry := int(*p.DryDate.P50-x.From-1)/x.Step + 1 // the first point on or behind the median dry date
	if x.P50[dry-1] == 0 || x.P50[dry] != 0 {
		t.Errorf("the median is dry on %v and the projection says %d, %d around it", *p.DryDate.P50, x.P50[dry-1], x.P50[dry])
	}
}

// Monthly totals of 1000 L a day: what was measured in a month is that, over its days, and the months to
// come have an expectation and nothing measured.
func TestTheBurnOfAMonthIsTheShareOfWhatWasMeasured(t *testing.T) {
	rows := inventory.Rows{Plants: []*inventory.Plant{{ID: "P", Name: "P", Zone: "America/Anchorage", Product: "diesel-2-s15"}}}
	for m := (calendar.Month{Year: 2023, Month: time.January}); m.Plus(2).First() < demo.AsOf; m = m.Plus(2) {
		first, end := m.First(), m.Plus(2).First() // two months at once
		rows.Totals = append(rows.Totals, &inventory.PeriodTotal{
			Plant: "P", FirstDay: first, LastDay: end - 1,
			Measure: inventory.Measure{Volume: units.Litres(1000 * float64(end-first)), Basis: inventory.Basis15},
		})
	}
	p := advise(t, newLedger(rows), adviserOptions()).Plants[0]
	// Totals without any noise leave a day's own to what is believed before, 6 % (computed), and the level and season nearly as much:
	// 90 % of days lie within 1.645 times the root of both, 130 L, or a little more.
	if b := p.Burn; b.UsualLow < 830 || b.UsualLow > 920 || b.UsualHigh < 1080 || b.UsualHigh > 1180 {
		t.Errorf("a usual day burns %.0f to %.0f L", b.UsualLow, b.UsualHigh)
	}
	asOf := calendar.MonthOf(demo.AsOf)
	if len(p.BurnByMonth) != 25 || p.BurnByMonth[0].Month != asOf.Plus(-12) || p.BurnByMonth[24].Month != asOf.Plus(12) {
		t.Fatalf("%d months from %v", len(p.BurnByMonth), p.BurnByMonth[0].Month)
	}
	for i, b := range p.BurnByMonth {
		if math.Abs(b.Expected-1000) > 50 {
			t.Errorf("%v: %.0f L a day are expected", b.Month, b.Expected)
		}
		whole := float64(b.Month.Next().First() - b.Month.First())
		switch {
		case i < 12 && (b.Measured == nil || math.Abs(*b.Measured-1000) > 1e-6 || math.Abs(b.DaysCovered-whole) > 1e-6):
			t.Errorf("%v: %+v", b.Month, b)
		case i >= 12 && (b.Measured != nil || b.DaysCovered != 0):
			t.Errorf("%v is to come and has %+v", b.Month, b)
		}
	}
}

func TestAPlantWithoutUsageHasNoMonths(t *testing.T) {
	rows := inventory.Rows{Plants: []*inventory.Plant{{ID: "P", Name: "P", Zone: "UTC", Product: "diesel-2-s15"}}}
	p := advise(t, newLedger(rows), adviserOptions()).Plants[0]
	if p.BurnByMonth == nil || len(p.BurnByMonth) != 0 || p.Burn != nil {
		t.Errorf("burn %v by month %v", p.Burn, p.BurnByMonth)
	}
}

// A window on 10 June ± 8 days, lost in one year of ten: the points lie 1.2816 deviations apart, 10 days.
func TestWindowsCarryTheirSpreadModeAndDeadline(t *testing.T) {
	rows := inventory.Rows{
		Plants: []*inventory.Plant{{ID: "P", Name: "P", Zone: "UTC", Product: "diesel-2-s15"}},
		Routes: []*inventory.Route{
			{ID: "b", Mode: inventory.Barge, LeadDays: 30}, {ID: "a", Mode: inventory.Air, Fallback: true, LotMax: 9000},
			{ID: "r", Mode: inventory.AllSeasonRoad},
		},
		Services: []*inventory.Service{{Route: "b", Plant: "P"}, {Route: "a", Plant: "P"}, {Route: "r", Plant: "P"}},
		Windows: []*inventory.Window{{
			Route: "b", Name: "summer", Opens: inventory.MonthDay{Month: time.June, Day: 10}, OpensSDDays: 8,
			Closes: inventory.MonthDay{Month: time.September, Day: 20}, FailChance: 0.1,
			OrderBy: &inventory.MonthDay{Month: time.March, Day: 31},
		}},
	}
	p := advise(t, newLedger(rows), adviserOptions()).Plants[0]
	day := func(month time.Month, day int) calendar.Day { return calendar.Date(2026, month, day) }
	var summer, road *advice.Window
	for i, w := range p.Windows {
		switch {
		case w.Route == "a":
			t.Error("a fallback is no window")
		case w.Route == "r":
			road = &p.Windows[i]
		case summer == nil:
			summer = &p.Windows[i]
		}
	}
	if road == nil || !road.AllYear || road.Mode != "all-season-road" || road.Opens.P50 != demo.AsOf || road.Closes.P50 < demo.AsOf+540 {
		t.Errorf("the road: %+v", road)
	}
	if summer == nil || summer.Deadline == nil {
		t.Fatalf("the barge: %+v", summer)
	}
	if want := (advice.Span{P10: day(time.May, 31), P50: day(time.June, 10), P90: day(time.June, 20)}); summer.Opens != want {
		t.Errorf("it opens %v, want %v", summer.Opens, want)
	}
	if c := day(time.September, 20); summer.Closes != (advice.Span{P10: c, P50: c, P90: c}) || summer.LossChance < 0.1 || summer.LossChance > 0.1001 ||
		*summer.Deadline != day(time.March, 31) || summer.Mode != "barge" {
		t.Errorf("the barge: %+v", summer)
	}
}
