package forecast

import (
	"math"
	"strings"
	"testing"

	"overwinter/internal/fault"
)

func TestASupposedChangeThatCannotBeIsNamedWithWhatWasFound(t *testing.T) {
	m := Model{origin: 100}
	sound := Change{From: 120, Ratio: 1.1}
	for _, tt := range []struct {
		name string
		bad  Change
		says string
	}{
		{"a ratio below 0", Change{From: 110, Ratio: -0.5}, "found a ratio of -0.5"},
		{"a ratio that is no number", Change{From: 110, Ratio: math.NaN()}, "found a ratio of NaN"},
		{"a deviation below 0", Change{From: 110, Ratio: 1, SD: -1}, "a deviation of -1"},
		{"an end before the beginning", Change{From: 110, Until: 105, Ratio: 0}, "an end on 1970-04-16"}, // day 105 of 1970
		{"a day that is known", Change{From: 99, Ratio: 1}, "expected 1970-04-11 or later"},              // day 100
	} {
		_, err := m.Under(Scenario{Changes: []Change{sound, tt.bad}})
		if fault.KindOf(err) != fault.Invalid || err == nil || !strings.Contains(err.Error(), "supposed change 2") || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v, want one that names change 2 and says %q", tt.name, err, tt.says)
		}
	}
	if _, err := m.Under(Scenario{Changes: []Change{sound}}); err != nil {
		t.Errorf("a sound change: %v", err)
	}
}
