package tanks

import "overwinter/internal/units"

// levels are the volumes below the surface and below the top of the water, with the standard
// uncertainty which the readings themselves give them.
type levels struct {
	liquid, water           units.Litres
	sigmaLiquid, sigmaWater units.Litres
}

const unusable = "the gauging cannot be used"

// levels turns the readings of a gauging into volumes.
func (t Tank) levels(r Reading) (found levels, err error) {
	if err := t.checkFields(r); err != nil {
		return levels{}, err
	}
	if r.Depth != nil {
		found.liquid, found.sigmaLiquid, err = t.byDepth("depth", *r.Depth, r.DepthPrecision)
	} else {
		found.liquid, found.sigmaLiquid, err = t.byVolume("volume", *r.Volume, r.VolumePrecision)
	}
	if err != nil {
		return levels{}, err
	}
	if r.Water != nil {
		found.water, found.sigmaWater, err = t.byDepth("water", *r.Water, r.DepthPrecision)
	} else if r.WaterVolume != nil {
		found.water, found.sigmaWater, err = t.byVolume("water volume", *r.WaterVolume, r.VolumePrecision)
	}
	if err != nil {
		return levels{}, err
	}
	if err := checkWater(r, found); err != nil {
		return levels{}, err
	}
	found.water = min(found.water, found.liquid)
	return found, nil
}

// byDepth looks a depth up in the shape.
func (t Tank) byDepth(name string, depth, precision units.Millimetres) (volume, sigma units.Litres, err error) {
	full := t.Shape.Depth()
	if full == 0 {
		return 0, 0, invalid(unusable, name,
			"only the capacity of this tank is known: give a volume, or add a capacity table to the tank")
	}
	if !(depth >= 0 && depth <= full) {
		return 0, 0, invalid(unusable, name,
			"%s mm: expected 0 to %s mm, the inside height of the tank", plain(depth), plain(full))
	}
	if precision == 0 {
		precision = min(DipPrecision, full)
	}
	if !(precision > 0 && precision <= full) {
		return 0, 0, invalid(unusable, "depth precision",
			"%s mm: expected 0 (the default) to %s mm, the inside height of the tank", plain(precision), plain(full))
	}
	return t.Shape.Volume(depth), swing(t.Shape.Volume, depth, precision, 0, full), nil
}

// byVolume takes a volume as it was read.
func (t Tank) byVolume(name string, read, precision units.Litres) (volume, sigma units.Litres, err error) {
	capacity := Capacity(t.Shape)
	if !(read >= 0 && read <= capacity) {
		return 0, 0, invalid(unusable, name, "%s L: expected 0 to %s L, the capacity of the tank",
			plain(read), plain(capacity))
	}
	if precision == 0 {
		precision = VolumeReadingPrecision * capacity
	}
	if !(precision > 0 && precision <= capacity) {
		return 0, 0, invalid(unusable, "volume precision",
			"%s L: expected 0 (the default) to %s L, the capacity of the tank", plain(precision), plain(capacity))
	}
	return read, precision, nil
}

// checkFields refuses a gauging that says the same thing twice or leaves the liquid out.
func (t Tank) checkFields(r Reading) error {
	switch {
	case r.Depth == nil && r.Volume == nil:
		return invalid(unusable, "depth", "neither a depth nor a volume was given: give one of them")
	case r.Depth != nil && r.Volume != nil:
		return invalid(unusable, "depth", "both a depth and a volume were given: give the one that was read")
	case r.Water != nil && r.WaterVolume != nil:
		return invalid(unusable, "water", "both a depth and a volume of water were given: give the one that was read")
	}
	return nil
}

// checkWater refuses water that stands above the liquid it is part of.
func checkWater(r Reading, found levels) error {
	if r.Depth != nil && r.Water != nil {
		if *r.Water <= *r.Depth {
			return nil // whatever rounding makes of two depths close together
		}
		return invalid(unusable, "water",
			"%s mm of water stand above the depth of %s mm: was the depth of the fuel alone given?",
			plain(*r.Water), plain(*r.Depth))
	}
	if found.water > found.liquid {
		return invalid(unusable, "water",
			"%s L of water are more than the %s L of all liquid: was the fuel alone given?",
			plain(found.water), plain(found.liquid))
	}
	return nil
}
