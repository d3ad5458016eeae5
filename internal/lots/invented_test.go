package lots

import (
	"fmt"
	"math"
	"math/rand/v2"

	"overwinter/internal/units"
)

// invented makes up a plant with minimum lots, room, and a fallback in most intervals. Its magnitudes are those of remote plants: needs and
// rooms in litres, some windows so small or dear that the fallback is worth it. It may have no plan.
func invented(r *rand.Rand, windows int) *Plant {
	p := &Plant{Name: "invented"}
	use := 200_000 + 800_000*r.Float64()     // litres an interval
	tank := use * (0.6 + 1.6*r.Float64())    // litres
	need := use*(0.3+r.Float64()) - 0.6*tank // opening stock taken off
	room := tank * (0.3 + 0.4*r.Float64())   // at the first arrival
	price := 0.9 + 0.8*r.Float64()           // money per litre
	fallback := price * (1.3 + 2.5*r.Float64())
	for i := range windows {
		w := Window{
			Name: fmt.Sprintf("window %d", i+1),
			Need: units.LitresAt15(need), Room: units.LitresAt15(room),
			Min: units.LitresAt15(use * (0.1 + 0.5*r.Float64())), Max: units.LitresAt15(use * (0.6 + 2*r.Float64())),
			Fixed: Money(80_000 * r.Float64()), Price: Price(price * (0.8 + 0.5*r.Float64())), Carrying: Price(0.05 * r.Float64()),
		}
		if r.Float64() < 0.95 {
			w.Fallback = &Fallback{Price: Price(fallback * (0.9 + 0.2*r.Float64()))}
		}
		p.Windows = append(p.Windows, w)
		next := use * (0.4 + 1.2*r.Float64())
		need += next
		room = max(room, need-next-0.1*use*r.Float64()+tank*(0.5+0.4*r.Float64()))
	}
	return p
}

// inSteps gives some windows and fallbacks of a plant steps and loads.
func inSteps(r *rand.Rand, p *Plant) {
	for i := range p.Windows {
		w := &p.Windows[i]
		if r.Float64() < 0.6 {
			w.step(units.LitresAt15(10_000 * float64(1+r.IntN(8))))
		}
		if w.Fallback != nil && r.Float64() < 0.6 {
			w.Fallback.Load = units.LitresAt15(5_000 * float64(1+r.IntN(6)))
		}
	}
}

// step gives a window a step, and a largest lot up to which there is a multiple of it.
func (w *Window) step(step units.LitresAt15) { w.Step, w.Max = step, max(w.Max, w.Min+step) }

// allInSteps gives every window and fallback a step or a load.
func allInSteps(r *rand.Rand, p *Plant) {
	for i := range p.Windows {
		w := &p.Windows[i]
		w.step(units.LitresAt15(10_000 * float64(1+r.IntN(6))))
		if w.Fallback != nil {
			w.Fallback.Load = units.LitresAt15(3_500 * float64(1+r.IntN(6)))
		}
	}
}

// limited gives a plant limits over some of its windows.
func limited(r *rand.Rand, p *Plant) {
	for i := range 1 + r.IntN(2) {
		l := Limit{Name: fmt.Sprintf("limit %d", i+1)}
		most := 0.0
		for w := range p.Windows {
			if r.Float64() < 0.6 {
				l.Windows = append(l.Windows, w)
				most += float64(p.Windows[w].Max)
			}
		}
		if l.Windows == nil {
			continue
		}
		most *= 0.1 + 0.5*r.Float64()
		if r.Float64() < 0.5 {
			litres := units.LitresAt15(most)
			l.Litres = &litres
		} else {
			money := Money(most * float64(p.Windows[l.Windows[0]].Price))
			l.Money = &money
		}
		p.Limits = append(p.Limits, l)
	}
}

// breach is the most, in litres or as part of a limit, by which a plan breaks a bound of the plant, reckoned by itself.
func breach(p *Plant, lots, fallback []units.LitresAt15) float64 {
	worst, delivered := 0.0, 0.0
	over := func(x float64) { worst = max(worst, x) }
	steps := func(x, step units.LitresAt15) {
		if step > 0 {
			over(math.Abs(float64(x) - math.Round(float64(x/step))*float64(step)))
		}
	}
	for i, w := range p.Windows {
		x, e := lots[i], fallback[i]
		if x != 0 {
			over(float64(w.Min - x))
			over(float64(x - w.Max))
		}
		over(float64(-e))
		if w.Fallback == nil {
			over(float64(e))
		} else {
			steps(e, w.Fallback.Load)
		}
		steps(x, w.Step)
		delivered += float64(x)
		over(delivered - float64(w.Room))
		delivered += float64(e)
		over(float64(w.Need) - delivered)
	}
	for _, l := range p.Limits {
		litres, money := units.LitresAt15(0), Money(0)
		for _, w := range l.Windows {
			if lots[w] > 0 {
				litres += lots[w]
				money += p.Windows[w].Fixed + Money(p.Windows[w].Price)*Money(lots[w])
			}
		}
		if l.Litres != nil {
			over(float64(litres - *l.Litres))
		}
		if l.Money != nil {
			over(float64(money - *l.Money))
		}
	}
	return worst
}
