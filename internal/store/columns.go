package store

import (
	"database/sql/driver"
	"fmt"
	"strings"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
)

// column binds a column of a table to a field of one record. The same binding serves writing and
// reading: field is a pointer to the record's field, or a codec around it where the database keeps
// another form.
type column struct {
	name  string
	field any
}

// codec keeps a field in another form.
type codec[T any] struct {
	field *T
	write func(T) (driver.Value, error)
	read  func(driver.Value) (T, error)
}

// Value gives the stored form.
func (c codec[T]) Value() (driver.Value, error) { return c.write(*c.field) }

// Scan sets the field from the stored form.
func (c codec[T]) Scan(stored any) (err error) {
	*c.field, err = c.read(stored)
	return err
}

// lastYear is the last of which days as ISO text are in order.
const lastYear = 9999

// instant keeps a time as milliseconds UTC.
func instant(field *time.Time) codec[time.Time] {
	return codec[time.Time]{field, writeInstant, readInstant}
}

func optionalInstant(field **time.Time) codec[*time.Time] {
	return codec[*time.Time]{field, orNull(writeInstant), notNull(readInstant)}
}

// alarms keeps a list of codes as one text.
func alarms(field *[]inventory.Alarm) codec[[]inventory.Alarm] {
	return codec[[]inventory.Alarm]{field, writeAlarms, readAlarms}
}

// day keeps a local day as ISO text.
func day(field *calendar.Day) codec[calendar.Day] {
	return codec[calendar.Day]{field, writeDay, readDay}
}

func optionalDay(field **calendar.Day) codec[*calendar.Day] {
	return codec[*calendar.Day]{field, orNull(writeDay), notNull(readDay)}
}

// monthText keeps a month as YYYY-MM.
func monthText(field *calendar.Month) codec[calendar.Month] {
	return codec[calendar.Month]{field, writeMonth, readMonth}
}

// monthDay keeps a day of any year as MM-DD.
func monthDay(field *inventory.MonthDay) codec[inventory.MonthDay] {
	return codec[inventory.MonthDay]{field, writeMonthDay, readMonthDay}
}

func optionalMonthDay(field **inventory.MonthDay) codec[*inventory.MonthDay] {
	return codec[*inventory.MonthDay]{field, orNull(writeMonthDay), notNull(readMonthDay)}
}

// reference keeps the empty text as NULL.
func reference(field *string) codec[string] {
	return codec[string]{field, writeReference, readReference}
}

// bits keeps an unsigned number as the signed one of the same 64 bits: databases have no other.
func bits(field *uint64) codec[uint64] { return codec[uint64]{field, writeBits, readBits} }

func writeInstant(t time.Time) (driver.Value, error) {
	if year := t.UTC().Year(); year < 0 || year > lastYear {
		return nil, fmt.Errorf("the year %d is out of range: expected 0 to %d", year, lastYear)
	}
	return t.UnixMilli(), nil
}

func readInstant(stored driver.Value) (time.Time, error) {
	ms, ok := stored.(int64)
	if !ok {
		return time.Time{}, fmt.Errorf("%v is stored where an instant was expected", stored)
	}
	return time.UnixMilli(ms).UTC(), nil
}

func writeAlarms(all []inventory.Alarm) (driver.Value, error) {
	words := make([]string, len(all))
	for i, a := range all {
		words[i] = string(a)
	}
	return strings.Join(words, " "), nil
}

func readAlarms(stored driver.Value) ([]inventory.Alarm, error) {
	text, _ := stored.(string)
	var all []inventory.Alarm
	for _, word := range strings.Fields(text) {
		all = append(all, inventory.Alarm(word))
	}
	return all, nil
}

func writeDay(d calendar.Day) (driver.Value, error) {
	if year, _, _ := d.Civil(); year < 0 || year > lastYear {
		return nil, fmt.Errorf("the year %d is out of range: expected 0 to %d", year, lastYear)
	}
	return d.String(), nil
}

func readDay(stored driver.Value) (calendar.Day, error) {
	text, _ := stored.(string)
	return calendar.ParseDay(text)
}

func writeMonth(m calendar.Month) (driver.Value, error) {
	if m.Year < 0 || m.Year > lastYear {
		return nil, fmt.Errorf("the year %d is out of range: expected 0 to %d", m.Year, lastYear)
	}
	return m.String(), nil
}

func readMonth(stored driver.Value) (m calendar.Month, err error) {
	text, _ := stored.(string)
	err = m.UnmarshalText([]byte(text))
	return m, err
}

func writeMonthDay(d inventory.MonthDay) (driver.Value, error) {
	return fmt.Sprintf("%02d-%02d", d.Month, d.Day), nil
}

func readMonthDay(stored driver.Value) (d inventory.MonthDay, err error) {
	if _, err := fmt.Sscanf(fmt.Sprint(stored), "%d-%d", &d.Month, &d.Day); err != nil {
		return d, fmt.Errorf("%v is stored where a day of any year was expected", stored)
	}
	return d, nil
}

func writeReference(text string) (driver.Value, error) {
	if text == "" {
		return nil, nil
	}
	return text, nil
}

func readReference(stored driver.Value) (string, error) {
	text, _ := stored.(string)
	return text, nil
}

func writeBits(number uint64) (driver.Value, error) { return int64(number), nil }

func readBits(stored driver.Value) (uint64, error) {
	number, ok := stored.(int64)
	if !ok {
		return 0, fmt.Errorf("%v is stored where a number was expected", stored)
	}
	return uint64(number), nil
}

func orNull[T any](write func(T) (driver.Value, error)) func(*T) (driver.Value, error) {
	return func(field *T) (driver.Value, error) {
		if field == nil {
			return nil, nil
		}
		return write(*field)
	}
}

func notNull[T any](read func(driver.Value) (T, error)) func(driver.Value) (*T, error) {
	return func(stored driver.Value) (*T, error) {
		if stored == nil {
			return nil, nil
		}
		field, err := read(stored)
		return &field, err
	}
}
