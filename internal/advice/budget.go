package advice

import (
	"context"

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
	Plants       []PlantBudget `json:"plants"`
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

// Budget works out the coming consumption of every plant at one price.
func Budget(ctx context.Context, store inventory.Reader, o Options, price Price) (FleetBudget, error) {
	f, err := open(ctx, store, o)
	if err != nil {
		return FleetBudget{}, err
	}
	asOf := f.lastDay() // one day for all, so that the months are the same
	out := FleetBudget{AsOf: asOf, ModelVersion: ModelVersion, Seed: o.Seed, Price: price, Plants: make([]PlantBudget, len(f.plants))}
	sheets := make([]budget.Sheet, len(f.plants))
	err = f.each(ctx, o.Progress, func(i int) error {
		p, m := f.plants[i], f.models[i]
		out.Plants[i] = PlantBudget{Plant: p.ID, Name: p.Name, Notices: append(notice.List{}, m.Notices()...)}
		if m.Err() == nil {
			sheets[i] = budget.NewSheet(asOf, m.Simulate(asOf, budget.DaysNeeded(asOf), o.paths(), o.Seed))
			b := sheets[i].Budget(price.PerLitre, p.FiscalBegin())
			out.Plants[i].Budget = &b
		}
		return nil
	})
	if err != nil {
		return FleetBudget{}, err
	}
	out.Fleet = together(sheets).Budget(price.PerLitre, f.plants[0].FiscalBegin())
	return out, nil
}

// together adds the sheets of the plants that have one.
func together(sheets []budget.Sheet) budget.Sheet {
	var sum budget.Sheet
	for _, s := range sheets {
		if !s.Empty() {
			sum = sum.Add(s)
		}
	}
	return sum
}
