package lots

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"overwinter/internal/units"
)

// Flaw is one place where a plant is no problem that can be planned.
type Flaw struct {
	List    string // windows or limits; "" for the plant itself
	At      int    // place in the list, from 0
	Field   string // as the JSON names it
	Message string // what was found and what was expected
}

// largest bounds all numbers, litres and money: beyond it a unit is wrong.
const largest = 1e12

// finest is the smallest step or load as a part of the plant's largest amount: finer ones are lost in rounding.
const finest = 1e-6

// Flaws lists all that is wrong with a plant.
func (p *Plant) Flaws() []Flaw {
	var all []Flaw
	add := func(list string, at int, field, format string, args ...any) {
		all = append(all, Flaw{list, at, field, fmt.Sprintf(format, args...)})
	}
	if strings.TrimSpace(p.Name) == "" {
		add("", 0, "name", "blank: expected the plant's name")
	}
	if n := len(p.Windows); n == 0 || n > MostWindows {
		add("", 0, "windows", "there are %d: expected 1 to %d windows", n, MostWindows)
	}
	size := p.size()
	seen := map[string]int{}
	for i := range p.Windows {
		w := &p.Windows[i]
		if first, twice := seen[w.Name]; twice {
			add("windows", i, "name", "%q is window %d already: give each its own name", w.Name, first+1)
		}
		seen[w.Name] = i
		w.flaws(size, func(field, format string, args ...any) { add("windows", i, field, format, args...) })
	}
	named := map[string]bool{}
	for i := range p.Limits {
		limit := &p.Limits[i]
		if named[limit.Name] {
			add("limits", i, "name", "%q is a limit already: give each its own name", limit.Name)
		}
		named[limit.Name] = true
		limit.flaws(len(p.Windows), func(field, format string, args ...any) { add("limits", i, field, format, args...) })
	}
	return all
}

// size is the plant's largest amount.
func (p *Plant) size() units.LitresAt15 {
	size := units.LitresAt15(0)
	for _, w := range p.Windows {
		for _, x := range []units.LitresAt15{w.Need, -w.Need, w.Room, w.Min, w.Max} {
			if !math.IsInf(float64(x), 1) {
				size = max(size, x)
			}
		}
	}
	return size
}

func (w *Window) flaws(size units.LitresAt15, add func(field, format string, args ...any)) {
	if strings.TrimSpace(w.Name) == "" {
		add("name", "blank: expected the window's name")
	}
	if !(math.Abs(float64(w.Need)) <= largest) {
		add("need_l15", "%v: expected litres from %g to %g", w.Need, -largest, largest)
	}
	if !(math.Abs(float64(w.Room)) <= largest || math.IsInf(float64(w.Room), 1)) {
		add("room_l15", "%v: expected litres up to %g, or no such field where there is no bound", w.Room, largest)
	}
	positive := func(field string, x float64) {
		if !(x >= 0 && x <= largest) {
			add(field, "%v: expected 0 to %g", x, largest)
		}
	}
	positive("min_l15", float64(w.Min))
	if !math.IsInf(float64(w.Max), 1) {
		positive("max_l15", float64(w.Max))
	}
	if w.Max > 0 && w.Min > w.Max {
		add("max_l15", "%v: expected min_l15 (%v) or more, or 0 where the window is shut", w.Max, w.Min)
	}
	step := func(field string, x units.LitresAt15) {
		positive(field, float64(x))
		if x > 0 && x < finest*size {
			add(field, "%v: expected 0 for any amount, or %.3g or more, a millionth of the plant's largest amount", x, finest*size)
		}
	}
	step("step_l15", w.Step)
	if w.noLot() {
		add("step_l15", "%v: no whole multiple of it above 0 lies from min_l15 (%v) to max_l15 (%v): expected a step of which one does, or a max_l15 of 0 where the window is shut", w.Step, w.Min, w.Max)
	}
	positive("fixed_cost", float64(w.Fixed))
	positive("price_per_l15", float64(w.Price))
	positive("carrying_per_l15", float64(w.Carrying))
	if f := w.Fallback; f != nil {
		positive("fallback.price_per_l15", float64(f.Price))
		step("fallback.load_l15", f.Load)
	}
}

// noLot tells whether a window that is not shut can bring no lot, since no multiple of its step fits. Where a bound is
// wrong by itself that is told alone.
func (w *Window) noLot() bool {
	if !(w.Step > 0 && w.Min >= 0 && w.Max > 0 && w.Min <= w.Max) {
		return false
	}
	most := down(float64(w.Max), float64(w.Step))
	return most <= 0 || most < up(float64(w.Min), float64(w.Step))
}

func (l *Limit) flaws(windows int, add func(field, format string, args ...any)) {
	if strings.TrimSpace(l.Name) == "" {
		add("name", "blank: expected the limit's name")
	}
	if len(l.Windows) == 0 {
		add("windows", "empty: expected the names of the windows that it bounds together")
	}
	for i, w := range l.Windows {
		if w < 0 || w >= windows {
			add("windows", "place %d names no window of the plant", i+1)
		} else if slices.Contains(l.Windows[:i], w) {
			add("windows", "place %d names a window again: name each once", i+1)
		}
	}
	if l.Litres == nil && l.Money == nil {
		add("max_l15", "missing: expected max_l15, max_cost or both")
	}
	if l.Litres != nil && !(*l.Litres >= 0 && *l.Litres <= largest) {
		add("max_l15", "%v: expected 0 to %g", *l.Litres, largest)
	}
	if l.Money != nil && !(*l.Money >= 0 && *l.Money <= largest) {
		add("max_cost", "%v: expected 0 to %g", *l.Money, largest)
	}
}
