package intake

import (
	"context"
	"slices"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/inventory"
)

// lookBack is how far on either side of a report the ledger is read to hold it against.
const lookBack = 60 * 24 * time.Hour

// held is a sheet beside what the ledger holds around its moment.
type held struct {
	*sheet
	at     time.Time
	recent inventory.Rows
	own    map[string]bool // keys of the sheet's rows
	old    map[string]bool // keys of the rows that they replace
}

// hold reads what a sheet is held against.
func (s *sheet) hold(ctx context.Context, at time.Time) (*held, error) {
	before := at.Add(lookBack)
	if end := s.now.Add(time.Millisecond); before.After(end) {
		before = end
	}
	recent, err := s.Ledger.RecentRows(ctx, s.Plant, at.Add(-lookBack), before)
	if err != nil {
		return nil, err
	}
	h := &held{sheet: s, at: at, recent: recent, own: map[string]bool{}, old: map[string]bool{}}
	for r := range s.rows.All() {
		h.own[r.Base().Key] = true
		h.old[r.Base().Replaces] = true
	}
	delete(h.old, "")
	return h, nil
}

// foreign tells whether a row of the ledger is neither the sheet's own nor one that it corrects or is
// corrected by.
func (h *held) foreign(r inventory.Record) bool {
	e := r.Base()
	return !h.own[e.Key] && !h.own[e.Replaces] && !h.old[e.Key]
}

// others gives the rows of one kind that are not the sheet's own.
func others[T inventory.Record](h *held, rows []T) []T {
	var found []T
	for _, r := range rows {
		if h.foreign(r) {
			found = append(found, r)
		}
	}
	return found
}

// together gives the ledger's rows around the moment as they are with the sheet's in them.
func (h *held) together() inventory.Rows {
	var rows inventory.Rows
	for r := range h.recent.All() {
		if h.foreign(r) {
			rows.Add(r)
		}
	}
	for r := range h.rows.All() {
		if !r.Base().Void {
			rows.Add(r)
		}
	}
	return rows
}

// advised gives the plant's advice in force, nil where there is none.
func (h *held) advice(ctx context.Context) *advice.Plant {
	if h.Advice == nil {
		return nil
	}
	in, err := h.Advice.InForce(ctx)
	if err != nil {
		return nil // what is usual is a help to the reader: a report does not fail for want of it
	}
	a, err := in.Plant(h.Plant)
	if err != nil {
		return nil
	}
	return &a
}

// zone is that of the plant's clocks, UTC where it has a wrong one.
func (s *sheet) zone() *time.Location {
	if zone, err := s.plant.Location(); err == nil {
		return zone
	}
	return time.UTC
}

// local writes a moment by the plant's clocks.
func (s *sheet) local(at time.Time) string { return at.In(s.zone()).Format("2 Jan 15:04") }

// neighbours gives the items just before and just after a moment, in order of time.
func neighbours[T any](items []T, at time.Time, when func(T) time.Time) []T {
	sorted := slices.Clone(items)
	slices.SortStableFunc(sorted, func(a, b T) int { return when(a).Compare(when(b)) })
	i, _ := slices.BinarySearchFunc(sorted, at, func(x T, t time.Time) int { return when(x).Compare(t) })
	return sorted[max(i-1, 0):min(i+1, len(sorted))]
}
