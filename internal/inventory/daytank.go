package inventory

import (
	"time"

	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// DayTank gives a day tank as the measurement room sees it. Where its row says nothing the pump starts at
// three quarters of the gauge, which is of the depth where the tank has one, and stops at the stated safe fill,
// or else at full; the timer is that of the plant. The error says what does not fit together.
func (t *Tank) DayTank(p *Plant) (tanks.DayTank, error) {
	m, err := t.Measured()
	if err != nil {
		return tanks.DayTank{}, err
	}
	full := tanks.Capacity(m.Shape)
	d := tanks.DayTank{
		Capacity:  full,
		FillStart: orElse(t.FillStart, threeQuarters(m.Shape)),
		FillStop:  orElse(t.FillStop, full*tanks.DefaultFillStop),
		Low:       orElse(t.LowLevel, 0),
		Unusable:  m.Suction,
		LowTimer:  time.Duration(orElse(p.LowTimerHours, 0) * float64(time.Hour)),
	}
	if stated := t.SafeFillDepth != nil || t.SafeFillVolume != nil; t.FillStop == nil && stated && m.SafeFill > d.FillStart {
		d.FillStop = m.SafeFill
	}
	return d, d.Validate()
}

func threeQuarters(s tanks.Shape) units.Litres {
	if s.Depth() == 0 {
		return tanks.DefaultFillStart * tanks.Capacity(s)
	}
	return s.Volume(tanks.DefaultFillStart * s.Depth())
}

// fillBand checks what a day tank's row says of its pump and its float.
func (f *findings) fillBand(t *Tank) {
	said := func(where string, given bool) bool {
		if given && t.Role != DayTank {
			f.add(where, "only a day tank has it, and the tank's role is %s: leave it blank", quoted(string(t.Role)))
		}
		return given
	}
	start, stop := said("fill_start", t.FillStart != nil), said("fill_stop", t.FillStop != nil)
	low, minutes := said("low_level", t.LowLevel != nil), said("fill_minutes", t.FillMinutes != nil)
	if t.Role != DayTank {
		return
	}
	if minutes {
		f.within("fill_minutes", *t.FillMinutes, 0.1, 24*60, "minutes")
	}
	if !start && !stop && !low {
		return
	}
	if low && *t.LowLevel == 0 {
		f.add("low_level", "a float at the bottom gives no warning: expected more than 0, or blank where there is none")
		return
	}
	_, err := t.DayTank(&Plant{})
	f.inner(err, func(part string) string { return t.bandColumn(part) })
}

// bandColumn names the column for what does not fit together in a day tank.
func (t *Tank) bandColumn(part string) string {
	switch {
	case part == "low level":
		return "low_level"
	case part == "unusable" && t.FillStart == nil && t.SuctionDepth != nil:
		return "suction_depth"
	case part == "unusable" && t.FillStart == nil:
		return "unusable"
	case t.FillStart == nil && t.FillStop != nil:
		return "fill_stop"
	}
	return "fill_start"
}
