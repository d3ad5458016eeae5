package inventory

import (
	"math"
	"testing"
	"time"

	"overwinter/internal/units"
)

func TestAWrongMeterOrReadingIsToldWhatToDo(t *testing.T) {
	toldWhatToDo(t, []wrongRow{
		{"digits", func(s *sound) { s.meter.Digits = 13 }, "digits: a register of 13 digits is not known: expected 3 to 12, or blank where it never rolls over"},
		{"factor", func(s *sound) { s.meter.Factor = 9985 }, "factor: 9 985 is out of range: expected 0.5 to 2"},
		{"count", func(s *sound) { s.meter.LitresPerCount = 0 }, "count: 0 L a count is out of range: expected 0.01 to 158 987.295 L a count"},
		{"register beyond its digits", func(s *sound) { s.reading.Register = 1e6 }, "register: 1 000 000 cannot stand on a register of 6 digits: expected 0 or more and less than 1 000 000; check the reading and the meter's digits"},
		{"register below zero", func(s *sound) { s.meter.Digits, s.reading.Register = 0, -1 }, "register: -1 counts is out of range: expected 0 to 1 000 000 000 000 counts"},
		{"closing", func(s *sound) { s.swap.Closing = ptr(math.Inf(1)) }, "closing: not a number cannot stand on a register of 6 digits"},
		{"unknown meter", func(s *sound) { s.swap.Meter = "M2" }, `meter: there is no meter "M2" at plant NAK: expected one of M1, or enter the meter first`},
		{"future reading", func(s *sound) { s.reading.At = checkedAt.Add(time.Minute) }, "at: 2026-10-01 12:01 is in the future: at the plant it is now 2026-10-01 12:00; check the date (a bare day means noon)"},
		{"ancient reading", func(s *sound) { s.reading.At = time.Date(26, 3, 2, 0, 0, 0, 0, time.UTC) }, "at: the year 26 cannot be meant: expected 1900 to 2200"},
	})
}

func TestAWrongGaugingIsToldWhatToDo(t *testing.T) {
	toldWhatToDo(t, []wrongRow{
		{"depth and volume", func(s *sound) { s.gauging.Volume = ptr(units.Litres(5)) }, "depth: both a depth and a volume: give the one that was read and leave the other blank"},
		{"neither", func(s *sound) { s.gauging.Depth = nil }, "depth: neither a depth nor a volume: give the one that was read"},
		{"depth and ullage", func(s *sound) { s.gauging.Ullage = ptr(units.Millimetres(5)) }, "ullage: beside an ullage there is a depth or a volume: give the one that was read and leave the others blank"},
		{"ullage without a reference height", func(s *sound) { s.gauging.Depth, s.gauging.Ullage = nil, ptr(units.Millimetres(5)) },
			"ullage: the height from which it is counted is not known: state the tank's reference height, or give the depth instead"},
		{"ullage beyond the reference height", func(s *sound) {
			s.tank.ReferenceHeight = ptr(units.Millimetres(1500))
			s.gauging.Depth, s.gauging.Water, s.gauging.Ullage = nil, nil, ptr(units.Millimetres(1501))
		}, "ullage: 1501 mm: expected 300 mm, where the tank is full, to 1500 mm, the reference height, where it is empty"},
		{"ullage in a volume tank", func(s *sound) {
			s.gauging.Tank, s.gauging.Depth, s.gauging.Water, s.gauging.Ullage = "T2", nil, nil, ptr(units.Millimetres(5))
		}, "ullage: only the capacity of this tank is known: give a volume, or a capacity table with the tank"},
		{"unknown gauge", func(s *sound) { s.gauging.Gauge = "eye" },
			"gauge: \"eye\" is not known: expected one of stick, tape, float-eighths, sight-glass, automatic-inventory, automatic-custody, drum-count"},
		{"reference height inside the tank", func(s *sound) { s.tank.ReferenceHeight = ptr(units.Millimetres(500)) },
			"reference_height: 500 mm is less than half of the tank's 1 200 mm: expected the height of the gauge hatch above the bottom"},
		{"depth above the tank", func(s *sound) { s.gauging.Depth = ptr(units.Millimetres(1250)) }, "depth: 1 250 mm is above the tank's 1 200 mm: check the dip and the tank's shape"},
		{"depth below nothing", func(s *sound) { s.gauging.Depth, s.gauging.Water = ptr(units.Millimetres(-1)), nil }, "depth: -1 mm is below nothing: expected 0 to 1 200 mm"},
		{"depth in a volume tank", func(s *sound) { s.gauging.Tank = "T2" }, "depth: only the capacity of this tank is known: give a volume, or a capacity table with the tank"},
		{"volume above capacity", func(s *sound) {
			s.gauging.Tank, s.gauging.Depth, s.gauging.Water, s.gauging.Volume = "T2", nil, nil, ptr(units.Litres(901))
		}, "volume: 901 L is above the tank's 900 L: check the gauge and the tank's capacity"},
		{"water above the depth", func(s *sound) { s.gauging.Water = ptr(units.Millimetres(601)) }, "water: 601 mm of water stand above the depth of 600 mm: expected the depth of all liquid, water included"},
		{"water above the volume", func(s *sound) {
			s.gauging.Depth, s.gauging.Volume, s.gauging.Water = nil, ptr(units.Litres(10)), ptr(units.Millimetres(600))
		}, "water: 2261.947 L of water are more than the 10 L of all liquid: was the fuel alone given?"},
		{"temperature", func(s *sound) { s.gauging.Temperature = ptr(units.Celsius(-61)) }, "temperature: -61 °C is out of range: expected -60 to 150 °C"},
		{"precision", func(s *sound) { s.gauging.Precision = -1 }, "precision: -1 mm is out of range: expected 0 to 1 000 mm"},
	})
}
