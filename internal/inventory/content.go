package inventory

import (
	"math"
	"slices"
	"sort"
	"strings"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// sameDay is how far apart the gaugings of a plant's tanks may lie and still make one stock count.
const sameDay = 12 * time.Hour

// content is what several tanks held together around a moment, in litres at 15 °C.
type content struct {
	at      time.Time // the last of the gaugings
	fuel    float64   // all fuel, also what the suction cannot reach
	usable  float64
	sigma   float64           // of what is usable
	ofFuel  float64           // the same of all fuel
	assumed bool              // a temperature was missing
	dips    []measuredGauging // one of each tank, in order of their ids
}

// dip gives the gauging of a tank of the count, nil for any other.
func (c *content) dip(tank string) *measuredGauging {
	for i := range c.dips {
		if c.dips[i].Tank == tank {
			return &c.dips[i]
		}
	}
	return nil
}

// gauged is when a tank of the count was gauged; the moment of the count for any other.
func (c *content) gauged(tank string) time.Time {
	if g := c.dip(tank); g != nil {
		return g.At
	}
	return c.at
}

// earliest and latest are the first and the last moment at which a tank of the count was gauged, or that of the count.
func (c *content) earliest() time.Time {
	first := c.at
	for i := range c.dips {
		if at := c.dips[i].At; at.Before(first) {
			first = at
		}
	}
	return first
}

func (c *content) latest() time.Time {
	last := c.at
	for i := range c.dips {
		last = later(last, c.dips[i].At)
	}
	return last
}

// sameTanks tells whether two counts are of the same tanks.
func (c *content) sameTanks(o *content) bool {
	return slices.EqualFunc(c.dips, o.dips, func(x, y measuredGauging) bool { return x.Tank == y.Tank })
}

// counted gives the tanks that make a count of stock on a day: those in service that were ever gauged.
func (b *Book) counted(day calendar.Day) []*Tank {
	var found []*Tank
	_, end := day.Bounds(b.Zone)
	for _, t := range b.Tanks {
		if t.Available(day) && b.holds(t, end.Add(-time.Millisecond)) && b.gaugingsOf(t) != nil {
			found = append(found, t)
		}
	}
	return found
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
func (b *Book) gaugingsOf(t *Tank) []measuredGauging {
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
	sum := &content{dips: make([]measuredGauging, 0, len(of))}
	variance, ofFuel := 0.0, 0.0
	for _, t := range of {
		g, ok := b.gaugingAround(t, at, within)
		if !ok {
			return nil
		}
		sum.fuel += float64(g.content.UsableAt15 + g.content.Below)
		sum.usable += float64(g.content.UsableAt15) * t.ownShare()
		sum.assumed = sum.assumed || g.content.TemperatureAssumed
		sum.dips = append(sum.dips, g)
		sum.at = later(sum.at, g.At)
		variance += float64(g.content.Sigma) * float64(g.content.Sigma)
		ofFuel += float64(g.content.FuelSigma) * float64(g.content.FuelSigma)
	}
	sum.sigma, sum.ofFuel = math.Sqrt(variance), math.Sqrt(ofFuel)
	sum.sort()
	return sum
}

func (c *content) sort() {
	slices.SortFunc(c.dips, func(x, y measuredGauging) int { return strings.Compare(x.Tank, y.Tank) })
}

// gaugingAround finds a tank's gauging nearest to a moment; ok is false where none is near enough.
func (b *Book) gaugingAround(t *Tank, at time.Time, within time.Duration) (g measuredGauging, ok bool) {
	gaugings := b.gaugingsOf(t)
	if len(gaugings) == 0 {
		return g, false
	}
	g = gaugings[nearestTo(gaugings, at, func(g measuredGauging) time.Time { return g.At })]
	return g, gap(g.At, at) <= within
}

// Reading gives the gauging as the measurement room takes it.
func (g *Gauging) Reading() tanks.Reading {
	return tanks.Reading{
		Gauge: g.Gauge, Depth: g.Depth, Ullage: g.Ullage, Water: g.Water, Volume: g.Volume,
		Temperature: g.Temperature, DepthPrecision: g.Precision, WhileFilling: g.Moving,
	}
}

// Held is what one tank of the plant was last found to hold.
type Held struct {
	*Tank
	Capacity units.Litres // to the top of the shape
	SafeFill units.Litres
	// Gauging is the last that could be measured, nil if there is none: then Content and Room say nothing.
	Gauging *Gauging
	Content tanks.Content
	// Room is what the tank may still be given, at the temperature to which its fuel may warm.
	Room units.LitresAt15
}

// Held gives every tank of the plant's product, in service or not, with its last gauging by the close of
// the as-of day.
func (b *Book) Held() ([]Held, error) {
	var all []Held
	for _, t := range b.Tanks {
		if !b.holds(t, b.close().Add(-time.Millisecond)) {
			continue
		}
		m := b.measured[t.ID]
		held := Held{Tank: t, Capacity: tanks.Capacity(m.Shape), SafeFill: m.SafeFill}
		if gaugings := b.gaugingsOf(t); len(gaugings) > 0 {
			last := gaugings[len(gaugings)-1]
			room, err := m.Room(*last.content, b.Plant.WarmestFuel(), b.fuel)
			if err != nil {
				return nil, err
			}
			held.Gauging, held.Content, held.Room = last.Gauging, *last.content, room
		}
		all = append(all, held)
	}
	return all, nil
}
