package lots

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

// wild is a plant of numbers from sound to absurd.
func wild(t *rapid.T) *Plant {
	number := rapid.OneOf(
		rapid.SampledFrom([]float64{0, 0, 1e-9, 0.1, 1, 2, 5, 7, 100, 1e6, 1e12}),
		rapid.Float64Range(0, 20), rapid.Map(rapid.IntRange(0, 20), func(n int) float64 { return float64(n) }))
	litres := func() units.LitresAt15 { return units.LitresAt15(number.Draw(t, "litres")) }
	price := func() Price { return Price(number.Draw(t, "price")) }
	none := units.LitresAt15(math.Inf(1))
	p := &Plant{Name: "wild"}
	for i := range rapid.IntRange(1, 5).Draw(t, "windows") {
		w := Window{Name: fmt.Sprint(i), Need: litres() - litres(), Room: litres() - litres(), Min: litres(), Fixed: Money(price()), Price: price(), Carrying: price()}
		w.Max = w.Min + litres()
		if rapid.Bool().Draw(t, "any room") {
			w.Room = none
		}
		if rapid.Bool().Draw(t, "any lot") {
			w.Max = none
		}
		if rapid.IntRange(0, 2).Draw(t, "stepped") == 0 {
			w.Step = litres()
		}
		if rapid.Bool().Draw(t, "fallback") {
			w.Fallback = &Fallback{Price: price()}
			if rapid.Bool().Draw(t, "loads") {
				w.Fallback.Load = litres()
			}
		}
		p.Windows = append(p.Windows, w)
	}
	if rapid.IntRange(0, 2).Draw(t, "limited") == 0 {
		most, money := litres(), Money(price())
		p.Limits = []Limit{{Name: "l", Windows: []int{len(p.Windows) - 1}, Litres: &most, Money: &money}}
	}
	return p
}

func TestAnyNumbersAreRefusedOrPlanned(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := wild(t)
		if p.Flaws() != nil {
			return
		}
		plan, err := p.within(300)
		if why := (*Infeasible)(nil); errors.As(err, &why) {
			if !(why.Litres > 0) || math.IsInf(float64(why.Litres), 1) {
				t.Fatalf("%+v", why)
			}
			return
		}
		if err != nil {
			t.Skip(err) // the search was given up
		}
		size := float64(p.size()) + float64(plan.Cost.Total)
		for _, w := range p.Windows {
			size += float64(w.Step)
			if w.Fallback != nil {
				size += float64(w.Fallback.Load)
			}
		}
		if by := breach(p, plan.Lots, plan.Fallback); !(by <= 1e-9*size) || !(plan.Bound <= plan.Cost.Total) {
			t.Fatalf("%+v breaks a bound by %v", plan, by)
		}
		if !(plan.Cost.Total >= 0) || math.IsInf(float64(plan.Cost.Total), 1) {
			t.Fatalf("%+v", plan)
		}
	})
}

// Every bound a small whole number, and every amount in steps of one unit: the plan is the best of all that can be counted.
func TestSmallProblemsHaveTheBestOfAllPlansThatCanBeCounted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		few := rapid.Map(rapid.IntRange(0, 7), func(n int) float64 { return float64(n) })
		p := &Plant{Name: "small"}
		for i := range rapid.IntRange(1, 3).Draw(t, "windows") {
			w := Window{Name: fmt.Sprint(i), Need: units.LitresAt15(few.Draw(t, "need") - 2 + 2*float64(i)), Room: units.LitresAt15(few.Draw(t, "room") + 3*float64(i)),
				Min: units.LitresAt15(few.Draw(t, "min")), Fixed: Money(few.Draw(t, "fixed")), Price: Price(few.Draw(t, "price")), Carrying: Price(few.Draw(t, "carrying")),
				Step: units.LitresAt15(rapid.IntRange(1, 3).Draw(t, "step"))}
			w.Max = w.Min + units.LitresAt15(few.Draw(t, "more"))
			if rapid.Bool().Draw(t, "fallback") {
				w.Fallback = &Fallback{Price: Price(few.Draw(t, "price")), Load: units.LitresAt15(rapid.IntRange(1, 3).Draw(t, "load"))}
			}
			p.Windows = append(p.Windows, w)
		}
		if rapid.Bool().Draw(t, "limited") {
			most, money := units.LitresAt15(2*few.Draw(t, "most")), Money(5*few.Draw(t, "money"))
			p.Limits = []Limit{{Name: "l", Windows: []int{0, len(p.Windows) - 1}[:min(2, len(p.Windows))], Litres: &most, Money: &money}}
		}
		if p.Flaws() != nil {
			return
		}
		want := counted(p, nil, nil)
		plan, err := p.Best()
		switch {
		case err != nil && !math.IsInf(want, 1):
			t.Fatalf("%v, want a cost of %v", err, want)
		case err == nil && (!plan.Proved || differs(float64(plan.Cost.Total), want, 1e-9)):
			t.Fatalf("%+v, want a cost of %v", plan, want)
		}
	})
}

// counted tries every amount of whole litres, lots and fallbacks in turn, and gives the least cost.
func counted(p *Plant, lots, fallback []units.LitresAt15) float64 {
	i := len(fallback)
	if i == len(p.Windows) {
		if breach(p, lots, fallback) > 1e-9 {
			return math.Inf(1)
		}
		return float64(p.CostOf(lots, fallback).Total)
	}
	best, most := math.Inf(1), 14
	if len(lots) == i {
		for x := 0; x <= most; x += int(p.Windows[i].Step) {
			best = min(best, counted(p, append(lots, units.LitresAt15(x)), fallback))
		}
		return best
	}
	if p.Windows[i].Fallback == nil {
		return counted(p, lots, append(fallback, 0))
	}
	for x := 0; x <= most; x += int(p.Windows[i].Fallback.Load) {
		best = min(best, counted(p, lots, append(fallback, units.LitresAt15(x))))
	}
	return best
}
