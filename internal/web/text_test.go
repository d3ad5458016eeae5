package web

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
)

func TestADayHasItsYearOnlyWhenThatIsAnother(t *testing.T) {
	d := calendar.Date
	tests := []struct{ got, want string }{
		{shortDay(d(2031, 4, 9), asOf), "9 Apr"},
		{shortDay(d(2032, 4, 9), asOf), "9 Apr 2032"},
		{longDay(d(2030, 12, 31), asOf), "31 December 2030"},
		{shortSpan(d(2031, 8, 1), d(2031, 9, 1), asOf), "1 Aug to 1 Sep"},
		{shortSpan(d(2031, 12, 23), d(2032, 2, 28), asOf), "23 Dec to 28 Feb 2032"},
		{shortSpan(d(2032, 2, 23), d(2032, 7, 9), asOf), "23 Feb to 9 Jul 2032"},
		{shortSpan(d(2031, 8, 1), d(2031, 8, 1), asOf), "1 Aug"},
		{shortSpan(d(2032, 12, 1), d(2033, 1, 1), asOf), "1 Dec 2032 to 1 Jan 2033"},
		{moment(time.Date(2031, 3, 3, 16, 10, 0, 0, time.UTC), zoneOf(orin()), asOf), "3 Mar, 07:10 AKST"},
		{moment(time.Date(2031, 3, 3, 16, 10, 0, 0, time.UTC), zoneOf(advice.Plant{Zone: "Etc/GMT+3"}), asOf), "3 Mar, 13:10 UTC−03"},
	}
	for _, tt := range tests {
		if got := spaced(tt.got); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}

func TestQuantitiesReadAsPeopleWriteThem(t *testing.T) {
	tests := []struct{ got, want string }{
		{whole(0), "0"}, {whole(-0.3), "0"}, {whole(999.5), "1 000"}, {whole(-1234567), "−1 234 567"},
		{kilolitres(0), "0"}, {kilolitres(4200), "4.2"}, {kilolitres(9949), "9.9"}, {kilolitres(9950), "10"}, {kilolitres(1_150_000), "1 150"}, {kilolitres(-4200), "−4.2"},
		{kLSpan(118_000, 158_000), "118 to 158 kL"}, {kLSpan(182_300, 182_400), "182 kL"},
		{percent(0.05), "5 %"}, {percent(0.021), "2.1 %"}, {percent(0.11), "11 %"}, {percent(1), "100 %"},
		{count(1, "plant", "plants"), "one plant"}, {count(13, "plant", "plants"), "13 plants"},
		{days(1), "1 day"}, {days(1200), "1 200 days"},
		{list([]string{"a", "b", "c"}), "a, b and c"},
		{oneIn(0.05), "one path in twenty"}, {oneIn(0.1), "one path in ten"}, {oneIn(0.03), "3 % of paths"},
		{capital("über"), "Über"}, {capital(""), ""},
	}
	for _, tt := range tests {
		if got := spaced(tt.got); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}

func TestAWholeNumberLosesNoDigit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(-1e15, 1e15).Draw(t, "n")
		back, negative := int64(0), false
		for _, r := range whole(float64(n)) {
			switch {
			case r == '−':
				negative = true
			case r >= '0' && r <= '9':
				back = 10*back + int64(r-'0')
			}
		}
		if negative {
			back = -back
		}
		if back != n {
			t.Fatalf("%d reads as %q", n, whole(float64(n)))
		}
	})
}
