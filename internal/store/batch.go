package store

import (
	"database/sql/driver"
	"fmt"
	"math"
	"strings"
	"time"
	"unicode/utf8"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
)

// batch is a set of rows ready to be written.
type batch struct {
	rows      map[inventory.Kind][]row // keys of one kind differ
	repeated  int                      // rows that stood in the set more than once with one content
	conflicts []fault.Field
}

// row is one record ready to be written.
type row struct {
	record inventory.Record // a copy, its instants in UTC and whole milliseconds
	key    string
	digest string
}

func (r row) where() string { return place(r.record.Kind(), r.key) }

func place(kind inventory.Kind, key string) string { return fmt.Sprintf("%s %s", kind, key) }

// prepare checks and converts rows. The error is fault.Invalid and names every value that cannot be kept.
func prepare(rows inventory.Rows) (batch, error) {
	b := batch{rows: map[inventory.Kind][]row{}}
	at := map[inventory.Kind]map[string]int{} // where in b.rows a key stands
	var wrong []fault.Field
	for record := range rows.All() {
		kind := record.Kind()
		r, fields := prepareRow(record)
		if fields != nil {
			wrong = append(wrong, fields...)
			continue
		}
		if at[kind] == nil {
			at[kind] = map[string]int{}
		}
		i, twice := at[kind][r.key]
		switch {
		case !twice:
			at[kind][r.key] = len(b.rows[kind])
			b.rows[kind] = append(b.rows[kind], r)
		case b.rows[kind][i].digest == r.digest:
			b.repeated++
		default:
			b.conflicts = append(b.conflicts, fault.Field{Where: r.where(),
				Message: "the key is used twice with different content: give each row a key of its own"})
		}
	}
	if wrong != nil {
		return batch{}, fault.New(fault.Invalid, "rows cannot be kept: nothing was written").With(wrong...)
	}
	return b, nil
}

func prepareRow(record inventory.Record) (row, []fault.Field) {
	t := tableOf(record.Kind())
	record = t.clone(record)
	r := row{record: record, key: record.Base().Key}
	var wrong []fault.Field
	refuse := func(field, message string) {
		wrong = append(wrong, fault.Field{Where: r.where() + ", " + field, Message: message})
	}
	checkEntry(record.Base(), refuse)
	for _, c := range t.columns(record) {
		switch at := c.field.(type) {
		case codec[time.Time]:
			*at.field = time.UnixMilli(at.field.UnixMilli()).UTC()
		case codec[*time.Time]:
			if *at.field != nil {
				kept := time.UnixMilli((*at.field).UnixMilli()).UTC()
				*at.field = &kept
			}
		}
		if _, err := stored(c.field); err != nil {
			refuse(c.name, err.Error())
		}
	}
	if tank, ok := record.(*inventory.Tank); ok {
		checkPoints(tank.Table, refuse)
	}
	if wrong != nil {
		return row{}, wrong
	}
	r.digest = inventory.Digest(record)
	return r, nil
}

// values gives one value a column of an insertion; the last is the row's place, which is known once it is
// written. They are made when they are needed: all at once they would be most of what a large load holds.
func (r row) values(t table, recordedMS int64) ([]any, error) {
	columns := t.columns(r.record)
	values := make([]any, 0, len(columns)+len(writtenOnly))
	for _, c := range columns {
		value, err := stored(c.field)
		if err != nil {
			return nil, err
		}
		values = append(values, value)
	}
	return append(values, r.digest, recordedMS, nil), nil
}

func checkEntry(e *inventory.Entry, refuse func(field, message string)) {
	if e.Key == "" {
		refuse("key", "it is blank: expected an identifier of the row, unique in its kind")
	}
	if e.Void && e.Replaces == "" {
		refuse("replaces", "it is blank: a void row must name the row that it withdraws")
	}
}

func checkPoints(points []tanks.Point, refuse func(field, message string)) {
	for i, p := range points {
		if !finite(float64(p.Depth)) || !finite(float64(p.Volume)) {
			refuse(fmt.Sprintf("capacity table, row %d", i+1), notFinite)
		}
	}
}

const notFinite = "expected a finite number"

// stored gives a field's value as the database keeps it. Engines differ in what they make of other
// numbers and texts: one keeps NaN as NULL, another refuses a zero byte.
func stored(field any) (any, error) {
	value, err := driver.DefaultParameterConverter.ConvertValue(field)
	if err != nil {
		return nil, err
	}
	switch v := value.(type) {
	case float64:
		if !finite(v) {
			return nil, fmt.Errorf("%v: %s", v, notFinite)
		}
	case string:
		if !utf8.ValidString(v) || strings.ContainsRune(v, 0) {
			return nil, fmt.Errorf("%q: expected text in UTF-8 without zero bytes", v)
		}
	}
	return value, nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
