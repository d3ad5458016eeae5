package demo

import (
	"slices"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
)

// Every slip in a row is doubted, and nothing else. Of a dip that a delivery follows before the next one nothing tells
// that it is wrong by a foot.
func TestTheBooksDoubtTheScriptedSlipsAndNothingElse(t *testing.T) {
	eachSeed(t, func(t *testing.T, sc Scenario) {
		rows := sc.InForce()
		d := inventory.NewDirectory(rows)
		for _, p := range rows.Plants {
			var own inventory.Rows
			for r := range rows.All() {
				if r.PlantID() == p.ID {
					own.Add(r)
				}
			}
			b, err := inventory.NewBook(d, p.ID, own, AsOf)
			if err != nil {
				t.Fatal(err)
			}
			slips := map[string]bool{}
			for _, f := range sc.Truth[p.ID].Faults {
				slips[f.Key] = !deliveredSoon(own, f.Day) && (f.Kind == DigitSlip || f.Kind == MisreadDip || f.Kind == CountCorrection)
			}
			for _, x := range b.Doubtful() {
				if _, slip := slips[x.Key]; !slip {
					t.Errorf("%s: a sound row is doubted: %s", p.ID, x.Message)
				}
				delete(slips, x.Key)
			}
			for key, wrong := range slips {
				if wrong {
					t.Errorf("%s: %s is not doubted", p.ID, key)
				}
			}
		}
	})
}

func deliveredSoon(rows inventory.Rows, day calendar.Day) bool {
	return slices.ContainsFunc(rows.Deliveries, func(d *inventory.Delivery) bool {
		since := calendar.DayOf(d.At, time.UTC) - day
		return since >= 0 && since <= 8
	})
}
