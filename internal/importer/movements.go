package importer

import (
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

var deliverySheet = define("deliveries.csv", []column{
	{name: "plant", need: always}, {name: "tank"}, {name: "at", need: always},
	{name: "volume", need: filled, in: &units.Volume}, {name: "temperature", in: &units.Temperature}, {name: "basis"},
	{name: "order"}, {name: "document"}, {name: "product"},
	{name: "document_volume", in: &units.Volume}, {name: "document_temperature", in: &units.Temperature}, {name: "document_basis"},
	{name: "meter_volume", in: &units.Volume}, {name: "meter_temperature", in: &units.Temperature}, {name: "meter_basis"},
	{name: "refused", in: &units.Volume}, {name: "price_per", in: &units.Volume, per: true}, {name: "freight"}, {name: "currency"},
}, func(r *row) *inventory.Delivery {
	plant := r.text("plant")
	return &inventory.Delivery{
		Entry:         r.entry(),
		Measure:       r.measure(),
		Plant:         plant,
		Tank:          r.text("tank"),
		At:            r.moment("at", plant),
		Order:         r.text("order"),
		Document:      r.text("document"),
		Product:       code[inventory.Product](r, "product"),
		ByDocument:    r.figure("document"),
		ByMeter:       r.figure("meter"),
		Refused:       maybe[units.Litres](r, "refused"),
		PricePerLitre: maybe[float64](r, "price_per"),
		Freight:       maybe[float64](r, "freight"),
		Currency:      r.text("currency"),
	}
}, func(d *inventory.Delivery) string { return key(d.Plant, instant(d.At), d.Tank, d.Order, d.Document) }).to(plantSheet, tankSheet)

// figure reads what a document or a meter said of a delivery.
func (r *row) figure(of string) inventory.DeliveryFigure {
	return inventory.DeliveryFigure{
		Volume:      maybe[units.Litres](r, of+"_volume"),
		Temperature: maybe[units.Celsius](r, of+"_temperature"),
		Basis:       code[inventory.Basis](r, of+"_basis"),
	}
}

var transferSheet = define("transfers.csv", []column{
	{name: "plant", need: always}, {name: "from_tank", need: always}, {name: "to_tank", need: always},
	{name: "at", need: always},
	{name: "volume", in: &units.Volume}, {name: "temperature", in: &units.Temperature}, {name: "basis"},
	{name: "open"}, {name: "planned_stop"},
}, func(r *row) *inventory.Transfer {
	plant := r.text("plant")
	return &inventory.Transfer{
		Entry:       r.entry(),
		Measure:     r.measure(),
		Plant:       plant,
		From:        r.text("from_tank"),
		To:          r.text("to_tank"),
		At:          r.moment("at", plant),
		Open:        r.yes("open"),
		PlannedStop: r.maybeMoment("planned_stop", plant),
	}
}, func(t *inventory.Transfer) string { return key(t.Plant, t.From, t.To, instant(t.At)) }).to(plantSheet, tankSheet)

var drawSheet = define("draws.csv", []column{
	{name: "plant", need: always}, {name: "first_day", need: always}, {name: "last_day", need: always},
	{name: "volume", need: filled, in: &units.Volume}, {name: "purpose", need: always},
	{name: "temperature", in: &units.Temperature}, {name: "basis"}, {name: "with"},
}, func(r *row) *inventory.Draw {
	return &inventory.Draw{
		Entry:    r.entry(),
		Measure:  r.measure(),
		Plant:    r.text("plant"),
		FirstDay: orZero(r.day("first_day")),
		LastDay:  orZero(r.day("last_day")),
		Purpose:  code[inventory.Purpose](r, "purpose"),
		With:     r.text("with"),
	}
}, func(d *inventory.Draw) string {
	return key(d.Plant, string(d.Purpose), d.FirstDay.String(), d.LastDay.String())
}).to(plantSheet)
