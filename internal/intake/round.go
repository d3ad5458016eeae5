package intake

import (
	"context"
	"fmt"
	"strings"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// Round writes a round: all its readings and gaugings, or none.
func (d *Desk) Round(ctx context.Context, r Round) (Receipt, error) {
	s, at, err := d.roundSheet(ctx, r)
	if err != nil {
		return Receipt{}, err
	}
	held, err := s.hold(ctx, at)
	if err != nil {
		return Receipt{}, err
	}
	done, err := s.writeRound(ctx, held)
	if err != nil {
		return Receipt{}, err
	}
	return s.receipt(ctx, done, held.doubts(ctx), at), nil
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
	s, err := d.open(ctx, "round", r.Report)
	if err != nil {
		return nil, time.Time{}, err
	}
	at := s.moment(r.At)
	if len(r.Meters)+len(r.Tanks) == 0 {
		s.refuse("meters", "neither a meter nor a tank was read: give at least one value")
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
	return s, at, nil
}

// once names an entry's field. A meter or tank is read once in a round: ok is false the second time.
func (s *sheet) once(seen map[string]bool, list, id string, i int) (field string, ok bool) {
	if field = list + "/" + id; id == "" {
		field = fmt.Sprintf("%s/%d", list, i+1) // a blank name has nothing else to be found by
	}
	if seen[field] {
		s.refuse(field, "given twice: expected one value a round; send the second one as a round of its own moment")
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
}

func (s *sheet) addGauging(r Round, t TankEntry, at time.Time, field string) {
	e := s.entry(rowKey("round", r.Plant, r.Key, t.Tank))
	e.Replaces, e.Void = t.Replaces, t.Withdraw
	s.add(gauging(e, r.Plant, t, at), entryField(field, "tank"))
}

func gauging(e inventory.Entry, plant string, t TankEntry, at time.Time) *inventory.Gauging {
	if e.Void {
		return &inventory.Gauging{Entry: e, Plant: plant, Tank: t.Tank, At: at}
	}
	return &inventory.Gauging{
		Entry: e, Plant: plant, Tank: t.Tank, At: at,
		Depth: t.Depth, Water: t.Water, Volume: t.Volume, Temperature: t.Temperature, Precision: t.Precision,
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

// writeRound records a round. The ledger knows single rows alone, so whether a key stands for this very
// round, no entry more and none less, is found here before it is written.
func (s *sheet) writeRound(ctx context.Context, held *held) (inventory.Recorded, error) {
	s.rounds.Lock()
	defer s.rounds.Unlock()
	if s.wrong == nil {
		if held.otherRows(rowKey("round", s.Plant, s.Key, "")) {
			return inventory.Recorded{}, s.taken(nil)
		}
		would, err := s.Ledger.Rehearse(ctx, s.rows, s.now)
		if err == nil && would.New > 0 && would.Known > 0 {
			return inventory.Recorded{}, s.taken(nil)
		}
		if fault.KindOf(err) == fault.Conflict {
			return inventory.Recorded{}, s.roundConflict(err)
		}
	}
	return s.write(ctx)
}

// roundConflict says which conflict it is: a round that corrects another may come too late.
func (s *sheet) roundConflict(cause error) error {
	for r := range s.rows.All() {
		if r.Base().Replaces != "" {
			return fault.Wrap(fault.Conflict, cause,
				"the round cannot stand in the place of the earlier one: that was corrected in the meantime, or the key %q is used for another round. Nothing was written: look at the newest values and enter the round again", s.Key)
		}
	}
	return s.taken(cause)
}

// otherRows tells whether the ledger holds rows whose keys begin with a stem and that the sheet has not.
func (h *held) otherRows(stem string) bool {
	for r := range h.recent.All() {
		if key := r.Base().Key; strings.HasPrefix(key, stem) && !h.own[key] {
			return true
		}
	}
	return false
}
