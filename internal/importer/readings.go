package importer

import (
	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

var readingSheet = define("meter_readings.csv", []column{
	{name: "plant", need: always}, {name: "meter", need: always}, {name: "at", need: always},
	{name: "register", need: filled}, {name: "temperature", in: &units.Temperature},
}, func(r *row) *inventory.MeterReading {
	plant := r.text("plant")
	return &inventory.MeterReading{
		Entry:       r.entry(),
		Plant:       plant,
		Meter:       r.text("meter"),
		At:          r.moment("at", plant),
		Register:    value[float64](r, "register"),
		Temperature: maybe[units.Celsius](r, "temperature"),
	}
}, func(m *inventory.MeterReading) string { return key(m.Plant, m.Meter, instant(m.At)) }).to(plantSheet, meterSheet)

var swapSheet = define("meter_swaps.csv", []column{
	{name: "plant", need: always}, {name: "meter", need: always}, {name: "at", need: always},
	{name: "closing"}, {name: "opening"},
}, func(r *row) *inventory.MeterSwap {
	plant := r.text("plant")
	return &inventory.MeterSwap{
		Entry:   r.entry(),
		Plant:   plant,
		Meter:   r.text("meter"),
		At:      r.moment("at", plant),
		Closing: maybe[float64](r, "closing"),
		Opening: maybe[float64](r, "opening"),
	}
}, func(s *inventory.MeterSwap) string { return key(s.Plant, s.Meter, instant(s.At)) }).to(plantSheet, meterSheet)

var gaugingSheet = define("gaugings.csv", []column{
	{name: "plant", need: always}, {name: "tank", need: always}, {name: "at", need: always},
	{name: "depth", in: &units.Length}, {name: "volume", in: &units.Volume},
	{name: "water", in: &units.Length}, {name: "temperature", in: &units.Temperature},
	{name: "precision", in: &units.Length}, {name: "moving"}, {name: "gauge"}, {name: "ullage", in: &units.Length},
}, func(r *row) *inventory.Gauging {
	plant := r.text("plant")
	return &inventory.Gauging{
		Entry:       r.entry(),
		Plant:       plant,
		Tank:        r.text("tank"),
		At:          r.moment("at", plant),
		Depth:       maybe[units.Millimetres](r, "depth"),
		Volume:      maybe[units.Litres](r, "volume"),
		Water:       maybe[units.Millimetres](r, "water"),
		Temperature: maybe[units.Celsius](r, "temperature"),
		Precision:   value[units.Millimetres](r, "precision"),
		Moving:      r.yes("moving"),
		Gauge:       code[tanks.Gauge](r, "gauge"),
		Ullage:      maybe[units.Millimetres](r, "ullage"),
	}
}, func(g *inventory.Gauging) string { return key(g.Plant, g.Tank, instant(g.At)) }).to(plantSheet, tankSheet, capacitySheet)

var totalSheet = define("period_totals.csv", []column{
	{name: "plant", need: always}, {name: "first_day", need: always}, {name: "last_day", need: always},
	{name: "volume", need: filled, in: &units.Volume}, {name: "temperature", in: &units.Temperature}, {name: "basis"},
	{name: "energy_kwh"},
}, func(r *row) *inventory.PeriodTotal {
	return &inventory.PeriodTotal{
		Entry:    r.entry(),
		Measure:  r.measure(),
		Plant:    r.text("plant"),
		FirstDay: orZero(r.day("first_day")),
		LastDay:  orZero(r.day("last_day")),
		Energy:   maybe[float64](r, "energy_kwh"),
	}
}, func(t *inventory.PeriodTotal) string { return key(t.Plant, t.FirstDay.String(), t.LastDay.String()) }).to(plantSheet)

// measure reads a stated volume with its temperature and basis.
func (r *row) measure() inventory.Measure {
	return inventory.Measure{
		Volume:      value[units.Litres](r, "volume"),
		Temperature: maybe[units.Celsius](r, "temperature"),
		Basis:       code[inventory.Basis](r, "basis"),
	}
}
