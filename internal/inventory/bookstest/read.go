// Package bookstest asks questions of the books, for the tests of all who take such questions in, and reads them
// itself: by none of the code that it tries, so that a question which two of them read in two ways, or both wrongly,
// is found.
package bookstest

import (
	"regexp"
	"slices"
	"strconv"
	"time"
)

// Question is a question as it is written.
type Question struct{ Plant, Product, From, To, KnownAt string }

// Stretch is what a question asks for.
type Stretch struct {
	Product  string
	From, To time.Time
	KnownAt  *time.Time
}

// Desk is where questions are asked: at which moment, and at the close of which day the books stand; "" is the plants'
// own today.
type Desk struct {
	Now  time.Time
	AsOf string
}

// Read reads a question. Wrong names the fields that it must be refused for: any one of them will do. It is the plant
// where the ledger did not know it then.
func (d Desk) Read(q Question) (s Stretch, wrong []string) {
	zone := Zone(q.Plant)
	refuse := func(field string, is bool) {
		if is && !slices.Contains(wrong, field) {
			wrong = append(wrong, field)
		}
	}
	if s.Product = q.Product; s.Product == "" {
		s.Product = own
	}
	refuse("product", !slices.Contains(Products(q.Plant), s.Product))
	asOf := localDay(d.Now, zone)
	if d.AsOf != "" {
		asOf, _ = dayNumber(d.AsOf)
	}
	if q.KnownAt != "" {
		at, ok := Instant(q.KnownAt)
		if ok && at.Before(Written) && !tooOld(at, time.UTC) {
			return s, []string{"plant"}
		}
		refuse("known_at", !ok || at.After(d.Now) || tooOld(at, time.UTC))
		if ok {
			s.KnownAt = &at
			asOf = min(asOf, localDay(at, zone))
		}
	}
	closing := startOf(asOf+1, zone)
	s.To = closing
	if q.To != "" {
		var ok bool
		s.To, ok = end(q.To, 1, zone)
		refuse("to", !ok || s.To.After(closing) || tooOld(s.To, zone))
	}
	s.From = startOf(yearBefore(localDay(s.To.Add(-time.Millisecond), zone)), zone)
	if q.From != "" {
		var ok bool
		s.From, ok = end(q.From, 0, zone)
		refuse("from", !ok || tooOld(s.From, zone))
	}
	refuse("from", !s.From.Before(s.To))
	return s, wrong
}

// tooOld tells whether a moment lies before any that a row of the ledger may have.
func tooOld(at time.Time, zone *time.Location) bool { return localDay(at, zone) < number(1900, 1, 1) }

// end reads one end of a stretch: a local day, so many days later, or an instant.
func end(text string, later int, zone *time.Location) (time.Time, bool) {
	if day, ok := dayNumber(text); ok {
		return startOf(day+later, zone), true
	}
	return Instant(text)
}

// yearBefore is the first of the month a year before a day.
func yearBefore(day int) int {
	y, m, _ := time.Unix(int64(86400*day), 0).UTC().Date()
	return number(y-1, int(m), 1)
}

// Wall gives the moments at which the clocks of a zone show a date and a time, found by looking at them.
func Wall(day, clock string, zone *time.Location) (all []time.Time) {
	n, ok := dayNumber(day)
	if !ok {
		return nil
	}
	begin := time.Unix(int64(86400*n), 0).Add(-15 * time.Hour)
	for at := begin; at.Before(begin.Add(54 * time.Hour)); at = at.Add(time.Minute) {
		if localDay(at, zone) == n && at.In(zone).Format("15:04") == clock {
			all = append(all, at)
		}
	}
	return all
}

// Day writes the day that the clocks of a zone show.
func Day(at time.Time, zone *time.Location) string { return at.In(zone).Format(time.DateOnly) }

var dayForm = regexp.MustCompile(`^(\d{4})-(\d\d)-(\d\d)$`)

var instantForm = regexp.MustCompile(`^(\d{4}-\d\d-\d\d)T([01]\d|2[0-3]):([0-5]\d):([0-5]\d)(?:\.(\d+))?(?:Z|([+-])([01]\d|2[0-3]):([0-5]\d))$`)

// Instant reads an instant by the grammar of RFC 3339, section 5.6, with capital letters and without leap seconds. What
// is finer than a nanosecond is left out.
func Instant(text string) (time.Time, bool) {
	part := instantForm.FindStringSubmatch(text)
	if part == nil {
		return time.Time{}, false
	}
	day, ok := dayNumber(part[1])
	if !ok {
		return time.Time{}, false
	}
	n := func(i int) int { v, _ := strconv.Atoi(part[i]); return v }
	offset := 60 * (60*n(7) + n(8))
	if part[6] == "-" {
		offset = -offset
	}
	nanos, _ := strconv.Atoi((part[5] + "000000000")[:9])
	return time.Unix(int64(86400*day+3600*n(2)+60*n(3)+n(4)-offset), int64(nanos)), true
}

// dayNumber reads a date of ISO 8601.
func dayNumber(text string) (int, bool) {
	part := dayForm.FindStringSubmatch(text)
	if part == nil {
		return 0, false
	}
	year, _ := strconv.Atoi(part[1])
	month, _ := strconv.Atoi(part[2])
	day, _ := strconv.Atoi(part[3])
	if month < 1 || month > 12 || day < 1 || day > length(year, month) {
		return 0, false
	}
	return number(year, month, day), true
}

// number counts the days from 1970-01-01 to a date, by the rule of the Gregorian calendar.
func number(year, month, day int) int {
	for m := 1; m < month; m++ {
		day += length(year, m)
	}
	return daysBefore(year) - daysBefore(1970) + day - 1
}

// daysBefore counts the days from the year 0 to the beginning of a later one.
func daysBefore(year int) int { return 365*year + (year+3)/4 - (year+99)/100 + (year+399)/400 }

func length(year, month int) int {
	if month == 2 && year%4 == 0 && (year%100 != 0 || year%400 == 0) {
		return 29
	}
	return []int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}[month-1]
}

// localDay is the day that the clocks of a zone show.
func localDay(at time.Time, zone *time.Location) int {
	y, m, d := at.In(zone).Date()
	return number(y, int(m), d)
}

// startOf is the first moment at which the clocks of a zone show a day or a later one, found by looking at them.
func startOf(day int, zone *time.Location) time.Time {
	at := time.Unix(int64(86400*day), 0).Add(-15 * time.Hour)
	for localDay(at, zone) < day {
		at = at.Add(time.Minute)
	}
	for before := at.Add(-time.Second); localDay(before, zone) >= day; before = at.Add(-time.Second) {
		at = before
	}
	return at
}
