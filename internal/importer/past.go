package importer

import (
	"io"
	"strconv"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

var pastSheet = define("past_windows.csv", []column{
	{name: "route", need: always}, {name: "window", need: always}, {name: "year", need: always},
	{name: "opens"}, {name: "closes"}, {name: "failed"},
}, func(r *row) *inventory.PastWindow {
	return &inventory.PastWindow{
		Entry:  r.entry(),
		Route:  r.text("route"),
		Name:   r.text("window"),
		Year:   orZero(r.whole("year", 1900, 2200)),
		Opens:  r.day("opens"),
		Closes: r.day("closes"),
		Failed: r.yes("failed"),
	}
}, func(p *inventory.PastWindow) string { return key(p.Route, p.Name, strconv.Itoa(p.Year)) }).onlyOne().to(routeSheet, windowSheet)

// PastWindows reads one file of past windows by itself: its routes and windows are taken for known. It
// gives the rows in force. The error is fault.Invalid with a field name:row:column for each problem.
func PastWindows(name string, file io.Reader, now time.Time) ([]*inventory.PastWindow, notice.List, error) {
	own := *pastSheet
	own.file = name
	r := &run{now: now, whole: true, texts: map[string]string{}, holes: map[*sheet]bool{}}
	t := &table{sheet: &own, run: r, kept: true, replaced: map[string]replacer{}}
	t.each = func(e entered) error {
		t.rows = append(t.rows, e)
		return nil
	}
	if err := t.scan(file); err != nil {
		return nil, nil, fault.Wrap(fault.Invalid, err, "%s cannot be read", name)
	}
	r.dir = inventory.NewDirectory(t.supposed())
	if err := t.judge(); err != nil {
		return nil, nil, err
	}
	if err := r.problems.fault(name + " cannot be used"); err != nil {
		return nil, nil, err
	}
	var past []*inventory.PastWindow
	for _, e := range t.rows {
		if t.inForce(e) {
			past = append(past, e.record.(*inventory.PastWindow))
		}
	}
	return past, r.notices.list, nil
}

// supposed makes the routes and windows that rows of past windows speak of.
func (t *table) supposed() inventory.Rows {
	var rows inventory.Rows
	for _, e := range t.rows {
		p := e.record.(*inventory.PastWindow)
		rows.Routes = append(rows.Routes, &inventory.Route{ID: p.Route})
		rows.Windows = append(rows.Windows, &inventory.Window{Route: p.Route, Name: p.Name})
	}
	return rows
}
