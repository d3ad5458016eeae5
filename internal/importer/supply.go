package importer

import (
	"strconv"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

var routeSheet = define("routes.csv", []column{
	{name: "route", need: always}, {name: "mode", need: filled}, {name: "lead_days", need: filled},
	{name: "lead_sd_days"}, {name: "slip_days"}, {name: "slip_sd_days"},
	{name: "lot_min", in: &units.Volume}, {name: "lot_max", in: &units.Volume}, {name: "lot_step", in: &units.Volume},
	{name: "price_per", in: &units.Volume, per: true}, {name: "currency"}, {name: "supplier"}, {name: "fallback"},
	{name: "load", in: &units.Volume}, {name: "stop_cost"}, {name: "freight_per", in: &units.Volume, per: true},
	{name: "price_growth_per_year"}, {name: "price_sd_per_year"}, {name: "deliveries"}, {name: "days_between"},
	{name: "pay_from"}, {name: "pay_days"},
}, func(r *row) *inventory.Route {
	return &inventory.Route{
		Entry:         r.entry(),
		ID:            r.text("route"),
		Mode:          code[inventory.Mode](r, "mode"),
		Supplier:      r.text("supplier"),
		Fallback:      r.yes("fallback"),
		LeadDays:      value[float64](r, "lead_days"),
		LeadSDDays:    value[float64](r, "lead_sd_days"),
		SlipDays:      value[float64](r, "slip_days"),
		SlipSDDays:    value[float64](r, "slip_sd_days"),
		LotMin:        value[units.LitresAt15](r, "lot_min"),
		LotMax:        value[units.LitresAt15](r, "lot_max"),
		LotStep:       value[units.LitresAt15](r, "lot_step"),
		PricePerLitre: value[float64](r, "price_per"),
		Currency:      r.text("currency"),

		Load:            value[units.LitresAt15](r, "load"),
		StopCost:        value[float64](r, "stop_cost"),
		FreightPerLitre: value[float64](r, "freight_per"),
		PriceGrowth:     value[float64](r, "price_growth_per_year"),
		PriceSD:         value[float64](r, "price_sd_per_year"),
		Deliveries:      orZero(r.whole("deliveries", 1, 6)),
		DaysBetween:     orZero(r.whole("days_between", 0, 366)),
		PayFrom:         code[inventory.PayFrom](r, "pay_from"),
		PayDays:         orZero(r.whole("pay_days", 0, 3660)),
	}
}, func(r *inventory.Route) string { return key(r.ID) }).directory()

var serviceSheet = define("services.csv", []column{
	{name: "route", need: always}, {name: "plant", need: always},
}, func(r *row) *inventory.Service {
	return &inventory.Service{Entry: r.entry(), Route: r.text("route"), Plant: r.text("plant")}
}, func(s *inventory.Service) string { return key(s.Route, s.Plant) }).directory().to(routeSheet, plantSheet)

var windowSheet = define("windows.csv", []column{
	{name: "route", need: always}, {name: "window", need: always}, {name: "opens", need: filled},
	{name: "closes", need: filled}, {name: "opens_sd_days"}, {name: "closes_sd_days"}, {name: "fail_chance"},
	{name: "order_by"}, {name: "cut_off"}, {name: "year"},
	{name: "opens_lag_days"}, {name: "opens_lag_sd_days"}, {name: "closes_lag_days"}, {name: "closes_lag_sd_days"},
}, func(r *row) *inventory.Window {
	return &inventory.Window{
		Entry:        r.entry(),
		Route:        r.text("route"),
		Name:         r.text("window"),
		Year:         orZero(r.whole("year", 1900, 2200)),
		Opens:        orZero(r.monthDay("opens")),
		OpensSDDays:  value[float64](r, "opens_sd_days"),
		Closes:       orZero(r.monthDay("closes")),
		ClosesSDDays: value[float64](r, "closes_sd_days"),
		FailChance:   value[float64](r, "fail_chance"),
		OrderBy:      r.monthDay("order_by"),
		CutOff:       r.monthDay("cut_off"),

		OpensLagDays:    value[float64](r, "opens_lag_days"),
		OpensLagSDDays:  value[float64](r, "opens_lag_sd_days"),
		ClosesLagDays:   value[float64](r, "closes_lag_days"),
		ClosesLagSDDays: value[float64](r, "closes_lag_sd_days"),
	}
}, func(w *inventory.Window) string {
	if w.Year == 0 {
		return key(w.Route, w.Name)
	}
	return key(w.Route, w.Name, strconv.Itoa(w.Year))
}).directory().to(routeSheet)
