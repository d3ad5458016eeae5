package inventory

import (
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

func TestOrdersPlacedBetweenTwoDaysCountWhole(t *testing.T) {
	s := soundRows()
	asOf := s.total.LastDay
	var rows Rows
	for i, o := range []struct {
		on    int // days before the as-of day
		state OrderState
	}{{30, Received}, {29, Cancelled}, {20, InTransit}, {10, Committed}, {9, Committed}, {-1, Committed}} {
		row := *s.order
		row.Key, row.ID = string(rune('a'+i)), string(rune('a'+i))
		row.OrderedOn, row.State, row.Basis = asOf-calendar.Day(o.on), o.state, Basis15
		rows.Add(&row)
	}
	book, err := NewBook(s.directory(), "NAK", rows, asOf)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		from, until int // days before the as-of day
		want        string
	}{{30, 10, "acd"}, {29, 10, "cd"}, {20, 20, "c"}, {10, -400, "de"}, {8, 0, ""}} {
		got := ""
		for _, o := range book.OrderedBetween(asOf-calendar.Day(tt.from), asOf-calendar.Day(tt.until), new(notice.List)) {
			if got += o.ID; o.Litres != 1000 {
				t.Errorf("%s brings %v L, want 1000", o.ID, o.Litres)
			}
		}
		if got != tt.want {
			t.Errorf("from %d to %d days before: %q, want %q", tt.from, tt.until, got, tt.want)
		}
	}
}
