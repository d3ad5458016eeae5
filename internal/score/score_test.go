package score

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/forecast"
	"overwinter/internal/units"
)

// origin is the last day of a month: the first span of a month is April.
var origin = calendar.Date(2025, time.March, 31)

// steadily makes usage of so many litres a day, read at the close of every step-th day.
func steadily(from, to calendar.Day, step int, perDay float64) []forecast.Interval {
	var all []forecast.Interval
	for d := from; d < to; d += calendar.Day(step) {
		end := min(d+calendar.Day(step), to)
		all = append(all, interval(float64(d), float64(end), perDay*float64(end-d)))
	}
	return all
}

func interval(start, end, litres float64) forecast.Interval {
	return forecast.Interval{Start: start, End: end, Litres: units.LitresAt15(litres)}
}

// straight is a forecast whose quantiles rise by so much a day, in the order of Levels.
func straight(from calendar.Day, perDay ...int64) Forecast {
	q := Quantiles{Levels: Levels, Days: []int{7, 30, 364, 546}}
	for _, day := range q.Days {
		var litres []int64
		for _, each := range perDay {
			litres = append(litres, each*int64(day))
		}
		q.Litres = append(q.Litres, litres)
	}
	return Forecast{Origin: from, ModelVersion: "6", Quantiles: q}
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9*max(1, math.Abs(want)) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

// April 2025 has 30 days. Forecast are 60, 80, 90, 100, 110, 120 and 140 L a day, so 1800, 2400, 2700, 3000, 3300, 3600 and
// 4200 L; burned were 95 L a day, 2850 L. The error is 150/2850. The losses are, with y = 2850:
//
//	p = 0.025: (2850 − 1800)·0.025 = 26.25      p = 0.50: (3000 − 2850)·0.50  = 75
//	p = 0.10:  (2850 − 2400)·0.10  = 45         p = 0.75: (3300 − 2850)·0.25  = 112.5
//	p = 0.25:  (2850 − 2700)·0.25  = 37.5       p = 0.90: (3600 − 2850)·0.10  = 75
//	                                            p = 0.975: (4200 − 2850)·0.025 = 33.75
//
// Their sum is 405, their mean 405/7 L. A year earlier 114 L a day were burned: 3420 L, 20 % too much. As a forecast that
// loses (3420 − 2850)·(1 − p) at each level; the levels are symmetric, so the mean is 570/2 L = 285 L, 10 % of 2850.
func TestAMonthIsScoredAsByHand(t *testing.T) {
	usages := append(steadily(origin-365, origin-300, 1, 114), steadily(origin-20, origin+31, 1, 95)...)
	o, why := outcome(straight(origin, 60, 80, 90, 100, 110, 120, 140), 1, usages)
	if why != "" {
		t.Fatal(why)
	}
	near(t, "length", o.Days, 30)
	near(t, "shift", o.Shift, 0)
	near(t, "actual", o.Actual, 2850)
	near(t, "error", o.Error, 100*150.0/2850)
	near(t, "pinball", o.Pinball, 100*405.0/7/2850)
	near(t, "2.5 %", o.Low95, 1800)
	near(t, "10 %", o.Low80, 2400)
	near(t, "50 %", o.Median, 3000)
	near(t, "90 %", o.High80, 3600)
	near(t, "97.5 %", o.High95, 4200)
	if !o.Inside80 || !o.Inside95 || o.YearBefore == nil {
		t.Fatalf("%+v", o)
	}
	near(t, "a year before", *o.YearBefore, 3420)
	near(t, "its pinball", o.yearBeforePinball, 10)
}

func TestAnOutcomeIsInsideARangeOrBesideIt(t *testing.T) {
	tests := []struct {
		perDay             float64
		inside80, inside95 bool
	}{
		{59, false, false}, {60, false, true}, {79, false, true}, {80, true, true}, {120, true, true}, {121, false, true}, {141, false, false},
	}
	for _, tt := range tests {
		o, why := outcome(straight(origin, 60, 80, 90, 100, 110, 120, 140), 1, steadily(origin-20, origin+31, 1, tt.perDay))
		if why != "" || o.Inside80 != tt.inside80 || o.Inside95 != tt.inside95 {
			t.Errorf("%v L a day: inside %v and %v (%s), want %v and %v", tt.perDay, o.Inside80, o.Inside95, why, tt.inside80, tt.inside95)
		}
	}
}

// Nothing measured is shared out: readings beside the ends move the span, and the forecast is read at its length.
func TestASpanGoesFromReadingToReading(t *testing.T) {
	april, may := float64(origin+1), float64(origin+31)
	day := func(from, to float64) forecast.Interval { return interval(from, to, 100*(to-from)) }
	tests := []struct {
		name         string
		usages       []forecast.Interval
		days, litres float64
		why          Reason
	}{
		{"read at 08:00", []forecast.Interval{day(april-0.5, april+1/3.0), day(april+1/3.0, may+1/3.0), day(may+1/3.0, may+2)}, 30, 3000, ""},
		{"from two days late to three days early", []forecast.Interval{day(april+2, april+9), day(april+9, may-3)}, 25, 2500, ""},
		{"from two days early to two days late", []forecast.Interval{day(april-2, may+2)}, 34, 3400, ""},
		{"half a week at both ends", []forecast.Interval{day(april-3.5, may+3.5)}, 37, 3700, ""},
		{"more at the beginning", []forecast.Interval{day(april-3.6, may)}, 0, 0, NoReadingAtStart},
		{"more at the end", []forecast.Interval{day(april, may+3.6)}, 0, 0, NoReadingAtEnd},
		{"an interval over both months", []forecast.Interval{day(april-30, april), day(april, may+30)}, 0, 0, NoReadingAtEnd},
		{"no usage", nil, 0, 0, NoReadingAtStart},
		{"a day missing", []forecast.Interval{day(april, april+10), day(april+11, may)}, 0, 0, Gap},
		{"nothing burned", []forecast.Interval{interval(april, may, 0)}, 0, 0, NothingBurned},
	}
	for _, tt := range tests {
		o, why := outcome(straight(origin, 100, 100, 100, 100, 100, 100, 100), 1, tt.usages)
		if why != tt.why {
			t.Errorf("%s: %q, want %q", tt.name, why, tt.why)
			continue
		}
		near(t, tt.name+": length", o.Days, tt.days)
		near(t, tt.name+": litres", o.Actual, tt.litres)
		near(t, tt.name+": error", o.Error, 0)
	}
}

func TestASpanOfMonthsEndsOnTheSameDayOfTheMonth(t *testing.T) {
	tests := []struct {
		from   string
		months int
		want   string
	}{
		{"2025-04-01", 1, "2025-05-01"}, {"2025-03-18", 3, "2025-06-18"}, {"2024-02-29", 12, "2025-02-28"}, {"2025-01-31", 1, "2025-02-28"},
		{"2025-04-01", -12, "2024-04-01"}, {"2024-02-29", -12, "2023-02-28"}, {"2025-11-30", 3, "2026-02-28"},
	}
	for _, tt := range tests {
		from, _ := calendar.ParseDay(tt.from)
		if got := later(from, tt.months).String(); got != tt.want {
			t.Errorf("%s and %d months is %s, want %s", tt.from, tt.months, got, tt.want)
		}
	}
}

// Newcombe, "Two-sided confidence intervals for the single proportion", Statistics in Medicine 17 (1998), table I, method 3
// (values from memory).
func TestTheRangeOfAShareIsWilsons(t *testing.T) {
	tests := []struct{ inside, of, low, high float64 }{
		{81, 263, 0.2553, 0.3662}, {15, 148, 0.0624, 0.1605}, {0, 20, 0, 0.1611}, {1, 29, 0.0061, 0.1718},
	}
	for _, tt := range tests {
		low, high := wilson(tt.inside/tt.of, tt.of)
		if math.Abs(low-tt.low) > 5e-5 || math.Abs(high-tt.high) > 5e-5 {
			t.Errorf("%v of %v: %.4f to %.4f, want %.4f to %.4f", tt.inside, tt.of, low, high, tt.low, tt.high)
		}
	}
}

// Burned are 100 L a day. Forecasts of one month from the ends of March to July 2025, of 30, 31, 30, 31 and 31 days, with
// medians of 104, 98, 110, 100 and 91 L a day and 80 % ranges of ± 5 L: errors of 4, −2, 10, 0 and −9 %, of which the middle one is
// 0, without signs 4; three of five inside. By Wilson's formula with z² = 3.8415, share 0.6 and five trials the middle is
// (0.6 + 0.38415)/(1 + 0.76829) = 0.55656, half the range 1.95996/1.76829·√(0.24/5 + 3.8415/100) = 0.32581.
func TestForecastsOfALengthAreSummedUp(t *testing.T) {
	var all []Forecast
	for i, m := range []int64{104, 98, 110, 100, 91} {
		from := calendar.Month{Year: 2025, Month: time.April}.Plus(i).First() - 1
		all = append(all, straight(from, m-6, m-5, m-1, m, m+1, m+5, m+9))
	}
	asOf := calendar.Date(2025, time.September, 3)
	s := Score(all, steadily(origin, asOf+1, 1, 100), asOf)
	if s.Issued != 5 || *s.First != origin || s.NextDue.String() != "2025-09-30" || len(s.Lengths) != 2 {
		t.Fatalf("%+v", s)
	}
	month := s.Lengths[0]
	if month.Months != 1 || month.Due != 5 || month.Scored != 5 || month.Summary.Apart != 5 || month.Summary.Inside80.Inside != 3 || month.Summary.Inside95.Inside != 4 {
		t.Errorf("%+v with %+v", month, month.Summary)
	}
	near(t, "median error", month.Summary.MedianError, 0)
	near(t, "median miss", month.Summary.MedianMiss, 4)
	near(t, "share", month.Summary.Inside80.Percent, 60)
	if c := month.Summary.Inside80; math.Abs(c.Low-23.07) > 0.01 || math.Abs(c.High-88.24) > 0.01 {
		t.Errorf("the share's range is %.2f to %.2f", c.Low, c.High)
	}
	if month.Summary.Against != nil {
		t.Errorf("there is no year before, and yet %+v", month.Summary.Against)
	}
	// Three spans of three months have passed: to the ends of June, July and August. No two are apart.
	quarter := s.Lengths[1]
	if quarter.Months != 3 || quarter.Due != 3 || quarter.Scored != 3 || quarter.Summary.Apart != 1 || quarter.Newest[0].Origin.String() != "2025-05-31" {
		t.Errorf("%+v with %+v", quarter, quarter.Summary)
	}
	var codes []string
	for _, n := range s.Notices {
		codes = append(codes, n.Code+" "+n.Subject)
	}
	want := []string{"few-scores forecasts of 3 months", "spans-overlap forecasts of 3 months"}
	if diff := cmp.Diff(want, codes); diff != "" {
		t.Errorf("notices (-want +got)\n%s", diff)
	}
}

func TestWhatIsNotScoredIsCountedWithItsReason(t *testing.T) {
	var all []Forecast
	for i := range 4 {
		all = append(all, straight(calendar.Month{Year: 2025, Month: time.April}.Plus(i).First()-1, 94, 95, 99, 100, 101, 105, 106))
	}
	asOf := calendar.Date(2025, time.August, 20)
	usages := steadily(origin+1, origin+100, 1, 100) // to 9 July
	usages = append(usages[:45], usages[46:]...)     // one of 16 May is not believed
	s := Score(all, usages, asOf)
	month := s.Lengths[0]
	want := []Unscored{{Gap, 1}, {NoReadingAtEnd, 1}}
	if diff := cmp.Diff(want, month.Unscored); diff != "" || month.Due != 4 || month.Scored != 2 {
		t.Errorf("%d of %d scored; (-want +got)\n%s", month.Scored, month.Due, diff)
	}
	if quarter := s.Lengths[1]; quarter.Summary != nil || quarter.Due != 2 || quarter.Newest == nil {
		t.Errorf("%+v", quarter)
	}
}

func TestWithoutForecastsThereIsNothing(t *testing.T) {
	s := Score(nil, steadily(origin, origin+400, 1, 100), origin+400)
	if s.Issued != 0 || s.First != nil || s.NextDue != nil || s.Lengths == nil || len(s.Lengths) != 0 {
		t.Errorf("%+v", s)
	}
}
