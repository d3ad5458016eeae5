package inventory

import (
	"testing"
	"time"
)

// An intermediate tank is passed through and never gauged after the first day. That fuel is moved into it in April is no reason to
// have it gauged in March.
func TestATransferAfterTheAsOfDayMakesNoTankTracked(t *testing.T) {
	rows := march(40_000, 32_900)
	rows.Gaugings = append(rows.Gaugings, gauged("middle", at(time.March, 3, 8), 2000))
	for day := 5; day <= 25; day += 5 { // often enough that one gauging in five counts is not
		rows.Gaugings = append(rows.Gaugings, gauged("bulk", at(time.March, day, 8), 38_000))
	}
	tanks := []*Tank{volumeTank("bulk", Storage, 50_000), volumeTank("middle", Intermediate, 5000)}
	before := balanceOf(t, directoryOf(tanks...), "diesel-2-s15", rows)
	rows.Transfers = []*Transfer{{Plant: "P", From: "bulk", To: "middle", At: at(time.April, 10, 9), Measure: at15(1000)}}
	after := balanceOf(t, directoryOf(tanks...), "diesel-2-s15", rows)
	if !before.Known || before.Known != after.Known || before.Variance != after.Variance {
		t.Errorf("%v %v %s, then %v %v %s", before.Known, before.Variance, before.Why, after.Known, after.Variance, after.Why)
	}
}
