package forecast

import (
	"fmt"
	"testing"

	"overwinter/internal/calendar"
)

func BenchmarkFitThreeYearsOfDays(b *testing.B) {
	t := alaska().live(epoch, 1096, random(1))
	series := []Series{{Plant: "p", Intervals: t.every(1, 0, 1096)}}
	for b.Loop() {
		fitFleet(series, epoch+1095)
	}
}

func BenchmarkFitTenYearsOfDays(b *testing.B) {
	t := alaska().live(epoch, 3652, random(1))
	series := []Series{{Plant: "p", Intervals: t.every(1, 0, 3652)}}
	for b.Loop() {
		fitFleet(series, epoch+3651)
	}
}

func BenchmarkFitEightyPlantsOfHundredMonths(b *testing.B) {
	r := random(2)
	var fleet []Series
	for i := range 80 {
		t := alaska().vary(0.05, r).live(epoch, 3000, r)
		fleet = append(fleet, Series{Plant: fmt.Sprint(i), Intervals: t.every(30, 0, 3000)})
	}
	for b.Loop() {
		fitFleet(fleet, epoch+2999)
	}
}

func BenchmarkSimulateThousandPathsOf540Days(b *testing.B) {
	m := fitOne(alaska().live(epoch, 1096, random(1)).every(1, 0, 1096), 1096)
	for b.Loop() {
		m.Simulate(epoch+1095, 540, 1000, 7)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/540000, "ns/path-day")
}

func BenchmarkExpectedOverAYear(b *testing.B) {
	m := fitOne(alaska().live(epoch, 1096, random(1)).every(1, 0, 1096), 1096)
	at := float64(epoch + calendar.Day(1096))
	for b.Loop() {
		m.Expected(at, at+365)
	}
}
