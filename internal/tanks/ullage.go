package tanks

import "overwinter/internal/units"

// innage gives the depth that an ullage leaves of the reference height. Source: US Army FM 10-67-1, innage and outage.
func (t *Tank) innage(name string, ullage units.Millimetres, r *Reading) (units.Millimetres, error) {
	height, err := t.referenceHeight(r)
	if err != nil {
		return 0, err
	}
	full := t.Shape.Depth()
	if full == 0 {
		return 0, nil // no depth will do: byDepth says so
	}
	if least := max(0, height-full); !(ullage >= least && ullage <= height) {
		return 0, invalid(unusable, name,
			"%s mm: expected %s mm, where the tank is full, to %s mm, the reference height, where it is empty",
			plain(ullage), plain(least), plain(height))
	}
	return min(height-ullage, full), nil
}

// referenceHeight is what ullages are taken from: the height of the tank's table, which was made with it, else
// that which was found.
func (t *Tank) referenceHeight(r *Reading) (units.Millimetres, error) {
	switch {
	case t.ReferenceHeight > 0:
		return t.ReferenceHeight, nil
	case r.ReferenceHeight != nil:
		return *r.ReferenceHeight, nil
	}
	return 0, invalid(unusable, "reference height",
		"an ullage is counted down from the reference point: give the height of that point above the bottom, or the depth instead")
}

// checkReference refuses a reference height that no tank has.
func checkReference(what string, height units.Millimetres) error {
	if height > 0 && height <= longest {
		return nil
	}
	return invalid(what, "reference height", "%s mm: expected more than 0 and at most %s mm", plain(height), plain(longest))
}

// referenceOff compares the reference height found with that of the tank.
func (t *Tank) referenceOff(r *Reading) *units.Millimetres {
	if r.ReferenceHeight == nil || t.ReferenceHeight == 0 {
		return nil
	}
	return new(*r.ReferenceHeight - t.ReferenceHeight)
}
