package web

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"

	"overwinter/internal/units"
)

// figureForm is a number as people write one: digits, then one decimal mark at most.
var figureForm = regexp.MustCompile(`^[+\-−]?(\d*)(?:[.,](\d*))?$`)

// wholeUnits are those that are read to the whole, so that "1.330" may well mean thousands.
var wholeUnits = map[string]bool{"mm": true, "L": true}

// thousandPoint is a number that a point may set the thousands apart in.
var thousandPoint = regexp.MustCompile(`^([1-9]\d{0,2})\.(\d{3})$`)

// inchFraction is a number as it stands on an inch stick: 10 1/4, or 3/8.
var inchFraction = regexp.MustCompile(`^(?:(\d{1,4})[ \x{00a0}]+)?(\d{1,2})/(\d{1,2})$`)

// figure reads what was typed in a field, as its unit is written.
func (q *roundField) figure() (value float64, problem string) {
	text := strings.TrimSpace(q.Value)
	if parts := thousandPoint.FindStringSubmatch(text); parts != nil && wholeUnits[q.scale.Label] {
		return 0, fmt.Sprintf("“%s” can be read in two ways: write %s%s if you mean thousands, or %s.%s0 if you mean a decimal",
			text, parts[1], parts[2], parts[1], strings.TrimRight(parts[2], "0"))
	}
	if parts := inchFraction.FindStringSubmatch(text); parts != nil && (q.scale.Name == "in" || q.scale.Name == "ft") {
		return fraction(parts[1], parts[2], parts[3])
	}
	return figure(text)
}

func fraction(whole, over, under string) (value float64, problem string) {
	w, _ := strconv.ParseFloat("0"+whole, 64) // digits alone
	a, _ := strconv.ParseFloat(over, 64)
	b, _ := strconv.ParseFloat(under, 64)
	if a >= b {
		return 0, fmt.Sprintf("“%s/%s” is no fraction of a whole: write it as 1/4, 3/8 or 15/16", over, under)
	}
	return w + a/b, ""
}

// figure reads a number that a person typed: thousands may be set apart by blanks, the decimal mark may be
// a point or a comma. What can be read in two ways is refused; problem says why.
func figure(text string) (value float64, problem string) {
	plain := strings.Map(func(r rune) rune {
		if strings.ContainsRune(" \t\u00a0\u2009\u202f", r) {
			return -1
		}
		return r
	}, text)
	parts := figureForm.FindStringSubmatch(plain)
	if parts == nil || parts[1]+parts[2] == "" || len(plain) > 30 {
		return 0, fmt.Sprintf("“%s” is no number: write digits and, if need be, one decimal point, such as 1205.5", shortened(text))
	}
	if strings.Contains(plain, ",") && len(parts[2]) == 3 && len(parts[1]) <= 3 && parts[1] != "0" {
		return 0, fmt.Sprintf("“%[1]s” can be read in two ways: write %[2]s%[3]s if you mean thousands, or %[2]s.%[3]s if you mean a decimal",
			shortened(text), parts[1], parts[2])
	}
	value, err := strconv.ParseFloat(strings.NewReplacer(",", ".", "−", "-").Replace(plain), 64)
	if err != nil {
		return 0, fmt.Sprintf("“%s” is no number", shortened(text))
	}
	return value, ""
}

func shortened(text string) string {
	if r := []rune(text); len(r) > 30 {
		return string(r[:30]) + "…"
	}
	return text
}

// toStored converts what was typed to the stored unit, to the fifteen digits that a float64 holds for
// certain, so that 83.32 in is 2116.328 mm to the last digit.
func toStored(scale units.Scale, typed float64) float64 {
	stored, err := strconv.ParseFloat(strconv.FormatFloat(scale.ToStored(typed), 'g', 15, 64), 64)
	if err != nil {
		return math.Inf(1) // beyond all measure: the check of the row says so
	}
	return stored
}

// typed writes a stored value as a person would type it in a unit.
func typed(scale units.Scale, stored float64) string {
	return strconv.FormatFloat(math.Round(scale.FromStored(stored)*1e6)/1e6, 'f', -1, 64)
}

// wallMoment reads a date and a time as a plant's clocks show them. What the clocks never show, or show
// twice, is a problem to say.
func wallMoment(day, clock string, zone *time.Location) (at time.Time, problem string) {
	wall, err := time.Parse("2006-01-02 15:04", strings.TrimSpace(day)+" "+strings.TrimSpace(clock))
	if err != nil {
		return at, fmt.Sprintf("“%s %s” is no moment: write the date as 2026-03-02 and the time as 20:00", shortened(day), shortened(clock))
	}
	switch found := instants(wall, zone); len(found) {
	case 0:
		return at, fmt.Sprintf("%s never was on %s: the clocks were put forward over it. Write the time after that", wall.Format("15:04"), wall.Format("2 January"))
	case 1:
		return found[0], ""
	default:
		return at, fmt.Sprintf("%s came twice on %s, when the clocks were put back. Write a time just before or after that hour", wall.Format("15:04"), wall.Format("2 January"))
	}
}

// instants gives the moments at which the clocks of a zone show a time; wall is that time, taken as UTC.
// A day before and a day after tell all the offsets that can be in use: no zone moves its clocks twice
// in two days.
func instants(wall time.Time, zone *time.Location) []time.Time {
	var found []time.Time
	for _, near := range []time.Duration{-24 * time.Hour, 24 * time.Hour} {
		_, offset := wall.Add(near).In(zone).Zone()
		at := wall.Add(-time.Duration(offset) * time.Second)
		if _, there := at.In(zone).Zone(); there == offset && (found == nil || !found[0].Equal(at)) {
			found = append(found, at)
		}
	}
	return found
}
