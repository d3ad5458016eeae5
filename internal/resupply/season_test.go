package resupply

import (
	"math"
	"slices"
	"testing"
	"time"

	"overwinter/internal/calendar"
)

func names(seasons []Season) []string {
	var all []string
	for _, s := range seasons {
		all = append(all, s.Window.Name+" "+s.Opens.String()+" "+s.Closes.String())
	}
	return all
}

func barge() Route {
	return Route{ID: "barge", LeadDays: 45, Recurring: []Recurring{
		{Name: "spring", Opens: YearDate{time.June, 8}, Closes: YearDate{time.July, 20}, ClosesSDDays: 5},
		{Name: "fall", Opens: YearDate{time.August, 25}, Closes: YearDate{time.September, 28}, OrderBy: &YearDate{time.November, 1}},
	}}
}

func TestWindowsRecurEveryYearInOrder(t *testing.T) {
	got := names(Seasons([]Route{barge()}, calendar.Date(2026, time.July, 22), calendar.Date(2027, time.September, 1)))
	// 20 July and 1.28 × 5 days is 26 July, so on the 22nd the first window may still be open.
	want := []string{
		"spring 2026-06-08 2026-07-20", "fall 2026-08-25 2026-09-28",
		"spring 2027-06-08 2027-07-20", "fall 2027-08-25 2027-09-28",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestAWindowStatedForAYearStandsInForTheRecurringOne(t *testing.T) {
	r := barge()
	r.Recurring = append(r.Recurring, Recurring{Name: "fall", Year: 2026, Opens: YearDate{time.September, 3}, Closes: YearDate{time.September, 20}})
	got := names(Seasons([]Route{r}, calendar.Date(2026, time.August, 1), calendar.Date(2027, time.December, 31)))
	want := []string{"fall 2026-09-03 2026-09-20", "spring 2027-06-08 2027-07-20", "fall 2027-08-25 2027-09-28"}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestAWindowOverNewYearClosesTheYearAfter(t *testing.T) {
	r := Route{ID: "road", Recurring: []Recurring{{Name: "ice", Opens: YearDate{time.December, 20}, Closes: YearDate{time.March, 10}}}}
	got := names(Seasons([]Route{r}, calendar.Date(2027, time.January, 15), calendar.Date(2027, time.June, 30)))
	if want := []string{"ice 2026-12-20 2027-03-10"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestTheSuppliersDeadlineIsTheLastOneBeforeTheOpening(t *testing.T) {
	for _, s := range Seasons([]Route{barge()}, calendar.Date(2026, time.August, 1), calendar.Date(2026, time.December, 31)) {
		if want := calendar.Date(2025, time.November, 1); s.Window.Name == "fall" && *s.OrderBy != want {
			t.Errorf("order by %v, want %v", s.OrderBy, want)
		}
	}
}

func TestARouteWithoutWindowsIsOpenAllYearAndNeverShuts(t *testing.T) {
	found := Seasons([]Route{{ID: "road", LeadDays: 10}}, calendar.Date(2026, time.November, 25), calendar.Date(2027, time.January, 2))
	if len(found) != 1 || !found[0].AllYear() || found[0].Opens != calendar.Date(2026, time.November, 25) {
		t.Fatalf("got %+v, want one window from the first day on", found)
	}
	w := found[0].Draw(calendar.Date(2026, time.November, 25), 10, 1)
	if got := w.Arrival(0, 400); got != 410 {
		t.Errorf("ordered on day 400 with ten days lead the fuel arrives on day %d", got)
	}
}

func TestAWindowOpensOnTheSameDayForEveryPlantOfAPath(t *testing.T) {
	s := Seasons([]Route{barge()}, calendar.Date(2026, time.May, 1), calendar.Date(2026, time.July, 1))[0]
	s.Window.OpensSDDays = 7
	a, b := s.Draw(asOf, 50, 1), s.Draw(asOf, 200, 1)
	if !slices.Equal(a.Opens, b.Opens[:50]) {
		t.Error("the opening of a path depends on how many paths are drawn")
	}
	if c := s.Draw(asOf, 50, 2); slices.Equal(a.Opens, c.Opens) {
		t.Error("another seed draws the same openings")
	}
}

// Opening 100 ± 3, closing 105 ± 4: the difference is 5 ± 5, so the closing comes first with the normal
// probability of one standard deviation, 15.87 % (any table); 10 % fail besides: 0.1 + 0.9 · 0.1587.
func TestTheChanceOfLosingAWindowIsReckonedFromItsDates(t *testing.T) {
	window := Recurring{OpensSDDays: 3, ClosesSDDays: 4, FailChance: 0.1}
	s := Season{Route: &Route{ID: "r", Recurring: []Recurring{window}}, Opens: asOf + 100, Closes: asOf + 105, Window: window}
	if got, want := s.Draw(asOf, 1, 1).LossChance, 0.1+0.9*0.158655; math.Abs(got-want) > 1e-5 {
		t.Errorf("lost with %v, want %v", got, want)
	}
}

func TestDrawnDatesFollowTheirDistributions(t *testing.T) {
	const n = 20_000
	window := Recurring{OpensSDDays: 7, ClosesSDDays: 10, FailChance: 0.2}
	s := Season{Route: &Route{ID: "r", LeadDays: 45, LeadSDDays: 10, SlipSDDays: 4, Recurring: []Recurring{window}},
		Opens: asOf + 100, Closes: asOf + 160, Window: window}
	w := s.Draw(asOf, n, 7)
	opens := slices.DeleteFunc(slices.Clone(w.Opens), func(d int) bool { return d == Never })
	// Standard errors: 0.0028 of the share, 0.06 days of the mean.
	if share := 1 - float64(len(opens))/n; math.Abs(share-0.2) > 0.012 {
		t.Errorf("the window fails on %.3f of the paths, want 0.2", share)
	}
	if m, sd := moments(opens); math.Abs(m-100) > 0.25 || math.Abs(sd-7) > 0.2 {
		t.Errorf("opening %.2f ± %.2f, want 100 ± 7", m, sd)
	}
	if median := quantile(w.Lead, 0.5); median < 44 || median > 46 {
		t.Errorf("median lead %d, want 45", median)
	}
	if _, sd := moments(w.Lead); math.Abs(sd-10) > 0.4 {
		t.Errorf("lead spread %.2f, want 10", sd)
	}
	if slices.Min(w.Slip) < 0 || quantile(w.Slip, 0.5) != 0 {
		t.Errorf("slip with median 0 has minimum %d, median %d", slices.Min(w.Slip), quantile(w.Slip, 0.5))
	}
}

func moments(days []int) (mean, sd float64) {
	for _, d := range days {
		mean += float64(d) / float64(len(days))
	}
	for _, d := range days {
		sd += (float64(d) - mean) * (float64(d) - mean) / float64(len(days))
	}
	return mean, math.Sqrt(sd)
}

func TestAnArrivalKeepsItsPointsAndNeverLiesInThePast(t *testing.T) {
	const n = 20_000
	var days []int
	for p := range n {
		d, ok := NewDraws(3, "order", p).Between(10, 20, 50, -5)
		if !ok {
			t.Fatal("an order still to come was given up")
		}
		days = append(days, d)
	}
	for share, want := range map[float64]int{0.1: 10, 0.5: 20, 0.9: 50} {
		if got := quantile(days, share); got < want-1 || got > want+1 {
			t.Errorf("%v point %d, want %d", share, got, want)
		}
	}
	for p := range 1000 {
		if d, ok := NewDraws(3, "order", p).Between(-30, -10, 20, 0); !ok || d <= 0 {
			t.Fatalf("an overdue order arrives on day %d, %v", d, ok)
		}
	}
	if _, ok := NewDraws(3, "order", 0).Between(-90, -80, -70, 0); ok {
		t.Error("an order long overdue is still counted on")
	}
}
