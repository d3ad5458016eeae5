package inventory

import (
	"math"
	"slices"

	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// depthRatios are those of a depth: inches or centimetres written down as millimetres or the other way round, feet
// as inches, and a digit. Volumes have their own.
var depthRatios = []ratioCause{
	{25.4, UnitsSwitched}, {1 / 25.4, UnitsSwitched}, {2.54, UnitsSwitched}, {1 / 2.54, UnitsSwitched},
	{12, UnitsSwitched}, {1.0 / 12, UnitsSwitched}, {10, DigitAdded}, {0.1, DigitDropped},
}

// gaugeRatios are those of a volume read off a gauge.
var gaugeRatios = slices.Concat(volumeRatios, []ratioCause{
	{units.LitresPerImperialGallon, UnitsSwitched}, {1 / units.LitresPerImperialGallon, UnitsSwitched},
})

// wholeMarks are the marks of a stick or tape by which it is misread, in millimetres: a foot, ten centimetres, a
// metre. Common practice, no source.
var wholeMarks = []units.Millimetres{304.8, 100, 1000}

// readingCause finds what would bring a gauging closest to the middle of what was likely, among what brings it
// between the two ends and moves it by more than those are apart; "" for nothing.
func (l *tankLine) readingCause(g *measuredGauging, expected litreRange) (cause Cause) {
	best := math.Inf(1)
	try := func(c Cause, r tanks.Reading) {
		content, err := l.measured[l.tank.ID].Measure(r, l.fuel, l.Plant.FuelTemperature())
		if err != nil {
			return
		}
		v := float64(content.UsableAt15 + content.Below)
		if off := math.Abs(v - expected.middle()); expected.has(v) && expected.explains(v-g.fuel()) && off < best {
			cause, best = c, off
		}
	}
	r := g.Reading()
	for _, t := range l.otherTemperatures(g) {
		warm := r
		warm.Temperature = &t
		try(TemperatureSlip, warm)
	}
	if r.Volume != nil {
		for _, by := range gaugeRatios {
			v := units.Litres(float64(*r.Volume) / by.ratio)
			try(by.cause, tanks.Reading{Volume: &v, Temperature: r.Temperature})
		}
		return cause
	}
	length := orElse(r.Depth, orElse(r.Ullage, 0))
	for _, by := range depthRatios {
		try(by.cause, redipped(r, units.Millimetres(float64(length)/by.ratio)))
	}
	for _, mark := range wholeMarks {
		try(StickMisread, redipped(r, length+mark))
		try(StickMisread, redipped(r, length-mark))
	}
	return cause
}

// otherTemperatures are those that may have been meant by that of a gauging, none where the gaugings beside it were about as warm.
func (l *tankLine) otherTemperatures(g *measuredGauging) []units.Celsius {
	before, after := l.neighbours(g)
	for _, o := range []*measuredGauging{before, after} {
		if o != nil && o.Temperature != nil && g.Temperature != nil && math.Abs(float64(*o.Temperature-*g.Temperature)) <= oddWarmth {
			return nil
		}
	}
	return otherTemperatures(g.Temperature)
}

// otherTemperatures are those that may have been meant by one: with the other sign, or read in °F and taken for °C.
func otherTemperatures(t *units.Celsius) []units.Celsius {
	if t == nil {
		return nil
	}
	return []units.Celsius{-*t, (*t - 32) / 1.8}
}

// oddWarmth is by how much bulk fuel does not warm or cool from one gauging to the next, and likeWarmth by how much a temperature
// that was meant may differ from those beside it, both in °C. Common practice, no source.
const (
	oddWarmth  = 15
	likeWarmth = 6
)

// doubtTemperatures names gaugings whose temperature those before and after contradict, and its other sign or unit fits.
func (l *tankLine) doubtTemperatures() {
	off := func(t units.Celsius, beside *measuredGauging) float64 {
		if beside == nil || beside.Temperature == nil || l.leftOut[beside.Gauging] {
			return math.NaN()
		}
		return math.Abs(float64(t - *beside.Temperature))
	}
	for i := range l.gaugings {
		g := &l.gaugings[i]
		before, after := l.beside(i)
		if g.Temperature == nil || l.leftOut[g.Gauging] || before == nil || anyWithin(l.inflows, before.At, g.At) || g.At.Sub(before.At) > dipsReach {
			continue
		}
		if !(off(*g.Temperature, before) > oddWarmth) || off(*g.Temperature, after) <= oddWarmth {
			continue
		}
		for _, t := range otherTemperatures(g.Temperature) {
			if off(t, before) <= likeWarmth && !(off(t, after) > oddWarmth) {
				low, high := l.expected(before, g, after)
				l.say(g, TemperatureSlip, WholeRow, low, high)
				break
			}
		}
	}
}

// redipped is the reading with another depth, or another ullage where it has one.
func redipped(r tanks.Reading, length units.Millimetres) tanks.Reading {
	if r.Ullage != nil {
		r.Ullage = &length
		return r
	}
	r.Depth = &length
	if r.Water != nil && *r.Water > length {
		r.Water = nil
	}
	return r
}

// interchanged tells that the dip of another storage tank in the same round is what this one should have had, and
// this one's is what that one should.
func (l *tankLine) interchanged(g *measuredGauging, low, high float64) bool {
	for _, o := range l.sisters {
		other, ok := l.gaugingAround(o.tank, g.At, sameRound)
		if o == l || !ok {
			continue
		}
		mine, ok1 := l.fuelOf(other.Reading())
		theirs, ok2 := o.fuelOf(g.Reading())
		if !ok1 || !ok2 || mine < low || mine > high {
			continue
		}
		before, after := o.neighbours(&other)
		if lo, hi := o.expected(before, &other, after); theirs >= lo && theirs <= hi && (other.fuel() < lo || other.fuel() > hi) {
			return true
		}
	}
	return false
}

func (l *tankLine) fuelOf(r tanks.Reading) (fuel float64, ok bool) {
	content, err := l.measured[l.tank.ID].Measure(r, l.fuel, l.Plant.FuelTemperature())
	return float64(content.UsableAt15 + content.Below), err == nil
}

// neighbours gives the gaugings next to one of the tank.
func (l *tankLine) neighbours(g *measuredGauging) (before, after *measuredGauging) {
	if i := l.indexOf(g); i >= 0 {
		return l.beside(i)
	}
	return nil, nil
}

// indexOf finds a gauging among those of the tank, -1 for one of another.
func (l *tankLine) indexOf(g *measuredGauging) int {
	for i := l.firstAfter(g.At) - 1; i >= 0 && l.gaugings[i].At.Equal(g.At); i-- {
		if l.gaugings[i].Gauging == g.Gauging {
			return i
		}
	}
	return -1
}

// beside gives the gaugings next to the one of an index.
func (l *tankLine) beside(i int) (before, after *measuredGauging) {
	if i > 0 {
		before = &l.gaugings[i-1]
	}
	if i+1 < len(l.gaugings) {
		after = &l.gaugings[i+1]
	}
	return before, after
}
