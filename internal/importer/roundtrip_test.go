package importer

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// drawn draws the parts of random rows.
type drawn struct {
	*rapid.T
	keys int
}

func (d *drawn) entry() inventory.Entry {
	d.keys++
	e := inventory.Entry{Key: fmt.Sprintf("k/%d", d.keys), Who: d.text("who"), Why: d.text("why")}
	if e.Why != "" {
		e.Why += "\n\"second\" line"
	}
	return e
}

func (d *drawn) text(what string) string {
	return strings.TrimSpace(rapid.StringMatching(`[A-Za-zéñ中0-9,;"'/%. #-]{0,12}`).Draw(d.T, what))
}

func (d *drawn) id(prefix string, i int) string {
	return fmt.Sprintf("%s%d%s", prefix, i, d.text(prefix))
}

func (d *drawn) chance(what string) bool { return rapid.Bool().Draw(d.T, what) }

func drawMaybe[T ~float64](d *drawn, what string, low, high float64) *T {
	if !d.chance(what + "?") {
		return nil
	}
	return ptr(draw[T](d, what, low, high))
}

func draw[T ~float64](d *drawn, what string, low, high float64) T {
	return T(rapid.Float64Range(low, high).Draw(d.T, what) + 0)
}

func pick[T any](d *drawn, what string, from ...T) T { return rapid.SampledFrom(from).Draw(d.T, what) }

func (d *drawn) moment() time.Time {
	return time.Unix(rapid.Int64Range(0, now.Unix()).Draw(d.T, "at"), 0).UTC()
}

func (d *drawn) days(n int) []calendar.Day {
	days := []calendar.Day{calendar.Day(rapid.IntRange(0, 20000).Draw(d.T, "day"))}
	for len(days) < n {
		days = append(days, days[len(days)-1]+calendar.Day(rapid.IntRange(0, 60).Draw(d.T, "more")))
	}
	return days
}

func (d *drawn) measure() inventory.Measure {
	return inventory.Measure{
		Volume:      draw[units.Litres](d, "volume", 0.001, 1e8),
		Temperature: drawMaybe[units.Celsius](d, "temperature", -60, 150),
		Basis:       pick(d, "basis", inventory.BasisUnknown, inventory.BasisObserved, inventory.Basis15),
	}
}

func (d *drawn) figure(of string) inventory.DeliveryFigure {
	if !d.chance(of + " figure") {
		return inventory.DeliveryFigure{}
	}
	m := d.measure()
	return inventory.DeliveryFigure{Volume: &m.Volume, Temperature: m.Temperature, Basis: m.Basis}
}

func (d *drawn) plant(i int) *inventory.Plant {
	p := &inventory.Plant{
		Entry: d.entry(), ID: d.id("P", i), Name: d.id("Plant", i), Group: d.text("group"),
		Zone: pick(d, "zone", "America/Anchorage", "Asia/Kathmandu", "Pacific/Apia"), Product: pick(d, "product", inventory.Products()...),
		Density15: drawMaybe[units.KgPerM3](d, "density", 620, 1090), RiskTarget: drawMaybe[float64](d, "risk", 0.001, 0.5),
		AssumedTemperature: drawMaybe[units.Celsius](d, "assumed", -50, 50), WarmTo: drawMaybe[units.Celsius](d, "warm", -50, 50),
		Display:          inventory.Display{Volume: pick(d, "unit", "", "us_gal"), Depth: pick(d, "depth", "", "ft"), Temperature: pick(d, "scale", "", "f")},
		LowTimerHours:    drawMaybe[float64](d, "timer", 0.05, 48),
		FiscalYearBegins: time.Month(rapid.IntRange(0, 12).Draw(d.T, "begins")),
	}
	p.Carrying = drawMaybe[float64](d, "carrying", 0, 0.9)
	if d.chance("fallback") {
		p.FallbackAtDays = ptr(rapid.IntRange(0, 400).Draw(d.T, "fallback at"))
	}
	switch rapid.IntRange(0, 3).Draw(d.T, "reserve in") {
	case 0:
		p.ReserveDays = ptr(rapid.IntRange(0, 400).Draw(d.T, "days"))
	case 1:
		p.ReserveMonths = drawMaybe[float64](d, "months", 0, 12)
	case 2:
		p.ReservePercent = drawMaybe[float64](d, "percent", 1, 100)
	default:
		p.ReserveLitres = drawMaybe[units.LitresAt15](d, "reserve", 0, 1e6)
	}
	return p
}

func (d *drawn) tank(plant *inventory.Plant, i int) *inventory.Tank {
	length := func(what string) *units.Millimetres { return ptr(draw[units.Millimetres](d, what, 500, 20000)) }
	t := &inventory.Tank{
		Entry: d.entry(), Plant: plant.ID, ID: d.id("T", i), Role: pick(d, "role", inventory.Storage, inventory.Intermediate, inventory.DayTank),
		Product: plant.Product, Shape: pick(d, "shape", inventory.ShapeHorizontal, inventory.ShapeVertical, inventory.ShapeRectangular, inventory.ShapeTable, inventory.ShapeVolume),
	}
	switch t.Shape {
	case inventory.ShapeHorizontal:
		t.Diameter, t.Length = length("diameter"), length("length")
	case inventory.ShapeVertical:
		t.Diameter, t.Height = length("diameter"), length("height")
	case inventory.ShapeRectangular:
		t.Length, t.Width, t.Height = length("length"), length("width"), length("height")
	case inventory.ShapeVolume:
		t.Capacity = ptr(draw[units.Litres](d, "capacity", 100, 1e7))
		t.SafeFillVolume = ptr(*t.Capacity * 0.9)
	case inventory.ShapeTable:
		t.Table = []tanks.Point{{Depth: 0, Volume: 3}, {Depth: *length("first"), Volume: 1000}, {Depth: 20001, Volume: draw[units.Litres](d, "full", 1001, 1e6)}}
	}
	if t.Shape != inventory.ShapeVolume {
		t.ReferenceHeight = drawMaybe[units.Millimetres](d, "reference height", 20_001, 30_000)
		t.SuctionDepth = drawMaybe[units.Millimetres](d, "suction", 0, 100)
	}
	if t.Role == inventory.DayTank && d.chance("fill band") {
		full := tanks.Capacity(d.measured(t).Shape)
		t.FillStart, t.FillStop, t.LowLevel = ptr(full*0.7), ptr(full*0.9), ptr(full*0.5)
		t.FillMinutes = drawMaybe[float64](d, "minutes", 0.1, 600)
	}
	t.OwnShare = drawMaybe[float64](d, "share", 0.001, 1)
	if days := d.days(2); d.chance("out") {
		t.OutFrom, t.BackOn = &days[0], ptr(days[1]+1)
	}
	return t
}

func (d *drawn) measured(t *inventory.Tank) tanks.Tank {
	m, err := t.Measured()
	if err != nil {
		d.Fatalf("%v", err)
	}
	return m
}

func (d *drawn) gauging(t *inventory.Tank) *inventory.Gauging {
	g := &inventory.Gauging{Entry: d.entry(), Plant: t.Plant, Tank: t.ID, At: d.moment(), Temperature: drawMaybe[units.Celsius](d, "temperature", -60, 150),
		Precision: draw[units.Millimetres](d, "precision", 0, 50), Moving: d.chance("moving")}
	if d.chance("gauge") {
		g.Gauge = rapid.SampledFrom(tanks.Gauges()).Draw(d.T, "gauge")
	}
	m := d.measured(t)
	if t.Shape == inventory.ShapeVolume || d.chance("by volume") {
		g.Volume = ptr(units.Litres(draw[float64](d, "share", 0, 1)) * tanks.Capacity(m.Shape))
		return g
	}
	if t.ReferenceHeight != nil && d.chance("by ullage") {
		g.Ullage = ptr(*t.ReferenceHeight - units.Millimetres(draw[float64](d, "share", 0, 1))*min(m.Shape.Depth(), *t.ReferenceHeight))
		return g
	}
	g.Depth = ptr(units.Millimetres(draw[float64](d, "share", 0, 1)) * m.Shape.Depth())
	g.Water = drawMaybe[units.Millimetres](d, "water", 0, float64(*g.Depth))
	return g
}

func (d *drawn) movements(rows *inventory.Rows, plant string, from, to *inventory.Tank, route *inventory.Route) {
	days := d.days(4)
	rows.Add(&inventory.PeriodTotal{Entry: d.entry(), Measure: d.measure(), Plant: plant, FirstDay: days[0], LastDay: days[1], Energy: drawMaybe[float64](d, "kWh", 0, 1e7)})
	rows.Add(&inventory.Draw{Entry: d.entry(), Measure: d.measure(), Plant: plant, FirstDay: days[0], LastDay: days[1], Purpose: pick(d, "purpose", inventory.Heat, inventory.Loan, inventory.Repayment), With: d.text("with")})
	rows.Add(&inventory.Delivery{Entry: d.entry(), Measure: d.measure(), Plant: plant, Tank: pick(d, "tank", "", from.ID), At: d.moment(), Order: d.text("order"), Document: d.text("document"),
		Product: pick[inventory.Product](d, "other product", "", "jet-a1"), ByDocument: d.figure("document"), ByMeter: d.figure("meter"), Refused: drawMaybe[units.Litres](d, "refused", 1, 1e6),
		PricePerLitre: ptr(draw[float64](d, "price", 0, 9)), Freight: drawMaybe[float64](d, "freight", 0, 1e6), Currency: "CAD"})
	begin := d.moment()
	rows.Add(&inventory.Transfer{Entry: d.entry(), Measure: d.measure(), Plant: plant, From: from.ID, To: to.ID, At: begin})
	rows.Add(&inventory.Transfer{Entry: d.entry(), Plant: plant, From: to.ID, To: from.ID, At: begin, Open: true, PlannedStop: ptr(begin.Add(time.Hour))})
	rows.Add(&inventory.Round{Entry: d.entry(), Plant: plant, At: d.moment(), Bowl: pick(d, "bowl", "", inventory.BowlClear, inventory.BowlIce),
		Alarms:      pick(d, "alarms", nil, []inventory.Alarm{inventory.AlarmLow}, []inventory.Alarm{inventory.AlarmOther, inventory.AlarmFillTime}),
		PumpRunning: pick(d, "pump", nil, ptr(true), ptr(false)), RunningHours: drawMaybe[float64](d, "hours", 0, 1e6),
		EnergyRegister: drawMaybe[float64](d, "energy", 0, 1e9), Note: d.text("note")})
	rows.Add(&inventory.CountCorrection{Entry: d.entry(), Measure: d.measure(), Plant: plant, Product: "jet-a1", Day: days[0]})
	rows.Add(&inventory.ProductChange{Entry: d.entry(), Plant: plant, Tank: from.ID, At: d.moment(), Product: "jet-a1"})
	rows.Add(&inventory.Confirmation{Entry: d.entry(), Plant: plant, Of: pick(d, "of", inventory.Doubtable()...), Row: d.id("row", 1)})
	rows.Add(&inventory.Order{Entry: d.entry(), Measure: d.measure(), Plant: plant, ID: d.id("O", 1), Route: route.ID,
		State: pick(d, "state", append(inventory.OrderStates(), inventory.Committed)...), StateAt: pick(d, "state at", nil, ptr(d.moment())), OrderBy: pick(d, "order by", nil, &days[2]),
		OrderedOn: days[0], Early: days[1], Likely: days[2], Late: days[3]})
	rows.Add(&inventory.Clearance{Entry: d.entry(), Plant: plant, Order: d.id("O", 1), Name: d.id("clearance", 1), LastSafeOn: pick(d, "last safe", nil, &days[3]),
		TakesDays: pick(d, "takes", nil, ptr(0), ptr(45)), ClearedOn: pick(d, "given", nil, &days[0]), By: d.text("by"), Note: d.text("note")})
}

// changes adds what the plant's forecast is told. Plants of one climate group have degree days of years of their own.
func (d *drawn) changes(rows *inventory.Rows, plant *inventory.Plant, i int) {
	days := d.days(2)
	c := &inventory.LoadChange{Entry: d.entry(), Plant: plant.ID, From: days[0], Uncertainty: drawMaybe[float64](d, "uncertainty", 0, 100),
		Cause: pick(d, "cause", inventory.LoadConnected, inventory.LoadWind, inventory.LoadOther), Note: d.text("note")}
	if d.chance("ends") {
		c.Until = ptr(days[1] + 1)
	}
	if d.chance("as a ratio") {
		c.Times = ptr(draw[float64](d, "times", 0, 0.99))
	} else {
		c.Added = ptr(draw[units.Kilowatts](d, "kW", 0.001, 1e5))
	}
	rows.Add(c)
	first := calendar.Date(2000+i, time.January, 1) + calendar.Day(rapid.IntRange(0, 300).Draw(d.T, "cold from"))
	for range rapid.IntRange(0, 3).Draw(d.T, "cold rows") {
		last := first + calendar.Day(rapid.IntRange(0, 15).Draw(d.T, "cold days"))
		rows.Add(&inventory.DegreeDays{Entry: d.entry(), Group: plant.Group, FirstDay: first, LastDay: last,
			Sum: draw[units.DegreeDays](d, "cold", 0, 80), Under: 18})
		first = last + 1
	}
}

func (d *drawn) rows() inventory.Rows {
	var rows inventory.Rows
	for i := range rapid.IntRange(1, 2).Draw(d.T, "plants") {
		plant := d.plant(i)
		from, to := d.tank(plant, 1), d.tank(plant, 2)
		route := d.supply(&rows, i)
		meter := &inventory.Meter{Entry: d.entry(), Plant: plant.ID, ID: d.id("M", i), Digits: pick(d, "digits", 0, 6, 7), LitresPerCount: draw[float64](d, "count", 0.1, 100),
			Factor: draw[float64](d, "factor", 0.5, 2), Compensated: d.chance("compensated")}
		reading := &inventory.MeterReading{Entry: d.entry(), Plant: plant.ID, Meter: meter.ID, At: d.moment(), Register: draw[float64](d, "register", 0, 999999)}
		swap := &inventory.MeterSwap{Entry: d.entry(), Plant: plant.ID, Meter: meter.ID, At: d.moment(), Opening: drawMaybe[float64](d, "opening", 0, 999999)}
		service := &inventory.Service{Entry: d.entry(), Route: route.ID, Plant: plant.ID}
		proving := &inventory.Proving{Entry: d.entry(), Plant: plant.ID, Meter: meter.ID, At: d.moment(), Factor: draw[float64](d, "proved", 0.5, 2)}
		for _, r := range []inventory.Record{plant, from, to, meter, reading, swap, proving, service, d.gauging(from), d.gauging(to)} {
			rows.Add(r)
		}
		gone := d.gauging(from)
		gone.Void, gone.Replaces = true, gone.Key+" wrong"
		rows.Add(gone)
		d.movements(&rows, plant.ID, from, to, route)
		d.changes(&rows, plant, i)
		d.spending(&rows, plant.ID, i)
	}
	return rows
}

func TestRowsWrittenAsCSVComeBackEqual(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := (&drawn{T: t}).rows()
		got, err := Read(rendered(want).fs(), inventory.Rows{}, now)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, got.Rows); diff != "" {
			t.Fatal(diff)
		}
	})
}
