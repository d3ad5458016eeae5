package inventory

import (
	"math"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// isRead plans the day's round.
func (h *honest) isRead(day calendar.Day, on func(time.Time, func())) {
	since := int(day - h.first)
	if h.away[day] || h.chance(0.02) {
		return
	}
	at := h.hour(day, 7.5, 9)
	if since%h.dipsEvery == 0 {
		on(at, func() {
			for _, v := range h.storage {
				if v.row.Available(day) && !h.chance(0.02) {
					h.dip(v)
				}
			}
			if h.middle != nil {
				h.dip(h.middle)
			}
		})
	}
	if since%h.readsEvery == 0 || since%h.dipsEvery == 0 {
		on(at.Add(10*time.Minute), h.round)
	}
	for _, d := range h.dials {
		if h.chance(0.001) {
			on(h.hour(day, 10, 18), func() { h.swap(d) })
		}
	}
}

// dip gauges a tank with its instrument.
func (h *honest) dip(v *vessel) {
	observed := units.Litres(v.held / h.vcf(h.warmth()) / (1 + v.wrong))
	g := &Gauging{Entry: h.key("dip"), Plant: "P", Tank: v.row.ID, At: h.now, Gauge: v.gauge}
	capacity := tanks.Capacity(v.shape)
	switch {
	case v.gauge == tanks.FloatEighths:
		g.Volume = ptr(units.Litres(math.Round(float64(8*observed/capacity))) / 8 * capacity)
	case v.row.Shape == ShapeVolume:
		read := observed + v.gauge.VolumePrecision(v.shape, observed)*units.Litres(h.NormFloat64())
		g.Volume = ptr(min(max(h.whole(read), 0), capacity))
	default:
		depth, err := tanks.DepthOf(v.shape, observed+v.shape.Volume(v.water))
		if err != nil {
			panic(err)
		}
		depth += v.gauge.DepthPrecision(v.shape.Depth()) * units.Millimetres(h.NormFloat64())
		mark := units.Millimetres(1)
		if h.inGallons {
			mark = units.MillimetresPerInch / 8
		}
		g.Depth = ptr(min(max(units.Millimetres(math.Round(float64(depth/mark)))*mark, 0), v.shape.Depth()))
		if v.water > 0 && h.chance(0.7) || v.water == 0 && h.chance(0.1) {
			g.Water = ptr(min(v.water, *g.Depth))
		}
	}
	if h.readsWarmth && !h.chance(0.02) {
		g.Temperature = h.thermometer()
	}
	h.rows.Gaugings = append(h.rows.Gaugings, g)
}

// round reads meters, the day tank and the energy.
func (h *honest) round() {
	for _, d := range h.dials {
		r := &MeterReading{Entry: h.key("reading"), Plant: "P", Meter: d.row.ID, At: h.now, Register: math.Floor(d.register)}
		if h.readsWarmth {
			r.Temperature = h.thermometer()
		}
		h.rows.Readings = append(h.rows.Readings, r)
	}
	if h.day != nil && h.chance(0.9) {
		h.dip(h.day)
	}
	if h.energy {
		h.rows.Rounds = append(h.rows.Rounds, &Round{Entry: h.key("round"), Plant: "P", At: h.now, EnergyRegister: ptr(math.Floor(h.kWh))})
	}
}

// swap puts another meter in a meter's place.
func (h *honest) swap(d *dial) {
	s := &MeterSwap{Entry: h.key("swap"), Plant: "P", Meter: d.row.ID, At: h.now, Closing: ptr(math.Floor(d.register))}
	d.register, d.wrong = math.Floor(h.between(0, 100)), MeterPrecision*h.NormFloat64()
	s.Opening = ptr(d.register)
	h.rows.Swaps = append(h.rows.Swaps, s)
}

// month writes down at a month's end what is said of a whole month: draws for heat, and the total of a plant without meters.
func (h *honest) month(day calendar.Day) {
	if _, _, tomorrow := (day + 1).Civil(); tomorrow != 1 && day != h.last {
		return
	}
	begun := max(calendar.MonthOf(day).First(), h.first)
	days := float64(day - begun + 1)
	if h.regular > 0 {
		h.draw(begun, day, Heat, h.regular*days)
	}
	if _, _, tomorrow := (day + 1).Civil(); h.totals && tomorrow == 1 && days > 25 {
		t := &PeriodTotal{Entry: h.key("total"), Plant: "P", FirstDay: begun, LastDay: day, Measure: h.stated(h.inMonth, true, 0.01)}
		if h.energy {
			t.Energy = ptr(math.Round(h.inMonth * h.perKWh))
		}
		h.rows.Totals = append(h.rows.Totals, t)
	}
	h.inMonth = 0
}
