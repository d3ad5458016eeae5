package inventory

import (
	"math"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// at is a moment of the plant of these tests, whose clocks show UTC.
func at(month time.Month, day, hour int) time.Time {
	return time.Date(2026, month, day, hour, 0, 0, 0, time.UTC)
}

func ptr[T any](v T) *T { return &v }

// bookOf opens a book as of 31 March 2026 for a plant with one 50 000 L storage tank and one 1 000 L
// day tank, both gauged in volume, and one meter of five digits in litres. Everything is read at
// 15 °C, so that litres need no correction unless a test says otherwise.
func bookOf(t *testing.T, rows Rows, tanks ...*Tank) *Book {
	t.Helper()
	if tanks == nil {
		tanks = []*Tank{volumeTank("bulk", Storage, 50_000), volumeTank("day", DayTank, 1000)}
	}
	d := NewDirectory(Rows{
		Plants: []*Plant{{ID: "P", Zone: "UTC", Product: "diesel-2-s15", AssumedTemperature: ptr(units.Celsius(15))}},
		Tanks:  tanks,
		Meters: []*Meter{{Plant: "P", ID: "M", Digits: 5, LitresPerCount: 1}},
	})
	b, err := NewBook(d, "P", rows, calendar.Date(2026, time.March, 31))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func volumeTank(id string, role Role, capacity units.Litres) *Tank {
	return &Tank{Plant: "P", ID: id, Role: role, Product: "diesel-2-s15", Shape: ShapeVolume, Capacity: &capacity}
}

func reading(at time.Time, register float64) *MeterReading {
	return &MeterReading{Plant: "P", Meter: "M", At: at, Register: register, Temperature: ptr(units.Celsius(15))}
}

func gauged(tank string, at time.Time, volume units.Litres) *Gauging {
	return &Gauging{Plant: "P", Tank: tank, At: at, Volume: &volume, Temperature: ptr(units.Celsius(15))}
}

func at15(v units.Litres) Measure { return Measure{Volume: v, Basis: Basis15} }

func codes(notes notice.List) []string {
	var all []string
	for _, n := range notes {
		all = append(all, n.Code)
	}
	return all
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-6*math.Max(1, math.Abs(b)) }

func TestAVolumeWithoutATemperatureIsReckonedAtThePlantsAssumedOne(t *testing.T) {
	b := bookOf(t, Rows{})
	b.Plant.AssumedTemperature = ptr(units.Celsius(0))
	stated, known, err := b.At15(Measure{Volume: 1000, Temperature: ptr(units.Celsius(0))})
	if err != nil || !known {
		t.Fatalf("a stated temperature: known %v, %v", known, err)
	}
	assumed, known, err := b.At15(Measure{Volume: 1000})
	if err != nil || known || assumed != stated {
		t.Errorf("assumed %v known %v, want the stated %v and not known (%v)", assumed, known, stated, err)
	}
	// API MPMS 11.1-2004 for 845 kg/m³ at 0 °C: between 1.01261 (840) and 1.01241 (850), computed.
	if stated < 1012.4 || stated > 1012.7 {
		t.Errorf("1000 L at 0 °C are %v L at 15 °C", stated)
	}
	if v, known, err := b.At15(at15(1000)); v != 1000 || !known || err != nil {
		t.Errorf("a volume at 15 °C became %v, known %v, %v", v, known, err)
	}
}
