package demo

import (
	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// tank is a tank with what truly is in it.
type tank struct {
	row       *inventory.Tank
	shape     tanks.Shape
	safeFillL float64 // observed
	heelL     float64 // observed, below the suction
	corrector tanks.Corrector

	fuelL15      float64
	temperatureC float64
	waterMM      float64
	skipFill     bool // about to be taken out of service
}

func newTank(row *inventory.Tank, corrector tanks.Corrector) *tank {
	measured, err := row.Measured()
	if err != nil {
		panic("demo: tank " + row.Plant + "/" + row.ID + ": " + err.Error()) // a slip in our own tables
	}
	return &tank{
		row: row, shape: measured.Shape, corrector: corrector,
		safeFillL: float64(measured.SafeFill), heelL: float64(measured.Suction),
	}
}

// vcf gives the volume correction factor at a temperature; the demo has none outside the standard.
func vcf(corrector tanks.Corrector, temperatureC float64) float64 {
	factor, err := corrector.VCF(units.Celsius(temperatureC))
	if err != nil {
		panic("demo: " + err.Error())
	}
	return factor
}

func (t *tank) vcf() float64 { return vcf(t.corrector, t.temperatureC) }

func (t *tank) capacityL() float64 { return float64(tanks.Capacity(t.shape)) }

// waterL is the free water at the bottom. A tank known by volume alone has no depth and holds none.
func (t *tank) waterL() float64 {
	if t.waterMM == 0 {
		return 0
	}
	return float64(t.shape.Volume(units.Millimetres(t.waterMM)))
}

// standsL is the observed volume up to the surface, water included.
func (t *tank) standsL() float64 { return t.fuelL15/t.vcf() + t.waterL() }

// usableL15 is the fuel above suction and water.
func (t *tank) usableL15() float64 {
	return max(0, t.standsL()-max(t.heelL, t.waterL())) * t.vcf()
}

// roomL is the observed volume that may still go in.
func (t *tank) roomL() float64 { return max(0, t.safeFillL-t.standsL()) }

// put adds fuel, which mixes at once.
func (t *tank) put(litres15, temperatureC float64) {
	if litres15 <= 0 {
		return
	}
	t.temperatureC = (t.temperatureC*t.fuelL15 + temperatureC*litres15) / (t.fuelL15 + litres15)
	t.fuelL15 += litres15
}

// depthMM finds the depth at which a volume stands, by halving.
func (t *tank) depthMM(litres float64) float64 {
	low, high := 0.0, float64(t.shape.Depth())
	for range 26 {
		middle := (low + high) / 2
		if float64(t.shape.Volume(units.Millimetres(middle))) < litres {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}
