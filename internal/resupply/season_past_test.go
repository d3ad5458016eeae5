package resupply

import (
	"math"
	"slices"
	"testing"
	"time"

	"overwinter/internal/calendar"
)

// bargeWithPast is a barge window with thirty past years, 1996 to 2025: it opened ten days about 20 May and closed ten
// days about 10 October, in turn; it failed in 2010, and 2026 is what is given.
func bargeWithPast(t *testing.T, now PastSeason, lag Lag) Route {
	t.Helper()
	past := []PastSeason{now}
	for year := 1996; year < 2026; year++ {
		off := calendar.Day(10 * (2*(year%2) - 1))
		past = append(past, PastSeason{
			Year:  year,
			Opens: new(calendar.Date(year, time.May, 20) + off), Closes: new(calendar.Date(year, time.October, 10) - off),
		})
	}
	past[2010-1996+1] = PastSeason{Year: 2010, Failed: true}
	stated := 0.02
	fit, err := FitWindow(past, Basis{OpensLag: lag, FailChance: &stated})
	if err != nil {
		t.Fatal(err)
	}
	return Route{ID: "barge", Recurring: []Recurring{{
		Name: "summer", Opens: YearDate{time.July, 1}, OpensSDDays: 1, Closes: YearDate{time.August, 1}, ClosesSDDays: 1, FailChance: 0.02, Past: &fit,
	}}}
}

func seasonOf(t *testing.T, r Route, year int) Season {
	t.Helper()
	for _, s := range Seasons([]Route{r}, calendar.Date(year, time.January, 1), calendar.Date(year, time.December, 31)) {
		if s.Year == year {
			return s
		}
	}
	t.Fatalf("no season of %d", year)
	return Season{}
}

func TestPastSeasonsStandInForWhatIsStated(t *testing.T) {
	s := seasonOf(t, bargeWithPast(t, PastSeason{Year: 1990}, Lag{}), 2027)
	// 15 of 29 openings are late and 14 early: mean 20 May and 10/29 day, s² = (29 · 100 − 100/29) / 28; of one year foretold
	// s² · (1 + 1/29); 10 and 90 % at 1.3125 of that, Student's point at 28 degrees of freedom (any table).
	sd := math.Sqrt((29*100.0 - 100.0/29) / 28 * (1 + 1.0/29))
	off := calendar.Day(math.Round(10.0/29 + 1.3125*sd))
	if want := calendar.Date(2027, time.May, 20); s.Openings().P50 != want || s.Openings().P90 != want+off {
		t.Errorf("opens %v, want %v and %v", s.Openings(), want, want+off)
	}
	if opens, closes := s.From(); opens != ByPast || closes != ByPast {
		t.Errorf("from %s and %s", opens, closes)
	}
	// One failure in 30 years; the stated chance counts as one more: the openings never reach the closings.
	if want := 1.02 / 31; math.Abs(s.LossChance()-want) > 1e-6 {
		t.Errorf("lost with %v, want %v", s.LossChance(), want)
	}
	const n = 20_000
	w := s.Draw(asOf, n, 7)
	opens := slices.DeleteFunc(slices.Clone(w.Opens), func(d int) bool { return d == Never })
	if share := 1 - float64(len(opens))/n; math.Abs(share-s.LossChance()) > 0.004 {
		t.Errorf("lost on %.4f of the paths", share)
	}
	mean, spread := moments(opens)
	// Student's variance is ν / (ν − 2) of its scale's; the tails beyond three normal deviations are cut.
	if want := float64(calendar.Date(2027, time.May, 20)-asOf) + 10.0/29; math.Abs(mean-want) > 0.25 || math.Abs(spread-sd*math.Sqrt(28.0/26)) > 0.3 {
		t.Errorf("opening %.2f ± %.2f, want %.2f ± %.2f", mean, spread, want, sd)
	}
	if got := float64(slices.Index(slices.Sorted(slices.Values(opens)), int(s.Openings().P90-asOf)))/float64(len(opens)) - 0.9; math.Abs(got) > 0.025 {
		t.Errorf("the 90 %% point stands %.3f from its rank", got)
	}
}

func TestASeasonThatHasBegunOrFailedIsNoLongerForetold(t *testing.T) {
	opened := calendar.Date(2026, time.May, 29)
	s := seasonOf(t, bargeWithPast(t, PastSeason{Year: 2026, Opens: &opened}, Lag{14, 0}), 2026)
	if want := opened + 14; s.Openings() != (Span{want, want, want}) || s.LossChance() > 1e-4 {
		t.Errorf("opens %v, lost with %v", s.Openings(), s.LossChance())
	}
	if opens, closes := s.From(); opens != Happened || closes != ByPast {
		t.Errorf("from %s and %s", opens, closes)
	}
	s = seasonOf(t, bargeWithPast(t, PastSeason{Year: 2026, Failed: true}, Lag{}), 2026)
	if w := s.Draw(asOf, 50, 1); s.LossChance() != 1 || slices.Min(w.Opens) != Never {
		t.Errorf("a failed season is lost with %v", s.LossChance())
	}
}

func TestAWindowStatedForAYearCountsAsStatedWhateverItsPast(t *testing.T) {
	r := bargeWithPast(t, PastSeason{Year: 1990}, Lag{})
	r.Recurring = append(r.Recurring, Recurring{Name: "summer", Year: 2027, Opens: YearDate{time.June, 20}, Closes: YearDate{time.September, 1}})
	s := seasonOf(t, r, 2027)
	if day := calendar.Date(2027, time.June, 20); s.Openings() != (Span{day, day, day}) {
		t.Errorf("opens %v, stated %v", s.Openings(), day)
	}
	if opens, _ := s.From(); opens != Stated {
		t.Errorf("from %s", opens)
	}
	if opens, _ := seasonOf(t, r, 2028).From(); opens != ByPast {
		t.Errorf("the year after from %s", opens)
	}
}

// Whatever the two dates are from, the chance of loss is the share of draws that are lost.
func TestTheChanceOfLossAgreesWithTheDraws(t *testing.T) {
	past := bargeWithPast(t, PastSeason{Year: 1990}, Lag{}).Recurring[0].Past
	for _, c := range []struct {
		name   string
		change func(*Recurring, *WindowFit)
	}{
		{"both by past", func(w *Recurring, f *WindowFit) { f.basis.ClosesLag, f.Closes.Lag = Lag{-130, 0}, Lag{-130, 0} }},
		{"closing stated", func(w *Recurring, f *WindowFit) {
			f.Closes, w.Closes, w.ClosesSDDays = nil, YearDate{time.May, 28}, 6
		}},
		{"closing stated to the day", func(w *Recurring, f *WindowFit) {
			f.Closes, w.Closes, w.ClosesSDDays = nil, YearDate{time.May, 28}, 0
		}},
		{"opening stated", func(w *Recurring, f *WindowFit) {
			f.Opens, w.Opens, w.OpensSDDays, w.Closes = nil, YearDate{time.October, 1}, 9, YearDate{time.October, 5}
		}},
	} {
		fit, closes := *past, *past.Closes
		fit.Closes = &closes
		w := Recurring{Name: "summer", Opens: YearDate{time.May, 1}, Closes: YearDate{time.October, 1}, Past: &fit}
		c.change(&w, &fit)
		s := seasonOf(t, Route{ID: "r", Recurring: []Recurring{w}}, 2027)
		const n = 20_000
		drawn, lost := s.Draw(asOf, n, 3), 0
		for _, day := range drawn.Opens {
			if day == Never {
				lost++
			}
		}
		// Whole days: on the day of the closing a window may still open, which is half a day more.
		if share := float64(lost) / n; math.Abs(share-s.LossChance()) > 0.03 || s.LossChance() < 0.1 {
			t.Errorf("%s: lost with %.4f, on %.4f of the draws", c.name, s.LossChance(), share)
		}
	}
}
