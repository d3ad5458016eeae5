package intake

import (
	"slices"
	"testing"

	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

func TestAGaugingKeepsWhatItWasReadWithAndAnUllage(t *testing.T) {
	d, _ := newDesk(t)
	dir, err := d.Ledger.Directory(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(dir.Tanks, func(t *inventory.Tank) bool { return t.Plant == "bay" && t.Shape != inventory.ShapeVolume })
	tank := *dir.Tanks[i]
	tank.Entry = inventory.Entry{Key: "with its reference height", Replaces: tank.Key, Who: "A", Why: "Measured."}
	height := units.Millimetres(6000)
	tank.ReferenceHeight = &height
	if _, err := d.Ledger.Record(t.Context(), inventory.Rows{Tanks: []*inventory.Tank{&tank}}, now); err != nil {
		t.Fatal(err)
	}
	ullage := units.Millimetres(5000)
	must(t)(d.Gauging(t.Context(), Report{Key: "u", Plant: tank.Plant}, d.Clock(), TankEntry{Tank: tank.ID, Ullage: &ullage, Gauge: "tape"}))
	for _, g := range ledger(t, d).Gaugings {
		if g.Key == "gauging/"+tank.Plant+"/u" {
			if g.Gauge != tanks.Tape || g.Ullage == nil || *g.Ullage != ullage || g.Depth != nil {
				t.Errorf("%+v", g)
			}
			return
		}
	}
	t.Error("it was not written")
}
