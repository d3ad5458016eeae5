package intake

import (
	"context"
	"slices"
	"strings"

	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// RowReport is a report of one row of the ledger, or of one that stands in the place of an earlier row of its kind:
// a meter reading, a swap, a proving, a period total, a transfer, a draw, a count correction, a change of product, a change of load, the
// degree days of the plant's climate group.
type RowReport struct {
	Report
	Replaces string  // key of the row that it corrects, "" for none
	Row      Checked // of the report's plant; its entry is filled in here
}

// Withdrawal takes a row out of force. It stays in the ledger, and nothing stands in its place.
type Withdrawal struct {
	Report
	Kind inventory.Kind
	Row  string // key of the row
}

// Confirmation says that a row which looks doubtful is right.
type Confirmation struct {
	Report
	Kind inventory.Kind
	Row  string // key of the row
}

// Row writes one row. Only what is impossible in itself is refused; what looks doubtful is written, and the receipt
// says so.
func (d *Desk) Row(ctx context.Context, r RowReport) (Receipt, error) {
	kind := r.Row.Kind()
	s, key, err := d.openRow(ctx, kind, r.Report)
	if err != nil {
		return Receipt{}, err
	}
	*r.Row.Base() = s.correction(key, r.Replaces)
	if d, ok := r.Row.(*inventory.DegreeDays); ok {
		d.Group = s.plant.Group
		if err := s.holdCold(ctx, d); err != nil {
			return Receipt{}, err
		}
	}
	s.add(r.Row, asIs)
	return s.record(ctx)
}

// openRow begins the sheet of a report that is named by the kind of its row.
func (d *Desk) openRow(ctx context.Context, kind inventory.Kind, r Report) (s *sheet, key string, err error) {
	key = rowKey(strings.ReplaceAll(string(kind), " ", "-"), r.Plant, r.Key)
	s, err = d.open(ctx, string(kind), key, r)
	return s, key, err
}

// correction is the entry of a row that may stand in the place of another. A correction says who makes it, and why.
func (s *sheet) correction(key, replaces string) inventory.Entry {
	e := s.entry(key)
	if e.Replaces = replaces; replaces != "" {
		s.accountFor()
	}
	return e
}

// accountFor refuses a change to what was written that nobody answers for.
func (s *sheet) accountFor() {
	for _, said := range []struct{ where, text string }{{"who", s.Who}, {"why", s.Why}} {
		if strings.TrimSpace(said.text) == "" {
			s.refuse(said.where, "blank: a change to what was written says who makes it, and why")
		}
	}
}

// record writes a sheet and tells what is doubtful about its rows.
func (s *sheet) record(ctx context.Context) (Receipt, error) {
	done, err := s.write(ctx)
	if err != nil {
		return Receipt{}, err
	}
	var notes notice.List
	for r := range s.rows.All() {
		if row, ok := r.(doubting); ok && !r.Base().Void {
			notes.Add(row.Doubts(s.dir)...)
		}
	}
	return s.receipt(ctx, done, notes), nil
}

// Confirm writes that a row is right. Whatever looks doubtful about it, the books count it from then on.
func (d *Desk) Confirm(ctx context.Context, c Confirmation) (Receipt, error) {
	s, key, err := d.openRow(ctx, inventory.KindConfirmation, c.Report)
	if err != nil {
		return Receipt{}, err
	}
	s.accountFor()
	s.add(&inventory.Confirmation{Entry: s.entry(key), Plant: c.Plant, Of: c.Kind, Row: c.Row}, asIs)
	rows, err := s.inForce(ctx)
	if err != nil {
		return Receipt{}, err
	}
	if slices.Contains(inventory.Doubtable(), c.Kind) && c.Row != "" && !has(rows, rowName{c.Kind, c.Row}) {
		s.refuse("row", "there is no %s %q in force at plant %s: it was never written, or was corrected or withdrawn since", c.Kind, c.Row, c.Plant)
	}
	return s.record(ctx)
}

func has(rows inventory.Rows, name rowName) bool {
	for r := range rows.All() {
		if name == (rowName{r.Kind(), r.Base().Key}) {
			return true
		}
	}
	return false
}

// Withdraw takes a row out of force. The error is a conflict where the row is not in force.
func (d *Desk) Withdraw(ctx context.Context, w Withdrawal) (Receipt, error) {
	key := rowKey("withdrawal", w.Plant, w.Key)
	s, err := d.open(ctx, "withdrawal", key, w.Report)
	if err != nil {
		return Receipt{}, err
	}
	s.accountFor()
	if w.Row == "" {
		s.refuse("row", "blank: expected the key of the row that is wrong")
	}
	row := empty(w.Kind, w.Plant)
	if row == nil {
		s.refuse("of", "a %q cannot be withdrawn: expected one of %s", w.Kind, kindNames(Withdrawable()))
		return Receipt{}, s.invalid()
	}
	*row.Base() = s.entry(key)
	row.Base().Replaces, row.Base().Void = w.Row, true
	s.add(row, withdrawalField)
	return s.record(ctx)
}

// withdrawalField turns a column of a row that withdraws another into a field of the report.
func withdrawalField(column string) string {
	if column == "replaces" {
		return "row"
	}
	return column
}

// Withdrawable lists the kinds of rows that can be withdrawn. An order is cancelled instead.
func Withdrawable() []inventory.Kind {
	return slices.DeleteFunc(inventory.Kinds(), func(k inventory.Kind) bool { return empty(k, "") == nil })
}

// empty makes a row of a kind that says no more than its plant; nil where rows of the kind cannot be withdrawn.
func empty(kind inventory.Kind, plant string) Checked {
	switch kind {
	case inventory.KindReading:
		return &inventory.MeterReading{Plant: plant}
	case inventory.KindSwap:
		return &inventory.MeterSwap{Plant: plant}
	case inventory.KindGauging:
		return &inventory.Gauging{Plant: plant}
	case inventory.KindTotal:
		return &inventory.PeriodTotal{Plant: plant}
	case inventory.KindDelivery:
		return &inventory.Delivery{Plant: plant}
	case inventory.KindTransfer:
		return &inventory.Transfer{Plant: plant}
	case inventory.KindDraw:
		return &inventory.Draw{Plant: plant}
	case inventory.KindRound:
		return &inventory.Round{Plant: plant}
	case inventory.KindProving:
		return &inventory.Proving{Plant: plant}
	case inventory.KindCountCorrection:
		return &inventory.CountCorrection{Plant: plant}
	case inventory.KindProductChange:
		return &inventory.ProductChange{Plant: plant}
	case inventory.KindConfirmation:
		return &inventory.Confirmation{Plant: plant}
	case inventory.KindLoadChange:
		return &inventory.LoadChange{Plant: plant}
	case inventory.KindDegreeDays:
		return &inventory.DegreeDays{}
	case inventory.KindClearance:
		return &inventory.Clearance{Plant: plant}
	}
	return nil
}

func kindNames(kinds []inventory.Kind) string {
	var names []string
	for _, k := range kinds {
		names = append(names, string(k))
	}
	return strings.Join(names, ", ")
}
