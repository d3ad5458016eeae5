package lots

import (
	"fmt"
	"math"
	"testing"

	"overwinter/internal/units"
)

// published is a worked example of the literature: demands a period, met from lots, with a cost of what is left at the end of a period. A unit is a litre
// here, and the opening stock is taken off the needs.
type published struct {
	name     string
	source   string
	demand   []float64
	setup    []float64 // one for all periods, or one each
	price    []float64 // the same
	holding  float64
	opening  float64
	capacity float64 // of a lot; 0 is no bound
	store    float64 // the most that may be left at the end of a period; 0 is no bound
	step     float64
	cost     float64
	lots     []float64 // nil where the source prints none, or there are several
}

func (e *published) plant() *Plant {
	p := &Plant{Name: e.name}
	each := func(list []float64, i int) float64 {
		switch len(list) {
		case 0:
			return 0
		case 1:
			return list[0]
		}
		return list[i]
	}
	unbounded := func(x float64) units.LitresAt15 {
		if x == 0 {
			return units.LitresAt15(math.Inf(1))
		}
		return units.LitresAt15(x)
	}
	sum := -e.opening
	for i, d := range e.demand {
		sum += d
		w := Window{
			Name: fmt.Sprintf("period %d", i+1), Need: units.LitresAt15(sum), Room: unbounded(0), Max: unbounded(e.capacity), Step: units.LitresAt15(e.step),
			Fixed: Money(each(e.setup, i)), Price: Price(each(e.price, i)), Carrying: Price(e.holding),
		}
		if e.store > 0 {
			w.Room = units.LitresAt15(sum + e.store) // after the period's demand, which is known
		}
		p.Windows = append(p.Windows, w)
	}
	return p
}

var literature = []published{
	{name: "a textbook's four periods", source: "Snyder and Shen, Fundamentals of Supply Chain Theory, 2nd ed. 2019, example 3.9, as the library stockpyl's tests have it",
		demand: []float64{90, 120, 80, 70}, setup: []float64{500}, holding: 2, cost: 1380, lots: []float64{210, 0, 150, 0}},
	{name: "the same from the second period on", source: "same, cost to go", demand: []float64{120, 80, 70}, setup: []float64{500}, holding: 2, cost: 940},
	{name: "the same from the third period on", source: "same, cost to go", demand: []float64{80, 70}, setup: []float64{500}, holding: 2, cost: 640},
	{name: "the same in the last period", source: "same, cost to go", demand: []float64{70}, setup: []float64{500}, holding: 2, cost: 500},
	{name: "the paper's twelve months", source: "Wagner and Whitin, Management Science 5 (1958) 89-96, as public unit tests cite it",
		demand: []float64{69, 29, 36, 61, 61, 26, 34, 67, 45, 67, 79, 56}, setup: []float64{85, 102, 102, 101, 98, 114, 105, 86, 119, 110, 98, 114}, holding: 1, cost: 864},
	{name: "prices that change", source: "the library stockpyl's tests", demand: []float64{400, 500, 500, 1100, 900}, setup: []float64{100}, price: []float64{3, 1, 4, 6, 6}, holding: .1,
		cost: 4940, lots: []float64{400, 3000, 0, 0, 0}},
	{name: "aircraft", source: "Hillier and Lieberman, Introduction to Operations Research, as the library SCperf's help has it; two best plans",
		demand: []float64{3, 2, 3, 2}, setup: []float64{2}, holding: .2, cost: 4.8},
	{name: "lots of thirty at most", source: "the library inventoryanalytics's tests", demand: []float64{10, 20, 30, 40}, setup: []float64{40}, price: []float64{1}, holding: 1, capacity: 30,
		cost: 280, lots: []float64{10, 30, 30, 30}},
	{name: "four periods", source: "the library inventoryanalytics's tests", demand: []float64{10, 20, 30, 40}, setup: []float64{30}, holding: 1, cost: 110, lots: []float64{30, 0, 30, 40}},
	{name: "the same with an opening stock", source: "the library inventoryanalytics's tests", demand: []float64{10, 20, 30, 40}, setup: []float64{30}, holding: 1, opening: 30,
		cost: 80, lots: []float64{0, 0, 30, 40}},
	{name: "ten weeks", source: "Hopp and Spearman, Factory Physics, 2.3.3; data, cost and lots as a public lecture has them",
		demand: []float64{20, 50, 10, 50, 50, 10, 20, 40, 20, 30}, setup: []float64{100}, holding: 1, cost: 580, lots: []float64{80, 0, 0, 130, 0, 0, 0, 90, 0, 0}},
	{name: "a store of four, lots of five whole units", source: "Winston 2004, chapter 6, example 4, solved step by step in matsim-up/teaching-up",
		demand: []float64{1, 3, 2, 4}, setup: []float64{3}, price: []float64{1}, holding: .5, capacity: 5, store: 4, step: 1, cost: 20, lots: []float64{1, 5, 0, 4}},
	{name: "the same with a unit in stock", source: "same", demand: []float64{1, 3, 2, 4}, setup: []float64{3}, price: []float64{1}, holding: .5, opening: 1, capacity: 5, store: 4, step: 1, cost: 16},
	{name: "the same with four in stock", source: "same", demand: []float64{1, 3, 2, 4}, setup: []float64{3}, price: []float64{1}, holding: .5, opening: 4, capacity: 5, store: 4, step: 1, cost: 13.5},
	{name: "twelve months of electronics", source: "Silver and Peterson, Decision Systems for Inventory Management, 1985; cost as public unit tests have it, lots from memory",
		demand: []float64{10, 62, 12, 130, 154, 129, 88, 52, 124, 160, 238, 41}, setup: []float64{54}, holding: .4, cost: 501.2, lots: []float64{84, 0, 0, 130, 283, 0, 140, 0, 124, 160, 279, 0}},
}

func TestPublishedExamplesComeOutToTheirPrintedDigits(t *testing.T) {
	for _, e := range literature {
		plan, err := e.plant().Best()
		if err != nil {
			t.Errorf("%s: %v", e.name, err)
			continue
		}
		if math.Abs(float64(plan.Cost.Total)-e.cost) > 1e-9*e.cost || !plan.Proved {
			t.Errorf("%s (%s): cost %v, want %v; lots %v", e.name, e.source, plan.Cost.Total, e.cost, plan.Lots)
		}
		for i, want := range e.lots {
			if math.Abs(float64(plan.Lots[i])-want) > 1e-9*want {
				t.Errorf("%s (%s): lots %v, want %v", e.name, e.source, plan.Lots, e.lots)
				break
			}
		}
	}
}
