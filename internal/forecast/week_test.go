package forecast

import (
	"math"
	"testing"
	"time"

	"overwinter/internal/units"
)

// offices are shut from Saturday on; the sum is zero. Sunday comes first.
var offices = week{-0.10, 0.04, 0.05, 0.05, 0.04, 0.02, -0.10}

// weekday is that of the standard library's calendar, 0 for a Sunday.
func weekday(day int) int { return int(time.Unix(int64(day)*86400, 0).UTC().Weekday()) }

// weekly gives a life the profile of a week, by the weekday of the calendar.
func (t truth) weekly(w week) truth {
	return t.times(func(d int) float64 { return math.Exp(w[weekday(t.first+d)]) })
}

// readAt gives days from hour to hour: each takes the rest of one local day and the beginning of the next.
func (t truth) readAt(hour float64, a, b int) (out []Interval) {
	part := hour / 24
	for d := a; d < b; d++ {
		start := float64(t.first+d) + part
		out = append(out, Interval{Start: start, End: start + 1, Litres: units.LitresAt15((1-part)*t.litres[d] + part*t.litres[d+1])})
	}
	return out
}

func TestWeekdaysAreThoseOfTheCalendar(t *testing.T) {
	for d := -10; d < 10; d++ {
		if got, want := weekdayOf(d), weekday(d); got != want {
			t.Errorf("day %d is weekday %d, want %d", d, got, want)
		}
	}
}

func TestTheWeekIsRecoveredFromDays(t *testing.T) {
	const days = 1096
	life := alaska().live(epoch, days+1, random(301)).weekly(offices)
	for what, tt := range map[string]struct {
		intervals []Interval
		tolerance float64
	}{
		// A weekday's mean over 156 weeks is known to 0.10/sqrt(156) = 0.008; the prior of 0.05 draws 0.10 in by 0.10·0.008²/0.05² =
		// 0.003; three deviations and the draw.
		"midnight to midnight": {life.every(1, 0, days), 0.027},
		// Two neighbours share a reading: what tells them apart is a third as large for the fastest change from day to day.
		"read at 08:00": {life.readAt(8, 0, days), 0.04},
		"read at 18:00": {life.readAt(18, 0, days), 0.04},
		"read at noon":  {life.readAt(12, 0, days), 0.05}, // half and half: every second day up, every second down, leaves no trace
	} {
		m := fitOne(tt.intervals, days)
		sum := 0.0
		for day, want := range offices {
			within(t, what, m.known.week[day], want, tt.tolerance)
			sum += m.known.week[day]
		}
		within(t, what+": sum, which is the level's", sum, 0, 1e-12)
	}
}

func TestSingleDaysFollowTheWeek(t *testing.T) {
	const days = 1096
	m := fitOne(alaska().live(epoch, days, random(302)).weekly(offices).every(1, 0, days), days)
	at := epoch + days
	for weekday(int(at)) != 0 {
		at++
	}
	// exp(-0.10 - 0.05) = 0.86 between a Sunday and the Tuesday after it; the season moves by less than 0.01.
	within(t, "median of Sunday over Tuesday", float64(m.Rate(at)/m.Rate(at+2)), 0.86, 0.04)
	sunday, _ := m.Expected(float64(at), float64(at)+1)
	tuesday, _ := m.Expected(float64(at)+2, float64(at)+3)
	within(t, "mean of Sunday over Tuesday", float64(sunday/tuesday), 0.86, 0.04)
	paths := m.Simulate(at-1, 3, 4000, 1)
	within(t, "simulated Sunday over Tuesday", median(totalsOf(paths, 0, 1))/median(totalsOf(paths, 2, 3)), 0.86, 0.04)
	whole, _ := m.Expected(float64(at), float64(at)+7)
	sum := units.LitresAt15(0)
	for d := range 7 {
		litres, _ := m.Expected(float64(at)+float64(d), float64(at)+float64(d)+1)
		sum += litres
	}
	within(t, "sum of the days of a week", float64(sum/whole), 1, 0.003)
}

func TestNoWeekIsFoundWhereThereIsNone(t *testing.T) {
	worst, squares, n := 0.0, 0.0, 0.0
	r := random(303)
	for range 12 / min(thinning, 3) {
		m := fitOne(alaska().live(epoch, 730, r).every(1, 0, 730), 730)
		for _, x := range m.known.week {
			worst, squares, n = max(worst, math.Abs(x)), squares+x*x, n+1
		}
	}
	t.Logf("found: %.4f in the root of the mean square, %.4f at most", math.Sqrt(squares/n), worst)
	// A weekday's mean over 104 weeks of independent days is off by 0.10/sqrt(104) = 0.0098; neighbours that are alike make it less.
	if math.Sqrt(squares/n) > 0.0098 || worst > 0.03 {
		t.Errorf("a week of up to %.3f is found where there is none", worst)
	}
}

func TestWeeksAndMonthsTellNoWeek(t *testing.T) {
	life := alaska().live(epoch, 1096, random(304)).weekly(offices)
	for _, step := range []int{2, 7, 30} {
		if m := fitOne(life.every(step, 0, 1096), 1096); m.known.week != (week{}) {
			t.Errorf("intervals of %d days give the week %.3f", step, m.known.week)
		}
	}
	if m := fitOne(life.every(1, 1096-weekLeast+1, 1096), 1096); m.known.week != (week{}) {
		t.Errorf("%d days give the week %.3f", weekLeast-1, m.known.week)
	}
}

// Nobody reads on Saturdays and Sundays: each Monday's reading is of three days, and tells no weekday by itself.
func TestWeekendsReadOnMondayKeepTheWholeWeek(t *testing.T) {
	const days = 1096
	life := alaska().live(epoch, days, random(305)).weekly(offices)
	var intervals []Interval
	for d := 0; d < days-3; {
		step := 1
		if weekday(life.first+d) == 5 {
			step = 3
		}
		intervals = append(intervals, life.interval(d, d+step))
		d += step
	}
	m := fitOne(intervals, days)
	if len(m.Faults()) > 0 {
		t.Errorf("%d sound readings named", len(m.Faults()))
	}
	all := fitOne(life.every(1, 0, days), days)
	at := float64(epoch) + days
	got, _ := m.Expected(at, at+364)
	want, _ := all.Expected(at, at+364)
	within(t, "the year ahead, over that of all days", float64(got/want), 1, 0.01)
}
