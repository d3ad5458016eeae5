package advice

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"overwinter/internal/inventory"
	"overwinter/internal/resupply"
)

// inputs identifies all that a plant's advice is made from beside the seed: its own ledger rows and the degree
// days of its climate group, the usage of the plants of that group, which lend it the shape of its season, and what is told
// of them, the day up to which that is known, the number of paths, the fleet's calibration, and the forecasts that are scored.
func (r *run) inputs(book *inventory.Book, issued []inventory.IssuedForecast) string {
	var usage []string
	for _, j := range r.group[book.Plant.Group] {
		usage = append(usage, r.plants[j].ID, r.lenders[j].usage)
	}
	var scored []string
	for _, f := range issued {
		scored = append(scored, f.Origin.String(), string(f.Body))
	}
	return digest(book.Version(r.dir), usage, r.origin, r.opts.paths(), r.fleet, scored)
}

// digest identifies values by how they are written in Go, which sets strings apart from each other.
func digest(values ...any) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%#v", values))
	return hex.EncodeToString(sum[:12])
}

// save keeps a plant's advice as issued, made from a version of the ledger, and before it the forecast that is to
// be kept.
func (r *run) save(ctx context.Context, store Store, i int, a Plant, ledger int64) error {
	if f := r.toKeep[i]; f != nil {
		if err := store.SaveForecast(ctx, *f); err != nil {
			return err
		}
	}
	body, err := json.Marshal(a)
	if err != nil {
		return err
	}
	return store.SaveAdvice(ctx, inventory.Issued{
		Plant: a.Plant, AsOf: a.AsOf, ModelVersion: a.ModelVersion, InputsVersion: a.InputsVersion, Seed: a.Seed,
		IssuedAt: r.opts.Now, Body: body, Ledger: ledger,
	})
}

// rank orders the states by urgency: what is short already comes first, what nobody can say comes
// after what must be ordered now, before what can wait.
var rank = map[resupply.Status]int{
	resupply.Short: 0, resupply.OrderNow: 1, resupply.Unknown: 2, resupply.OrderSoon: 3, resupply.InHand: 4,
}

// moreUrgent orders plants by state, then by the day to order by or, where short, the day from which
// fuel is missing, then by id.
func moreUrgent(a, b Plant) int {
	return cmp.Or(cmp.Compare(rank[a.Status], rank[b.Status]), cmp.Compare(turning(a), turning(b)), cmp.Compare(a.Plant, b.Plant))
}

// turning is the day on which the plant's case turns.
func turning(a Plant) int {
	switch {
	case a.Short != nil:
		return int(a.Short.From)
	case a.Order != nil:
		return int(a.Order.OrderBy)
	}
	return resupply.Never
}
