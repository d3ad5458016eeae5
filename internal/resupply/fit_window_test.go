package resupply

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"overwinter/internal/calendar"
)

// seasons makes past seasons from openings by year.
func seasons(openings map[int]calendar.Day) []PastSeason {
	var past []PastSeason
	for year, day := range openings {
		past = append(past, PastSeason{Year: year, Opens: &day})
	}
	return past
}

func fitOpenings(t *testing.T, openings map[int]calendar.Day, lag Lag) *DateFit {
	t.Helper()
	f, err := FitWindow(seasons(openings), Basis{OpensLag: lag})
	if err != nil {
		t.Fatal(err)
	}
	if f.Opens == nil {
		t.Fatal("no fit")
	}
	return f.Opens
}

// every gives the same date of each of thirty years.
func every(first int, month time.Month, day, later int) map[int]calendar.Day {
	all := map[int]calendar.Day{}
	for year := first; year < first+30; year++ {
		all[year] = calendar.Date(year+later, month, day)
	}
	return all
}

// The same date year for year is foretold as that date, in leap years and in others, on either side of the leap day, over New
// Year and in the south.
func TestADateThatNeverChangesIsForetoldAsItself(t *testing.T) {
	for _, c := range []struct {
		month time.Month
		day   int
		later int // years after that of the season
	}{
		{time.May, 5, 0}, {time.February, 20, 0}, {time.January, 1, 0}, {time.December, 31, 0},
		{time.March, 10, 1}, {time.January, 4, 1}, {time.December, 28, -1}, {time.November, 30, 0},
	} {
		f := fitOpenings(t, every(1996, c.month, c.day, c.later), Lag{})
		for year := 2026; year < 2034; year++ {
			want := calendar.Date(year+c.later, c.month, c.day)
			if got := f.In(year); got != (Span{want, want, want}) {
				t.Errorf("season %d: %v, want %v", year, got, want)
			}
		}
		if want := float64(calendar.Date(2001, c.month, c.day).YearDay()); f.Mean() != want {
			t.Errorf("mean day %v, want %v", f.Mean(), want)
		}
	}
}

// A winter road that opens on 28 December in one half of the years and on 6 January after New Year in the other: the mean is
// 1.5 January, which as a day of a common year is 1.5 + 0 = 1.5 in the year after that of the season.
func TestOpeningsOnBothSidesOfNewYearAreOneDate(t *testing.T) {
	openings := map[int]calendar.Day{}
	for year := 2000; year < 2020; year++ {
		openings[year] = calendar.Date(year, time.December, 28)
		if year%2 == 0 {
			openings[year] = calendar.Date(year+1, time.January, 6)
		}
	}
	f := fitOpenings(t, openings, Lag{})
	// Nine days apart, half of the years each: s² = 20 / 19 · 4.5².
	if math.Abs(f.Mean()-1.5) > 1e-9 || math.Abs(f.SD()-4.5*math.Sqrt(20.0/19)) > 1e-9 {
		t.Errorf("mean %v, deviation %v", f.Mean(), f.SD())
	}
	if year, month, _ := f.In(2025).P50.Civil(); year != 2026 || month != time.January {
		t.Errorf("the road of the season 2025 opens on %v", f.In(2025).P50)
	}
}

// A record of thirty years with the mean and the deviation that are published for the break-up of the Tanana at Nenana,
// 1917 to 2009 (NSIDC Global Lake and River Ice Phenology: day 124.6, deviation 6.0, 10 to 90 % of the years 28 April to 12
// May): the dates, invented, lie at evenly spaced points of the normal distribution. Its range is 27 April to 12 May, and
// that of one year foretold from thirty a third of a day wider on either side.
func TestARecordWithPublishedMeanAndDeviationGivesThePublishedRange(t *testing.T) {
	openings := map[int]calendar.Day{}
	order := rand.New(rand.NewPCG(1, 1)).Perm(30)
	for i, rank := range order {
		z := normalPoint((float64(rank) + 0.5) / 30)
		openings[1980+i] = calendar.Date(1980+i, time.January, 1) + calendar.Day(math.Round(124.6-1+6.0*z))
	}
	f := fitOpenings(t, openings, Lag{})
	got := f.In(2010)
	for _, c := range []struct{ got, want calendar.Day }{
		{got.P10, calendar.Date(2010, time.April, 28)}, {got.P50, calendar.Date(2010, time.May, 5)}, {got.P90, calendar.Date(2010, time.May, 12)},
	} {
		if abs(c.got-c.want) > 2 {
			t.Errorf("%v, published %v", c.got, c.want)
		}
	}
	if math.Abs(f.Mean()-124.6) > 0.5 || math.Abs(f.SD()-6.0) > 0.3 {
		t.Errorf("mean %.2f, deviation %.2f, published 124.6 and 6.0", f.Mean(), f.SD())
	}
}

// normalPoint is a quantile of the unit normal distribution, by halving.
func normalPoint(p float64) float64 {
	low, high := -9.0, 9.0
	for high-low > 1e-9 {
		if mid := (low + high) / 2; math.Erfc(-mid/math.Sqrt2)/2 < p {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

func TestALagShiftsTheDateAndWidensIt(t *testing.T) {
	openings := map[int]calendar.Day{}
	for i := range 30 { // variance 30/29 · 36
		openings[1990+i] = calendar.Date(1990+i, time.May, 10) + calendar.Day(6*(2*(i%2)-1))
	}
	plain, later := fitOpenings(t, openings, Lag{}), fitOpenings(t, openings, Lag{14, 8})
	a, b := plain.uncertain(2020), later.uncertain(2020)
	if math.Abs(b.mid-a.mid-14) > 1e-9 || math.Abs(b.scale-math.Hypot(a.scale, 8)) > 1e-9 {
		t.Errorf("with the lag %.2f ± %.2f, without %.2f ± %.2f", b.mid, b.scale, a.mid, a.scale)
	}
	if plain.Mean() != later.Mean() || plain.SD() != later.SD() {
		t.Error("the mean and the deviation shown are of the past dates, whatever the lag")
	}
}

func TestWhatIsLeftOutIsNamed(t *testing.T) {
	openings := every(1996, time.May, 5, 0)
	openings[1950] = calendar.Date(1950, time.May, 1)
	past := append(seasons(openings), PastSeason{Year: 1995, Failed: true}, PastSeason{Year: 1994, Closes: new(calendar.Date(1994, time.October, 1))})
	f, err := FitWindow(past, Basis{})
	if err != nil {
		t.Fatal(err)
	}
	want := []LeftOut{{1950, "before the last 30 years"}, {1994, "date not known"}, {1995, "did not open"}}
	if !slices.Equal(f.Opens.LeftOut, want) || len(f.Opens.Years) != 30 {
		t.Errorf("left out %v of %d", f.Opens.LeftOut, len(f.Opens.Years))
	}
	if f.Closes != nil {
		t.Error("one closing makes no fit")
	}
	if f.Fail.Failed != 1 || f.Fail.Years != 33 {
		t.Errorf("failed in %d of %d years", f.Fail.Failed, f.Fail.Years)
	}
}

func TestSeasonsThatDoNotAgreeAreRefused(t *testing.T) {
	twice := append(seasons(every(1996, time.May, 5, 0)), PastSeason{Year: 2000, Failed: true})
	if _, err := FitWindow(twice, Basis{}); err == nil || !strings.Contains(err.Error(), "2000 stands twice") {
		t.Errorf("a year twice: %v", err)
	}
	openings := every(1996, time.May, 5, 0)
	openings[2003] = calendar.Date(2004, time.May, 5)
	if _, err := FitWindow(seasons(openings), Basis{}); err == nil || !strings.Contains(err.Error(), "2003") {
		t.Errorf("a date of another season: %v", err)
	}
}

// By hand: 15 years on 4 May, 14 on 6 May, one on 5 June, the 36th of May: the mean is (60 + 84 + 36) / 30 = 6. Half of the
// deviations are 2 days or less, so that 30 days have a score of 0.6745 · 30 / 2 = 10 at least.
func TestADateFarFromTheOthersIsNamedAndCounts(t *testing.T) {
	openings := map[int]calendar.Day{}
	for year := 1996; year < 2026; year++ {
		openings[year] = calendar.Date(year, time.May, 4+2*(year%2))
	}
	if f := fitOpenings(t, openings, Lag{}); f.Odd != nil {
		t.Errorf("nothing is odd here: %v", f.Odd)
	}
	openings[2013] = calendar.Date(2013, time.June, 5)
	f := fitOpenings(t, openings, Lag{})
	if len(f.Odd) != 1 || f.Odd[0].Year != 2013 || f.Odd[0].Off != 30 || len(f.Years) != 30 {
		t.Errorf("odd %v of %d", f.Odd, len(f.Years))
	}
}
