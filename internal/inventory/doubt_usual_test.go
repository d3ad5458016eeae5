package inventory

import (
	"math"
	"testing"
	"time"
)

// The middle of five or more rates is usual; far is four times as much, or five robust deviations of the logarithms.
func TestTheUsualRateIsTheMiddleAndFarIsAtLeastFourTimes(t *testing.T) {
	rates := func(perDay ...float64) (all []rate) {
		for i, v := range perDay {
			all = append(all, rate{at(time.January, 1+i, 8), v})
		}
		return all
	}
	for _, tt := range []struct {
		name  string
		rates []rate
		want  usualRate
	}{
		{"none", nil, usualRate{far: math.Inf(1)}},
		{"four", rates(100, 100, 100, 100), usualRate{middle: 100, far: math.Inf(1)}},
		{"five alike", rates(100, 100, 100, 100, 100), usualRate{true, 100, 400}},
		{"one of them odd", rates(100, 100, 100, 100, 9000), usualRate{true, 100, 400}},
		// Off by ln 2 in the middle: 5 · 1.4826 · 0.6931 = 5.138, and e^5.138 = 170.4.
		{"they vary by twice", rates(50, 50, 100, 200, 200), usualRate{true, 100, 100 * math.Exp(5*1.4826*math.Ln2)}},
	} {
		got := newUsualRates(tt.rates).at(at(time.January, 3, 8))
		if got.known != tt.want.known || !near(got.middle, tt.want.middle) || !(math.IsInf(tt.want.far, 1) && math.IsInf(got.far, 1) || near(got.far, tt.want.far)) {
			t.Errorf("%s: %+v, want %+v", tt.name, got, tt.want)
		}
	}
}

// 100 a day in January and 300 in July: each is usual in its own time, and where too few are near, all of them speak.
func TestWhatIsUsualIsOfTheTime(t *testing.T) {
	var rates []rate
	for i := range 20 {
		rates = append(rates, rate{at(time.January, 1+i, 8), 100}, rate{at(time.July, 1+i, 8), 300})
	}
	u := newUsualRates(append(rates, rate{at(time.January, 25, 8), 100}))
	for _, tt := range []struct {
		when time.Time
		want float64
	}{{at(time.January, 10, 8), 100}, {at(time.July, 10, 8), 300}, {at(time.April, 20, 8), 100}} {
		if got := u.at(tt.when); !got.known || !near(got.middle, tt.want) {
			t.Errorf("%v: %+v, want %v", tt.when, got, tt.want)
		}
	}
}
