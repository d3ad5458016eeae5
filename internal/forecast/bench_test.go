package forecast

import (
	"flag"
	"fmt"
	"math"
	"runtime"
	"syscall"
	"testing"
	"time"

	"overwinter/internal/calendar"
)

func BenchmarkFitThreeYearsOfDays(b *testing.B) {
	t := alaska().live(epoch, 1096, random(1))
	series := []Series{{Plant: "p", Intervals: t.every(1, 0, 1096)}}
	defer reportProcessor(b, processorTime())
	for b.Loop() {
		fitFleet(series, epoch+1095)
	}
}

func BenchmarkFitThreeYearsOfDaysWithEnergy(b *testing.B) {
	r := random(1)
	s := Series{Plant: "p", Intervals: alaska().live(epoch, 1096, r).every(1, 0, 1096)}
	for _, i := range s.Intervals {
		s.Energy = append(s.Energy, Energy{i.Start, i.End, float64(i.Litres) / 0.28 * math.Exp(0.03*r.NormFloat64())})
	}
	for b.Loop() {
		fitFleet([]Series{s}, epoch+1095)
	}
}

// What a plant costs when the calibration of its fleet is known: what it lends, its fit, its paths.
func BenchmarkPlantThreeYearsOfDays540DaysThousandPaths(b *testing.B) {
	s := Series{Plant: "p", Intervals: alaska().live(epoch, 1096, random(1)).every(1, 0, 1096)}
	defer reportProcessor(b, processorTime())
	for b.Loop() {
		projected(s, epoch+1095)
	}
}

func reportProcessor(b *testing.B, before time.Duration) {
	b.ReportMetric(float64((processorTime()-before).Microseconds())/1e3/float64(b.N), "cpu-ms/op")
}

// processorTime is what the process has used: on a busy machine it says more than the clock.
func processorTime() time.Duration {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		panic(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}

// projected does all that a plant of its own needs.
func projected(s Series, origin calendar.Day) Paths {
	lent := Lend(s, origin)
	return Fit(s, origin, lent, NewGroup([]*Lent{lent}), Standard()).Simulate(origin, 540, 1000, 7)
}

func BenchmarkCalibrateFleetOf80(b *testing.B) {
	r := random(2)
	var fleet []Series
	for i := range 80 {
		t := alaska().vary(0.05, r).live(epoch, 1096, r)
		fleet = append(fleet, Series{Plant: fmt.Sprint(i), Intervals: t.every(1, 0, 1096)})
	}
	lent, groups := lendAll(fleet, epoch+1095)
	for b.Loop() {
		Calibrate(fleet, epoch+1095, lent, groups)
	}
}

var manyPlants = flag.Int("plants", 100, "how many plants BenchmarkManyPlantsOneByOne projects")

// Plants come one by one and are dropped: the peak of the heap does not grow with their number.
func BenchmarkManyPlantsOneByOne(b *testing.B) {
	for b.Loop() {
		r := random(3)
		var memory runtime.MemStats
		most := uint64(0)
		for i := range *manyPlants {
			t := alaska().vary(0.05, r).live(epoch, 1096, r)
			projected(Series{Plant: fmt.Sprint(i), Intervals: t.every(1, 0, 1096)}, epoch+1095)
			if i%10 == 0 {
				runtime.ReadMemStats(&memory)
				most = max(most, memory.HeapAlloc)
			}
		}
		b.ReportMetric(float64(most)/1e6, "MB-peak")
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/1e3/float64(b.N)/float64(*manyPlants), "ms/plant")
}

// Plants of one climate group that all lend: each sees the whole group.
func BenchmarkBorrowFromTenThousand(b *testing.B) {
	r := random(4)
	lent := make([]*Lent, 10000)
	for i := range lent {
		lent[i] = &Lent{}
		for k := range nHarmonic {
			lent[i].mean[k], lent[i].variance[k] = 0.1*r.NormFloat64(), 0.001
		}
	}
	g := NewGroup(lent)
	b.Run("group", func(b *testing.B) {
		for b.Loop() {
			NewGroup(lent)
		}
	})
	b.Run("plant", func(b *testing.B) {
		for b.Loop() {
			g.without(lent[17])
		}
	})
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
	defer reportProcessor(b, processorTime())
	for b.Loop() {
		m.Simulate(epoch+1095, 540, 1000, 7)
	}
}

func BenchmarkExpectedOverAYear(b *testing.B) {
	m := fitOne(alaska().live(epoch, 1096, random(1)).every(1, 0, 1096), 1096)
	at := float64(epoch + calendar.Day(1096))
	for b.Loop() {
		m.Expected(at, at+365)
	}
}
