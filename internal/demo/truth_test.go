package demo

import (
	"maps"
	"math"
	"reflect"
	"slices"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

func TestNoFuelIsMadeOrLost(t *testing.T) {
	eachSeed(t, func(t *testing.T, sc Scenario) {
		for id, tr := range sc.Truth {
			want := float64(tr.Opening+tr.Received) - total(tr.Burn, FirstDay, AsOf) - total(tr.Draws, FirstDay, AsOf)
			if got := float64(tr.Closing); math.Abs(got-want) > 1e-9*float64(tr.Received) { // rounding of ten thousands of sums
				t.Errorf("%s: closing stock %.6f L, want %.6f", id, got, want)
			}
		}
	})
}

func TestTheTruthReachesFarEnough(t *testing.T) {
	for id, tr := range scenarioOf(DefaultSeed).Truth {
		if n := index(AsOf) + 1 + 900; len(tr.Burn) < n || len(tr.Draws) != len(tr.Burn) {
			t.Errorf("%s: burn of %d days and draws of %d, want at least %d", id, len(tr.Burn), len(tr.Draws), n)
		}
		for i, burn := range tr.Burn {
			if !(burn > 0) || math.IsInf(float64(burn), 0) {
				t.Fatalf("%s: burn of %v L on %s", id, burn, FirstDay+calendar.Day(i))
			}
		}
	}
}

// The dates are found again from cumulated sums, from the far end backwards.
func TestReserveAndDryDateFollowFromBurnDrawsAndArrivals(t *testing.T) {
	eachSeed(t, func(t *testing.T, sc Scenario) {
		for _, p := range sc.Rows.Plants {
			tr := sc.Truth[p.ID]
			days := 30 // the default of the ledger
			if p.ReserveDays != nil {
				days = *p.ReserveDays
			}
			var reserve, dry *calendar.Day
			for d := LastDay; d >= AsOf; d-- {
				stock := stockAfter(tr, d)
				if stock < 0 {
					dry = &d
				}
				switch {
				case p.ReserveLitres != nil:
					if stock < float64(*p.ReserveLitres) {
						reserve = &d
					}
				case d+calendar.Day(days) <= LastDay:
					// Below the reserve now is dry after its days if nothing more arrives.
					if stock < total(tr.Burn, d+1, d+calendar.Day(days))+total(tr.Draws, d+1, d+calendar.Day(days)) {
						reserve = &d
					}
				}
			}
			same(t, p.ID+" reserve date", tr.ReserveDate, reserve)
			same(t, p.ID+" dry date", tr.DryDate, dry)
		}
	})
}

func stockAfter(tr Truth, day calendar.Day) float64 {
	left := func(d calendar.Day) float64 {
		return float64(tr.StockAtAsOf) - total(tr.Burn, AsOf+1, d) - total(tr.Draws, AsOf+1, d)
	}
	taken := 0.0
	for _, a := range slices.SortedFunc(maps.Values(tr.Arrivals), func(a, b Arrival) int { return int(a.Day - b.Day) }) {
		if a.Day <= day { // before that day's burn
			taken += min(float64(a.Volume), max(0, float64(tr.Full)-left(a.Day-1)-taken))
		}
	}
	return left(day) + taken
}

func same(t *testing.T, what string, got, want *calendar.Day) {
	t.Helper()
	switch {
	case got == nil && want == nil:
	case got == nil || want == nil || *got != *want:
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

func TestADateBeyondTheHorizonIsNotGiven(t *testing.T) {
	tr := Truth{FirstDay: FirstDay, StockAtAsOf: 1e9, Full: 1e9}
	n := index(LastDay) + 1
	tr.Burn, tr.Draws = make([]units.LitresAt15, n), make([]units.LitresAt15, n)
	for i := range tr.Burn {
		tr.Burn[i] = 1
	}
	p := scenarioOf(DefaultSeed).Rows.Plants[0]
	if reserve, dry := tr.dates(p); reserve != nil || dry != nil {
		t.Errorf("reserve %v, dry %v, want neither", reserve, dry)
	}
}

func TestStockIsWhatLiesAboveTheUnusableBottom(t *testing.T) {
	eachSeed(t, func(t *testing.T, sc Scenario) {
		for id, tr := range sc.Truth {
			bottom, product := 0.0, sc.plant(id).Product
			for _, row := range of(id, sc.Rows.Tanks) {
				if measured, err := row.Measured(); err == nil && row.Product == product {
					bottom += float64(measured.Suction)
				}
			}
			// A cold bottom holds a few per cent more than its volume, and what is water in it is no fuel.
			if got := float64(tr.Closing - tr.StockAtAsOf); got < 0.75*bottom || got > 1.06*bottom {
				t.Errorf("%s: %.0f L cannot be used, want about %.0f", id, got, bottom)
			}
		}
	})
}

func TestTheSameSeedGivesTheSameScenario(t *testing.T) {
	a, b := scenarioOf(DefaultSeed), Generate(DefaultSeed)
	if !reflect.DeepEqual(a, b) {
		t.Error("two runs differ")
	}
}

func TestAnotherSeedHasOtherBurnStockAndSeasons(t *testing.T) {
	a, b := scenarioOf(DefaultSeed), scenarioOf(1)
	for id := range a.Truth {
		x, y := a.Truth[id], b.Truth[id]
		if x.Burn[index(AsOf+1)] == y.Burn[index(AsOf+1)] || x.StockAtAsOf == y.StockAtAsOf {
			t.Errorf("%s: burn or stock is the same under two seeds", id)
		}
	}
	moved := 0
	for i := range a.Seasons {
		if a.Seasons[i].Opens != b.Seasons[i].Opens {
			moved++
		}
	}
	if moved < len(a.Seasons)/2 {
		t.Errorf("only %d of %d windows open on another day", moved, len(a.Seasons))
	}
}
