package inventory

import (
	"math"
	"testing"
	"time"

	"overwinter/internal/calendar"
)

// Both sides have to say that a figure is off, and the nearer to 1 counts; of the newest and the oldest one side alone speaks.
func TestAFigureIsOddWhereBothSidesSaySo(t *testing.T) {
	for _, tt := range []struct{ before, after, want float64 }{
		{3, 4, 3}, {4, 3, 3}, {0.2, 0.5, 0.5}, {0.5, 0.2, 0.5}, {3, 0.5, 1}, {0.5, 3, 1}, {3, 1, 1}, {0, 3, 3}, {0.2, 0, 0.2}, {0, 0, 1},
	} {
		if got := odd(tt.before, tt.after); got != tt.want {
			t.Errorf("%v before, %v after: %v, want %v", tt.before, tt.after, got, tt.want)
		}
	}
}

// Of two middle ones that counts which speaks for the figure.
func TestAFigureIsHeldAgainstTheMiddleOfItsNeighbours(t *testing.T) {
	for _, tt := range []struct {
		v      float64
		others []float64
		want   float64
	}{{300, nil, 0}, {0, []float64{100}, 0}, {300, []float64{100}, 3}, {300, []float64{100, 1000, 200}, 1.5}, {300, []float64{100, 300}, 1}, {300, []float64{300, 1000}, 1}} {
		if got := ratioTo(tt.v, tt.others); got != tt.want {
			t.Errorf("%v beside %v: %v, want %v", tt.v, tt.others, got, tt.want)
		}
	}
}

// Two years of 100 in summer and 300 in winter: taken off the season every figure is 1 beside its three neighbours on either side.
func TestTheSeasonIsTakenOff(t *testing.T) {
	var s series
	for m := range 24 {
		v := 100.0
		if m%12 < 3 || m%12 > 8 {
			v = 300
		}
		s.middle, s.perDay = append(s.middle, calendar.Date(2024, time.January+time.Month(m), 15)), append(s.perDay, v)
	}
	s.perDay[18] = 400
	before, after := s.ratios()
	for i := range s.perDay {
		want := 1.0
		if i == 18 {
			want = 4
		}
		// March and April, September and October lie at the turn: of three months two are of one season.
		if got := odd(before[i], after[i]); math.Abs(got-want) > 1e-9 {
			t.Errorf("month %d: %v before, %v after, want %v", i, before[i], after[i], want)
		}
	}
	if before[0] != 0 || after[23] != 0 {
		t.Errorf("nothing is known before the first (%v) and after the last (%v)", before[0], after[23])
	}
}
