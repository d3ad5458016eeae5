package inventory

import (
	"slices"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// hundred expects 100 L a day, give or take 10 L for each day.
func hundred(start, end float64) (litres, sd units.LitresAt15) {
	return units.LitresAt15(100 * (end - start)), units.LitresAt15(10 * (end - start))
}

// Gauged on 20 March at 08:00: 20 000 L + 500 L. Since then 3 000 L received, 200 L drawn, 1 500 L
// metered to 27 March 08:00, and 4 days and 16 hours without a reading to the close of 31 March at 100 L
// a day: 20 500 + 3 000 − 200 − 1 500 − 466.67.
func TestStockIsTheLastGaugingRolledForward(t *testing.T) {
	rows := Rows{
		Gaugings:   []*Gauging{gauged("bulk", at(time.March, 20, 8), 20_000), gauged("day", at(time.March, 20, 8), 500)},
		Deliveries: []*Delivery{{Plant: "P", At: at(time.March, 22, 12), Measure: at15(3000)}, {Plant: "P", At: at(time.March, 1, 12), Measure: at15(9000)}},
		Draws:      []*Draw{{Plant: "P", FirstDay: calendar.Date(2026, 3, 25), LastDay: calendar.Date(2026, 3, 26), Measure: at15(200), Purpose: Heat}},
	}
	usages := []Usage{{Start: at(time.March, 13, 8), End: at(time.March, 20, 8), Litres: 9999},
		{Start: at(time.March, 20, 8), End: at(time.March, 27, 8), Litres: 1500, Sigma: 30}}
	b := bookOf(t, rows)
	s, notes := b.StockNow(usages, hundred)
	if !s.Known || notes != nil {
		t.Fatalf("known %v, notices %v", s.Known, notes)
	}
	if !near(float64(s.Usable), 20_500+3000-200-1500-100*(4+16.0/24)) {
		t.Errorf("usable %v: %+v", s.Usable, s)
	}
	if later, _ := bookAsOf(t, rows, calendar.Date(2026, time.April, 10)).StockNow(usages, hundred); later.Sigma <= s.Sigma {
		t.Errorf("σ %v ten days later, %v now: it must grow", later.Sigma, s.Sigma)
	}
}

func bookAsOf(t *testing.T, rows Rows, day calendar.Day) *Book {
	b := bookOf(t, rows)
	b.AsOf = day
	return b
}

func TestAStaleReadingMakesTheStockUnknown(t *testing.T) {
	rows := Rows{Gaugings: []*Gauging{gauged("bulk", at(time.February, 1, 8), 20_000), gauged("day", at(time.February, 1, 8), 500)}}
	tests := []struct {
		asOf  calendar.Day
		known bool
		note  string
	}{
		{calendar.Date(2026, time.February, 1) + DefaultStaleDays, true, ""},
		{calendar.Date(2026, time.February, 1) + DefaultStaleDays + 1, false, "reading-stale"},
	}
	for _, tt := range tests {
		s, notes := bookAsOf(t, rows, tt.asOf).StockNow(nil, hundred)
		if s.Known != tt.known || (tt.note != "" && !slices.Contains(codes(notes), tt.note)) {
			t.Errorf("as of %v: known %v, %v; want %v %s", tt.asOf, s.Known, notes, tt.known, tt.note)
		}
	}
}

func TestAnOldGaugingIsRolledForwardOnlySoFar(t *testing.T) {
	rows := Rows{
		Gaugings: []*Gauging{gauged("bulk", at(time.January, 1, 8), 20_000), gauged("day", at(time.January, 1, 8), 500)},
		Readings: []*MeterReading{reading(at(time.January, 1, 8), 0), reading(at(time.May, 10, 8), 9000)},
	}
	b := bookOf(t, rows)
	b.AsOf = calendar.Date(2026, time.May, 10)
	b.readings["M"] = rows.Readings
	s, notes := b.StockNow(nil, hundred)
	if s.Known || !slices.Contains(codes(notes), "gauging-stale") {
		t.Errorf("known %v, %v; want unknown, gauging-stale", s.Known, codes(notes))
	}
}

func TestOnlyTanksInServiceAndOfThePlantsProductCount(t *testing.T) {
	out := volumeTank("old", Storage, 30_000)
	out.OutFrom = ptr(calendar.Date(2026, time.March, 1))
	jet := volumeTank("jet", Storage, 40_000)
	jet.Product = "jet-a1"
	rows := Rows{Gaugings: []*Gauging{
		gauged("bulk", at(time.March, 31, 8), 20_000), gauged("old", at(time.March, 31, 8), 10_000), gauged("jet", at(time.March, 31, 8), 30_000),
	}}
	b := bookOf(t, rows, volumeTank("bulk", Storage, 50_000), out, jet)
	s, _ := b.StockNow(nil, func(_, _ float64) (a, sd units.LitresAt15) { return 0, 0 })
	if !near(float64(s.Usable), 20_000) {
		t.Errorf("usable %v, want the 20 000 L of the tank in service", s.Usable)
	}
	out.BackOn = ptr(calendar.Date(2026, time.June, 1))
	before, err := b.Capacity(calendar.Date(2026, time.May, 31))
	if err != nil {
		t.Fatal(err)
	}
	after, err := b.Capacity(calendar.Date(2026, time.June, 1))
	if err != nil {
		t.Fatal(err)
	}
	// Safe fill 95 %; fuel of 845 kg/m³ that warms to 25 °C has a factor of about 0.9916 (computed), so
	// 47 500 L of room hold about 47 100 L at 15 °C. The tank that comes back would hold about 28 260, of
	// which 10 000 are in it and not in the stock.
	if before < 47_050 || before > 47_150 || after-before < 18_200 || after-before > 18_300 {
		t.Errorf("capacity %v before and %v after the tank comes back", before, after)
	}
}

func TestATankThatWasNeverGaugedIsNamed(t *testing.T) {
	rows := Rows{Gaugings: []*Gauging{gauged("bulk", at(time.March, 31, 8), 20_000)}}
	s, notes := bookOf(t, rows).StockNow(nil, hundred)
	if !s.Known || !slices.Equal(codes(notes), []string{"tank-not-gauged"}) {
		t.Errorf("known %v, %v", s.Known, codes(notes))
	}
}

// Safe fill is 95 %: 47 500 L of fuel of 845 kg/m³ at 25 °C are about 47 100 L at 15 °C (computed).
func TestEveryTankIsHeldAsItWasLastGauged(t *testing.T) {
	out, never, jet := volumeTank("old", Storage, 50_000), volumeTank("new", Storage, 20_000), volumeTank("jet", Storage, 40_000)
	out.OutFrom = ptr(calendar.Date(2026, time.March, 1))
	jet.Product = "jet-a1"
	last := gauged("old", at(time.February, 20, 8), 10_000)
	b := bookOf(t, Rows{Gaugings: []*Gauging{
		gauged("old", at(time.January, 20, 8), 30_000), last, gauged("old", at(time.April, 1, 8), 50), gauged("jet", at(time.March, 31, 8), 30_000),
	}}, out, never, jet)
	held, err := b.Held()
	if err != nil || len(held) != 2 {
		t.Fatalf("%d tanks, %v", len(held), err)
	}
	old := held[0]
	if old.ID != "old" || old.Gauging != last || !near(float64(old.Content.UsableAt15), 10_000) || old.Capacity != 50_000 || old.SafeFill != 47_500 {
		t.Errorf("%+v", old)
	}
	if old.Room < 37_050 || old.Room > 37_150 {
		t.Errorf("room %v", old.Room)
	}
	if n := held[1]; n.ID != "new" || n.Gauging != nil || n.Room != 0 || n.SafeFill != 19_000 {
		t.Errorf("a tank that was never gauged: %+v", n)
	}
}

func TestBooksThatGiveLessThanNothingSaySo(t *testing.T) {
	rows := Rows{Gaugings: []*Gauging{gauged("bulk", at(time.March, 2, 8), 500), gauged("day", at(time.March, 2, 8), 100)}}
	s, notes := bookOf(t, rows).StockNow(nil, hundred)
	if s.Usable != 0 || !slices.Equal(codes(notes), []string{"stock-negative"}) {
		t.Errorf("usable %v, %v", s.Usable, codes(notes))
	}
}

func draw(first, last calendar.Day, v units.Litres, purpose Purpose) *Draw {
	return &Draw{Plant: "P", FirstDay: first, LastDay: last, Measure: at15(v), Purpose: purpose}
}

// Reports run from 1 July 2025 to 31 January 2026: 310 L in July make 10 L a day, 3 100 L in January 100,
// the months between none, and those that no report covers the mean of 3 410 L over 215 days.
func TestTheComingDrawsAreThoseOfTheYearBefore(t *testing.T) {
	rows := Rows{Draws: []*Draw{
		draw(calendar.Date(2026, 1, 1), calendar.Date(2026, 1, 31), 3100, Heat),
		draw(calendar.Date(2025, 7, 1), calendar.Date(2025, 7, 1), 310, Vehicles),
		draw(calendar.Date(2025, 8, 1), calendar.Date(2025, 8, 1), 999, Loan),
		draw(calendar.Date(2024, 1, 1), calendar.Date(2024, 1, 31), 99_999, Heat),
	}}
	var notes notice.List
	profile := bookOf(t, rows).DrawProfile(&notes)
	for i, v := range profile {
		want := 0.0
		switch month := time.Month(i + 1); {
		case month == time.January:
			want = 100
		case month == time.July:
			want = 10
		case month >= time.February && month <= time.June:
			want = 3410.0 / 215
		}
		if !near(float64(v), want) {
			t.Errorf("%v: %v L a day, want %v", time.Month(i+1), v, want)
		}
	}
	if !slices.Equal(codes(notes), []string{"draws-thin"}) {
		t.Errorf("notices %v", codes(notes))
	}
}

func TestAnOccasionalDrawIsSpreadOverTheYear(t *testing.T) {
	rows := Rows{Draws: []*Draw{draw(calendar.Date(2026, 3, 1), calendar.Date(2026, 3, 1), 365, Sale)}}
	var notes notice.List
	for month, v := range bookOf(t, rows).DrawProfile(&notes) {
		if !near(float64(v), 1) {
			t.Errorf("month %d: %v L a day, want 1", month+1, v)
		}
	}
}

// Heat takes 100 L a day by monthly reports, the last of them for February; March has gone on without.
func TestRegularDrawsGoOnAfterTheLastReport(t *testing.T) {
	rows := Rows{Gaugings: []*Gauging{gauged("bulk", at(time.March, 1, 0), 20_000), gauged("day", at(time.March, 1, 0), 500)}}
	for m := (calendar.Month{Year: 2025, Month: time.March}); m.First() < calendar.Date(2026, 3, 1); m = m.Next() {
		rows.Draws = append(rows.Draws, draw(m.First(), m.Next().First()-1, units.Litres(100*float64(m.Next().First()-m.First())), Heat))
	}
	s, notes := bookOf(t, rows).StockNow(nil, hundred)
	if !near(float64(s.Drawn), 3100) || !slices.Contains(codes(notes), "draws-unreported") {
		t.Errorf("drawn %v, notices %v; want 3100 L in March", s.Drawn, codes(notes))
	}
}

func TestAGaugingThatCannotBeMeasuredIsNamedAndTheOthersCount(t *testing.T) {
	odd := gauged("bulk", at(time.March, 25, 8), 19_000)
	odd.Temperature = ptr(units.Celsius(-55))
	rows := Rows{Gaugings: []*Gauging{gauged("bulk", at(time.March, 20, 8), 20_000), gauged("day", at(time.March, 20, 8), 500), odd}}
	b := bookOf(t, rows)
	s, _ := b.StockNow(nil, hundred)
	if !s.Known || !near(float64(s.AtGauged), 20_500) || !slices.Equal(codes(b.Doubts()), []string{"gauging-unusable"}) {
		t.Errorf("known %v at %v, doubts %v", s.Known, s.AtGauged, codes(b.Doubts()))
	}
}

// Tank B was dipped at 08:00 and took 15 000 L at noon; tank A, the larger, was dipped at 15:00. The
// delivery is in neither dip.
func TestADeliveryBetweenTwoDipsOfOneCountIsNotLost(t *testing.T) {
	rows := Rows{
		Gaugings:   []*Gauging{gauged("B", at(time.March, 31, 8), 20_000), gauged("A", at(time.March, 31, 15), 21_000)},
		Deliveries: []*Delivery{{Plant: "P", Tank: "B", At: at(time.March, 31, 12), Measure: at15(15_000)}},
	}
	b := bookOf(t, rows, volumeTank("A", Storage, 50_000), volumeTank("B", Storage, 40_000))
	s, _ := b.StockNow(nil, func(_, _ float64) (litres, sd units.LitresAt15) { return 0, 0 })
	if !near(float64(s.Usable), 56_000) {
		t.Errorf("usable %v, want 56000", s.Usable)
	}
}

func TestATankThatWasNeverGaugedHasNeitherFuelNorRoom(t *testing.T) {
	rows := Rows{Gaugings: []*Gauging{gauged("bulk", at(time.March, 31, 8), 40_000)}}
	b := bookOf(t, rows, volumeTank("bulk", Storage, 50_000), volumeTank("unknown", Storage, 200_000))
	c, err := b.Capacity(b.AsOf)
	if err != nil || c > 50_000 {
		t.Errorf("capacity %v, want that of the gauged tank alone (%v)", c, err)
	}
}

func TestAnOrderIsOpenForWhatItsDeliveriesHaveNotBrought(t *testing.T) {
	order := func(state OrderState, early calendar.Day) *Order {
		return &Order{Plant: "P", ID: "A1", State: state, Measure: at15(15_000), OrderedOn: calendar.Date(2026, 1, 10), Early: early, Likely: early + 5, Late: early + 10}
	}
	delivery := func(v units.Litres) []*Delivery {
		return []*Delivery{{Plant: "P", Order: "A1", At: at(time.March, 20, 12), Measure: at15(v)}}
	}
	soon, past := calendar.Date(2026, 4, 10), calendar.Date(2026, 3, 15)
	tests := []struct {
		name       string
		order      *Order
		deliveries []*Delivery
		open       float64
		note       string
	}{
		{"nothing delivered", order(InTransit, soon), nil, 15_000, ""},
		{"a part delivered", order(InTransit, soon), delivery(5000), 10_000, ""},
		{"nearly all delivered, never closed", order(InTransit, soon), delivery(14_500), 0, "order-not-closed"},
		{"received", order(Received, past), delivery(15_000), 0, ""},
		{"received since, but not expected before the day", order(Received, soon), nil, 15_000, ""},
		{"cancelled", order(Cancelled, soon), nil, 0, ""},
	}
	for _, tt := range tests {
		var notes notice.List
		litres := 0.0
		for _, o := range bookOf(t, Rows{Orders: []*Order{tt.order}, Deliveries: tt.deliveries}).OpenOrders(&notes) {
			litres += float64(o.Litres)
		}
		if !near(litres, tt.open) || (tt.note != "" && !slices.Contains(codes(notes), tt.note)) {
			t.Errorf("%s: %v L open, notices %v; want %v", tt.name, litres, codes(notes), tt.open)
		}
	}
}
