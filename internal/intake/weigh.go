package intake

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// CodeDoubtsNotKnown is the notice that the books could not be looked through after a report was written.
const CodeDoubtsNotKnown = "doubts-not-known"

// Settled names a row about which the books have no doubt any more.
type Settled struct {
	Kind  inventory.Kind
	Key   string
	Cause inventory.Cause // of the doubt that they had
}

// findReplaced keeps the rows that the sheet replaces, while they are in force.
func (s *sheet) findReplaced(ctx context.Context) error {
	if !s.corrects() {
		return nil
	}
	rows, err := s.inForce(ctx)
	if err != nil {
		return err
	}
	named := s.named(func(e *inventory.Entry) string { return e.Replaces })
	for r := range rows.All() {
		if named[rowName{r.Kind(), r.Base().Key}] {
			s.replaced = append(s.replaced, r)
		}
	}
	return nil
}

// inForce reads all of the plant's rows. Rows of whole days lie at the end of their day in UTC, which may be ahead
// of the plant's clocks.
func (s *sheet) inForce(ctx context.Context) (inventory.Rows, error) {
	return s.Ledger.PlantRows(ctx, s.Plant, s.now.AddDate(0, 0, 2))
}

type rowName struct {
	kind inventory.Kind
	key  string
}

// named gathers the sheet's rows by their keys, or by those that they replace.
func (s *sheet) named(key func(*inventory.Entry) string) map[rowName]bool {
	found := map[rowName]bool{}
	for r := range s.rows.All() {
		found[rowName{r.Kind(), key(r.Base())}] = true
	}
	return found
}

// weigh tells what the books doubt once the sheet is written, as far as the sheet made it so. It is written by now:
// what fails here is said in a notice.
func (s *sheet) weigh(ctx context.Context, r *Receipt) {
	after, err := s.inForce(ctx)
	if err != nil {
		r.Notices.Add(doubtsNotKnown(s.Plant))
		return
	}
	own := s.named(func(e *inventory.Entry) string { return e.Key })
	var before inventory.Rows
	for row := range after.All() {
		if !own[rowName{row.Kind(), row.Base().Key}] {
			before.Add(row)
		}
	}
	for _, row := range s.replaced {
		before.Add(row)
	}
	now, known := s.doubtful(after)
	then, _ := s.doubtful(before)
	if !known {
		r.Notices.Add(doubtsNotKnown(s.Plant))
	}
	for name, d := range now {
		old, there := then[name]
		if own[name.rowName] || !there || old.Scope != d.Scope || old.Found != d.Found {
			r.Doubts = append(r.Doubts, d)
		}
	}
	for name := range then {
		if _, still := now[name]; !still {
			r.Settled = append(r.Settled, Settled{name.kind, name.key, name.cause})
		}
	}
	sortDoubts(r)
}

// sortDoubts puts what the books say into the order in which they say it.
func sortDoubts(r *Receipt) {
	slices.SortFunc(r.Doubts, func(x, y inventory.Doubt) int {
		return cmp.Or(x.At.Compare(y.At), strings.Compare(string(x.Kind), string(y.Kind)), strings.Compare(x.Key, y.Key),
			strings.Compare(string(x.Cause), string(y.Cause)))
	})
	slices.SortFunc(r.Settled, func(x, y Settled) int {
		return cmp.Or(strings.Compare(string(x.Kind), string(y.Kind)), strings.Compare(x.Key, y.Key),
			strings.Compare(string(x.Cause), string(y.Cause)))
	})
}

func doubtsNotKnown(plant string) notice.Notice {
	return notice.New(notice.Caution, CodeDoubtsNotKnown, plant, "the report is written; the books could not be looked through for what is doubtful")
}

// doubtName tells the doubts of a plant apart.
type doubtName struct {
	rowName
	cause inventory.Cause
}

// doubtful gives what the books of the plant's products doubt, each once. Known is false where a book cannot be
// opened.
func (s *sheet) doubtful(rows inventory.Rows) (found map[doubtName]inventory.Doubt, known bool) {
	found, known = map[doubtName]inventory.Doubt{}, true
	for _, product := range s.products(rows) {
		book, err := inventory.NewProductBook(s.dir, s.Plant, product, rows, calendar.DayOf(s.now, s.zone()))
		if err != nil {
			known = false
			continue
		}
		for _, d := range book.Doubtful() {
			name := doubtName{rowName{d.Kind, d.Key}, d.Cause}
			if _, there := found[name]; !there {
				found[name] = d
			}
		}
	}
	return found, known
}

// products lists the plant's own product, then what else its tanks hold or held.
func (s *sheet) products(rows inventory.Rows) []inventory.Product {
	all := []inventory.Product{s.plant.Product}
	for _, p := range inventory.ProductsOf(s.dir, s.Plant, rows) {
		if p != s.plant.Product {
			all = append(all, p)
		}
	}
	return all
}
