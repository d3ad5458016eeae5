package inventory

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/units"
)

// Limits on what a row may say. They keep slipped digits, wrong units and runaway text out of the
// ledger; none of them is met by a sound row. Common practice, no source.
const (
	longestID   = 64
	longestKey  = 400 // made of up to five identifying columns
	longestName = 200
	longestNote = 2000

	firstYear = 1900
	lastYear  = 2200

	coldestRow units.Celsius = -60
	hottestRow units.Celsius = 150

	largestVolume = 1e9 // L
	longestWait   = 3660
)

// findings collects what is wrong with one row. Where is the stem of the column: "depth" whether the
// row was written in millimetres or in inches.
type findings []fault.Field

func (f *findings) add(where, format string, args ...any) {
	*f = append(*f, fault.Field{Where: where, Message: fmt.Sprintf(format, args...)})
}

// entry checks what every row carries.
func (f *findings) entry(e *Entry) {
	f.line("key", e.Key, longestKey)
	if e.Key == "" {
		f.add("key", "blank: a row needs a key of its own")
	}
	f.line("replaces", e.Replaces, longestKey)
	if e.Key != "" && e.Key == e.Replaces {
		f.add("replaces", "the row names itself: give the correction a key of its own, other than %s", quoted(e.Key))
	}
	if e.Void && e.Replaces == "" {
		f.add("void", "a row that withdraws another says which: put that row's key into replaces")
	}
	f.line("who", e.Who, longestName)
	f.note("why", e.Why)
}

// id checks a name that other rows refer to.
func (f *findings) id(where, value string) bool {
	if value == "" {
		f.add(where, "blank: expected a short name")
		return false
	}
	if value == "." || value == ".." { // in an address these stand for folders
		f.add(where, "%s cannot stand in an address: expected a name with a letter or a digit", quoted(value))
		return false
	}
	return f.line(where, value, longestID)
}

// line checks a text of one line.
func (f *findings) line(where, value string, longest int) bool {
	before := len(*f)
	f.length(where, value, longest)
	if strings.ContainsFunc(value, unicode.IsControl) {
		f.add(where, "%s holds a control character, such as a tab or a line break: take it out", quoted(value))
	}
	if strings.TrimSpace(value) != value {
		f.add(where, "%s begins or ends with a space: take it off", quoted(value))
	}
	return len(*f) == before
}

// note checks a text that may run over several lines.
func (f *findings) note(where, value string) {
	f.length(where, value, longestNote)
	odd := func(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' }
	if strings.ContainsFunc(value, odd) {
		f.add(where, "%s holds a control character: take it out", quoted(value))
	}
}

func (f *findings) length(where, value string, longest int) {
	if !utf8.ValidString(value) {
		f.add(where, "%s is not UTF-8", quoted(value))
	}
	if n := utf8.RuneCountInString(value); n > longest {
		f.add(where, "%d characters: expected at most %d", n, longest)
	}
}

// within checks that a number lies in a range, ends included; no number at all lies in none.
func (f *findings) within(where string, value, low, high float64, unit string) bool {
	if value >= low && value <= high {
		return true
	}
	f.add(where, "%s is out of range: expected %s to %s", amount(value, unit), figure(low), amount(high, unit))
	return false
}

// volume checks a volume that was moved: more than nothing, and finite.
func (f *findings) volume(where string, litres float64) bool {
	if litres > 0 && litres <= largestVolume {
		return true
	}
	f.add(where, "%s cannot be moved: expected more than 0 and at most %s", amount(litres, "L"), amount(largestVolume, "L"))
	return false
}

// temperature checks a temperature that may not have been read.
func (f *findings) temperature(where string, t *units.Celsius) {
	if t != nil {
		f.within(where, float64(*t), float64(coldestRow), float64(hottestRow), "°C")
	}
}

// measure checks a stated volume's temperature and basis; what the volume may be is the row's affair.
func (f *findings) measure(m Measure) {
	f.temperature("temperature", m.Temperature)
	if m.Basis != BasisUnknown {
		oneOf(f, "basis", m.Basis, BasisObserved, Basis15)
	}
}

// oneOf checks a code against the known ones.
func oneOf[T ~string](f *findings, where string, value T, known ...T) bool {
	names := make([]string, len(known))
	for i, k := range known {
		if k == value {
			return true
		}
		names[i] = string(k)
	}
	f.add(where, "%s is not known: expected one of %s", quoted(string(value)), strings.Join(names, ", "))
	return false
}

// past checks that a moment is not still to come.
func (f *findings) past(where string, at, now time.Time, zone *time.Location) {
	f.year(where, at.Year())
	if at.After(now) {
		f.add(where, "%s is in the future: at the plant it is now %s; check the date (a bare day means noon)",
			at.In(zone).Format(minutes), now.In(zone).Format(minutes))
	}
}

const minutes = "2006-01-02 15:04"

// pastDay checks that a day is not still to come at the plant.
func (f *findings) pastDay(where string, day calendar.Day, now time.Time, zone *time.Location) {
	f.day(where, day)
	if today := calendar.DayOf(now, zone); day > today {
		f.add(where, "%s is in the future: at the plant it is now %s; check the date", day, today)
	}
}

// day checks a day that may lie ahead.
func (f *findings) day(where string, day calendar.Day) {
	year, _, _ := day.Civil()
	f.year(where, year)
}

func (f *findings) year(where string, year int) {
	if year < firstYear || year > lastYear {
		f.add(where, "the year %d cannot be meant: expected %d to %d", year, firstYear, lastYear)
	}
}

// inner takes over what another package found wrong, under the column that the row has for it.
func (f *findings) inner(err error, where func(field string) string) {
	var e *fault.Error
	if err == nil {
		return
	}
	if !errors.As(err, &e) || len(e.Fields) == 0 {
		f.add(where(""), "%v", err)
		return
	}
	for _, field := range e.Fields {
		column, message := where(field.Where), field.Message
		if column != strings.ReplaceAll(field.Where, " ", "_") {
			message = field.Where + ": " + message
		}
		f.add(column, "%s", message)
	}
}

// amount writes a number with its unit.
func amount(value float64, unit string) string {
	if unit == "" || math.IsNaN(value) || math.IsInf(value, 0) {
		return figure(value)
	}
	return figure(value) + " " + unit
}

// figure writes a number for people: at most three decimals, thousands set apart by spaces.
func figure(value float64) string {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return "not a number"
	}
	if math.Abs(value) >= 1e15 || (value != 0 && math.Abs(value) < 0.0005) {
		return strconv.FormatFloat(value, 'g', 4, 64)
	}
	text := strconv.FormatFloat(math.Round(value*1000)/1000, 'f', -1, 64)
	whole, decimals, _ := strings.Cut(text, ".")
	sign := ""
	if whole[0] == '-' {
		sign, whole = "-", whole[1:]
	}
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + " " + whole[i:]
	}
	if decimals != "" {
		decimals = "." + decimals
	}
	return sign + whole + decimals
}

// quoted sets a text in quotes, shortened where it is long.
func quoted(text string) string {
	const most = 80
	if runes := []rune(text); len(runes) > most {
		text = string(runes[:most]) + "…"
	}
	return strconv.Quote(text)
}
