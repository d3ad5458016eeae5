package tanks

import "overwinter/internal/units"

// levels are the volumes below the surface and below the top of the water, and the readings they come from with
// their errors.
type levels struct {
	liquid, water         units.Litres
	liquidRead, waterRead noisy
}

const unusable = "the gauging cannot be used"

// level is one level as read, in one of three ways, with the names of the fields.
type level struct {
	depth, ullage            *units.Millimetres
	volume                   *units.Litres
	depthIs, ullageIs, volIs string
}

// levels turns the readings of a gauging into volumes.
func (t *Tank) levels(r *Reading) (found levels, err error) {
	if err := r.checkFields(); err != nil {
		return levels{}, err
	}
	liquid := level{r.Depth, r.Ullage, r.Volume, "depth", "ullage", "volume"}
	if found.liquid, found.liquidRead, err = t.find(&liquid, r); err != nil {
		return levels{}, err
	}
	water := level{r.Water, r.WaterUllage, r.WaterVolume, "water", "water ullage", "water volume"}
	if found.water, found.waterRead, err = t.find(&water, r); err != nil {
		return levels{}, err
	}
	if err := found.checkWater(); err != nil {
		return levels{}, err
	}
	found.water = min(found.water, found.liquid)
	return found, nil
}

// find gives the volume below a level; none when it was not read.
func (t *Tank) find(l *level, r *Reading) (units.Litres, noisy, error) {
	switch {
	case l.ullage != nil:
		depth, err := t.innage(l.ullageIs, *l.ullage, r)
		if err != nil {
			return 0, noisy{}, err
		}
		return t.byDepth(l.ullageIs, depth, r)
	case l.depth != nil:
		return t.byDepth(l.depthIs, *l.depth, r)
	case l.volume != nil:
		return t.byVolume(l.volIs, *l.volume, r)
	}
	return 0, noisy{}, nil
}

// byDepth looks a depth up in the shape.
func (t *Tank) byDepth(name string, depth units.Millimetres, r *Reading) (volume units.Litres, read noisy, err error) {
	full := t.Shape.Depth()
	if full == 0 {
		return 0, noisy{}, invalid(unusable, name,
			"only the capacity of this tank is known: give a volume, or add a capacity table to the tank")
	}
	if !(depth >= 0 && depth <= full) {
		return 0, noisy{}, invalid(unusable, name,
			"%s mm: expected 0 to %s mm, the inside height of the tank", plain(depth), plain(full))
	}
	precision := r.DepthPrecision
	if precision == 0 {
		precision = r.Gauge.DepthPrecision(full)
	}
	if !(precision > 0 && precision <= full) {
		return 0, noisy{}, invalid(unusable, "depth precision",
			"%s mm: expected 0 (the default) to %s mm, the inside height of the tank", plain(precision), plain(full))
	}
	return t.Shape.Volume(depth), noisy{t.Shape, float64(depth), float64(precision), float64(full)}, nil
}

// byVolume takes a volume as it was read.
func (t *Tank) byVolume(name string, volume units.Litres, r *Reading) (same units.Litres, read noisy, err error) {
	capacity := Capacity(t.Shape)
	if !(volume >= 0 && volume <= capacity) {
		return 0, noisy{}, invalid(unusable, name, "%s L: expected 0 to %s L, the capacity of the tank",
			plain(volume), plain(capacity))
	}
	precision := r.VolumePrecision
	if precision == 0 {
		precision = r.Gauge.VolumePrecision(t.Shape, volume)
	}
	if !(precision > 0 && precision <= capacity) {
		return 0, noisy{}, invalid(unusable, "volume precision",
			"%s L: expected 0 (the default) to %s L, the capacity of the tank", plain(precision), plain(capacity))
	}
	return volume, noisy{nil, float64(volume), float64(precision), float64(capacity)}, nil
}

// checkFields refuses a gauging that says the same thing twice or leaves the liquid out.
func (r *Reading) checkFields() error {
	switch {
	case !r.Gauge.Known():
		return invalid(unusable, "gauge", "%q is no gauge: expected %s, or none", string(r.Gauge), gaugeNames())
	case r.Depth == nil && r.Ullage == nil && r.Volume == nil:
		return invalid(unusable, "depth", "neither a depth nor a volume was given: give one of them")
	case r.Ullage != nil && (r.Depth != nil || r.Volume != nil):
		return invalid(unusable, "ullage", "the liquid was given twice: give the ullage, the depth or the volume, whichever was read")
	case r.Depth != nil && r.Volume != nil:
		return invalid(unusable, "depth", "both a depth and a volume were given: give the one that was read")
	case r.WaterUllage != nil && (r.Water != nil || r.WaterVolume != nil):
		return invalid(unusable, "water ullage", "the water was given twice: give its ullage, its depth or its volume, whichever was read")
	case r.Water != nil && r.WaterVolume != nil:
		return invalid(unusable, "water", "both a depth and a volume of water were given: give the one that was read")
	}
	if r.ReferenceHeight != nil {
		return checkReference(unusable, *r.ReferenceHeight)
	}
	return nil
}

// checkWater refuses water that stands above the liquid it is part of.
func (found *levels) checkWater() error {
	liquid, water := &found.liquidRead, &found.waterRead
	if liquid.shape != nil && water.shape != nil { // both are depths
		if water.at <= liquid.at {
			return nil // whatever rounding makes of two depths close together
		}
		return invalid(unusable, "water",
			"%s mm of water stand above the depth of %s mm: was the depth of the fuel alone given?",
			plain(water.at), plain(liquid.at))
	}
	if found.water > found.liquid {
		return invalid(unusable, "water",
			"%s L of water are more than the %s L of all liquid: was the fuel alone given?",
			plain(found.water), plain(found.liquid))
	}
	return nil
}
