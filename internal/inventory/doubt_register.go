package inventory

import (
	"math"
	"strings"
)

// registerSlip finds the slip of the hand that would make a register what it should be; "" for none. Slips of one
// digit are tried before two that changed places, as they are the more common (common practice, no source).
func registerSlip(found, low, high float64) Cause {
	if math.IsInf(high, 1) || found < 1 || found != math.Trunc(found) || found > 1e14 {
		return ""
	}
	fits := func(v float64) bool { return v >= low && v <= high }
	digits := wholeDigits(found)
	switch {
	case oneInserted(digits, fits):
		return DigitDropped
	case oneRemoved(digits, fits):
		return DigitAdded
	case twoExchanged(digits, fits):
		return DigitsExchanged
	case oneReplaced(digits, fits):
		return DigitMistaken
	}
	return ""
}

// wholeDigits gives the decimal digits of a whole number, the highest first.
func wholeDigits(v float64) []int {
	var digits []int
	for _, d := range strings.TrimSpace(figure(v)) {
		if d >= '0' && d <= '9' {
			digits = append(digits, int(d-'0'))
		}
	}
	return digits
}

func number(digits []int) float64 {
	v := 0.0
	for _, d := range digits {
		v = 10*v + float64(d)
	}
	return v
}

func oneInserted(digits []int, fits func(float64) bool) bool {
	more := make([]int, len(digits)+1)
	for i := range more {
		copy(more, digits[:i])
		copy(more[i+1:], digits[i:])
		for more[i] = range 10 {
			if fits(number(more)) {
				return true
			}
		}
	}
	return false
}

func oneRemoved(digits []int, fits func(float64) bool) bool {
	fewer := make([]int, len(digits)-1)
	for i := range digits {
		copy(fewer, digits[:i])
		copy(fewer[i:], digits[i+1:])
		if len(fewer) > 0 && fits(number(fewer)) {
			return true
		}
	}
	return false
}

func twoExchanged(digits []int, fits func(float64) bool) bool {
	for i := 1; i < len(digits); i++ {
		if digits[i] == digits[i-1] {
			continue
		}
		digits[i], digits[i-1] = digits[i-1], digits[i]
		ok := fits(number(digits))
		digits[i], digits[i-1] = digits[i-1], digits[i]
		if ok {
			return true
		}
	}
	return false
}

func oneReplaced(digits []int, fits func(float64) bool) bool {
	for i, was := range digits {
		for d := range 10 {
			digits[i] = d
			if d != was && fits(number(digits)) {
				digits[i] = was
				return true
			}
		}
		digits[i] = was
	}
	return false
}
