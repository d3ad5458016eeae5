package resupply

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"overwinter/internal/calendar"
)

// Whatever the record, with gaps, with equal dates or with failures alone, the fit has numbers, its points stand in order,
// every season is used or left out with a reason, and no year twice.
func TestAnyRecordGivesASoundFitOrNone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spread := rapid.IntRange(0, 40).Draw(t, "spread")
		first := calendar.Day(rapid.IntRange(0, 400).Draw(t, "day of the year"))
		var past []PastSeason
		year := rapid.IntRange(1900, 1990).Draw(t, "first year")
		for range rapid.IntRange(0, 70).Draw(t, "seasons") {
			year += rapid.SampledFrom([]int{1, 1, 1, 1, 1, 1, 2, 5, 40}).Draw(t, "step")
			p := PastSeason{Year: year}
			switch rapid.IntRange(0, 9).Draw(t, "became") {
			case 0:
				p.Failed = true
			case 1: // not known
			default:
				p.Opens = new(calendar.Date(year, time.January, 1) + first + calendar.Day(rapid.IntRange(0, spread).Draw(t, "off")))
			}
			past = append(past, p)
		}
		f, err := FitWindow(past, Basis{OpensLag: Lag{rapid.Float64Range(-90, 90).Draw(t, "lag"), rapid.Float64Range(0, 30).Draw(t, "lag sd")}})
		if err != nil {
			t.Fatal(err)
		}
		if f.Fail.Chance < 0 || f.Fail.Chance > 1 || f.Fail.Low > f.Fail.High {
			t.Fatalf("%+v", f.Fail)
		}
		if f.Opens != nil {
			soundDate(t, f.Opens, len(past), year)
		}
	})
}

func soundDate(t *rapid.T, d *DateFit, seasons, last int) {
	if len(d.Years)+len(d.LeftOut) != seasons || len(d.Years) < LeastDates {
		t.Fatalf("%d used and %d left out of %d", len(d.Years), len(d.LeftOut), seasons)
	}
	for year := last + 1; year < last+6; year++ {
		u := d.uncertain(year)
		before := math.Inf(-1)
		for z := -3.0; z <= 3; z += 0.25 {
			at := u.at(z)
			if math.IsNaN(at) || math.IsInf(at, 0) || at <= before {
				t.Fatalf("at %v: %v after %v", z, at, before)
			}
			if p := u.below(at); z > -3 && z < 3 && math.Abs(p-math.Erfc(-z/math.Sqrt2)/2) > 1e-9 {
				t.Fatalf("below %v: %v", at, p)
			}
			before = at
		}
	}
	if math.IsNaN(d.Mean()) || d.SD() < wholeDay || d.Trend != nil && math.IsNaN(d.Trend.StandardError) {
		t.Fatalf("mean %v, deviation %v, trend %+v", d.Mean(), d.SD(), d.Trend)
	}
}
