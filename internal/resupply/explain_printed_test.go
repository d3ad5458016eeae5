package resupply

import "testing"

// seen counts what the random plants came to, so that no kind of case is left out unnoticed.
type seen map[string]int

func (s seen) count(x printed, d Decision) {
	s[string(d.Status)]++
	s["guard "+string(x.Guard)]++
	for _, part := range []*printedPath{&x.printedPath, x.Need, x.Room} {
		if part == nil {
			continue
		}
		for _, step := range part.Steps {
			s[step.Code]++
		}
		for _, l := range part.Lines {
			for _, e := range l.Events {
				s[e.Code]++
			}
		}
	}
}

// Whoever has the explanation alone, as it is saved, comes to the order's last day and to its lot, to the litre.
func TestTheDateAndTheLotFollowFromWhatIsPrinted(t *testing.T) {
	found := seen{}
	for seed := range uint64(1000) {
		d := Decide(newDraw(seed).plant())
		x, err := read(d.Explanation)
		if err != nil {
			t.Fatalf("plant %d: %v", seed, err)
		}
		found.count(x, d)
		if err := follows(d, x); err != nil {
			t.Errorf("plant %d, %s: %v", seed, d.Status, err)
		}
	}
	for _, kind := range StepKinds() {
		if found[string(kind)] == 0 && kind != TogetherLater {
			t.Errorf("no plant is explained with a step %q", kind)
		}
	}
	for _, kind := range EventKinds() {
		if found[string(kind)] == 0 {
			t.Errorf("no plant is explained with an event %q", kind)
		}
	}
}
