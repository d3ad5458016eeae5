package importer

import (
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

var plantSheet = define("plants.csv", []column{
	{name: "plant", need: always}, {name: "name", need: filled}, {name: "zone", need: filled},
	{name: "product", need: filled}, {name: "group"}, {name: "density", in: &units.Density},
	{name: "reserve", in: &units.Volume}, {name: "reserve_days"}, {name: "reserve_months"}, {name: "reserve_percent"}, {name: "risk_target"},
	{name: "assumed_temperature", in: &units.Temperature}, {name: "warm_to", in: &units.Temperature},
	{name: "display_volume"}, {name: "display_depth"}, {name: "display_temperature"},
	{name: "fiscal_year_begins"}, {name: "low_level_timer_hours"},
	{name: "carrying_per_year"}, {name: "fallback_at_days"},
}, func(r *row) *inventory.Plant {
	return &inventory.Plant{
		Entry:              r.entry(),
		ID:                 r.text("plant"),
		Name:               r.text("name"),
		Group:              r.text("group"),
		Zone:               r.text("zone"),
		Product:            code[inventory.Product](r, "product"),
		Density15:          maybe[units.KgPerM3](r, "density"),
		ReserveLitres:      maybe[units.LitresAt15](r, "reserve"),
		ReserveDays:        r.whole("reserve_days", 0, 3660),
		ReserveMonths:      maybe[float64](r, "reserve_months"),
		ReservePercent:     maybe[float64](r, "reserve_percent"),
		FallbackAtDays:     r.whole("fallback_at_days", 0, 3660),
		Carrying:           maybe[float64](r, "carrying_per_year"),
		RiskTarget:         maybe[float64](r, "risk_target"),
		AssumedTemperature: maybe[units.Celsius](r, "assumed_temperature"),
		WarmTo:             maybe[units.Celsius](r, "warm_to"),
		Display: inventory.Display{
			Volume:      r.text("display_volume"),
			Depth:       r.text("display_depth"),
			Temperature: r.text("display_temperature"),
		},
		LowTimerHours:    maybe[float64](r, "low_level_timer_hours"),
		FiscalYearBegins: time.Month(orZero(r.whole("fiscal_year_begins", 1, 12))),
	}
}, func(p *inventory.Plant) string { return key(p.ID) }).directory()

var meterSheet = define("meters.csv", []column{
	{name: "plant", need: always}, {name: "meter", need: always}, {name: "register_unit", need: filled},
	{name: "count"}, {name: "digits"}, {name: "factor"}, {name: "compensated"},
}, func(r *row) *inventory.Meter {
	return &inventory.Meter{
		Entry:          r.entry(),
		Plant:          r.text("plant"),
		ID:             r.text("meter"),
		Digits:         orZero(r.whole("digits", 3, 12)),
		LitresPerCount: litresPerCount(r),
		Factor:         meterFactor(r),
		Compensated:    r.yes("compensated"),
	}
}, func(m *inventory.Meter) string { return key(m.Plant, m.ID) }).directory().to(plantSheet)

// litresPerCount makes one number of the register's unit and of how many units a count stands for.
func litresPerCount(r *row) float64 {
	name := r.raw("register_unit")
	if name == "" {
		return 0
	}
	unit, err := units.Volume.Scale(name)
	if err != nil {
		r.wrong("register_unit", "%s", err)
	}
	if counts := maybe[float64](r, "count"); counts != nil {
		return *counts * unit.Factor
	}
	return unit.Factor
}

// meterFactor reads the factor; a written zero must not pass for a blank.
func meterFactor(r *row) float64 {
	factor := maybe[float64](r, "factor")
	if factor != nil && *factor == 0 {
		r.wrong("factor", "a factor of 0 would make every reading 0: expected 0.5 to 2, or blank for 1")
	}
	return orZero(factor)
}
