package advice

import (
	"context"
	"encoding/json"
	"slices"
	"sync"

	"overwinter/internal/budget"
	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// Price is what a litre at 15 °C is reckoned to cost.
type Price struct {
	PerLitre float64 `json:"per_l15"` // in major units
	Currency string  `json:"currency"`
}

// FleetBudget is the consumption of every plant and of all together by fiscal month.
type FleetBudget struct {
	AsOf         calendar.Day  `json:"as_of"`
	ModelVersion string        `json:"model_version"`
	Seed         uint64        `json:"seed"`
	Price        Price         `json:"price"`
	Plants       []PlantBudget `json:"plants"` // every plant of the ledger
	// Fleet adds the plants path by path, so that weather common to a climate group stays common; its
	// fiscal years are those of the first plant.
	Fleet budget.Budget `json:"fleet"`
}

// PlantBudget is one plant's consumption. Budget is nil where there is no usage to forecast from.
type PlantBudget struct {
	Plant   string         `json:"plant"`
	Name    string         `json:"name"`
	Budget  *budget.Budget `json:"budget"`
	Notices notice.List    `json:"notices"`
}

// Budget works out the coming consumption of every plant at one price. Where a plant lacks for a fault of the
// program, that is an error, with the budget of the others beside it.
func Budget(ctx context.Context, store inventory.Reader, o Options) (FleetBudget, error) {
	r, err := begin(ctx, store, o, newLenders())
	if err != nil {
		return FleetBudget{}, err
	}
	if err := r.fitAll(ctx); err != nil {
		return FleetBudget{}, err
	}
	b, err := r.budget(ctx)
	if err != nil {
		return FleetBudget{}, err
	}
	return b, r.faults()
}

// At gives the budget at another price: the litres stay, the money follows. The budget itself stays as
// it is.
func (b FleetBudget) At(price Price) FleetBudget {
	b.Price, b.Fleet = price, b.Fleet.At(price.PerLitre)
	b.Plants = slices.Clone(b.Plants)
	for i, p := range b.Plants {
		if p.Budget != nil {
			priced := p.Budget.At(price.PerLitre)
			b.Plants[i].Budget = &priced
		}
	}
	return b
}

// budget works the budget out from the fitted models, for one day for all, so that the months are the
// same.
func (r *run) budget(ctx context.Context) (FleetBudget, error) {
	o, months := r.opts, r.opts.months()
	out := FleetBudget{AsOf: r.origin, ModelVersion: ModelVersion, Seed: o.Seed, Price: o.Price, Plants: make([]PlantBudget, len(r.plants))}
	days := budget.DaysNeeded(r.origin, months)
	var sum tally
	err := r.each(ctx, r.all(), o.Progress, func(i int) error {
		p, m := r.plants[i], r.models[i]
		of := PlantBudget{Plant: p.ID, Name: p.Name, Notices: append(notice.List{}, m.Notices()...)}
		var sheet budget.Sheet
		if r.failed[i] == nil && m.Err() == nil {
			r.failed[i] = guarded(i, func(int) error {
				sheet = budget.NewSheet(r.origin, m.Simulate(r.origin, days, o.paths(), o.Seed), months)
				b := sheet.Budget(o.Price.PerLitre, p.FiscalBegin())
				of.Budget = &b
				return nil
			})
		}
		if r.failed[i] != nil {
			of.Notices.Add(r.unusable(i, r.failed[i]))
		}
		out.Plants[i] = of
		sum.add(i, sheet)
		return nil
	})
	if err != nil {
		return FleetBudget{}, err
	}
	out.Fleet = sum.total.Budget(o.Price.PerLitre, r.plants[0].FiscalBegin())
	return out, nil
}

func (o Options) months() int {
	if o.Months == 0 {
		return budget.Months
	}
	return o.Months
}

// tally adds the plants' sheets in the order of the plants, whichever is done first, so that the sum is
// the same to the last bit; only those that wait for an earlier one are held.
type tally struct {
	mu      sync.Mutex
	total   budget.Sheet
	next    int
	waiting map[int]budget.Sheet
}

func (t *tally) add(i int, s budget.Sheet) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.waiting == nil {
		t.waiting = map[int]budget.Sheet{}
	}
	t.waiting[i] = s
	for {
		s, ok := t.waiting[t.next]
		if !ok {
			return
		}
		t.total = t.total.Add(s)
		delete(t.waiting, t.next)
		t.next++
	}
}

// saveBudget puts the budget in force.
func (r *run) saveBudget(ctx context.Context, store Store, b FleetBudget) error {
	body, err := json.Marshal(b)
	if err != nil {
		return err
	}
	var made []any
	for i, p := range r.plants {
		made = append(made, p.ID, p.Name, p.Group, p.FiscalBegin(), r.lenders[i].usage, b.Plants[i].Notices)
	}
	return store.SaveAdvice(ctx, inventory.Issued{
		AsOf: b.AsOf, ModelVersion: b.ModelVersion, Seed: b.Seed, IssuedAt: r.opts.Now, Body: body, Ledger: r.version,
		InputsVersion: digest(made, b.Price, r.opts.months(), r.opts.paths()),
	})
}
