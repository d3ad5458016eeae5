package demo

import (
	"sync"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// scenarioOf makes each seed's scenario once for all tests; they only read it.
func scenarioOf(seed uint64) Scenario {
	made.Lock()
	defer made.Unlock()
	if _, ok := made.bySeed[seed]; !ok {
		made.bySeed[seed] = Generate(seed)
	}
	return made.bySeed[seed]
}

var made = struct {
	sync.Mutex
	bySeed map[uint64]Scenario
}{bySeed: map[uint64]Scenario{}}

// eachSeed runs a test on the default seed and a few others.
func eachSeed(t *testing.T, check func(t *testing.T, sc Scenario)) {
	t.Helper()
	for _, seed := range []uint64{DefaultSeed, 0, 1, 2} {
		sc := scenarioOf(seed)
		t.Run("", func(t *testing.T) { check(t, sc) })
	}
}

// of gives the rows of one plant of one kind.
func of[T inventory.Record](plant string, rows []T) (found []T) {
	for _, r := range rows {
		if r.PlantID() == plant {
			found = append(found, r)
		}
	}
	return found
}

func index(day calendar.Day) int { return int(day - FirstDay) }

func total(daily []units.LitresAt15, first, last calendar.Day) float64 {
	sum := 0.0
	for d := first; d <= last; d++ {
		sum += float64(daily[index(d)])
	}
	return sum
}
