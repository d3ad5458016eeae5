package tanks

import (
	"testing"

	"overwinter/internal/units"
)

func BenchmarkMeasureThroughATableOf500Rows(b *testing.B) {
	lying := shape(b)(HorizontalCylinder(2400, 6000))
	rows := make([]Point, 500)
	for i := range rows {
		depth := units.Millimetres(i) * 2400 / 499
		rows[i] = Point{depth, lying.Volume(depth)}
	}
	s := shape(b)(CapacityTable(rows))
	tank := Tank{Shape: s, SafeFill: 0.95 * Capacity(s), Suction: s.Volume(150)}
	c := corrector(b, 840)
	r := Reading{
		Depth: new(units.Millimetres(1234)), Water: new(units.Millimetres(12)), Temperature: new(units.Celsius(-20)),
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := tank.Measure(r, c, 0); err != nil {
			b.Fatal(err)
		}
	}
}
