// Package calendar holds local days. A day is 23, 24 or 25 hours long, as the plant's clocks have it,
// so a span of days is never a multiple of 24 hours.
package calendar

import (
	"fmt"
	"time"
	_ "time/tzdata" // zones must resolve on machines that carry no zone files
)

// Day is a civil date, counted in days from 1970-01-01. Which stretch of time it covers depends on
// the zone: see Bounds.
type Day int32

// Date makes a Day; out-of-range months and days carry over as in time.Date.
func Date(year int, month time.Month, day int) Day {
	return Day(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix() / secondsPerUTCDay)
}

const secondsPerUTCDay = 86400

// DayOf gives the local day on which an instant falls.
func DayOf(t time.Time, zone *time.Location) Day {
	return Date(t.In(zone).Date())
}

// ParseDay reads an ISO 8601 date such as 2026-03-02.
func ParseDay(text string) (Day, error) {
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return 0, fmt.Errorf("%q is no date: expected YYYY-MM-DD", text)
	}
	return Date(t.Date()), nil
}

func (d Day) utc() time.Time { return time.Unix(int64(d)*secondsPerUTCDay, 0).UTC() }

// Civil gives year, month and day of the month.
func (d Day) Civil() (year int, month time.Month, day int) { return d.utc().Date() }

// YearDay gives the day of the year, 1 to 366.
func (d Day) YearDay() int { return d.utc().YearDay() }

// String writes the day as ISO 8601.
func (d Day) String() string { return d.utc().Format(time.DateOnly) }

// MarshalText writes the day as ISO 8601.
func (d Day) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads an ISO 8601 date.
func (d *Day) UnmarshalText(text []byte) error {
	parsed, err := ParseDay(string(text))
	if err == nil {
		*d = parsed
	}
	return err
}

// Bounds gives the instants at which the local day begins and the next one begins. Where clocks are
// put forward at midnight the day begins at the first instant that exists, where they are put back to it at the first of
// the two.
func (d Day) Bounds(zone *time.Location) (start, end time.Time) {
	return d.start(zone), (d + 1).start(zone)
}

func (d Day) start(zone *time.Location) time.Time {
	y, m, day := d.Civil()
	t := time.Date(y, m, day, 0, 0, 0, 0, zone)
	for DayOf(t, zone) < d { // midnight does not exist and was normalised into the day before
		t = t.Add(clockStep)
	}
	for DayOf(t.Add(-clockStep), zone) == d { // it came twice, and this is the second
		t = t.Add(-clockStep)
	}
	return t
}

// clockStep divides all by which clocks are put forward or back.
const clockStep = 15 * time.Minute

// Fraction places an instant on the plant's day line: whole part the local day, fractional part the
// elapsed share of that day, so that a 23-hour day still has length one.
func Fraction(t time.Time, zone *time.Location) float64 {
	d := DayOf(t, zone)
	start, end := d.Bounds(zone)
	return float64(d) + t.Sub(start).Seconds()/end.Sub(start).Seconds()
}
