package score

import (
	"testing"
	"time"

	"overwinter/internal/calendar"
)

// Ten years of monthly forecasts against ten years of daily usage.
func BenchmarkScoreTenYears(b *testing.B) {
	first := calendar.Month{Year: 2015, Month: time.April}
	var all []Forecast
	for i := range 120 {
		all = append(all, straight(first.Plus(i).First()-1, 90, 95, 98, 100, 102, 105, 110))
	}
	asOf := first.Plus(120).First()
	usages := steadily(first.First()-400, asOf, 1, 100)
	for b.Loop() {
		Score(all, usages, asOf)
	}
}
