package resupply

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"overwinter/internal/calendar"
)

func TestACutOffIsTheFirstSuchDayFromTheStatedOpeningOn(t *testing.T) {
	for _, tt := range []struct {
		name                  string
		opens, closes, cutOff YearDate
		year                  int
		want                  calendar.Day
	}{
		{"in the north", YearDate{6, 5}, YearDate{9, 25}, YearDate{9, 20}, 2027, calendar.Date(2027, time.September, 20)},
		{"on the opening", YearDate{6, 5}, YearDate{9, 25}, YearDate{6, 5}, 2027, calendar.Date(2027, time.June, 5)},
		{"over New Year", YearDate{12, 20}, YearDate{3, 10}, YearDate{3, 1}, 2026, calendar.Date(2027, time.March, 1)},
		{"over New Year, before it", YearDate{12, 20}, YearDate{3, 10}, YearDate{12, 31}, 2026, calendar.Date(2026, time.December, 31)},
		{"on 29 February of a leap year", YearDate{12, 20}, YearDate{3, 10}, YearDate{2, 29}, 2027, calendar.Date(2028, time.February, 29)},
		{"on 29 February of a common year", YearDate{12, 20}, YearDate{3, 10}, YearDate{2, 29}, 2026, calendar.Date(2027, time.February, 28)},
		{"in the south", YearDate{11, 15}, YearDate{4, 5}, YearDate{3, 31}, 2026, calendar.Date(2027, time.March, 31)},
		{"where it is warm all year", YearDate{1, 1}, YearDate{12, 31}, YearDate{12, 15}, 2027, calendar.Date(2027, time.December, 15)},
		{"after the closing", YearDate{6, 5}, YearDate{9, 25}, YearDate{10, 20}, 2027, calendar.Date(2027, time.October, 20)},
	} {
		r := Route{ID: "r", Recurring: []Recurring{{Name: "w", Opens: tt.opens, Closes: tt.closes, OpensSDDays: 2, ClosesSDDays: 12, CutOff: &tt.cutOff}}}
		s := seasonOf(t, r, tt.year)
		if s.CutOff == nil || *s.CutOff != tt.want {
			t.Errorf("%s: %v, want %v", tt.name, s.CutOff, tt.want)
			continue
		}
		if c := s.Closings(); max(c.P10, c.P50, c.P90, s.LateClose()) > tt.want || c.P10 > c.P50 {
			t.Errorf("%s: closes %v, after the cut-off %v", tt.name, c, tt.want)
		}
	}
}

// yearDates draws a day of any year, 29 February among them.
func yearDates(t *rapid.T, what string) YearDate {
	d := calendar.Date(2024, time.January, 1) + calendar.Day(rapid.IntRange(0, 365).Draw(t, what))
	_, month, day := d.Civil()
	return YearDate{month, day}
}

// Whatever the window, the cut-off takes the end off those closings that lie after it, and changes nothing else.
func TestOnEveryPathTheWindowClosesByTheCutOff(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := Recurring{Name: "w", Opens: yearDates(t, "opens"), Closes: yearDates(t, "closes"), OpensSDDays: 6, ClosesSDDays: 9, FailChance: 0.1}
		cut := yearDates(t, "cut-off")
		without, with := Route{ID: "r", Recurring: []Recurring{w}}, Route{ID: "r", Recurring: []Recurring{w}}
		with.Recurring[0].CutOff = &cut
		const n, year = 400, 2026
		a := without.seasonsOf(year, 0, 1<<20)[0]
		b := with.seasonsOf(year, 0, 1<<20)[0]
		if _, month, day := b.CutOff.Civil(); (YearDate{month, day}) != cut && cut != (YearDate{time.February, 29}) || *b.CutOff < w.Opens.lastIn(year) || *b.CutOff > w.Opens.in(year)+366 {
			t.Fatalf("cut-off %v, stated %v from %v on", b.CutOff, cut, w.Opens)
		}
		x, y := a.Draw(asOf, n, 3), b.Draw(asOf, n, 3)
		last := int(*b.CutOff - asOf)
		for p := range n {
			want := min(x.Closes[p], last)
			if y.Closes[p] != want || x.Opens[p] == Never && y.Opens[p] != Never || (y.Opens[p] == Never) != (x.Opens[p] == Never || x.Opens[p] > want) {
				t.Fatalf("path %d: open %d to %d, without the cut-off %d to %d; it is on %d", p, y.Opens[p], y.Closes[p], x.Opens[p], x.Closes[p], last)
			}
		}
		if y.LossChance < x.LossChance-1e-3 || y.LossChance > 1 {
			t.Fatalf("lost with %v, without the cut-off with %v", y.LossChance, x.LossChance)
		}
	})
}

// Opening 100 ± 10, closing far away, cut-off on day 110: the window is lost where it opens on day 111 or later, so
// with the normal probability beyond (110.5 − 100) / 10 = 1.05, which is 0.14686 (any table). 10 % fail besides.
func TestAWindowThatOpensAfterItsCutOffIsLost(t *testing.T) {
	cut := asOf + 110
	window := Recurring{OpensSDDays: 10, ClosesSDDays: 1, FailChance: 0.1}
	season := func(opensSD, closes, closesSD float64, cut calendar.Day) Season {
		w := window
		w.OpensSDDays, w.ClosesSDDays = opensSD, closesSD
		return Season{Route: &Route{ID: "r", Recurring: []Recurring{w}}, Opens: asOf + 100, Closes: asOf + calendar.Day(closes), Window: w, CutOff: &cut}
	}
	for _, tt := range []struct {
		name string
		s    Season
		lost float64 // beside failing
	}{
		{"closing far away", season(10, 300, 1, cut), 0.146859},
		{"closing known for sure, far away", season(10, 300, 0, cut), 0.146859},
		{"a cut-off far away", season(3, 105, 4, asOf+300), 0.158655}, // one standard deviation of the difference, as without it
		{"opening known for sure, before it", season(0, 105, 5, cut), 0.158655},
		{"opening known for sure, after it", season(0, 105, 5, asOf+99), 1},
		{"all known for sure, on the day", season(0, 300, 0, asOf+100), 0},
		{"closing known for sure, before it", season(10, 90, 0, cut), 0.841345}, // the opening is after day 90
	} {
		if got, want := tt.s.LossChance(), 0.1+0.9*tt.lost; math.Abs(got-want) > 2e-5 {
			t.Errorf("%s: lost with %.6f, want %.6f", tt.name, got, want)
		}
	}
	// Both at work: held against the share of the paths, of which the standard error is 0.0017.
	s := season(10, 112, 8, cut)
	w := s.Draw(asOf, 80_000, 5)
	never := 0.0
	for _, d := range w.Opens {
		if d == Never {
			never += 1 / 80_000.0
		}
	}
	if got := s.LossChance(); math.Abs(got-never) > 0.012 { // whole days differ from the smooth law by half a day of closing
		t.Errorf("lost with %.4f, on %.4f of the paths", got, never)
	}
}

// onDaysOf tells by month and day alone whether a day lies in a stretch of the year.
func onDaysOf(d calendar.Day, from, until YearDate) bool {
	_, month, day := d.Civil()
	on := YearDate{month, day}
	if until.before(from) {
		return !on.before(from) || !until.before(on)
	}
	return !on.before(from) && !until.before(on)
}

func TestTheSmallestLimitOfTheDayCounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Route{ID: "r", Lot: Lot{Max: 50_000}, Recurring: []Recurring{{Name: "w", Opens: yearDates(t, "opens"), Closes: yearDates(t, "closes"), OpensSDDays: 5}}}
		for i, why := range []Limit{DraftLimit, WeightLimit, TideLimit} {
			r.Recurring[0].Limits = append(r.Recurring[0].Limits, LotLimit{
				From: yearDates(t, "from"), Until: yearDates(t, "until"), Litres: float64(20_000 * (i + 1)), Why: why,
			})
		}
		s := r.seasonsOf(rapid.IntRange(2026, 2029).Draw(t, "year"), 0, 1<<20)[0]
		w := s.Draw(asOf, 1, 1)
		for d := max(s.Opens-20, asOf); d <= s.Closes+20 && d < asOf+1500; d++ {
			want, why := 50_000.0, RouteLimit
			for _, l := range r.Recurring[0].Limits {
				if onDaysOf(d, l.From, l.Until) && l.Litres < want {
					want, why = l.Litres, l.Why
				}
			}
			if got, by := w.Largest(int(d - asOf)); got != want || by != why {
				t.Fatalf("%v: %v by %q, want %v by %q of %+v", d, got, by, want, why, r.Recurring[0].Limits)
			}
		}
	})
}

func TestADayWithoutAnyLimitHasNone(t *testing.T) {
	w := window(60, 120)
	if got, why := w.Largest(81); !math.IsInf(got, 1) || why != "" {
		t.Errorf("%v by %q", got, why)
	}
}

// The case worked by hand, with at most 25 000 L on day 81, on which the fuel comes: 34 900 − 25 000 = 9 900 L are short.
func TestALimitOnTheDayOfArrivalIsNamedWhereItSetsTheMost(t *testing.T) {
	for _, why := range []Limit{DraftLimit, WeightLimit, TideLimit, DayOther} {
		p := plain()
		p.Windows[0].Limits = []DayLimit{{From: 81, Until: 81, Litres: 25_000, Why: why}, {From: 0, Until: 80, Litres: 1, Why: why}}
		d := Decide(p)
		lot := d.Order.Lot
		if lot.Limit != why || lot.Most != 25_000 || lot.Lot != 25_000 || lot.Room != 38_000 || lot.After.Litres != 9900 {
			t.Errorf("got %+v, want 25000 L by %q, 9900 L short", lot, why)
		}
		var kinds []StepKind
		for _, s := range d.Explanation.Steps {
			kinds = append(kinds, s.Kind)
		}
		if n := len(kinds); cmp.Diff(kinds[n-2:], []StepKind{WindowMost, LotOfWindow}) != "" {
			t.Errorf("the steps end with %v", kinds)
		}
	}
}

// Of 200 paths the risk of 5 % sets a few aside. Where no more than those arrive on a day of small lots it does not
// count; one more, and it does.
func TestALimitCountsAtAllButTheRisk(t *testing.T) {
	allowed := Allowed(paths, 0.05)
	for late, want := range map[int]Limit{allowed: RoomLimit, allowed + 1: DraftLimit} {
		p := plain()
		p.Windows[0].Limits = []DayLimit{{From: 82, Until: 90, Litres: 25_000, Why: DraftLimit}}
		for s := range late {
			p.Windows[0].Slip[s*7%paths]++
		}
		o := &Order{Window: &p.Windows[0]}
		p.size(o, 46)
		if o.Lot.Limit != want {
			t.Errorf("on %d of %d paths: %+v, want the lot limited by %q", late, paths, o.Lot, want)
		}
	}
}

func TestALotThatComesOnADayOfSmallLotsIsCutToWholeSteps(t *testing.T) {
	w := window(60, 120)
	w.Lot = Lot{Min: 8000, Step: 4000}
	w.Limits = []DayLimit{{From: 82, Until: 90, Litres: 14_500, Why: DraftLimit}, {From: 91, Until: 95, Litres: 7000, Why: DraftLimit}}
	for day, want := range map[int]float64{81: 20_000, 82: 12_000, 90: 12_000, 91: 0} {
		if got := w.brought(20_000, day); got != (delivery{want, day}) {
			t.Errorf("on day %d %+v, want %v L", day, got, want)
		}
	}
}

// 5 % of 40 000 L is the reserve of 2 000 L of the case worked by hand. With tanks for 60 000 L from day 50 on it is
// 3 000 L: 10 000 − 100 t < 3 000 first at t = 71.
func TestAReserveAsAShareFollowsTheTanksInService(t *testing.T) {
	p := plain()
	p.Reserve = Reserve{Share: 0.05}
	if d := Decide(p); *d.ReserveDate.P50 != *day(81) || d.Order.By.Day != 46 || d.Order.Lot.Lot != 34_900 {
		t.Errorf("reserve %v, order day %d, lot %v; want %v, 46 and 34900", d.ReserveDate.P50, d.Order.By.Day, d.Order.Lot.Lot, day(81))
	}
	p = plain()
	p.Reserve, p.Capacity = Reserve{Share: 0.05}, []Capacity{{0, 40_000}, {50, 60_000}}
	if d := Decide(p); *d.ReserveDate.P50 != *day(71) || d.Order.By.Day != 36 {
		t.Errorf("reserve %v, order day %d; want %v and 36", d.ReserveDate.P50, d.Order.By.Day, day(71))
	}
}

func TestAWindowCarriesTheTermsOfItsRoute(t *testing.T) {
	r := barge()
	r.Terms = Terms{Fixed: 4000, Price: 1.2, Freight: 0.1, Growth: 0.02, SD: 0.2, Deliveries: 2, Apart: 20, PayFromOrder: true, PayDays: 30, Currency: "USD"}
	for _, s := range Seasons([]Route{r}, asOf, asOf+400) {
		if w := s.Draw(asOf, 1, 1); w.Terms != r.Terms {
			t.Errorf("%+v", w.Terms)
		}
	}
}

// Three loads of 1000 L at 4 a litre and 250 a load: 3 · 4250 = 12 750.
func TestLoadsOfAFallbackCostTheirLitresAndTheirStops(t *testing.T) {
	f := Fallback{Load: 1000, Price: 4, Fixed: 250}
	if got := f.cost(3); got != 12_750 {
		t.Errorf("three loads cost %v, want 12750", got)
	}
	f.Price = 0
	if got := f.cost(3); got != 0 {
		t.Errorf("of no price three loads cost %v", got)
	}
}
