package tanks

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

// hatch is the box with its gauge hatch 150 mm above the top.
func hatch(t testing.TB) Tank {
	tank := box(t)
	tank.ReferenceHeight = 2150
	return tank
}

// US Army Quartermaster subcourse QM5180, p. 41 (armyquartermaster.tpub.com/QM5180): tape 21 ft 6 in and bob 3¾ in make an
// outage of 21 ft 9¾ in. In a tank with a reference height of 40 ft (invented) that leaves 18 ft 2¼ in.
func TestTheArmysOutageIsTheInnageItLeaves(t *testing.T) {
	const in = units.MillimetresPerInch
	outage := units.Millimetres((21*12+6)*in + 3.75*in)
	near(t, "outage in in", float64(outage/in), 21*12+9.75, 1e-9)
	tank := Tank{Shape: shape(t)(VerticalCylinder(20*12*in, 39*12*in)), SafeFill: 300e3, ReferenceHeight: 40 * 12 * in}
	at := new(units.Celsius(15))
	c := corrector(t, 840)
	byUllage := measure(t, tank, Reading{Ullage: &outage, Temperature: at}, c)
	byInnage := measure(t, tank, Reading{Depth: new(units.Millimetres((18*12 + 2.25) * in)), Temperature: at}, c)
	near(t, "observed", float64(byUllage.Observed), float64(byInnage.Observed), 1e-6)
}

func TestAReferenceHeightThatMovedIsTold(t *testing.T) {
	c := corrector(t, 840)
	r := Reading{Ullage: new(units.Millimetres(1150)), ReferenceHeight: new(units.Millimetres(2138))}
	content := measure(t, hatch(t), r, c)
	near(t, "off", float64(*content.ReferenceOff), -12, 1e-9)
	near(t, "counted from the table's height", float64(content.Observed), 10000, 1e-9)
	content = measure(t, box(t), r, c)
	near(t, "counted from the height found, where the tank states none", float64(content.Observed), 9880, 1e-9)
	if content.ReferenceOff != nil {
		t.Error("there is nothing to compare with")
	}
	near(t, "told with an innage too", float64(*measure(t, hatch(t), Reading{
		Depth: new(units.Millimetres(5)), ReferenceHeight: r.ReferenceHeight}, c).ReferenceOff), -12, 1e-9)
}

func TestAnUllageThatCannotBeIsRefused(t *testing.T) {
	mm := func(x float64) *units.Millimetres { return new(units.Millimetres(x)) }
	capacityOnly := Tank{Shape: shape(t)(VolumeOnly(20000)), SafeFill: 19000, ReferenceHeight: 2000}
	tests := []struct {
		name string
		tank Tank
		r    Reading
		says string
	}{
		{"no height", box(t), Reading{Ullage: mm(100)}, "reference height: an ullage is counted down"},
		{"too little", hatch(t), Reading{Ullage: mm(149)}, "ullage: 149 mm: expected 150 mm, where the tank is full, to 2150 mm"},
		{"too much", hatch(t), Reading{Ullage: mm(2151)}, "ullage: 2151 mm"},
		{"no number", hatch(t), Reading{Ullage: mm(math.NaN())}, "ullage: NaN mm"},
		{"endless", hatch(t), Reading{Ullage: mm(math.Inf(1))}, "ullage: +Inf mm"},
		{"twice", hatch(t), Reading{Ullage: mm(200), Depth: mm(200)}, "ullage: the liquid was given twice"},
		{"with a volume", hatch(t), Reading{Ullage: mm(200), Volume: new(units.Litres(2))}, "ullage: the liquid was given twice"},
		{"water twice", hatch(t), Reading{Ullage: mm(200), Water: mm(1), WaterUllage: mm(2000)}, "water ullage: the water was given twice"},
		{"water above the liquid", hatch(t), Reading{Ullage: mm(2000), WaterUllage: mm(1999)}, "water: 151 mm of water stand above the depth of 150 mm"},
		{"water too deep", hatch(t), Reading{Ullage: mm(2000), WaterUllage: mm(2151)}, "water ullage: 2151 mm"},
		{"capacity only", capacityOnly, Reading{Ullage: mm(200)}, "only the capacity of this tank is known"},
		{"height found", box(t), Reading{Ullage: mm(200), ReferenceHeight: mm(0)}, "reference height: 0 mm: expected more than 0"},
		{"height no number", box(t), Reading{Depth: mm(200), ReferenceHeight: mm(math.NaN())}, "reference height: NaN mm"},
		{"tank's height", Tank{Shape: box(t).Shape, SafeFill: 1900, ReferenceHeight: -1}, Reading{Depth: mm(1)}, "reference height: -1 mm"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := tt.tank.Measure(tt.r, corrector(t, 840), 0)
			wantInvalid(t, err, tt.says)
		})
	}
}

func TestInnageAndUllageAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank, r, c := anyGauging(t)
		if r.Depth == nil {
			t.Skip("read as a volume")
		}
		tank.ReferenceHeight = tank.Shape.Depth() * units.Millimetres(rapid.Float64Range(0.9, 1.2).Draw(t, "height"))
		if *r.Depth > tank.ReferenceHeight {
			t.Skip("above the hatch")
		}
		byInnage, err := tank.Measure(r, c, 0)
		if err != nil {
			t.Fatal(err)
		}
		down := Reading{
			Ullage: new(tank.ReferenceHeight - *r.Depth), WaterUllage: new(tank.ReferenceHeight - *r.Water), Temperature: r.Temperature,
		}
		byUllage, err := tank.Measure(down, c, 0)
		if err != nil {
			t.Fatal(err)
		}
		if off := float64(byUllage.UsableAt15 - byInnage.UsableAt15); !(math.Abs(off) <= 1e-9*float64(Capacity(tank.Shape))) {
			t.Fatalf("%v L by ullage, %v by innage", byUllage.UsableAt15, byInnage.UsableAt15)
		}
	})
}
