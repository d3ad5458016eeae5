package importer

import (
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

var limitSheet = define("window_limits.csv", []column{
	{name: "route", need: always}, {name: "window", need: always}, {name: "from", need: always}, {name: "until", need: filled},
	{name: "lot_max", need: filled, in: &units.Volume}, {name: "cause", need: always}, {name: "note"},
}, func(r *row) *inventory.WindowLimit {
	return &inventory.WindowLimit{
		Entry:  r.entry(),
		Route:  r.text("route"),
		Name:   r.text("window"),
		From:   orZero(r.monthDay("from")),
		Until:  orZero(r.monthDay("until")),
		LotMax: value[units.LitresAt15](r, "lot_max"),
		Cause:  code[inventory.LimitCause](r, "cause"),
		Note:   r.text("note"),
	}
}, func(l *inventory.WindowLimit) string { return key(l.Route, l.Name, l.From.String(), string(l.Cause)) }).onlyOne().to(routeSheet, windowSheet)

var spendingSheet = define("spending_limits.csv", []column{
	{name: "plant", need: always}, {name: "name", need: always}, {name: "kind", need: filled}, {name: "from", need: always}, {name: "until", need: filled},
	{name: "amount"}, {name: "currency"}, {name: "volume", in: &units.Volume},
}, func(r *row) *inventory.SpendingLimit {
	return &inventory.SpendingLimit{
		Entry:    r.entry(),
		Plant:    r.text("plant"),
		Name:     r.text("name"),
		Of:       code[inventory.SpendingKind](r, "kind"),
		From:     orZero(r.day("from")),
		Until:    orZero(r.day("until")),
		Amount:   maybe[float64](r, "amount"),
		Currency: r.text("currency"),
		Volume:   maybe[units.LitresAt15](r, "volume"),
	}
}, func(l *inventory.SpendingLimit) string { return key(l.Plant, l.Name, l.From.String()) }).onlyOne().to(plantSheet, routeSheet, serviceSheet)
