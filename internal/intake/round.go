package intake

import (
	"context"
	"fmt"
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
)

// Round writes a round: all its readings and gaugings and what else was seen, or none.
func (d *Desk) Round(ctx context.Context, r Round) (Receipt, error) {
	s, at, err := d.roundSheet(ctx, r)
	if err != nil {
		return Receipt{}, err
	}
	return s.file(ctx, at)
}

// RehearseRound says what Round would say and how the round compares with what was read before, and
// leaves everything as it was.
func (d *Desk) RehearseRound(ctx context.Context, r Round) (Comparison, error) {
	s, at, err := d.roundSheet(ctx, r)
	if err != nil {
		return Comparison{}, err
	}
	if err := s.invalid(); err != nil {
		return Comparison{}, err
	}
	held, err := s.hold(ctx, at)
	if err != nil {
		return Comparison{}, err
	}
	return held.compare(ctx), nil
}

// roundSheet turns a round into rows.
func (d *Desk) roundSheet(ctx context.Context, r Round) (*sheet, time.Time, error) {
	s, err := d.open(ctx, "round", rowKey("round", r.Plant, r.Key), r.Report)
	if err != nil {
		return nil, time.Time{}, err
	}
	at := s.moment(r.At)
	if len(r.Meters)+len(r.Tanks) == 0 && r.Seen.nothing() {
		s.refuse("meters", "neither a meter nor a tank was read, and nothing else was seen: give at least one value")
	}
	seen := map[string]bool{}
	for i, m := range r.Meters {
		if field, ok := s.once(seen, "meters", m.Meter, i); ok {
			s.addReading(r, m, at, field)
		}
	}
	for i, t := range r.Tanks {
		if field, ok := s.once(seen, "tanks", t.Tank, i); ok {
			s.addGauging(r, t, at, field)
		}
	}
	s.addSeen(r, at)
	return s, at, nil
}

// addSeen adds what was seen beside the readings; a round of readings alone leaves no row for it.
func (s *sheet) addSeen(r Round, at time.Time) {
	if r.Seen.nothing() {
		return
	}
	e := s.correction(rowKey("round", r.Plant, r.Key), r.Seen.Replaces)
	row := &inventory.Round{
		Entry: e, Plant: r.Plant, At: at, Bowl: r.Seen.Bowl, Alarms: r.Seen.Alarms, PumpRunning: r.Seen.PumpRunning,
		RunningHours: r.Seen.RunningHours, EnergyRegister: r.Seen.EnergyRegister, Note: r.Seen.Note,
	}
	s.add(row, asIs)
	s.confirm(r, row, "")
}

// once names an entry's field. A meter or tank is read once in a round: ok is false the second time.
func (s *sheet) once(seen map[string]bool, list, id string, i int) (field string, ok bool) {
	if field = list + "/" + id; id == "" {
		field = fmt.Sprintf("%s/%d", list, i+1) // a blank name has nothing else to be found by
	}
	if seen[field] {
		s.refuseEver(field, "given twice: expected one value a round; send the second one as a round of its own moment")
		return field, false
	}
	seen[field] = true
	return field, true
}

func (s *sheet) addReading(r Round, m MeterEntry, at time.Time, field string) {
	e := s.entry(rowKey("round", r.Plant, r.Key, m.Meter))
	e.Replaces, e.Void = m.Replaces, m.Withdraw
	row := &inventory.MeterReading{Entry: e, Plant: r.Plant, Meter: m.Meter, At: at}
	if !m.Withdraw {
		row.Register, row.Temperature = m.Register, m.Temperature
	}
	s.add(row, entryField(field, "meter"))
	s.confirm(r, row, m.Meter)
}

func (s *sheet) addGauging(r Round, t TankEntry, at time.Time, field string) {
	e := s.entry(rowKey("round", r.Plant, r.Key, t.Tank))
	e.Replaces, e.Void = t.Replaces, t.Withdraw
	row := gauging(e, r.Plant, t, at)
	s.add(row, entryField(field, "tank"))
	s.confirm(r, row, t.Tank)
}

// confirm adds that a value is right, where the round was looked at once more: the books then count it whatever
// looks wrong about it.
func (s *sheet) confirm(r Round, row inventory.Record, id string) {
	if base := row.Base(); r.Confirmed && !base.Void {
		e := s.entry(rowKey("confirmation", r.Plant, r.Key, string(row.Kind()), id))
		s.add(&inventory.Confirmation{Entry: e, Plant: r.Plant, Of: row.Kind(), Row: base.Key}, asIs)
	}
}

func gauging(e inventory.Entry, plant string, t TankEntry, at time.Time) *inventory.Gauging {
	if e.Void {
		return &inventory.Gauging{Entry: e, Plant: plant, Tank: t.Tank, At: at}
	}
	return &inventory.Gauging{
		Entry: e, Plant: plant, Tank: t.Tank, At: at,
		Depth: t.Depth, Ullage: t.Ullage, Gauge: tanks.Gauge(t.Gauge), Water: t.Water, Volume: t.Volume, Temperature: t.Temperature, Precision: t.Precision, Moving: t.Moving,
	}
}

// entryField turns a row's column into a field of the round: what is common to all its rows stands at
// the top, the rest with the entry.
func entryField(field, id string) func(column string) string {
	return func(column string) string {
		switch column {
		case "at", "who", "key":
			return column
		case id:
			return field
		}
		return field + "/" + column
	}
}
