package forecast

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"overwinter/internal/units"
)

// totalsOf gives the simulated total between two day indices, path by path.
func totalsOf(paths Paths, from, to int) (totals []float64) {
	for p := range paths.Count() {
		totals = append(totals, paths.Cumulative(p, to)-paths.Cumulative(p, from))
	}
	return totals
}

// fourPlants have histories of different length, all with the standard tail. One borrows its season, one knows none.
func fourPlants() map[string]Model {
	life := alaska().live(epoch, 1830, random(82))
	models := map[string]Model{}
	for name, intervals := range map[string][]Interval{
		"three readings alone": life.every(30, 1740, 1830),
		"a year of weeks":      life.every(7, 1466, 1830),
		"five years of months": life.every(30, 0, 1830),
	} {
		models[name] = Fit(Series{Plant: name, Intervals: intervals}, epoch+1829, nil, nil, Standard())
	}
	fleet, _ := fleetWithNewcomer("coast")
	lent, groups := lendAll(fleet, epoch+1829)
	models["three readings in a group"] = Fit(fleet[10], epoch+1829, lent[10], groups["coast"], Standard())
	return models
}

func TestQuantilesAndMomentsAgreeWithThePaths(t *testing.T) {
	const count = 6000
	at := float64(epoch) + 1830
	for name, m := range fourPlants() {
		// A sum of lognormals is not lognormal: a hundredth, and more where an unknown season makes months unlike.
		form := 0.01
		if name == "three readings alone" {
			form = 0.03
		}
		paths := m.Simulate(epoch+1829, 540, count, 6)
		var more []Paths
		for seed := range uint64(3) {
			more = append(more, m.Simulate(epoch+1829, 540, count, 7+seed))
		}
		for _, span := range [][2]int{{0, 7}, {0, 30}, {0, 180}, {0, 365}, {0, 540}, {300, 420}} {
			what := fmt.Sprintf("%s, days %d to %d", name, span[0], span[1])
			totals := totalsOf(paths, span[0], span[1])
			ps := []float64{0.025, 0.1, 0.5, 0.9, 0.975}
			found := m.Quantiles(at+float64(span[0]), at+float64(span[1]), ps...)
			for i, p := range ps {
				below := 0.0
				for _, x := range totals {
					if x < float64(found[i]) {
						below += 1.0 / count
					}
				}
				// Four standard deviations of a count of paths.
				tolerance := 4*math.Sqrt(p*(1-p)/count) + form
				within(t, fmt.Sprintf("%s: share of paths below the quantile %g", what, p), below, p, tolerance)
			}
			if strings.HasPrefix(name, "three") {
				continue // moments are ruled by the farthest tail of the season, which no count of paths shows
			}
			for _, p := range more {
				totals = append(totals, totalsOf(p, span[0], span[1])...)
			}
			momentsAgree(t, what, m, at, span, totals)
		}
	}
}

// momentsAgree holds mean and deviation against 24,000 paths. The deviation of a tail as heavy as these is known from them to 2 % (3 to 4 %
// from 6,000, computed over many seeds): four times that.
func momentsAgree(t *testing.T, what string, m Model, at float64, span [2]int, totals []float64) {
	t.Helper()
	mean, sd := m.Expected(at+float64(span[0]), at+float64(span[1]))
	sum, squares, n := 0.0, 0.0, float64(len(totals))
	for _, x := range totals {
		sum += x
		squares += (x - float64(mean)) * (x - float64(mean))
	}
	within(t, what+": mean of the paths", sum/n, float64(mean), 4*float64(sd)/math.Sqrt(n)+0.005*float64(mean))
	within(t, what+": deviation of the paths", math.Sqrt(squares/n), float64(sd), 0.08*float64(sd))
}

func TestPartsOverDisjointSpansAgreeWithThePaths(t *testing.T) {
	// Two summers without the winter between: what is common to both counts twice, what is not does not.
	const count = 6000
	m := fourPlants()["five years of months"]
	paths := m.Simulate(epoch+1829, 540, count, 7)
	at := float64(epoch) + 1830
	first, second := totalsOf(paths, 20, 110), totalsOf(paths, 385, 475)
	mixture := m.parts(Span{at + 20, at + 110}, Span{at + 385, at + 475})
	for _, p := range []float64{0.1, 0.5, 0.9} {
		quantile, below := quantileOf(mixture, p), 0.0
		for i := range first {
			if first[i]+second[i] < quantile {
				below += 1.0 / count
			}
		}
		within(t, "share of paths below", below, p, 4*math.Sqrt(p*(1-p)/count)+0.01)
	}
	whole, halves := m.parts(Span{at, at + 140}), m.parts(Span{at, at + 70}, Span{at + 70, at + 140})
	for i := range whole {
		// 140 days are 20 blocks either way, so that the two differ by rounding alone.
		within(t, "mean of two halves", halves[i].mean, whole[i].mean, 1e-9*whole[i].mean)
		within(t, "variance of two halves", halves[i].variance, whole[i].variance, 1e-9)
	}
}

func TestQuantilesAreInOrderAndNoneForAnEmptySpan(t *testing.T) {
	m := fourPlants()["a year of weeks"]
	at := float64(epoch) + 1830
	ps := []float64{0.001, 0.01, 0.1, 0.25, 0.5, 0.75, 0.9, 0.99, 0.999}
	if found := m.Quantiles(at, at+100, ps...); !slices.IsSorted(found) || !(found[0] > 0) {
		t.Errorf("quantiles %v", found)
	}
	for what, found := range map[string][]units.LitresAt15{
		"an empty span":      m.Quantiles(at, at, 0.1, 0.9),
		"a span backwards":   m.Quantiles(at, at-1, 0.1, 0.9),
		"a span without end": m.Quantiles(at, math.Inf(1), 0.1, 0.9),
		"the zero model":     Model{}.Quantiles(at, at+1, 0.1, 0.9),
	} {
		if !slices.Equal(found, []units.LitresAt15{0, 0}) {
			t.Errorf("%s has quantiles %v", what, found)
		}
	}
}
