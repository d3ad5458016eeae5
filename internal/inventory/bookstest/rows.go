package bookstest

import (
	"fmt"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// own is the plants' own product; the first plant holds another one, too.
const (
	own   = "diesel-2-s15"
	other = "diesel-1-s15"
)

// Written is when the rows were written, and Doubted when one more came that looks wrong.
var (
	Written = march(29, 12)
	Doubted = march(30, 12)
	Now     = march(31, 12)
)

// zones are those of the plants: by UTC; with clocks that are put forward over midnight (Cairo), that showed midnight
// twice (Amman, to 2021), over the date line and back (Scoresbysund), and of which a whole day is missing (Apia, 30
// December 2011). All by the IANA time zone database.
var zones = []string{"UTC", "America/Anchorage", "Africa/Cairo", "Asia/Amman", "America/Scoresbysund", "Pacific/Apia"}

// Plant gives the id of one of the plants.
func Plant(which uint8) string { return fmt.Sprint("P", int(which)%len(zones)) }

// Zone is the zone of a plant.
func Zone(plant string) *time.Location {
	zone, err := time.LoadLocation(zones[plant[1]-'0'])
	if err != nil {
		panic(err) // the database is linked in
	}
	return zone
}

// Products are those that a plant's tanks hold.
func Products(plant string) []string {
	if plant == Plant(0) {
		return []string{own, other}
	}
	return []string{own}
}

func march(day, hour int) time.Time { return time.Date(2026, time.March, day, hour, 0, 0, 0, time.UTC) }

// Rows are the plants, each dipped on 1 and 29 March, with one delivery of 5 000 L by its document and 4 900 L by its
// meter, all at 15 °C.
func Rows() inventory.Rows {
	var rows inventory.Rows
	for i, zone := range zones {
		id := Plant(uint8(i))
		rows.Plants = append(rows.Plants, &inventory.Plant{Entry: entry(id), ID: id, Name: "Plant <" + id + ">", Zone: zone, Product: own})
		for _, product := range Products(id) {
			tank, capacity := "T "+product, units.Litres(50_000)
			rows.Tanks = append(rows.Tanks, &inventory.Tank{Entry: entry(id + tank), Plant: id, ID: tank, Role: inventory.Storage,
				Product: inventory.Product(product), Shape: inventory.ShapeVolume, Capacity: &capacity})
			for day, litres := range map[int]units.Litres{1: 40_000, 29: 38_000} {
				warm := units.Celsius(15)
				rows.Gaugings = append(rows.Gaugings, &inventory.Gauging{Entry: entry(fmt.Sprint(id, tank, day)), Plant: id, Tank: tank,
					At: march(day, 8), Volume: &litres, Temperature: &warm})
			}
		}
		warm, byMeter := units.Celsius(15), units.Litres(4900)
		rows.Meters = append(rows.Meters, &inventory.Meter{Entry: entry(id + "M"), Plant: id, ID: "M", Digits: 5, LitresPerCount: 1})
		for day, register := range map[int]float64{1: 1000, 29: 8000} {
			rows.Readings = append(rows.Readings, &inventory.MeterReading{Entry: entry(fmt.Sprint(id, "M", day)), Plant: id, Meter: "M",
				At: march(day, 8), Register: register, Temperature: &warm})
		}
		rows.Deliveries = append(rows.Deliveries, &inventory.Delivery{Entry: entry(id + "D"), Plant: id, Tank: "T " + own, At: march(9, 9),
			Measure: inventory.Measure{Volume: 5000, Basis: inventory.Basis15}, Document: "B 7",
			ByMeter: inventory.DeliveryFigure{Volume: &byMeter, Basis: inventory.Basis15}})
		rows.Draws = append(rows.Draws, &inventory.Draw{Entry: entry(id + "W"), Plant: id, FirstDay: calendar.Date(2026, 3, 5),
			LastDay: calendar.Date(2026, 3, 6), Measure: inventory.Measure{Volume: 300, Basis: inventory.Basis15}, Purpose: inventory.Heat})
	}
	return rows
}

// Mistaken is a delivery to the first plant of a digit too many: more than the tank holds.
func Mistaken() inventory.Rows {
	return inventory.Rows{Deliveries: []*inventory.Delivery{{Entry: entry("big"), Plant: Plant(0), Tank: "T " + own, At: march(12, 9),
		Measure: inventory.Measure{Volume: 500_000, Basis: inventory.Basis15}}}}
}

func entry(key string) inventory.Entry { return inventory.Entry{Key: key} }
