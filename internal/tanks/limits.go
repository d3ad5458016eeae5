package tanks

import "overwinter/internal/units"

// The shares of the capacity at which a filling is slowed or announced, and at which it stops, of 40 CFR 280.20(c):
// the flow is restricted or an alarm given when the tank is no more than 90 % full, and shut off when it is no more than
// 95 % full (as taught by Vermont's Department of Environmental Conservation, slideplayer.com/slide/14444383). The rule is made for
// tanks under ground; Wisconsin's ATCP 93.410(10) has the same two for those above it.
const (
	FillAlarm = 0.90
	FillStop  = 0.95
)

// WaterDistance is how near below the suction level water may come before it is to be drained, in millimetres: a
// delivery stirs it up. Common practice, no source.
const WaterDistance units.Millimetres = 50

// Level is one height in a tank, told both ways.
type Level struct {
	Volume units.Litres       // all that lies below it
	Depth  *units.Millimetres // from the bottom up; nil where the tank has no depths, or where no dip shows this one
}

// LevelOf is the level below which a volume lies. It refuses a volume below 0 or above the capacity.
func LevelOf(s Shape, volume units.Litres) (Level, error) {
	if capacity := Capacity(s); !(volume >= 0 && volume <= capacity) {
		return Level{}, invalid("the level cannot be found", "volume", "%s L: expected 0 to %s L, the capacity of the tank",
			plain(volume), plain(capacity))
	}
	level := Level{Volume: volume}
	if depth, err := DepthOf(s, volume); err == nil && volume >= s.Volume(0) {
		level.Depth = &depth
	}
	return level, nil
}

// LevelAt is the level at a depth. It refuses a depth outside the tank, and any in a tank known by its capacity only.
func LevelAt(s Shape, depth units.Millimetres) (Level, error) {
	const what = "the level cannot be found"
	full := s.Depth()
	if full == 0 {
		return Level{}, invalid(what, "depth",
			"only the capacity of this tank is known: add a capacity table or dimensions to the tank")
	}
	if !(depth >= 0 && depth <= full) {
		return Level{}, invalid(what, "depth", "%s mm: expected 0 to %s mm, the inside height of the tank",
			plain(depth), plain(full))
	}
	return Level{Volume: s.Volume(depth), Depth: &depth}, nil
}

// UnusableBottom is the level that a [Tank.Suction] comes from: that of the intake, the end of the suction pipe, and a
// margin above it by which the pump draws no air, both in millimetres. It refuses what is negative, and levels that lie outside the tank.
func UnusableBottom(s Shape, intake, margin units.Millimetres) (Level, error) {
	if !(intake >= 0 && margin >= 0) {
		return Level{}, invalid("the unusable bottom cannot be found", "intake",
			"%s mm with a margin of %s mm: expected neither below 0", plain(intake), plain(margin))
	}
	return LevelAt(s, intake+margin)
}

// HighestFill is the highest volume to which fuel may be filled at one temperature so that it passes no level, given
// as a volume, when it has warmed to another: level·VCF(warm)/VCF(cold), or the level itself where it will not
// warm. Filled to 95.2 % at −40 °C, diesel of 840 kg/m³ fills the tank at +20 °C (computed). It refuses a level that is
// negative or not a number, and temperatures outside the range of the factor.
func HighestFill(level units.Litres, cold, warm units.Celsius, c Corrector) (units.Litres, error) {
	if !(level >= 0 && level <= largest) {
		return 0, invalid("the highest fill cannot be found", "level", "%s L: expected 0 to %s L", plain(level), plain(largest))
	}
	filled, err := c.VCF(cold)
	if err != nil {
		return 0, err
	}
	warmed, err := c.VCF(warm)
	if err != nil {
		return 0, err
	}
	return level * units.Litres(min(1, warmed/filled)), nil
}

// Limits are the levels of one tank that matter to who fills it and who draws from it, from the top down as a rule.
type Limits struct {
	Capacity  Level
	FillStop  Level // [FillStop] of the capacity
	FillAlarm Level // [FillAlarm] of the capacity
	SafeFill  Level // as the engineer set it
	// FillNow is how high the tank may stand now so that it stands no higher than the safe fill once it has warmed.
	FillNow Level
	Suction Level // the top of the unusable bottom
	// WaterWarning is [WaterDistance] below the suction, or the bottom itself where the suction is nearer to it; nil where
	// no dip shows the suction.
	WaterWarning *Level
}

// Limits tells the levels of a tank that holds a content, of which only the temperature and the water matter, and whose
// fuel may warm to a temperature. It refuses a tank that does not validate and temperatures outside the range of
// the factor.
func (t Tank) Limits(content Content, warmTo units.Celsius, c Corrector) (Limits, error) {
	if err := t.Validate(); err != nil {
		return Limits{}, err
	}
	fuel, err := HighestFill(max(0, t.SafeFill-content.Water), content.Temperature, warmTo, c)
	if err != nil {
		return Limits{}, err
	}
	capacity := Capacity(t.Shape)
	var l Limits
	for _, line := range []struct {
		level  *Level
		volume units.Litres
	}{
		{&l.Capacity, capacity},
		{&l.FillStop, FillStop * capacity},
		{&l.FillAlarm, FillAlarm * capacity},
		{&l.SafeFill, t.SafeFill},
		{&l.FillNow, min(t.SafeFill, content.Water+fuel)},
		{&l.Suction, t.Suction},
	} {
		if *line.level, err = LevelOf(t.Shape, line.volume); err != nil {
			return Limits{}, err
		}
	}
	if l.Suction.Depth == nil {
		return l, nil
	}
	warning, err := LevelAt(t.Shape, max(0, *l.Suction.Depth-WaterDistance))
	l.WaterWarning = &warning
	return l, err
}

// WaterClearance is how far the water stands below the suction level, in millimetres: below [WaterDistance] it is to be
// drained soon; below 0 it stands above, the pump draws water, and the fuel between the two levels is not
// usable. It refuses a tank that does not validate, and one without depths.
func (t Tank) WaterClearance(content Content) (units.Millimetres, error) {
	if err := t.Validate(); err != nil {
		return 0, err
	}
	suction, err := DepthOf(t.Shape, t.Suction)
	if err != nil {
		return 0, err
	}
	water, err := DepthOf(t.Shape, content.Water)
	if err != nil {
		return 0, err
	}
	return suction - water, nil
}
