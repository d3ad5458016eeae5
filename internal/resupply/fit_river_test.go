package resupply

import (
	"encoding/csv"
	"maps"
	"math"
	"os"
	"slices"
	"testing"
	"time"

	"overwinter/internal/calendar"
)

// Real break-up and freeze-up dates, such as those of the NSIDC Global Lake and River Ice Phenology, are no part of the
// project. The variable names a CSV file river,latitude,break_up,freeze_up with the freeze-up of the winter before.
func TestRealRiversLieInsideAsOftenAsForetold(t *testing.T) {
	path := os.Getenv("OVERWINTER_TEST_RIVER_ICE")
	if path == "" {
		t.Skip("OVERWINTER_TEST_RIVER_ICE names no file of real dates")
	}
	for _, which := range []struct {
		name   string
		column int
	}{{"break-up, the opening", 2}, {"freeze-up, the closing", 3}} {
		for _, how := range []struct {
			name  string
			years func(points) []int
			rest  func(points, int) points
		}{
			{"each of the last thirty years left out", lastThirty, leaveOut},
			{"each year from its past alone", afterFifteen, func(p points, i int) points { return p.first(i) }},
		} {
			var all tally
			t.Logf("%s, %s", which.name, how.name)
			rivers := riverDates(t, path, which.column)
			for _, river := range slices.Sorted(maps.Keys(rivers)) {
				one := tally{laws: map[Law]int{}}
				p := pointsOf(rivers[river])
				for _, i := range how.years(p) {
					one.add(how.rest(p, i), p.years[i], p.days[i])
				}
				t.Logf("%-8s %3d years %5.1f %% inside, %d before, %d after, %v", river, one.n, one.percent(), one.before, one.after, one.laws)
				all.n, all.before, all.after = all.n+one.n, all.before+one.before, all.after+one.after
			}
			se := 100 * math.Sqrt(0.8*0.2/float64(all.n))
			t.Logf("all      %3d years %5.1f %% inside, %d before, %d after; 80 ± %.1f", all.n, all.percent(), all.before, all.after, se)
			if math.Abs(all.percent()-80) > 3*se {
				t.Errorf("%s: %.1f %% inside, want 80 ± %.1f at three standard errors", which.name, all.percent(), 3*se)
			}
		}
	}
}

// tally counts years inside and outside the 10 and 90 % points.
type tally struct {
	n, before, after int
	laws             map[Law]int
}

func (c *tally) percent() float64 { return 100 * float64(c.n-c.before-c.after) / float64(c.n) }

func (c *tally) add(rest points, year, day float64) {
	f := &DateFit{}
	f.settle(rest)
	u := uncertain{mid: f.line.at(year), scale: f.line.predictionSD(year), unit: f.unit}
	c.n++
	c.laws[f.Law]++
	switch {
	case day < u.at(-z90):
		c.before++
	case day > u.at(z90):
		c.after++
	}
}

func lastThirty(p points) []int {
	var all []int
	for i, year := range p.years {
		if year >= p.end()-NormalYears {
			all = append(all, i)
		}
	}
	return all
}

func afterFifteen(p points) []int {
	var all []int
	for i := range p.years {
		if len(p.first(i).since(p.years[i]-NormalYears).years) >= firstScored {
			all = append(all, i)
		}
	}
	return all
}

func leaveOut(p points, i int) points {
	return points{slices.Concat(p.years[:i], p.years[i+1:]), slices.Concat(p.days[:i], p.days[i+1:])}
}

func pointsOf(dates []dateOf) points {
	slices.SortFunc(dates, func(a, b dateOf) int { return a.year - b.year })
	anchor := anchorOf(dates)
	var p points
	for _, d := range dates {
		p.years, p.days = append(p.years, float64(d.year)), append(p.days, float64(d.day-anchor.in(d.year)))
	}
	return p
}

// riverDates reads one column; a freeze-up early in a year is of the season of the year before.
func riverDates(t *testing.T, path string, column int) map[string][]dateOf {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }() // only read
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	rivers := map[string][]dateOf{}
	for _, row := range rows[1:] {
		if row[column] == "" {
			continue
		}
		day, err := calendar.ParseDay(row[column])
		if err != nil {
			t.Fatal(err)
		}
		year, month, _ := day.Civil()
		if column == 3 && month < time.July {
			year--
		}
		rivers[row[0]] = append(rivers[row[0]], dateOf{year, day})
	}
	return rivers
}
