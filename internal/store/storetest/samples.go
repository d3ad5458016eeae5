package storetest

import (
	"errors"
	"reflect"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

const plant = "kotlik"

// Samples gives rows of every kind: one with nothing stated that may be left out, and one that replaces it
// with every field stated.
func Samples() inventory.Rows { return batch(append(bare(), full()...)...) }

// bare gives a row of every kind with nothing stated that may be left out.
func bare() []inventory.Record {
	e := inventory.Entry{Key: "bare"}
	first, last := calendar.Date(2026, 1, 1), calendar.Date(2026, 1, 31)
	return []inventory.Record{
		&inventory.Plant{Entry: e, ID: plant},
		&inventory.Route{Entry: e, ID: "river"},
		&inventory.Service{Entry: e, Route: "river", Plant: plant},
		&inventory.Window{Entry: e, Route: "river", Name: "summer"},
		&inventory.PastWindow{Entry: e, Route: "river", Name: "summer", Year: 2025},
		&inventory.WindowLimit{Entry: e, Route: "river", Name: "summer"},
		&inventory.SpendingLimit{Entry: e, Plant: plant, Name: "bank", From: first, Until: last},
		&inventory.Tank{Entry: e, Plant: plant, ID: "1"},
		&inventory.Meter{Entry: e, Plant: plant, ID: "m"},
		&inventory.MeterReading{Entry: e, Plant: plant, Meter: "m", At: noon},
		&inventory.MeterSwap{Entry: e, Plant: plant, Meter: "m", At: noon},
		&inventory.Gauging{Entry: e, Plant: plant, Tank: "1", At: noon},
		&inventory.PeriodTotal{Entry: e, Plant: plant, FirstDay: first, LastDay: last},
		&inventory.Delivery{Entry: e, Plant: plant, At: noon},
		&inventory.Transfer{Entry: e, Plant: plant, From: "1", To: "2", At: noon},
		&inventory.Draw{Entry: e, Plant: plant, FirstDay: first, LastDay: last},
		&inventory.Order{Entry: e, Plant: plant, ID: "o"},
		&inventory.Clearance{Entry: e, Plant: plant, Order: "o", Name: "credit"},
		&inventory.Round{Entry: e, Plant: plant, At: noon},
		&inventory.Proving{Entry: e, Plant: plant, Meter: "m", At: noon},
		&inventory.CountCorrection{Entry: e, Plant: plant, Day: last},
		&inventory.ProductChange{Entry: e, Plant: plant, Tank: "1", At: noon},
		&inventory.Confirmation{Entry: e, Plant: plant},
		&inventory.LoadChange{Entry: e, Plant: plant, From: first},
		&inventory.DegreeDays{Entry: e, FirstDay: first, LastDay: last},
	}
}

// full gives a row of every kind with every field stated; each replaces the bare one of its kind.
func full() []inventory.Record {
	e := inventory.Entry{Key: "full", Replaces: "bare", Who: "A. Operator", Why: "the gauge was misread: 1,5 m — not 15 m"}
	m := inventory.Measure{Volume: 12345.678901234567, Temperature: p(units.Celsius(-17.25)), Basis: inventory.BasisObserved}
	first, last := calendar.Date(2026, 2, 1), calendar.Date(2028, 2, 29)
	return []inventory.Record{
		&inventory.Plant{Entry: e, ID: plant, Name: "Køtlik 北", Group: "delta", Zone: "America/Anchorage", Product: "diesel-1-s15",
			Density15: p(units.KgPerM3(812.3)), ReserveLitres: p(units.LitresAt15(40000.5)), ReserveDays: p(45), ReserveMonths: p(1.5), ReservePercent: p(12.5),
			FallbackAtDays: p(7), Carrying: p(0.085), RiskTarget: p(0.01),
			AssumedTemperature: p(units.Celsius(-3)), WarmTo: p(units.Celsius(20)),
			Display: inventory.Display{Volume: "us_gal", Depth: "in", Temperature: "f"}, FiscalYearBegins: time.July, LowTimerHours: p(1.5)},
		&inventory.Route{Entry: e, ID: "river", Mode: inventory.Barge, Supplier: "S", Fallback: true, LeadDays: 30.5, LeadSDDays: 4.25,
			SlipDays: 6, SlipSDDays: 3, LotMin: 1000, LotMax: 90000, LotStep: 500, PricePerLitre: 1.0999, Currency: "USD",
			Load: 250.5, StopCost: 1234.5, FreightPerLitre: 0.035, PriceGrowth: -0.025, PriceSD: 0.3, Deliveries: 3, DaysBetween: 12,
			PayFrom: inventory.PayFromOrder, PayDays: 30},
		&inventory.Service{Entry: e, Route: "river", Plant: plant},
		&inventory.Window{Entry: e, Route: "river", Name: "summer", Year: 2027, Opens: inventory.MonthDay{Month: time.June, Day: 1}, OpensSDDays: 7,
			Closes: inventory.MonthDay{Month: time.October, Day: 12}, ClosesSDDays: 5.5, FailChance: 0.02,
			OrderBy:      &inventory.MonthDay{Month: time.February, Day: 29},
			CutOff:       &inventory.MonthDay{Month: time.October, Day: 1},
			OpensLagDays: 14, OpensLagSDDays: 4.5, ClosesLagDays: -10, ClosesLagSDDays: 3},
		&inventory.PastWindow{Entry: e, Route: "river", Name: "summer", Year: 2025, Opens: &first, Closes: &last, Failed: true},
		&inventory.WindowLimit{Entry: e, Route: "river", Name: "summer", From: inventory.MonthDay{Month: time.August, Day: 20},
			Until: inventory.MonthDay{Month: time.February, Day: 29}, LotMax: 30000.5, Cause: inventory.LimitDraft, Note: "two lines\nof a note"},
		&inventory.SpendingLimit{Entry: e, Plant: plant, Name: "bank", Of: inventory.SpendingLoan, From: first, Until: last,
			Amount: p(250000.75), Currency: "USD", Volume: p(units.LitresAt15(200000.5))},
		&inventory.Tank{Entry: e, Plant: plant, ID: "1", Role: inventory.Storage, Product: "diesel-1-s15", Shape: inventory.ShapeTable,
			Diameter: p(units.Millimetres(3000)), Length: p(units.Millimetres(9000)), Width: p(units.Millimetres(2000)), Height: p(units.Millimetres(2500)),
			Capacity: p(units.Litres(60000)), Table: []tanks.Point{{Depth: 0, Volume: 0}, {Depth: 0.1, Volume: 1e-9}, {Depth: 2500, Volume: 60000}},
			SafeFillDepth: p(units.Millimetres(2300)), SafeFillVolume: p(units.Litres(55000)),
			SuctionDepth: p(units.Millimetres(100)), UnusableVolume: p(units.Litres(900)),
			FillStart: p(units.Litres(300)), FillStop: p(units.Litres(390)), LowLevel: p(units.Litres(95.5)), FillMinutes: p(12.5), ReferenceHeight: p(units.Millimetres(3100)), OwnShare: p(0.6), OutFrom: &first, BackOn: &last},
		&inventory.Meter{Entry: e, Plant: plant, ID: "m", Digits: 7, LitresPerCount: units.LitresPerUSGallon, Factor: 1.0021, Compensated: true},
		&inventory.MeterReading{Entry: e, Plant: plant, Meter: "m", At: noon, Register: 1234567.1, Temperature: p(units.Celsius(-8))},
		&inventory.MeterSwap{Entry: e, Plant: plant, Meter: "m", At: noon, Closing: p(999999.9), Opening: p(0.5)},
		&inventory.Gauging{Entry: e, Plant: plant, Tank: "1", At: noon, Depth: p(units.Millimetres(1234.5)), Water: p(units.Millimetres(12)),
			Volume: p(units.Litres(3210)), Temperature: p(units.Celsius(-40)), Precision: 3, Moving: true,
			Gauge: tanks.Tape, Ullage: p(units.Millimetres(765.5))},
		&inventory.PeriodTotal{Entry: e, Measure: m, Plant: plant, FirstDay: first, LastDay: last, Energy: p(98765.4)},
		&inventory.Delivery{Entry: e, Measure: m, Plant: plant, Tank: "1", At: noon, Order: "o", Document: "BL 17", Product: "diesel-1-s15",
			ByDocument: inventory.DeliveryFigure{Volume: p(units.Litres(12000)), Temperature: p(units.Celsius(15.5)), Basis: inventory.BasisObserved},
			ByMeter:    inventory.DeliveryFigure{Volume: p(units.Litres(11990.5)), Temperature: p(units.Celsius(-2)), Basis: inventory.Basis15},
			Refused:    p(units.Litres(200)), PricePerLitre: p(1.234), Freight: p(5600.5), Currency: "CAD"},
		&inventory.Transfer{Entry: e, Measure: m, Plant: plant, From: "2", To: "1", At: noon, Open: true, PlannedStop: p(noon.Add(time.Hour))},
		&inventory.Draw{Entry: e, Measure: m, Plant: plant, FirstDay: first, LastDay: last, Purpose: inventory.Heat, With: "the school"},
		&inventory.Order{Entry: e, Measure: m, Plant: plant, ID: "o", Route: "river", State: inventory.InTransit,
			OrderedOn: first, Early: first + 1, Likely: first + 2, Late: last, StateAt: p(noon.Add(250 * time.Millisecond)), OrderBy: p(first - 9)},
		&inventory.Clearance{Entry: e, Plant: plant, Order: "o", Name: "credit", LastSafeOn: &first, TakesDays: p(21), ClearedOn: &last,
			By: "the bank", Note: "two lines\nof a note"},
		&inventory.Round{Entry: e, Plant: plant, At: noon, Bowl: inventory.BowlIce, Alarms: []inventory.Alarm{inventory.AlarmLow, inventory.AlarmFillTime},
			PumpRunning: p(true), RunningHours: p(12345.6), EnergyRegister: p(7654321.5), Note: "two lines\nof a note"},
		&inventory.Proving{Entry: e, Plant: plant, Meter: "m", At: noon, Factor: 1.0031},
		&inventory.CountCorrection{Entry: e, Measure: m, Plant: plant, Product: "diesel-1-s15", Day: last},
		&inventory.ProductChange{Entry: e, Plant: plant, Tank: "1", At: noon, Product: "jet-a1"},
		&inventory.Confirmation{Entry: e, Plant: plant, Of: inventory.KindReading, Row: "reading 7"},
		&inventory.LoadChange{Entry: e, Plant: plant, From: first, Until: &last, Times: p(1.1), Added: p(units.Kilowatts(-12.5)),
			Uncertainty: p(15.5), Cause: inventory.LoadWind, Note: "two lines\nof a note"},
		&inventory.DegreeDays{Entry: e, Group: "delta", FirstDay: first, LastDay: last, Sum: 812.345678901234567, Under: 18.333333333333},
	}
}

// samplesLeaveNoFieldOut fails when a record gains a field that the samples, and so perhaps the
// tables, do not know yet.
func samplesLeaveNoFieldOut(t *testing.T, _ Store) {
	for _, r := range full() {
		v := reflect.ValueOf(r).Elem()
		for i := range v.NumField() {
			name := v.Type().Field(i).Name
			if name != "Entry" && v.Field(i).IsZero() {
				t.Errorf("the full sample of a %s does not state %s", r.Kind(), name)
			}
		}
	}
}

func p[T any](v T) *T { return &v }

// reading is a meter reading of the sample plant.
func reading(key string, at time.Time, register float64) *inventory.MeterReading {
	return &inventory.MeterReading{Entry: inventory.Entry{Key: key}, Plant: plant, Meter: "m", At: at, Register: register}
}

// correction is a meter reading that replaces another.
func correction(key, replaces string, register float64) *inventory.MeterReading {
	r := reading(key, noon, register)
	r.Replaces = replaces
	return r
}

func asFault(t *testing.T, err error) *fault.Error {
	t.Helper()
	var e *fault.Error
	if !errors.As(err, &e) {
		t.Fatalf("%v is no fault", err)
	}
	return e
}
