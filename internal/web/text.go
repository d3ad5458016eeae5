package web

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"overwinter/internal/calendar"
)

const (
	none  = "—"
	thin  = "\u202f" // between thousands; no line breaks there
	joint = "\u00a0" // between a number and its unit; no line breaks there
)

// shortDay writes a day as "9 Apr", with its year only when that is not the year of the day it is seen from.
func shortDay(d, from calendar.Day) string { return civil(d, from, "2"+joint+"Jan") }

// longDay writes a day as "9 April", with its year only when that is not the year of the day it is seen from.
func longDay(d, from calendar.Day) string { return civil(d, from, "2"+joint+"January") }

// fullDay writes a day with its year.
func fullDay(d calendar.Day) string { return format(d, "2"+joint+"January 2006") }

func civil(d, from calendar.Day, layout string) string {
	year, _, _ := d.Civil()
	if seen, _, _ := from.Civil(); year != seen {
		layout += " 2006"
	}
	return format(d, layout)
}

func format(d calendar.Day, layout string) string {
	y, m, day := d.Civil()
	return time.Date(y, m, day, 0, 0, 0, 0, time.UTC).Format(layout)
}

// shortSpan writes two days as "1 Aug to 1 Sep", one where they are the same, the year once where it is one.
func shortSpan(a, b, from calendar.Day) string {
	if a == b {
		return shortDay(a, from)
	}
	return shortDay(a, yearOf(a, b, from)) + " to " + shortDay(b, from)
}

// between writes two days as "between 1 August and 1 September".
func between(a, b, from calendar.Day) string {
	return "between " + longDay(a, yearOf(a, b, from)) + " and " + longDay(b, from)
}

// yearOf gives the day from which the first of two days is written: the second, which carries the year of
// both, or that from which both are seen.
func yearOf(a, b, from calendar.Day) calendar.Day {
	yearA, _, _ := a.Civil()
	if yearB, _, _ := b.Civil(); yearA == yearB {
		return b
	}
	return from
}

// moment writes an instant by the clocks of a zone: "2 Mar, 07:10 AKST". A zone that has no abbreviation
// has its distance from UTC for one.
func moment(t time.Time, zone *time.Location, from calendar.Day) string {
	t = t.In(zone)
	name, _ := t.Zone()
	if strings.HasPrefix(name, "+") || strings.HasPrefix(name, "-") {
		name = "UTC" + strings.Replace(name, "-", "−", 1)
	}
	return shortDay(calendar.DayOf(t, zone), from) + ", " + t.Format("15:04") + joint + name
}

// whole writes a whole number with thin spaces between thousands.
func whole(x float64) string {
	digits := strconv.FormatFloat(math.Abs(math.Round(x)), 'f', 0, 64)
	var b strings.Builder
	if x < 0 && digits != "0" {
		b.WriteString("−")
	}
	for i, r := range digits {
		if i > 0 && (len(digits)-i)%3 == 0 {
			b.WriteString(thin)
		}
		b.WriteRune(r)
	}
	return b.String()
}

// kilolitres writes litres as kilolitres without the unit: whole from ten up, else with one decimal.
func kilolitres(litres float64) string {
	kl := litres / 1000
	if math.Abs(kl) >= 9.95 || litres == 0 {
		return whole(kl)
	}
	return strings.Replace(strconv.FormatFloat(kl, 'f', 1, 64), "-", "−", 1)
}

// kL writes litres as kilolitres.
func kL(litres float64) string { return kilolitres(litres) + joint + "kL" }

// kLSpan writes two volumes as "118 to 158 kL", one where they read the same.
func kLSpan(a, b float64) string {
	low, high := kilolitres(a), kilolitres(b)
	if low == high {
		return high + joint + "kL"
	}
	return low + " to " + high + joint + "kL"
}

// count writes a number of things: in words up to twelve.
func count(n int, one, many string) string {
	noun := many
	if n == 1 {
		noun = one
	}
	return number(n) + " " + noun
}

func number(n int) string {
	words := [...]string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}
	if n >= 0 && n < len(words) {
		return words[n]
	}
	return whole(float64(n))
}

// days writes a length of time.
func days(n int) string {
	if n == 1 {
		return "1" + joint + "day"
	}
	return whole(float64(n)) + joint + "days"
}

// percent writes a share as "5 %", to a tenth below ten.
func percent(share float64) string {
	text := strconv.FormatFloat(100*share, 'f', 1, 64)
	if 100*share >= 9.95 {
		text = strconv.FormatFloat(100*share, 'f', 0, 64)
	}
	return strings.TrimSuffix(text, ".0") + joint + "%"
}

// capital begins a text with a capital letter.
func capital(text string) string {
	r, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return ""
	}
	return string(unicode.ToUpper(r)) + text[size:]
}

// plain makes an id such as kestrel-sound readable: kestrel sound.
func plain(id string) string { return strings.NewReplacer("-", " ", "_", " ").Replace(id) }

// list writes "a", "a and b", "a, b and c".
func list(items []string) string {
	switch n := len(items); n {
	case 0:
		return ""
	case 1:
		return items[0]
	default:
		return fmt.Sprintf("%s and %s", strings.Join(items[:n-1], ", "), items[n-1])
	}
}

// monthLabel names every third month, and January by its year.
func monthLabel(m calendar.Month) string {
	switch {
	case m.Month == time.January:
		return strconv.Itoa(m.Year)
	case (m.Month-time.January)%3 == 0:
		return m.Month.String()[:3]
	}
	return ""
}
