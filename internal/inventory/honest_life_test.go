package inventory

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// event is what happens at one moment.
type event struct {
	at time.Time
	do func()
}

// live goes through the plant's life day by day, and through each day event by event: in between the plant burns.
func (h *honest) live() {
	h.now, _ = h.first.Bounds(h.zone)
	for day := h.first; day <= h.last; day++ {
		_, end := day.Bounds(h.zone)
		var events []event
		on := func(at time.Time, do func()) { events = append(events, event{at, do}) }
		if s, ok := h.steps[day]; ok {
			h.step = s
		}
		h.comes(day, on)
		h.leaves(day, on)
		h.isMoved(day, on)
		h.isRead(day, on)
		slices.SortStableFunc(events, func(x, y event) int { return cmp.Compare(x.at.UnixNano(), y.at.UnixNano()) })
		for _, e := range events {
			h.burn(e.at, day)
			e.do()
		}
		h.burn(end, day)
		h.month(day)
	}
}

// hour is a moment of a day, by its clock.
func (h *honest) hour(day calendar.Day, from, to float64) time.Time {
	start, _ := day.Bounds(h.zone)
	return start.Add(time.Duration(h.between(from, to)*60) * time.Minute)
}

// season goes from 1 in mid-January to −1 in mid-July.
func (h *honest) season() float64 { return math.Cos(season(h.now)) }

// warmth is that of the stored fuel, °C.
func (h *honest) warmth() float64 { return h.coldest + 12*(1-h.season()) }

// vcf is the true factor, see truth.vcf.
func (h *honest) vcf(warm float64) float64 {
	f, err := h.fuel.VCF(units.Celsius(warm))
	if err != nil {
		panic(err)
	}
	return f - 1e-6*h.density*(15-warm)
}

// burn runs the plant until a moment.
func (h *honest) burn(until time.Time, day calendar.Day) {
	today := h.perDay * h.step * (1 + h.swing*h.season()) * math.Exp(h.noise*h.own(day))
	if h.standsBy[day] {
		today = 0
	}
	for h.now.Before(until) {
		next := h.now.Add(time.Hour)
		if next.After(until) {
			next = until
		}
		litres := today * next.Sub(h.now).Hours() / 24
		h.now = next
		h.inMonth += litres
		h.kWh += litres * h.perKWh
		if h.day == nil {
			h.pass(litres)
			continue
		}
		h.day.held -= litres
		if h.day.held < 0.5*h.room(h.day) {
			h.pass(0.9*h.room(h.day) - h.day.held)
			h.day.held = 0.9 * h.room(h.day)
		}
	}
}

// own is by how much a day is a day of its own, the same at whatever hour it is asked for: evenly spread, with a variance of 1.
func (h *honest) own(day calendar.Day) float64 {
	x := math.Sin(float64(day)*12.9898+h.perDay) * 43758.5453
	return math.Sqrt(12) * (x - math.Floor(x) - 0.5)
}

// room is what a tank takes, L at 15 °C.
func (h *honest) room(v *vessel) float64 {
	return float64(DefaultSafeFill) * float64(tanks.Capacity(v.shape)) * h.vcf(h.warmth()) * 0.99
}

// pass sends fuel to the engines or the day tank, through a meter where there is one.
func (h *honest) pass(litres float64) {
	if h.middle != nil {
		if h.middle.held-litres < 0.3*h.room(h.middle) {
			h.pumpUp()
		}
		h.middle.held -= litres
	} else {
		h.take(litres, nil)
	}
	if len(h.dials) > 0 {
		d := h.dials[0]
		if len(h.dials) > 1 && h.now.YearDay()/20%2 == 1 { // the engines take turns
			d = h.dials[1]
		}
		observed := litres
		if !d.row.Compensated {
			observed /= h.vcf(h.warmth())
		}
		d.register = math.Mod(d.register+observed/d.row.LitresPerCount/(1+d.wrong), math.Pow10(d.row.Digits))
	}
}

// take empties the storage tanks, and tells what was taken out of each.
func (h *honest) take(litres float64, told func(v *vessel, part float64)) {
	day := calendar.DayOf(h.now, h.zone)
	var open []*vessel
	usable := 0.0
	for _, v := range h.storage {
		if v.row.Available(day) && v.held > h.bottom(v) {
			open, usable = append(open, v), usable+v.held-h.bottom(v)
		}
	}
	for _, v := range open {
		part := math.Min(litres, v.held-h.bottom(v))
		if h.together {
			part = math.Min(litres*(v.held-h.bottom(v))/usable, v.held-h.bottom(v))
		}
		v.held -= part
		if !h.together {
			litres -= part
		}
		if told != nil && part > 0 {
			told(v, part)
		}
	}
	if usable < litres {
		panic(fmt.Sprintf("the invented plant ran dry on %s: %.0f L asked for, %.0f in reach, %v", day, litres, usable, h.traits))
	}
}

func (h *honest) bottom(v *vessel) float64 { return 0.02 * float64(tanks.Capacity(v.shape)) }

// inReach is the storage that can be used, L at 15 °C.
func (h *honest) inReach(day calendar.Day) (held, room float64) {
	for _, v := range h.storage {
		if v.row.Available(day) {
			held, room = held+math.Max(v.held-h.bottom(v), 0), room+math.Max(h.room(v)-v.held, 0)
		}
	}
	return held, room
}

// pumpUp fills the intermediate tank, which is written down.
func (h *honest) pumpUp() {
	litres := 0.95*h.room(h.middle) - h.middle.held
	h.take(litres, func(v *vessel, part float64) {
		h.middle.held += part
		h.transfer(v.row.ID, "mid", part)
	})
}
