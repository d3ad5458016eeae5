package inventory

import (
	"math"
	"testing"
	"time"
)

// A running sum is looked at line after line, so that a sound plant has many chances to cross a line by luck. Of independent steps
// of one size 37 % cross 1.96 within 100 looks (Armitage, McPherson & Rowe, Repeated significance tests on accumulating data,
// J. R. Stat. Soc. A 132, 1969, table 2; from memory); here table and meter are wrong for good besides. 3 is chosen because it is crossed
// by no more than one sound plant in 20 within two years, and 1.96 is no choice because more than one in three crosses it. Of n
// plants √(n·p·(1 − p)) is one standard deviation of how many do: three are allowed.
func TestARunningSumOfASoundPlantSeldomCrossesItsAlarm(t *testing.T) {
	plants, enough := simulatedPlants(t, 240)
	blank := truthBook(t, Rows{})
	beyond, middle, alarm := 0, 0, 0
	for plant := range plants {
		world := newTruth(2000, uint64(plant))
		world.live(blank)
		lines, _ := truthBook(t, world.rows).Balances(time.Time{}, time.Time{}, ByCount)
		farthest := 0.0
		for _, l := range lines {
			farthest = math.Max(farthest, math.Abs(l.SumZ))
		}
		beyond, middle, alarm = beyond+one(Beyond(farthest)), middle+one(farthest > 2.6), alarm+one(SumBeyond(farthest))
	}
	t.Logf("of %d plants %d crossed 1.96, %d 2.6, %d 3", plants, beyond, middle, alarm)
	if !enough {
		return
	}
	if most := atMost(plants, 1./20); alarm > most {
		t.Errorf("%d of %d sound plants crossed the alarm, want %d at most", alarm, plants, most)
	}
	if least := atLeast(plants, 1./3); beyond < least {
		t.Errorf("%d of %d sound plants crossed 1.96, want %d at least: a lower alarm would do", beyond, plants, least)
	}
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}
