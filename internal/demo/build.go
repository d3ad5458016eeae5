package demo

import (
	"math"

	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// Builders of tanks from a capacity in litres and one or two given lengths. The rest is rounded to
// the centimetre, as a drawing would have it. Storage and intermediate tanks get a suction that leaves about 5 %
// unusable: common practice, no source.

// lying makes a horizontal cylinder; the suction stands at 0.097 of the diameter, below which are 5 % of
// the volume (from the area of a circle's segment).
func lying(id string, role inventory.Role, capacityL, diameterMM float64) *inventory.Tank {
	length := centimetre(capacityL * 1e6 / (math.Pi / 4 * diameterMM * diameterMM))
	t := &inventory.Tank{ID: id, Role: role, Shape: inventory.ShapeHorizontal, Diameter: mm(diameterMM), Length: mm(length)}
	t.SuctionDepth = mm(math.Round(0.097 * diameterMM))
	return t
}

// standing makes a vertical cylinder of a height.
func standing(id string, role inventory.Role, capacityL, heightMM float64) *inventory.Tank {
	diameter := centimetre(math.Sqrt(capacityL * 1e6 / heightMM * 4 / math.Pi))
	t := &inventory.Tank{ID: id, Role: role, Shape: inventory.ShapeVertical, Diameter: mm(diameter), Height: mm(heightMM)}
	t.SuctionDepth = mm(math.Round(0.05 * heightMM))
	return t
}

// box makes a rectangular tank of a length and a height. Its unusable bottom is a volume.
func box(id string, role inventory.Role, capacityL, lengthMM, heightMM float64) *inventory.Tank {
	width := centimetre(capacityL * 1e6 / (lengthMM * heightMM))
	t := &inventory.Tank{ID: id, Role: role, Shape: inventory.ShapeRectangular, Length: mm(lengthMM), Width: mm(width), Height: mm(heightMM)}
	t.UnusableVolume = new(units.Litres(math.Round(0.05 * capacityL)))
	return t
}

// strapped makes a tank with a capacity table: a standing cylinder whose bottom dishes, so that the
// first half metre holds less than the rest.
func strapped(id string, role inventory.Role, capacityL, heightMM float64) *inventory.Tank {
	const stepMM, dishMM = 250, 500
	t := &inventory.Tank{ID: id, Role: role, Shape: inventory.ShapeTable}
	perMM := capacityL / (heightMM - dishMM/2)
	for depth := 0.0; depth <= heightMM; depth += stepMM {
		volume := perMM * (depth - dishMM/2)
		if depth < dishMM {
			volume = perMM * depth * depth / (2 * dishMM)
		}
		t.Table = append(t.Table, tanks.Point{Depth: units.Millimetres(depth), Volume: units.Litres(math.Round(volume/10) * 10)})
	}
	t.UnusableVolume = new(units.Litres(math.Round(0.05*capacityL/100) * 100))
	t.SafeFillVolume = new(units.Litres(math.Round(0.95*capacityL/100) * 100))
	return t
}

// volumeOnly makes a tank with a gauge in volume.
func volumeOnly(id string, role inventory.Role, capacityL float64) *inventory.Tank {
	return &inventory.Tank{ID: id, Role: role, Shape: inventory.ShapeVolume,
		Capacity: new(units.Litres(capacityL)), UnusableVolume: new(units.Litres(math.Round(0.05 * capacityL)))}
}

// float writes a day tank's low-level float down, at a quarter of the tank, and its usual fill of twelve minutes:
// common practice, no source.
func float(t *inventory.Tank) {
	m, err := t.Measured()
	if err != nil {
		panic(err) // the scenario's own tanks
	}
	t.LowLevel = new(units.Litres(math.Round(0.25 * float64(tanks.Capacity(m.Shape)))))
	t.FillMinutes = new(12.0)
}

func mm(v float64) *units.Millimetres { return new(units.Millimetres(v)) }

func centimetre(lengthMM float64) float64 { return math.Round(lengthMM/10) * 10 }
