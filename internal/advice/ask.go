package advice

import (
	"context"
	"slices"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// open begins a run that saves nothing, to ask about one plant. The error is fault.NotFound where there is no
// such plant.
func (a *Adviser) open(ctx context.Context, id string) (r *run, i int, err error) {
	o := a.opts
	o.Now = a.clock()
	r, err = beginIssuing(ctx, a.store, o, a.known)
	if err != nil {
		return nil, 0, err
	}
	i = slices.IndexFunc(r.plants, func(p *inventory.Plant) bool { return p.ID == id })
	if i < 0 {
		return nil, 0, fault.New(fault.NotFound, "there is no plant %q: check its id", id)
	}
	return r, i, nil
}

// fitted fits one plant and gives its book; the error is also what keeps it from being reckoned with.
func (r *run) fitted(ctx context.Context, i int) (*inventory.Book, error) {
	book, err := r.fitOne(ctx, i)
	if err != nil {
		return nil, err
	}
	return book, r.failed[i]
}
