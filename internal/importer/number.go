package importer

import (
	"strconv"
	"strings"

	"overwinter/internal/units"
)

// number reads digits with an optional sign, decimal point and power of ten. What else Go would read,
// such as hexadecimal, NaN and Inf, is no reading of anything.
func number(text string) (float64, bool) {
	for _, c := range []byte(text) {
		if (c < '0' || c > '9') && !strings.ContainsRune("+-.eE", rune(c)) {
			return 0, false
		}
	}
	n, err := strconv.ParseFloat(text, 64)
	return n, err == nil
}

// noNumber says why a field is no number.
func noNumber(field string) string {
	plain := strings.Map(func(c rune) rune {
		if strings.ContainsRune(", '\u00a0\u2009\u202f", c) {
			return -1
		}
		return c
	}, field)
	if _, ok := number(plain); ok && plain != field {
		return quote(field) + " has a comma, a blank or an apostrophe in it: expected a decimal point and no thousands separators, such as 1205.5"
	}
	return quote(field) + " is no number: expected digits and a decimal point, such as 1205.5"
}

// tidy converts a written number to the stored unit, to the fifteen digits that a float64 holds for
// certain: 83.32 in and 2116.328 mm are one depth, though 83.32 × 25.4 ends in …9995 in binary.
func tidy(scale units.Scale, written float64) float64 {
	stored := scale.ToStored(written)
	if scale.Factor == 1 {
		return stored
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(stored, 'g', 15, 64), 64)
	if err != nil { // beyond all measure: the caller says so
		return stored
	}
	return rounded
}
