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

// row is one record ready to be written.
type row struct {
	record inventory.Record // a copy, its instants in UTC and whole milliseconds
	key    string
	digest string
	// values hold one value a column; the last is the row's place, which is known once it is written.
	values []any
}

func (r row) where() string { return place(r.record.Kind(), r.key) }

func (r row) replaces() string { return r.record.Base().Replaces }

func place(kind inventory.Kind, key string) string { return fmt.Sprintf("%s %s", kind, key) }

// prepareRow checks and converts a record, or says of every value that cannot be kept what is wrong with it.
func prepareRow(record inventory.Record, recordedMS int64) (row, []fault.Field) {
	t := tableOf(record.Kind())
	record = t.clone(record)
	r := row{record: record, key: record.Base().Key}
	var wrong []fault.Field
	refuse := func(field, message string) {
		wrong = append(wrong, fault.Field{Where: r.where() + ", " + field, Message: message})
	}
	checkEntry(record.Base(), refuse)
	columns := t.columns(record)
	r.values = make([]any, 0, len(columns)+len(writtenOnly))
	for _, c := range columns {
		switch at := c.field.(type) {
		case codec[time.Time]:
			*at.field = time.UnixMilli(at.field.UnixMilli()).UTC()
		case codec[*time.Time]:
			if *at.field != nil {
				kept := time.UnixMilli((*at.field).UnixMilli()).UTC()
				*at.field = &kept
			}
		}
		value, err := stored(c.field)
		if err != nil {
			refuse(c.name, err.Error())
		}
		r.values = append(r.values, value)
	}
	if tank, ok := record.(*inventory.Tank); ok {
		checkPoints(tank.Table, refuse)
	}
	if wrong != nil {
		return row{}, wrong
	}
	r.digest = inventory.Digest(record)
	r.values = append(r.values, r.digest, recordedMS, nil)
	return r, nil
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
