package importer

import (
	"strings"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

var roundSheet = define("rounds.csv", []column{
	{name: "plant", need: always}, {name: "at", need: always}, {name: "filter_bowl"}, {name: "alarms"}, {name: "pump_running"},
	{name: "running_hours"}, {name: "energy_register_kwh"}, {name: "note"},
}, func(r *row) *inventory.Round {
	plant := r.text("plant")
	return &inventory.Round{
		Entry:          r.entry(),
		Plant:          plant,
		At:             r.moment("at", plant),
		Bowl:           code[inventory.Bowl](r, "filter_bowl"),
		Alarms:         r.alarms(),
		PumpRunning:    r.maybeYes("pump_running"),
		RunningHours:   maybe[float64](r, "running_hours"),
		EnergyRegister: maybe[float64](r, "energy_register_kwh"),
		Note:           r.text("note"),
	}
}, func(r *inventory.Round) string { return key(r.Plant, instant(r.At)) }).to(plantSheet)

// alarms reads codes set apart by spaces.
func (r *row) alarms() []inventory.Alarm {
	var all []inventory.Alarm
	for _, word := range strings.Fields(r.text("alarms")) {
		all = append(all, inventory.Alarm(word))
	}
	return all
}

var provingSheet = define("meter_provings.csv", []column{
	{name: "plant", need: always}, {name: "meter", need: always}, {name: "at", need: always}, {name: "factor", need: filled},
}, func(r *row) *inventory.Proving {
	plant := r.text("plant")
	return &inventory.Proving{
		Entry: r.entry(), Plant: plant, Meter: r.text("meter"), At: r.moment("at", plant), Factor: value[float64](r, "factor"),
	}
}, func(p *inventory.Proving) string { return key(p.Plant, p.Meter, instant(p.At)) }).to(plantSheet, meterSheet)

var countSheet = define("count_corrections.csv", []column{
	{name: "plant", need: always}, {name: "day", need: always}, {name: "product"},
	{name: "volume", need: filled, in: &units.Volume}, {name: "temperature", in: &units.Temperature}, {name: "basis"},
}, func(r *row) *inventory.CountCorrection {
	plant := r.text("plant")
	return &inventory.CountCorrection{
		Entry: r.entry(), Measure: r.measure(), Plant: plant, Product: r.productOr(plant), Day: orZero(r.day("day")),
	}
}, func(c *inventory.CountCorrection) string { return key(c.Plant, string(c.Product), c.Day.String()) }).to(plantSheet)

var changeSheet = define("product_changes.csv", []column{
	{name: "plant", need: always}, {name: "tank", need: always}, {name: "at", need: always}, {name: "product", need: filled},
}, func(r *row) *inventory.ProductChange {
	plant := r.text("plant")
	return &inventory.ProductChange{
		Entry: r.entry(), Plant: plant, Tank: r.text("tank"), At: r.moment("at", plant), Product: code[inventory.Product](r, "product"),
	}
}, func(c *inventory.ProductChange) string { return key(c.Plant, c.Tank, instant(c.At)) }).to(plantSheet, tankSheet)

var confirmationSheet = define("confirmations.csv", []column{
	{name: "plant", need: always}, {name: "of", need: always}, {name: "row", need: always},
}, func(r *row) *inventory.Confirmation {
	return &inventory.Confirmation{Entry: r.entry(), Plant: r.text("plant"), Of: inventory.Kind(r.text("of")), Row: r.text("row")}
}, func(c *inventory.Confirmation) string { return key(c.Plant, string(c.Of), c.Row) }).to(plantSheet)
