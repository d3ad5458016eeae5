package score

import (
	"encoding/json"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/forecast"
	"overwinter/internal/units"
)

func TestEverySeventhDayAndEachEndOfAMonthIsKept(t *testing.T) {
	// From the close of 30 January 2025: February ends on the 29th day after, March on the 60th.
	want := []int{1, 7, 14, 21, 28, 29, 35, 42, 49, 56, 60, 63, 70}
	if diff := cmp.Diff(want, daysKept(calendar.Date(2025, time.January, 30), 70)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	all := daysKept(origin, Days)
	for _, months := range Lengths {
		if day := int(later(origin+1, months) - 1 - origin); !slices.Contains(all, day) {
			t.Errorf("a span of %d months ends on day %d, which is not kept", months, day)
		}
	}
	if len(all) > 100 || all[len(all)-1] != Days {
		t.Errorf("%d days are kept, to day %d", len(all), all[len(all)-1])
	}
}

// What is kept of a fitted model's paths is what R's default quantile, type 7, gives of the paths themselves; the kept JSON
// comes back as it was.
func TestWhatIsKeptAreTheQuantilesOfThePaths(t *testing.T) {
	usages := steadily(origin-800, origin+1, 1, 100)
	for i := range usages {
		usages[i].Litres += units.LitresAt15(8 * math.Sin(float64(i)*float64(i)))
	}
	series := forecast.Series{Plant: "p", Group: "g", Intervals: usages}
	model := forecast.Fit(series, origin, forecast.Lend(series, origin), nil, forecast.Standard())
	if model.Err() != nil {
		t.Fatal(model.Err())
	}
	paths := model.Simulate(origin, Days, 101, 1)
	q := Take(paths, origin)
	if err := q.Check(); err != nil {
		t.Fatal(err)
	}
	for i, day := range q.Days {
		var burned []float64
		for path := range paths.Count() {
			burned = append(burned, paths.Cumulative(path, day))
		}
		slices.Sort(burned)
		// Of 101 sorted values the p-quantile of type 7 is the one of index 100·p, between neighbours for 2.5 and 97.5 %.
		for j, want := range []float64{(burned[2] + burned[3]) / 2, burned[10], burned[25], burned[50], burned[75], burned[90], (burned[97] + burned[98]) / 2} {
			if got := float64(q.Litres[i][j]); math.Abs(got-want) > 0.5001 {
				t.Fatalf("day %d, level %v: %v, want %v", day, q.Levels[j], got, want)
			}
		}
	}
	body, err := json.Marshal(q)
	if err != nil {
		t.Fatal(err)
	}
	var back Quantiles
	if err := json.Unmarshal(body, &back); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(q, back); diff != "" {
		t.Errorf("(-kept +read)\n%s", diff)
	}
	if len(body) > 8000 {
		t.Errorf("a forecast takes %d bytes", len(body))
	}
}

func TestAForecastIsReadBetweenTheDaysKept(t *testing.T) {
	q := Quantiles{Levels: []float64{0.5}, Days: []int{10, 20}, Litres: [][]int64{{100}, {300}}}
	for _, tt := range []struct{ days, want float64 }{{0, 0}, {5, 50}, {10, 100}, {12.5, 150}, {20, 300}} {
		if got, ok := q.at(tt.days); !ok || got[0] != tt.want {
			t.Errorf("day %v: %v, want %v", tt.days, got, tt.want)
		}
	}
	if got, ok := q.at(20.01); ok {
		t.Errorf("beyond the last day: %v", got)
	}
}

func TestAKeptForecastThatCannotBeReadIsRefused(t *testing.T) {
	good := func() Quantiles { return straight(origin, 1, 2, 3, 4, 5, 6, 7).Quantiles }
	if err := good().Check(); err != nil {
		t.Fatal(err)
	}
	for name, spoil := range map[string]func(*Quantiles){
		"nothing":           func(q *Quantiles) { *q = Quantiles{} },
		"a day too few":     func(q *Quantiles) { q.Days = q.Days[1:] },
		"days out of order": func(q *Quantiles) { q.Days = []int{7, 364, 30, 546} },
		"day nought":        func(q *Quantiles) { q.Days = []int{0, 30, 364, 546} },
		"a level too few":   func(q *Quantiles) { q.Levels = q.Levels[1:] },
		"another level":     func(q *Quantiles) { q.Levels = []float64{0.025, 0.10, 0.25, 0.45, 0.75, 0.90, 0.975} },
		"a litre too few":   func(q *Quantiles) { q.Litres[2] = q.Litres[2][1:] },
	} {
		q := good()
		spoil(&q)
		if err := q.Check(); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%s: %v, want a fault of kind invalid", name, err)
		}
	}
}
