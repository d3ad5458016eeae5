package tanks

import "overwinter/internal/units"

// Tank is what a gauging is measured against.
type Tank struct {
	Shape Shape
	// SafeFill is the volume at the safe fill level, set by the responsible engineer, in litres.
	SafeFill units.Litres
	// Suction is the volume below the suction level, in litres: the unusable bottom.
	Suction units.Litres
	// ReferenceHeight is the height of the reference point, at the gauge hatch, above the bottom, as the capacity table
	// states it, in millimetres; 0 when not known. Ullages are counted down from it.
	ReferenceHeight units.Millimetres
}

// Validate refuses a tank without a shape, a safe fill above the capacity, and a suction level that
// is not below the safe fill.
func (t Tank) Validate() error {
	const what = "the tank cannot be used"
	if t.Shape == nil {
		return invalid(what, "shape", "it has none: give a capacity table, dimensions or a capacity")
	}
	if capacity := Capacity(t.Shape); !(t.SafeFill > 0 && t.SafeFill <= capacity) {
		return invalid(what, "safe fill", "%s L: expected more than 0 and at most the capacity of %s L",
			plain(t.SafeFill), plain(capacity))
	}
	if !(t.Suction >= 0 && t.Suction < t.SafeFill) {
		return invalid(what, "suction", "%s L: expected 0 or more, and less than the safe fill of %s L",
			plain(t.Suction), plain(t.SafeFill))
	}
	if t.ReferenceHeight != 0 {
		return checkReference(what, t.ReferenceHeight)
	}
	return nil
}

// UsableCapacity is the usable stock which the tank can hold, in litres at 15 °C: what it holds when
// the liquid stands at the safe fill at the temperature to which the fuel may warm, less the water and
// less the fuel below the suction. Fuel put in cold and high rises above the safe fill as it warms:
//
//	(SafeFill − water)·VCF(warm) − (Suction − water)·VCF(temperature now)
//
// where warm is the higher of warmTo and the temperature now: the safe fill holds today as well.
// The fuel below the suction is counted at the temperature of the content, since it is already there: so for a tank
// filled above its suction, capacity less usable stock is exactly the [Tank.Room].
// It is never negative. An error tells of a temperature outside the range of the factor, or of a
// tank that does not validate.
func (t Tank) UsableCapacity(content Content, warmTo units.Celsius, c Corrector) (units.LitresAt15, error) {
	full, err := t.fuelAtSafeFill(content, max(warmTo, content.Temperature), c)
	if err != nil {
		return 0, err
	}
	now, err := c.VCF(content.Temperature)
	if err != nil {
		return 0, err
	}
	return max(0, full-at15(max(0, t.Suction-content.Water), now)), nil
}

// Room is how much fuel the tank may still be given, in litres at 15 °C, so that it stands no higher
// than the safe fill, neither as warm as it is now nor when all has warmed to the given temperature. Below the suction level some of
// the room is fuel that will not be usable: it fills the bottom first. It is never negative; errors
// are those of [Tank.UsableCapacity].
func (t Tank) Room(content Content, warmTo units.Celsius, c Corrector) (units.LitresAt15, error) {
	full, err := t.fuelAtSafeFill(content, max(warmTo, content.Temperature), c)
	if err != nil {
		return 0, err
	}
	return max(0, full-content.Below-content.UsableAt15), nil
}

// fuelAtSafeFill is all fuel of a tank whose liquid stands at the safe fill at a temperature; below 0
// when the water alone stands higher.
func (t Tank) fuelAtSafeFill(content Content, at units.Celsius, c Corrector) (units.LitresAt15, error) {
	if err := t.Validate(); err != nil {
		return 0, err
	}
	vcf, err := c.VCF(at)
	if err != nil {
		return 0, err
	}
	return at15(t.SafeFill-content.Water, vcf), nil
}

// at15 brings an observed volume to 15 °C.
func at15(observed units.Litres, vcf float64) units.LitresAt15 {
	return units.LitresAt15(float64(observed) * vcf)
}
