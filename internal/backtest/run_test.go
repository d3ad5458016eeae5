package backtest

import (
	"context"
	"encoding/csv"
	"fmt"
	"math"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
)

func TestEverySeriesHasARowForEachIntervalByOriginThenByFile(t *testing.T) {
	rows, _ := written(t, inventedFleet(), 1)
	names, numbers := cells(t, rows)
	var got []string
	for _, n := range names {
		got = append(got, strings.Join(n, " "))
	}
	var want []string
	for _, s := range []struct {
		id, origin string
		count      int
	}{{"A", "2020-01-01", 12}, {"young", "2020-01-01", 4}, {"later", "2021-01-01", 6}} {
		for h := range s.count {
			want = append(want, fmt.Sprintf("%s ours %s %d %s-%02d-01", s.id, s.origin, h+1, s.origin[:4], h+1))
		}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	for i, line := range numbers {
		own, sum := line[2:23], line[23:]
		for k := range own[1:] {
			if own[k] > own[k+1] || sum[k] > sum[k+1] || own[k] <= 0 {
				t.Errorf("row %d: quantiles %v, %v are not in order", i, own, sum)
				break
			}
		}
		if line[0] != own[10] || line[1] != sum[10] {
			t.Errorf("row %d: medians %v, %v are not the quantiles at 0.5", i, line[0], line[1])
		}
	}
	first := numbers[0]
	if diff := cmp.Diff(first[2:23], first[23:]); diff != "" {
		t.Errorf("the total of one counted interval has other quantiles than the interval: %s", diff)
	}
}

// A plant that burns 1000 L each day burns 31,000 L in January and 366,000 L in 2020, a leap year.
func TestASteadyPlantIsForecastAsItBurned(t *testing.T) {
	steady := months(on("2015-01-01"), on("2020-01-01"), func(start, end calendar.Day) string {
		return fmt.Sprintf("S,%s,%s,%d\n", start, end, 1000*int(end-start))
	})
	rows, _ := written(t, tables{history: historyHead + steady, intervals: intervalsHead + asked("S", "2020-01-01", "2021-01-01")}, 1)
	_, numbers := cells(t, rows)
	if got := numbers[0][0]; math.Abs(got/31_000-1) > 0.02 {
		t.Errorf("January: %v L, want 31000 within 2 %%", got)
	}
	if got := numbers[11][1]; math.Abs(got/366_000-1) > 0.02 {
		t.Errorf("the year: %v L, want 366000 within 2 %%", got)
	}
}

func TestAnIntervalThatIsNotCountedAddsNothing(t *testing.T) {
	given := inventedFleet()
	all, _ := written(t, given, 1)
	given.intervals = strings.Replace(given.intervals, "A,2020-03-01,2020-04-01,1", "A,2020-03-01,2020-04-01,0", 1)
	less, _ := written(t, given, 1)
	_, every := cells(t, all)
	names, some := cells(t, less)
	if strings.Join(names[2], " ") != "A ours 2020-01-01 3 2020-03-01" {
		t.Fatal(names[2])
	}
	if diff := cmp.Diff(every[2][2:23], some[2][2:23]); diff != "" {
		t.Errorf("the interval's own quantiles changed: %s", diff)
	}
	if diff := cmp.Diff(some[1][23:], some[2][23:]); diff != "" {
		t.Errorf("an interval that is not counted added to the total: %s", diff)
	}
	if some[3][1] >= every[3][1] {
		t.Errorf("the total to April is %v without March and %v with it", some[3][1], every[3][1])
	}
}

func TestNothingFromTheOriginOnMatters(t *testing.T) {
	given := inventedFleet()
	rows, _ := written(t, given, 1)
	for _, tt := range []struct {
		what, changed string
		after         string
		same, other   []string // series whose forecast may not change, and must
	}{
		{"all rows after the last origin", "", "2021-01-01", []string{"A", "young", "later"}, nil},
		{"all rows after the first origin", "", "2020-01-01", []string{"A", "young"}, []string{"later"}},
		{"the lender's rows after the first origin", "lender", "2020-01-01", []string{"A", "young"}, nil},
		{"the last month before the first origin", "", "2019-12-31", nil, []string{"A", "young"}},
		{"the lender's rows from 2017 on", "lender", "2017-01-01", nil, []string{"young"}},
	} {
		other := given
		other.history = tenfold(t, given.history, tt.changed, on(tt.after))
		changed, _ := written(t, other, 1)
		for _, id := range tt.same {
			if diff := cmp.Diff(of(rows, id), of(changed, id)); diff != "" {
				t.Errorf("%s: the forecast of %s changed: %s", tt.what, id, diff)
			}
		}
		for _, id := range tt.other {
			if cmp.Equal(of(rows, id), of(changed, id)) {
				t.Errorf("%s: the forecast of %s did not change", tt.what, id)
			}
		}
	}
}

func TestARowAcrossTheOriginIsLeftOutAndCounted(t *testing.T) {
	given := inventedFleet()
	across := strings.Replace(given.history, invented("A", "2015-01-01", "2021-06-01", 900), invented("A", "2015-01-01", "2019-12-01", 900)+"A,2019-12-01,2020-01-02,1\n", 1)
	without := strings.Replace(across, "A,2019-12-01,2020-01-02,1\n", "", 1)
	rows, notes := written(t, tables{history: across, intervals: given.intervals}, 1)
	want, none := written(t, tables{history: without, intervals: given.intervals}, 1)
	if diff := cmp.Diff(of(want, "A"), of(rows, "A")); diff != "" {
		t.Error(diff)
	}
	const says = "A,info,after-origin,1 rows of history end after the origin 2020-01-01 and were not used,,"
	if !strings.Contains(notes, says) || strings.Contains(none, "A,info,after-origin") {
		t.Errorf("notices %q, want %q; without the row %q", notes, says, none)
	}
}

func TestABlankRowIsAsNoRow(t *testing.T) {
	given := inventedFleet()
	month := of(given.history, "A")[20]
	blank, gone := given, given
	blank.history = strings.Replace(given.history, month, month[:strings.LastIndex(month, ",")+1], 1)
	gone.history = strings.Replace(given.history, month+"\n", "", 1)
	a, _ := written(t, blank, 1)
	b, _ := written(t, gone, 1)
	if diff := cmp.Diff(a, b); diff != "" {
		t.Error(diff)
	}
	if all, _ := written(t, given, 1); all == a {
		t.Error("the month says nothing at all")
	}
}

func TestSeriesWithoutHistoryAreNamedAndHaveNoRows(t *testing.T) {
	given := inventedFleet()
	given.intervals += asked("new", "2020-01-01", "2020-03-01") + asked("zero", "2020-01-01", "2020-03-01") + asked("lender", "2014-01-01", "2014-02-01")
	given.history += "zero,2019-01-01,2019-12-01,0\n"
	rows, notes := written(t, given, 1)
	for _, id := range []string{"new", "zero", "lender"} {
		if lines := of(rows, id); lines != nil {
			t.Errorf("%s is forecast from nothing: %v", id, lines)
		}
		if !strings.Contains(notes, id+",serious,no-forecast,") {
			t.Errorf("%s is not named: %s", id, notes)
		}
	}
	if len(of(rows, "A")) != 12 {
		t.Error("the others have lost rows")
	}
}

func TestAFaultyMonthIsNamedWithItsReason(t *testing.T) {
	given := inventedFleet()
	month := of(given.history, "A")[30] // July 2017
	f := strings.Split(month, ",")
	litres, err := strconv.ParseFloat(f[3], 64)
	if err != nil {
		t.Fatal(err)
	}
	given.history = strings.Replace(given.history, month, fmt.Sprintf("%s,%s,%s,%.1f", f[0], f[1], f[2], 10*litres), 1)
	_, notes := written(t, given, 1)
	records, err := csv.NewReader(strings.NewReader(notes)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range records {
		if r[0] == "A" && r[2] == CodeFaulty {
			if !strings.Contains(r[3], "about ten times the usual: a digit too many?") || r[4] != "2017-07-01" || r[5] != "2017-08-01" {
				t.Errorf("got %v", r)
			}
			return
		}
	}
	t.Errorf("ten times July is not named: %v", records)
}

func TestGroupsDoNotLendToEachOther(t *testing.T) {
	given := inventedFleet()
	one := given
	given.plants = plantsHead + "young,,,coast\nA,,,river\nlender,,,river\nlater,,,river\n"
	apart, notes := written(t, given, 1)
	together, _ := written(t, one, 1)
	if cmp.Equal(of(apart, "young"), of(together, "young")) {
		t.Error("a plant alone in its group is forecast as with lenders")
	}
	if !strings.Contains(notes, "young,caution,season-unknown") {
		t.Errorf("notices %s", notes)
	}
}

func TestASeedGivesTheSameBytesOnAnyNumberOfCores(t *testing.T) {
	given := inventedFleet()
	many, notes := written(t, given, 7)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	one, alike := written(t, given, 7)
	if one != many || notes != alike {
		t.Error("one core gives another answer")
	}
	if other, _ := written(t, given, 8); other == one {
		t.Error("another seed gives the same answer")
	}
}

func TestARunStopsWhenItIsCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	err := inventedFleet().fleet(t).Run(ctx, Options{Paths: 100, Seed: 1}, func(Result) error { t.Error("a result"); return nil })
	if err != context.Canceled {
		t.Error(err)
	}
}
