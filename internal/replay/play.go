package replay

import (
	"context"
	"errors"
	"slices"
	"time"

	"overwinter/internal/backtest"
	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
)

// Options are the choices of a replay.
type Options struct {
	Policies []string
	Worlds   int // how often the seasons and lead times are drawn
	Paths    int // simulated futures of a plan
}

// Policies lists the names of all policies.
func Policies() []string { return []string{"ours", "fill", "upto", "mean"} }

func newPolicy(name string, s *Scenario) policy {
	switch name {
	case "fill":
		return fill{}
	case "upto":
		return upTo{}
	case "mean":
		return &planned{title: name, risk: 0.5, sure: true}
	}
	return &planned{title: name, risk: s.Risk}
}

// Run replays every plant under every policy in every world. The scores are by plant, then policy, then world. The same case
// gives the same scores on any number of cores.
func (c *Case) Run(ctx context.Context, o Options) ([]Score, error) {
	runs := make([][]*run, len(c.Plants))
	for i, p := range c.Plants {
		runs[i] = c.runs(p, o)
	}
	var cohort *backtest.Cohort
	for asOf := c.Scenario.Start - 1; asOf < c.Scenario.End; {
		year, month, _ := (asOf + 1).Civil()
		if cohort == nil || month == time.January {
			var err error
			if cohort, err = c.fleet.At(ctx, asOf+1); err != nil {
				return nil, err
			}
		}
		next := min(calendar.Date(year, month+1, 1)-1, c.Scenario.End)
		errs := make([]error, len(runs))
		err := backtest.Spread(ctx, len(runs), func(i int) {
			ahead := &foresight{c: c, p: c.Plants[i], cohort: cohort, asOf: asOf, paths: o.Paths}
			c.month(runs[i], ahead, next, o)
			errs[i] = ahead.err
		})
		if err != nil {
			return nil, err
		}
		if err := errors.Join(errs...); err != nil {
			return nil, err
		}
		asOf = next
	}
	var scores []Score
	for _, some := range runs {
		for _, r := range some {
			scores = append(scores, r.close())
		}
	}
	return scores, nil
}

// runs begins the runs of a plant.
func (c *Case) runs(p *Plant, o Options) []*run {
	var all []*run
	for _, name := range o.Policies {
		for world := range o.Worlds {
			seed := resupply.NewDraws(c.Scenario.Seed, "world", world).Uint64()
			all = append(all, newRun(&c.Scenario, p, newPolicy(name, &c.Scenario), world+1, seed, p.route.went(&c.Scenario, seed)))
		}
	}
	return all
}

// month lets every run of a plant decide and live up to the next decision. Runs stand by policy, then by world.
func (c *Case) month(runs []*run, ahead *foresight, next calendar.Day, o Options) {
	p, asOf := ahead.p, ahead.asOf
	means := p.use.means(asOf)
	outlooks := make([][]outlook, o.Worlds)
	for i, r := range runs {
		world := i % o.Worlds
		if outlooks[world] == nil {
			outlooks[world] = p.route.outlooks(r.went, asOf, planHorizon, o.Paths, c.Scenario.Seed)
		}
		r.seen = &view{
			s: &c.Scenario, plant: p, asOf: asOf, next: next, stock: r.stock, orders: slices.Clone(r.orders), flights: slices.Clone(r.flights),
			outlooks: outlooks[world], means: means, ahead: ahead,
		}
		for _, called := range r.policy.orders(r.seen) {
			r.orders = append(r.orders, order{call: called, on: asOf})
		}
		r.seen.orders = slices.Clone(r.orders)
		for day := asOf + 1; day <= next; day++ {
			r.day(day)
		}
	}
}
