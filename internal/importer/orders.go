package importer

import (
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

var orderSheet = define("orders.csv", []column{
	{name: "plant", need: always}, {name: "order", need: always}, {name: "state", need: filled}, {name: "state_at"},
	{name: "ordered_on", need: filled}, {name: "order_by"}, {name: "early", need: filled}, {name: "likely", need: filled},
	{name: "late", need: filled},
	{name: "volume", need: filled, in: &units.Volume}, {name: "temperature", in: &units.Temperature}, {name: "basis"},
	{name: "route"},
}, func(r *row) *inventory.Order {
	plant := r.text("plant")
	return &inventory.Order{
		Entry:     r.entry(),
		Measure:   r.measure(),
		Plant:     plant,
		ID:        r.text("order"),
		Route:     r.text("route"),
		State:     code[inventory.OrderState](r, "state"),
		StateAt:   r.maybeMoment("state_at", plant),
		OrderBy:   r.day("order_by"),
		OrderedOn: orZero(r.day("ordered_on")),
		Early:     orZero(r.day("early")),
		Likely:    orZero(r.day("likely")),
		Late:      orZero(r.day("late")),
	}
}, func(o *inventory.Order) string { return key(o.Plant, o.ID) }).onlyOne().to(plantSheet, routeSheet)

var clearanceSheet = define("clearances.csv", []column{
	{name: "plant", need: always}, {name: "order", need: always}, {name: "clearance", need: always},
	{name: "last_safe_on"}, {name: "takes_days"}, {name: "cleared_on"}, {name: "by"}, {name: "note"},
}, func(r *row) *inventory.Clearance {
	return &inventory.Clearance{
		Entry:      r.entry(),
		Plant:      r.text("plant"),
		Order:      r.text("order"),
		Name:       r.text("clearance"),
		LastSafeOn: r.day("last_safe_on"),
		TakesDays:  r.whole("takes_days", 0, 3660),
		ClearedOn:  r.day("cleared_on"),
		By:         r.text("by"),
		Note:       r.text("note"),
	}
}, func(c *inventory.Clearance) string { return key(c.Plant, c.Order, c.Name) }).onlyOne().to(plantSheet)
