package forecast

import (
	"strings"
	"testing"

	"overwinter/internal/units"
)

// Months 40 to 42 are spoiled; the true ones are a, b and c.
var wrongAlone = []struct {
	name  string
	spoil func(a, b, c units.LitresAt15) [3]units.LitresAt15
	named []int // months
}{
	{"a correction of -35 % taken back", func(a, b, c units.LitresAt15) [3]units.LitresAt15 {
		return [3]units.LitresAt15{0.65 * a, b + 0.35*a, c}
	}, []int{40, 41}},
	{"a correction of 40 % taken back", func(a, b, c units.LitresAt15) [3]units.LitresAt15 {
		return [3]units.LitresAt15{1.4 * a, b - 0.4*a, c}
	}, []int{40, 41}},
	{"a register read ten days late", func(a, b, c units.LitresAt15) [3]units.LitresAt15 {
		return [3]units.LitresAt15{a + b/3, b * 2 / 3, c}
	}, []int{40, 41}},
	{"two in one after a zero", func(a, b, c units.LitresAt15) [3]units.LitresAt15 {
		return [3]units.LitresAt15{0, a + b, c}
	}, []int{40, 41}},
	{"two in one before a zero", func(a, b, c units.LitresAt15) [3]units.LitresAt15 {
		return [3]units.LitresAt15{a + b, 0, c}
	}, []int{40, 41}},
	{"three in one", func(a, b, c units.LitresAt15) [3]units.LitresAt15 {
		return [3]units.LitresAt15{0, 0, a + b + c}
	}, []int{40, 41, 42}},
}

func TestIntervalsThatAreRightOnlyTogetherAreUsedAsOne(t *testing.T) {
	for _, tt := range wrongAlone {
		for _, withEnergy := range []bool{true, false} {
			intervals, energy := metered(61)
			if !withEnergy {
				energy = nil
			}
			good := fitMetered(intervals, energy)
			for k, litres := range tt.spoil(intervals[40].Litres, intervals[41].Litres, intervals[42].Litres) {
				intervals[40+k].Litres = litres
			}
			m := fitMetered(intervals, energy)
			checkJoined(t, tt.name, m, good, intervals, tt.named)
		}
	}
}

// checkJoined holds that just some intervals are named, that nothing was left out, and that the forecast hardly moves.
func checkJoined(t *testing.T, name string, m, good Model, intervals []Interval, named []int) {
	t.Helper()
	if len(m.Faults()) != len(named) {
		t.Errorf("%s: named %v", name, m.Faults())
		return
	}
	for k, f := range m.Faults() {
		if f.Interval != intervals[named[k]] || !strings.HasSuffix(f.Reason, "used as one interval") {
			t.Errorf("%s: named %+v", name, f)
		}
	}
	within(t, name+": days used", m.used, 1830, 1e-6)
	if !hasNotice(m, "joined-intervals") || hasNotice(m, "faulty-intervals") {
		t.Errorf("%s: notices %v", name, m.Notices())
	}
	if off := moves(m, good); off > 0.005 {
		t.Errorf("%s: the coming year moves by %.2f %%", name, 100*off)
	}
}

func TestTwoMonthsInOneBesideABlankAreUsedForBoth(t *testing.T) {
	for _, blank := range []int{39, 41} {
		for _, energy := range []string{"none", "of each month", "two months in one, too"} {
			intervals, generated := metered(62)
			intervals[40].Litres += intervals[blank].Litres
			switch energy {
			case "none":
				generated = nil
			case "two months in one, too":
				generated[40].KWh += generated[blank].KWh
				generated = without(generated, blank)
			}
			whole, _ := metered(62)
			good := fitMetered(whole, nil)
			twice := intervals[40]
			m := fitMetered(without(intervals, blank), generated)
			checkJoined(t, energy, m, good, []Interval{twice}, []int{0})
		}
	}
}

// A month of twice the usual beside a blank of a single day holds no more than its own.
func TestAShortBlankHoldsNoSecondMonth(t *testing.T) {
	intervals, _ := metered(63)
	intervals[40].Litres *= 2
	intervals[41].Start++
	m := fitMetered(intervals, nil)
	if len(m.Faults()) != 1 || !strings.Contains(m.Faults()[0].Reason, "two periods in one?") {
		t.Errorf("named %v", m.Faults())
	}
}

func TestIntervalsWhoseSumIsWrongAreNamedEachByItself(t *testing.T) {
	intervals, energy := metered(64)
	intervals[40].Litres *= 0.5
	intervals[41].Litres *= 1.25
	m := fitMetered(intervals, energy)
	if len(m.Faults()) != 2 || hasNotice(m, "joined-intervals") {
		t.Errorf("named %v, notices %v", m.Faults(), m.Notices())
	}
}

// By hand: 100 L expected of each, 5 % of deviation of their own. A sum of two has 5 %/√2 = 3.54 %, and may be off by twice that, 0.0707 in
// logs, or half of the lesser of the two. 60 and 130 are 190 of 200: ln 0.95 = -0.051. 60 and 125 are 185: -0.078. With 3 % more that
// both share, √(0.0354² + 0.03²)·2 = 0.0928.
func TestASumIsRightWithinTwiceItsDeviation(t *testing.T) {
	pieces := func(litres ...float64) (all []piece) {
		for i, x := range litres {
			all = append(all, piece{
				Interval: Interval{Start: float64(30 * i), End: float64(30*i + 30), Litres: units.LitresAt15(x)}, fuel: true, expected: 100, own: 0.0025, named: i == 0,
			})
		}
		return all
	}
	change := func(all []piece, how func(*piece)) []piece { how(&all[1]); return all }
	tests := []struct {
		name   string
		pieces []piece
		right  bool
	}{
		{"exactly right", pieces(60, 140), true},
		{"right within 5 %", pieces(60, 130), true},
		{"off by 7.5 %", pieces(60, 125), false},
		{"off by 7.5 %, of which they share some", change(pieces(60, 125), func(p *piece) { p.shared = 0.0009 }), true},
		{"a zero and two in one", pieces(0, 200), true},
		{"three", pieces(0, 0, 300), true},
		{"both too little", pieces(60, 80), false},
		{"the other one not off", pieces(95, 105), false},
		{"less than nothing", pieces(-20, 220), false},
		{"a day between", change(pieces(60, 140), func(p *piece) { p.Start++ }), false},
		{"one that cannot be judged", change(pieces(60, 140), func(p *piece) { p.unsuitable = true }), false},
	}
	for _, tt := range tests {
		if got := rightTogether(tt.pieces); got != tt.right {
			t.Errorf("%s: %v", tt.name, got)
		}
	}
	all := pieces(60, 140)
	all[0].named = false
	if rightTogether(all) {
		t.Error("none faulty, but right together")
	}
	o := sumOf(pieces(0, 200), "together")
	want := "0.00 times the usual alone, but right together for all from 1970-01-01 to 1970-03-01: used as one interval"
	if o.Litres != 200 || o.Start != 0 || o.End != 60 || len(o.whole.parts) != 2 || o.whole.parts[0].Reason != want {
		t.Errorf("%+v", o)
	}
}
