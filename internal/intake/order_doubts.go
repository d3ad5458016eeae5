package intake

import (
	"context"
	"strings"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// changeDoubts looks at an order's step from one state to another.
func (s *sheet) changeDoubts(ctx context.Context, before, after *inventory.Order) (notice.List, error) {
	notes := inventory.OrderStepped(before, after)
	if before.State.Means() == after.State.Means() || after.State == inventory.Cancelled {
		return notes, nil
	}
	rows, err := s.inForce(ctx)
	if err != nil {
		return nil, err
	}
	if after.State.Arrived() {
		book, err := inventory.NewBook(s.dir, s.Plant, rows, calendar.DayOf(s.present(), s.zone()))
		if err == nil { // that the books cannot be opened is told of every report
			notes.Add(book.Lacking(after)...)
		}
	} else if after.State != inventory.Proposed {
		notes.Add(notCleared(rows, after)...)
	}
	return notes, nil
}

// notCleared names the clearances that an order which goes on has not got.
func notCleared(rows inventory.Rows, o *inventory.Order) notice.List {
	var names []string
	for _, c := range rows.Clearances {
		if c.Order == o.ID && c.ClearedOn == nil {
			names = append(names, c.Name)
		}
	}
	if names == nil {
		return nil
	}
	return notice.List{notice.New(notice.Caution, CodeOrderNotCleared, "order "+o.ID,
		"order %s is %s, and its clearance is not given: %s. Enter it, or withdraw what is not needed", o.ID, o.State.Means(), strings.Join(names, ", "))}
}
