package calendar

import (
	"fmt"
	"time"
)

// Month is a calendar month.
type Month struct {
	Year  int
	Month time.Month
}

// MonthOf gives the calendar month of a day.
func MonthOf(d Day) Month {
	y, m, _ := d.Civil()
	return Month{y, m}
}

// First gives the first day of the month.
func (m Month) First() Day { return Date(m.Year, m.Month, 1) }

// Next gives the following month.
func (m Month) Next() Month { return m.Plus(1) }

// Plus gives the month so many months later; earlier, if that is negative.
func (m Month) Plus(months int) Month {
	return MonthOf(Date(m.Year, m.Month+time.Month(months), 1))
}

// String writes the month as YYYY-MM.
func (m Month) String() string { return fmt.Sprintf("%04d-%02d", m.Year, int(m.Month)) }

// MarshalText writes the month as YYYY-MM.
func (m Month) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// UnmarshalText reads a month written as YYYY-MM.
func (m *Month) UnmarshalText(text []byte) error {
	first, err := time.Parse("2006-01", string(text))
	if err != nil {
		return fmt.Errorf("%q is no month: expected YYYY-MM", text)
	}
	*m = Month{first.Year(), first.Month()}
	return nil
}

// FiscalYear names the fiscal year that a month falls in by the calendar year in which it ends; a
// fiscal year that begins in January is the calendar year.
func (m Month) FiscalYear(begins time.Month) int {
	if begins > time.January && m.Month >= begins {
		return m.Year + 1
	}
	return m.Year
}
