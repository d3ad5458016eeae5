package chart

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/calendar"
)

// Nothing lies at half of 22 to 180 px: 101. A scale that holds 100 reaches 102, so −100 lies at 101 + 79 · 100/102 = 178.5
// and 50 at 101 − 79 · 50/102 = 62.3.
func TestARunningSumIsDrawnAboveAndBelowNothing(t *testing.T) {
	r := Running{ID: "sum", Title: "Sum", Axis: Axis{march, march + 100}, Unit: "L",
		Stretches: [][]SumPoint{{{Day: march}, {march + 50, 50, 40}, {march + 100, -100, 60}}}}
	got := string(r.Draw())
	for _, want := range []string{
		`<circle class="count" r="2.5" cx="0%" cy="101"/>`, `<circle class="count" r="2.5" cx="50%" cy="62.3"/>`,
		`<circle class="count" r="2.5" cx="100%" cy="178.5"/>`, `<line class="base" x2="100%" y1="101" y2="101"/>`, `>−100</text>`, `>100</text>`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%s lacks %s", got, want)
		}
	}
}

func TestStretchesOfARunningSumAreDrawnApart(t *testing.T) {
	r := Running{ID: "sum", Title: "Sum", Axis: Axis{march, march + 100},
		Stretches: [][]SumPoint{{{Day: march}, {march + 20, 5, 9}}, {{Day: march + 50}, {march + 80, -5, 9}}}}
	if got := strings.Count(string(r.Draw()), `class="mid"`); got != 2 {
		t.Errorf("%d lines, want 2", got)
	}
}

func TestNothingOfARunningSumIsDrawnOutsideItsBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		litres := rapid.OneOf(rapid.Float64Range(-1e7, 1e7), rapid.Just(0.0))
		r := Running{ID: "s", Title: "sum", Unit: "L", Axis: Axis{march, march + 400}}
		for range rapid.IntRange(0, 4).Draw(t, "stretches") {
			var s []SumPoint
			for range rapid.IntRange(0, 20).Draw(t, "counts") {
				s = append(s, SumPoint{march + calendar.Day(rapid.IntRange(-5, 405).Draw(t, "day")), litres.Draw(t, "sum"), max(0, litres.Draw(t, "off"))})
			}
			r.Stretches = append(r.Stretches, s)
		}
		inside(t, string(r.Draw()), 205)
	})
}
