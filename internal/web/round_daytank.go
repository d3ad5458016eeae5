package web

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// dayTankGuide is what a day tank's levels mean at the coming burn.
type dayTankGuide struct {
	Band    string   // where the gauge should stand
	Warning string   // that it does not, and what to look at first
	Lasts   string   // how long the level lasts without the pump
	More    []string // how the tank fills, what follows once the float has tripped, and what a hand pump must do
}

// guideDayTanks sets beside each day tank what its level means: as it is typed, or else as it was read last.
func (f *roundForm) guideDayTanks(a *advice.Plant) {
	for _, g := range f.Tanks {
		if g.tank.Role != inventory.DayTank {
			continue
		}
		d, err := g.tank.DayTank(f.plant)
		if err != nil {
			continue // a row that does not fit together is told where it is entered
		}
		g.DayTank = f.dayTank(g, d, hourlyBurn(a, f.plant))
	}
}

// hourlyBurn gives the coming burn as the day tank's meter would show it, 0 where it is not known: a standard
// volume over the factor at the temperature that the plant's fuel is taken to have.
func hourlyBurn(a *advice.Plant, p *inventory.Plant) units.LitresPerHour {
	if a == nil || a.Burn == nil {
		return 0
	}
	c, err := tanks.NewCorrector(p.Density())
	if err != nil {
		return 0
	}
	vcf, err := c.VCF(p.FuelTemperature())
	if err != nil {
		return 0
	}
	return units.LitresPerHour(a.Burn.Next30PerDay / 24 / vcf)
}

// dayTank words the guide. Without a burn it says only where the gauge should stand.
func (f *roundForm) dayTank(g *roundGroup, d tanks.DayTank, burn units.LitresPerHour) *dayTankGuide {
	in := scalesOf(f.plant.Display)
	guide := &dayTankGuide{Band: "Should stand between " + in.band(g, d) + "."}
	level, read := g.level(d)
	if read {
		guide.Warning = in.tooLow(d, level)
	}
	cycle, err := d.Cycle(burn, 0)
	if err != nil {
		return guide // no burn is known
	}
	if !read {
		level = d.FillStart
	}
	guide.Lasts = in.lastsFrom(d, level, burn)
	guide.More = append(guide.More, "At "+in.rateText(burn)+", which is expected, the pump brings "+in.volumeText(d.FillVolume())+
		" about every "+lasting(cycle.Falling)+in.pumpText(g.tank, d, burn)+".")
	if low, err := d.AtLow(burn); err == nil {
		guide.More = append(guide.More, in.atLow(d, low))
	} else {
		guide.More = append(guide.More, "At which level the low-level float trips is not written down; with it, the time to the alarm would stand here.")
	}
	guide.More = append(guide.More, "To hold the plant by hand, pump at least "+in.rateText(burn)+", which is "+in.perMinute(burn)+".")
	return guide
}

// band writes the fill band as it is read: as volumes, with the depths before them where a depth is asked for.
func (s scales) band(g *roundGroup, d tanks.DayTank) string {
	volumes := s.volumeText(d.FillStart) + " and " + s.volumeText(d.FillStop)
	m, err := g.tank.Measured()
	if err != nil || g.field("depth") == nil {
		return volumes
	}
	start, err := tanks.DepthOf(m.Shape, d.FillStart)
	if err != nil {
		return volumes
	}
	stop, err := tanks.DepthOf(m.Shape, d.FillStop)
	if err != nil {
		return volumes
	}
	depth := func(mm units.Millimetres) string { // to a few millimetres: a float trips no finer
		return strconv.FormatFloat(s.depth.FromStored(float64(mm)), 'f', map[string]int{"in": 1, "cm": 1, "m": 2, "ft": 2}[s.depth.Label], 64) + joint + s.depth.Label
	}
	return depth(start) + " and " + depth(stop) + " (" + volumes + ")"
}

// level gives the observed volume in a day tank, as typed or else as read last.
func (g *roundGroup) level(d tanks.DayTank) (v units.Litres, read bool) {
	q := g.Fields[0] // the depth or the volume
	value := q.stored
	if value == nil {
		last, err := strconv.ParseFloat(q.Last, 64)
		if err != nil || q.Value != "" {
			return 0, false
		}
		value = stored(new(toStored(q.scale, last)))
	}
	v = units.Litres(*value)
	if m, err := g.tank.Measured(); err == nil && g.field("depth") == q {
		v = m.Shape.Volume(units.Millimetres(*value))
	}
	return v, v >= 0 && v <= d.Capacity
}

// belowBand is how far under the fill band a level must be read before it is worth a warning, as a share of
// the capacity: two divisions of a gauge of a hundred. Common practice, no source.
const belowBand = 0.02

// tooLow warns of a level that the pump should have raised. The causes stand in the order in which people
// look for them; common practice, no source.
func (s scales) tooLow(d tanks.DayTank, level units.Litres) string {
	const look = " Look first at the intermediate tank (is it empty?), then at the filter (plugged?), then for water or ice in its bowl."
	switch {
	case d.Low > 0 && level <= d.Low:
		return s.volumeText(level) + " is at or below the low-level float: the timer is running." + look
	case level < d.FillStart-belowBand*d.Capacity:
		return s.volumeText(level) + " is below the fill band: is the fill pump running?" + look
	}
	return ""
}

// pumpText says how fast the pump is by its usual fill.
func (s scales) pumpText(t *inventory.Tank, d tanks.DayTank, burn units.LitresPerHour) string {
	if t.FillMinutes == nil {
		return ""
	}
	usual := time.Duration(*t.FillMinutes * float64(time.Minute))
	rate, err := d.PumpRate(usual, burn)
	if err != nil {
		return ""
	}
	c, err := d.Cycle(burn, rate)
	if err != nil {
		return ""
	}
	return fmt.Sprintf(", %s a day, each in %s: %s. A fill that takes longer says that something is in its way",
		times(c.PerDay), lasting(usual), s.rateText(rate))
}

// lastsFrom says how long the engines run from a level while the pump stands.
func (s scales) lastsFrom(d tanks.DayTank, level units.Litres, burn units.LitresPerHour) string {
	e, err := d.Endurance(level, burn, 0)
	if err != nil {
		return ""
	}
	from := "From " + s.volumeText(level) + " and with no pump the engines run " + lasting(e.ToStop)
	switch {
	case d.Low == 0:
		return from + ", until the tank is empty."
	case e.ToLow == 0:
		return from + "."
	}
	return from + "; after " + lasting(e.ToLow) + " the low-level float trips."
}

// atLow says what comes first once the float has tripped.
func (s scales) atLow(d tanks.DayTank, l tanks.LowLevel) string {
	begin := "When the float trips at " + s.volumeText(d.Low) + ", " + s.volumeText(l.Usable) + " can still be burned. "
	if l.First == tanks.StopByTimer {
		return begin + "The timer of " + lasting(d.Timer()) + " comes first and stops the engines with " + s.volumeText(l.Left) + " left."
	}
	return begin + "That is gone after " + lasting(l.ToEmpty) + ", before the timer of " + lasting(d.Timer()) +
		": the engines draw air. The float would have to trip at " + s.volumeText(l.LeastFloat) + " or more."
}

func (s scales) volumeText(v units.Litres) string {
	return read(s.volume, float64(v)) + joint + s.volume.Label
}

func (s scales) rateText(r units.LitresPerHour) string {
	return figures(s.volume.FromStored(float64(r))) + joint + s.volume.Label + " an hour"
}

func (s scales) perMinute(r units.LitresPerHour) string {
	return figures(s.volume.FromStored(float64(r)/60)) + joint + s.volume.Label + " a minute"
}

// figures writes a rate to two figures, and whole from ten on.
func figures(x float64) string {
	if x >= 10 {
		return whole(x)
	}
	return strconv.FormatFloat(x, 'g', 2, 64)
}

// times counts how often something comes in a day.
func times(perDay float64) string {
	if perDay < 1.5 {
		return "once"
	}
	return whole(perDay) + " times"
}

// lasting writes a time as people say it: 35 min, 2 h 10 min, 3 days.
func lasting(d time.Duration) string {
	minutes := int(math.Round(d.Minutes()))
	switch {
	case minutes < 120 && minutes%60 != 0 || minutes < 60:
		return strconv.Itoa(minutes) + joint + "min"
	case minutes%60 == 0 && minutes < 48*60:
		return strconv.Itoa(minutes/60) + joint + "h"
	case minutes < 12*60:
		return strconv.Itoa(minutes/60) + joint + "h " + strconv.Itoa(minutes%60) + joint + "min"
	case minutes < 48*60:
		return whole(d.Hours()) + joint + "h"
	}
	return whole(d.Hours()/24) + joint + "days"
}
