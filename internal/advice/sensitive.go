package advice

import (
	"context"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

// Sensitive is a plant's answer beside what one change at a time would do to it. Volumes are litres at 15 °C.
type Sensitive struct {
	Plant   string          `json:"plant"`
	Name    string          `json:"name"`
	Zone    string          `json:"zone"`
	AsOf    calendar.Day    `json:"as_of"`
	Basis   inventory.Basis `json:"basis"` // of volumes named l15
	Quality Quality         `json:"quality"`
	Status  resupply.Status `json:"status"`
	Order   *Order          `json:"order"`
	Short   *Shortage       `json:"short"`
	// Sensitivities has the greatest effect first; it is empty where the stock or the consumption is not known.
	Sensitivities []resupply.Sensitivity `json:"sensitivities"`
	Assumptions   []string               `json:"assumptions"`
	Notices       notice.List            `json:"notices"`
}

// Sensitivities works a plant out with what the ledger holds now, as Plant would say it, and again on the same
// paths with one thing changed at a time. It saves nothing. The error is fault.NotFound where there is no such plant,
// and what keeps it from being reckoned with.
func (a *Adviser) Sensitivities(ctx context.Context, id string) (Sensitive, error) {
	r, i, err := a.open(ctx, id)
	if err != nil {
		return Sensitive{}, err
	}
	book, err := r.fitted(ctx, i)
	if err != nil {
		return Sensitive{}, err
	}
	found := []resupply.Sensitivity{}
	r.decided = func(p *resupply.Problem, d resupply.Decision) { found = p.Sensitivities(d) }
	var plant Plant
	err = guarded(i, func(i int) (err error) {
		plant, err = r.advise(ctx, i, book)
		return err
	})
	if err != nil {
		return Sensitive{}, err
	}
	return Sensitive{
		Plant: plant.Plant, Name: plant.Name, Zone: plant.Zone, AsOf: plant.AsOf, Basis: inventory.Basis15, Quality: plant.Quality, Status: plant.Status,
		Order: plant.Order, Short: plant.Short, Sensitivities: found, Assumptions: plant.Assumptions, Notices: plant.Notices,
	}, nil
}
