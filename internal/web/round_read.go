package web

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

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
