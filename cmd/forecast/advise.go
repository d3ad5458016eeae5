package main

import (
	"context"
	"errors"

	"overwinter/internal/advice"
	"overwinter/internal/fault"
	"overwinter/internal/store"
)

// adviseCommand says for every plant when to order.
type adviseCommand struct {
	questionFlags
	Explain []string `placeholder:"PLANT" help:"Print the arithmetic behind a plant's answer; may be repeated. Default: the most urgent plant."`
}

// Run advises.
func (a *adviseCommand) Run(ctx context.Context, c *console) error {
	var fleet advice.Fleet
	err := a.ask(ctx, c, func(db *store.DB, o advice.Options) (err error) {
		fleet, err = advice.Advise(ctx, db, o)
		return err
	})
	if err != nil && !errors.Is(err, advice.ErrSomePlants) {
		return err
	}
	faults := err // the other plants have their answers
	if a.JSON {
		return errors.Join(c.json(fleet), faults)
	}
	explained, err := a.explained(fleet)
	if err != nil {
		return err
	}
	c.fleet(fleet)
	for _, p := range explained {
		c.explanation(p)
	}
	c.cautions()
	return faults
}

// explained finds the plants to explain.
func (a *adviseCommand) explained(fleet advice.Fleet) ([]advice.Plant, error) {
	if len(a.Explain) == 0 {
		return fleet.Plants[:1], nil
	}
	byID := map[string]advice.Plant{}
	for _, p := range fleet.Plants {
		byID[p.Plant] = p
	}
	var found []advice.Plant
	for _, id := range a.Explain {
		p, ok := byID[id]
		if !ok {
			return nil, fault.New(fault.NotFound, "there is no plant %q", id)
		}
		found = append(found, p)
	}
	return found, nil
}
