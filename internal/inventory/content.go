package inventory

import (
	"math"
	"slices"
	"sort"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/tanks"
)

// sameDay is how far apart the gaugings of a plant's tanks may lie and still make one stock count.
const sameDay = 12 * time.Hour

// content is what several tanks held together around a moment, in litres at 15 °C.
type content struct {
	at      time.Time // the last of the gaugings
	fuel    float64   // all fuel, also what the suction cannot reach
	usable  float64
	sigma   float64
	assumed bool // a temperature was missing
}

// day writes the local day of a moment.
func (b *Book) day(t time.Time) string { return calendar.DayOf(t, b.Zone).String() }

func gap(a, b time.Time) time.Duration { return a.Sub(b).Abs() }

// nearestTo gives the index of the item nearest to a time; items are in order of time, at least one.
func nearestTo[T any](items []T, at time.Time, when func(T) time.Time) int {
	i := sort.Search(len(items), func(i int) bool { return when(items[i]).After(at) })
	switch {
	case i == 0:
		return 0
	case i == len(items) || gap(when(items[i-1]), at) <= gap(when(items[i]), at):
		return i - 1
	}
	return i
}

// tanksOf gives the tanks of the given roles.
func (b *Book) tanksOf(roles ...Role) []*Tank {
	var found []*Tank
	for _, t := range b.Tanks {
		if slices.Contains(roles, t.Role) {
			found = append(found, t)
		}
	}
	return found
}

func (b *Book) isDayTank(id string) bool {
	return slices.ContainsFunc(b.Tanks, func(t *Tank) bool { return t.ID == id && t.Role == DayTank })
}

func (b *Book) capacityOf(of []*Tank) float64 {
	sum := 0.0
	for _, t := range of {
		sum += float64(tanks.Capacity(b.measured[t.ID].Shape))
	}
	return sum
}

// largest gives the tank with the greatest capacity, nil of none.
func (b *Book) largest(of []*Tank) *Tank {
	var found *Tank
	for _, t := range of {
		if found == nil || b.capacityOf([]*Tank{t}) > b.capacityOf([]*Tank{found}) {
			found = t
		}
	}
	return found
}

// gaugingsOf gives a tank's gaugings in order of time, none of no tank.
func (b *Book) gaugingsOf(t *Tank) []*Gauging {
	if t == nil {
		return nil
	}
	return b.gaugings[t.ID]
}

// contentAround measures the tanks around a moment, nil where one of them was not gauged near enough
// or there are none. Their dips are independent, so their uncertainties add in quadrature.
func (b *Book) contentAround(of []*Tank, at time.Time, within time.Duration) *content {
	if len(of) == 0 {
		return nil
	}
	sum := &content{}
	variance := 0.0
	for _, t := range of {
		c, taken, ok := b.measureAround(t, at, within)
		if !ok {
			return nil
		}
		sum.fuel += float64(c.UsableAt15 + c.Below)
		sum.usable += float64(c.UsableAt15)
		sum.assumed = sum.assumed || c.TemperatureAssumed
		variance += float64(c.Sigma) * float64(c.Sigma)
		if taken.After(sum.at) {
			sum.at = taken
		}
	}
	sum.sigma = math.Sqrt(variance)
	return sum
}

// measureAround measures one tank by its gauging nearest to a moment.
func (b *Book) measureAround(t *Tank, at time.Time, within time.Duration) (c tanks.Content, taken time.Time, ok bool) {
	gaugings := b.gaugingsOf(t)
	if len(gaugings) == 0 {
		return c, taken, false
	}
	g := gaugings[nearestTo(gaugings, at, func(g *Gauging) time.Time { return g.At })]
	if gap(g.At, at) > within {
		return c, taken, false
	}
	c, err := b.measure(t, g)
	return c, g.At, err == nil
}

func (b *Book) measure(t *Tank, g *Gauging) (tanks.Content, error) {
	return b.measured[t.ID].Measure(g.Reading(), b.fuel, b.Plant.FuelTemperature())
}

// Reading gives the gauging as the measurement room takes it.
func (g *Gauging) Reading() tanks.Reading {
	return tanks.Reading{
		Depth: g.Depth, Water: g.Water, Volume: g.Volume, Temperature: g.Temperature, DepthPrecision: g.Precision,
	}
}
