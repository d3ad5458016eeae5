package main

import (
	"strconv"

	"overwinter/internal/fault"
)

// number reads digits with an optional sign, decimal point and power of ten, as the data folder's files
// are read: what else Go would read, such as hexadecimal and NaN, is no reading.
func number(column string, text []byte) (float64, *fault.Field) {
	if x, ok := short(text); ok {
		return x, nil
	}
	if len(text) == 0 {
		return 0, &fault.Field{Where: column, Message: "blank: the row needs it"}
	}
	for _, c := range text {
		switch {
		case c >= '0' && c <= '9', c == '+', c == '-', c == '.', c == 'e', c == 'E':
		default:
			return 0, noNumber(column, text)
		}
	}
	x, err := strconv.ParseFloat(string(text), 64)
	if err != nil {
		return 0, noNumber(column, text)
	}
	return x, nil
}

// tens are the powers of ten that a float64 holds exactly and a short number needs.
var tens = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// short reads a number as people write it, of at most 15 digits: digits and power of ten are then exact, and
// the one division between them rounds as strconv does.
func short(text []byte) (x float64, ok bool) {
	digits, decimals, point := 0, 0, false
	minus := len(text) > 0 && text[0] == '-'
	if minus {
		text = text[1:]
	}
	whole := int64(0)
	for _, c := range text {
		switch {
		case c >= '0' && c <= '9':
			whole = whole*10 + int64(c-'0')
			digits++
			if point {
				decimals++
			}
		case c == '.' && !point:
			point = true
		default:
			return 0, false
		}
	}
	if digits == 0 || digits > 15 {
		return 0, false
	}
	x = float64(whole) / tens[decimals]
	if minus {
		x = -x
	}
	return x, true
}

func noNumber(column string, text []byte) *fault.Field {
	return &fault.Field{Where: column, Message: quote(text) + " is no number: expected digits and a decimal point, such as 838.4"}
}

// quote shows a field in a message, a long one shortened.
func quote(text []byte) string {
	if runes := []rune(string(text)); len(runes) > 40 {
		return strconv.Quote(string(runes[:40]) + "…")
	}
	return strconv.Quote(string(text))
}
