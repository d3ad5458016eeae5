package tanks

import (
	"math"
	"testing"

	"overwinter/internal/units"
)

// FuzzGauging gives a gauging and its accounting anything at all: each is refused, or every figure is a number
// that can be.
func FuzzGauging(f *testing.F) {
	f.Add(uint16(0), 1000.0, 100.0, 5.0, -3.0, -20.0, 840.0, 0.1, 2150.0, 2140.0, 3.0)
	f.Add(uint16(0b11_0101), 1150.0, 2100.0, 5.0, -3.0, -20.0, 840.0, 0.0, 2150.0, 2140.0, 0.0)
	f.Add(uint16(0xffff), 9000.0, 90.0, 5.0, 6.0, 30.0, 1000.0, 100.0, 0.0, 1e9, 1.0)
	f.Add(uint16(0x0f3), math.Inf(1), math.NaN(), math.Copysign(0, -1), 5e-324, 1e308, 700.0, -1.0, -5.0, 1e-300, -2.0)
	shapes := []Shape{
		shape(f)(HorizontalCylinder(2400, 6000)), shape(f)(VerticalCylinder(2000, 2000)), shape(f)(VolumeOnly(20000)),
		shape(f)(CapacityTable([]Point{{100, 0}, {500, 1000}, {900, 1000}, {2000, 20000}})),
		shape(f)(LyingCylinder(Lying{Diameter: 2400, Length: 6000, Left: TwoToOneHead(), Right: FlatHead()})),
	}
	f.Fuzz(func(t *testing.T, how uint16, liquid, water, t1, t2, air, density, sediment, height, found, precision float64) {
		pick := func(n int) int { i := int(how) % n; how /= uint16(n); return i }
		s := shapes[pick(len(shapes))]
		tank := Tank{Shape: s, SafeFill: Capacity(s), Suction: Capacity(s) / 10, ReferenceHeight: units.Millimetres(height)}
		r := Reading{Gauge: append(gauges, "", "eye")[pick(len(gauges)+2)], DepthPrecision: units.Millimetres(precision), Air: new(units.Celsius(air))}
		switch mm := units.Millimetres(liquid); pick(3) {
		case 0:
			r.Depth, r.Water = &mm, new(units.Millimetres(water))
		case 1:
			r.Ullage, r.WaterUllage, r.ReferenceHeight = &mm, new(units.Millimetres(water)), new(units.Millimetres(found))
		default:
			r.Volume, r.WaterVolume = new(units.Litres(liquid)), new(units.Litres(water))
		}
		if pick(2) == 0 {
			r.Temperatures = []units.Celsius{units.Celsius(t1), units.Celsius(t2)}
		}
		fuel, err := Procedure{Rounded: pick(2) == 0, Base: []Base{Base15C, Base60F}[pick(2)]}.AtBase(units.KgPerM3(density))
		if err != nil {
			return
		}
		by := Accounting{Fuel: fuel, Assumed: units.Celsius(t2), Sediment: sediment, Heat: heats["jet-a1"]}
		if pick(2) == 0 {
			by.Shell = Shell{Material: MildSteel, Insulated: sediment > 1}
		}
		if content, err := tank.Measure(r, fuel, by.Assumed); err == nil {
			allPossible(t, float64(content.Observed), float64(content.Water), float64(content.UsableAt15), float64(content.Below),
				float64(content.Sigma), float64(content.TemperatureSigma))
		}
		if q, err := tank.Quantity(r, by); err == nil {
			allPossible(t, float64(q.TotalObserved), float64(q.FreeWater), float64(q.GrossObserved), float64(q.GrossStandard),
				float64(q.NetStandard), float64(q.TotalCalculated), float64(q.Gross.InVacuo), float64(q.Gross.InAir),
				float64(q.Net.InAir), float64(q.Energy.Gross), float64(q.Energy.Net), q.Basis.VCF, q.Basis.ShellFactor)
		}
	})
}

// allPossible fails on a figure that is negative or no finite number.
func allPossible(t *testing.T, figures ...float64) {
	t.Helper()
	for i, x := range figures {
		if !(x >= 0 && !math.IsInf(x, 0)) {
			t.Errorf("figure %d is %v", i, x)
		}
	}
}
