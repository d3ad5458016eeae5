package intake

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// writtenBack is how far back a round that was written is looked for.
const writtenBack = 400 * 24 * time.Hour

// RoundRow gives the key of the ledger row that a round leaves for one of its meters or tanks: what a
// later round names to take its place.
func RoundRow(r Report, id string) string { return rowKey("round", r.Plant, r.Key, id) }

// RoundOf gives a round as it was written, without what was corrected since. The error is fault.NotFound
// where nothing of it is in force.
func (d *Desk) RoundOf(ctx context.Context, r Report) (Round, error) {
	now := d.Clock()
	rows, err := d.Ledger.RecentRows(ctx, r.Plant, now.Add(-writtenBack), now.Add(time.Millisecond))
	if err != nil {
		return Round{}, err
	}
	found, stem := Round{Report: r}, RoundRow(r, "")
	for _, m := range rows.Readings {
		if strings.HasPrefix(m.Key, stem) {
			found.At = m.At
			found.Meters = append(found.Meters, MeterEntry{Correction{Replaces: m.Replaces}, m.Meter, m.Register, m.Temperature})
		}
	}
	for _, g := range rows.Gaugings {
		if strings.HasPrefix(g.Key, stem) {
			found.At = g.At
			found.Tanks = append(found.Tanks, TankEntry{
				Correction: Correction{Replaces: g.Replaces}, Tank: g.Tank, Depth: g.Depth, Ullage: g.Ullage, Gauge: string(g.Gauge), Volume: g.Volume,
				Water: g.Water, Temperature: g.Temperature, Precision: g.Precision, Moving: g.Moving,
			})
		}
	}
	if found.At.IsZero() {
		return Round{}, fault.New(fault.NotFound,
			"there is no round %q of plant %q in force: it was never written, or was corrected since", r.Key, r.Plant)
	}
	return found, nil
}

// Last is what was read last before a moment.
type Last struct {
	Meters map[string]*inventory.MeterReading
	Tanks  map[string]*inventory.Gauging
}

// LastBefore gives the newest reading of each meter and gauging of each tank before a moment, as far as
// they lie within the time that reports are held against. Rows that are about to be replaced are left out.
func (d *Desk) LastBefore(ctx context.Context, plant string, at time.Time, replaced map[string]bool) (Last, error) {
	rows, err := d.Ledger.RecentRows(ctx, plant, at.Add(-lookBack), at)
	if err != nil {
		return Last{}, err
	}
	last := Last{map[string]*inventory.MeterReading{}, map[string]*inventory.Gauging{}}
	for _, r := range rows.Readings { // in order of time
		if !replaced[r.Key] {
			last.Meters[r.Meter] = r
		}
	}
	for _, g := range rows.Gaugings {
		if !replaced[g.Key] {
			last.Tanks[g.Tank] = g
		}
	}
	return last, nil
}

// Written is a round in force, as far as it was not corrected since.
type Written struct {
	Key    string
	At     time.Time
	Values int // meters and tanks
}

// Rounds lists the rounds of a plant that are in force and not older than a length of time, the newest
// first.
func (d *Desk) Rounds(ctx context.Context, plant string, back time.Duration) ([]Written, error) {
	now := d.Clock()
	rows, err := d.Ledger.RecentRows(ctx, plant, now.Add(-back), now.Add(time.Millisecond))
	if err != nil {
		return nil, err
	}
	stem := rowKey("round", plant) + "/"
	found := map[string]*Written{}
	add := func(key string, at time.Time) {
		report, _, ok := strings.Cut(strings.TrimPrefix(key, stem), "/")
		if !ok || !strings.HasPrefix(key, stem) {
			return
		}
		if found[report] == nil {
			found[report] = &Written{Key: report, At: at}
		}
		found[report].Values++
	}
	for _, r := range rows.Readings {
		add(r.Key, r.At)
	}
	for _, g := range rows.Gaugings {
		add(g.Key, g.At)
	}
	var all []Written
	for _, w := range found {
		all = append(all, *w)
	}
	slices.SortFunc(all, func(a, b Written) int { return cmp.Or(b.At.Compare(a.At), strings.Compare(a.Key, b.Key)) })
	return all, nil
}
