package inventory

import (
	"math"
	"testing"
)

// 28 300 to 28 500 is what the register should show.
func TestASlipOfThePenIsToldByWhatWouldBringTheRegisterBack(t *testing.T) {
	for _, tt := range []struct {
		found float64
		want  Cause
	}{
		{2839, DigitDropped},  // 28 39_ or 283_9
		{8390, DigitDropped},  // _8 390
		{283_988, DigitAdded}, // 28 398
		{82_398, DigitsExchanged},
		{28_938, DigitsExchanged}, // 28 398
		{28_893, DigitMistaken},   // 28 _93: 28 393
		{98_398, DigitMistaken},
		{55_555, ""},
		{839, ""},    // two digits are missing
		{0, ""},      // nothing was read
		{2839.5, ""}, // no digits of a register
		{28_399.5, ""},
	} {
		if got := registerSlip(tt.found, 28_300, 28_500); got != tt.want {
			t.Errorf("%v: %q, want %q", tt.found, got, tt.want)
		}
	}
	if got := registerSlip(2839, 28_300, math.Inf(1)); got != "" {
		t.Errorf("without an upper end anything fits: %q", got)
	}
}

// Of two explanations the one of a single digit is taken: 12 is 102 with a digit put in, and 21 turned round.
func TestASlipOfOneDigitComesBeforeTwoThatChangedPlaces(t *testing.T) {
	if got := registerSlip(12, 20, 110); got != DigitDropped {
		t.Errorf("%q", got)
	}
	if got := registerSlip(12, 20, 29); got != DigitsExchanged {
		t.Errorf("between 20 and 29: %q, want the exchange before a wrong digit", got)
	}
}
