package inventory

import (
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

func TestAWrongTankIsToldWhatToDo(t *testing.T) {
	toldWhatToDo(t, []wrongRow{
		{"role", func(s *sound) { s.tank.Role = "main" }, `role: "main" is not known: expected one of storage, intermediate, day`},
		{"missing length", func(s *sound) { s.tank.Length = nil }, "length: a horizontal tank needs it"},
		{"no diameter", func(s *sound) { s.tank.Diameter = ptr(units.Millimetres(0)) }, "diameter: 0 mm is no inside diameter: expected 0.1 to 1000000 mm"},
		{"missing capacity", func(s *sound) { s.other.Capacity = nil }, "capacity: a volume tank needs it"},
		{"one point", func(s *sound) { s.tank.Shape, s.tank.Table = ShapeTable, []tanks.Point{{Depth: 0, Volume: 0}} }, "shape: the tank's capacity table has 1 points: expected at least 2"},
		{"flat table", func(s *sound) {
			s.tank.Shape, s.tank.Table = ShapeTable, []tanks.Point{{Depth: 5}, {Depth: 5, Volume: 9}}
		}, "shape: row 2: 5 mm, 9 L: expected a depth above the 5 mm of the row before"},
		{"safe fill too high", func(s *sound) { s.tank.SafeFillDepth = ptr(units.Millimetres(1300)) }, "safe_fill_depth: 1 300 mm is above the tank's 1 200 mm: check it and the tank's shape"},
		{"safe fill twice", func(s *sound) {
			s.tank.SafeFillDepth, s.tank.SafeFillVolume = ptr(units.Millimetres(1100)), ptr(units.Litres(4000))
		}, "safe_fill_depth: the level is given as a depth and as a volume: leave one of them blank"},
		{"safe fill of nothing", func(s *sound) { s.other.SafeFillVolume = ptr(units.Litres(0)) }, "safe_fill: a safe fill of nothing leaves no tank: expected more than 0"},
		{"suction above safe fill", func(s *sound) { s.other.UnusableVolume = ptr(units.Litres(860)) }, "unusable: 860 L cannot be reached, but safe fill is 855 L: expected the suction level below it"},
		{"depth of a volume tank", func(s *sound) { s.other.SuctionDepth = ptr(units.Millimetres(50)) }, "suction_depth: only the capacity of this tank is known: give a volume instead"},
		{"timer of days", func(s *sound) { s.plant.LowTimerHours = ptr(120.0) }, "low_level_timer_hours: 120 hours is out of range: expected 0.05 to 48 hours"},
		{"fill band of a storage tank", func(s *sound) { s.tank.FillStart = ptr(units.Litres(900)) }, `fill_start: only a day tank has it, and the tank's role is "storage": leave it blank`},
		{"pump that stops above the tank", func(s *sound) { s.other.FillStop = ptr(units.Litres(901)) }, "fill_stop: fill levels: the pump starts at 675 L and stops at 901 L: expected 0 < start < stop ≤ the capacity of 900 L"},
		{"pump that starts above its stop", func(s *sound) {
			s.other.FillStart, s.other.FillStop = ptr(units.Litres(800)), ptr(units.Litres(700))
		}, "fill_start: fill levels: the pump starts at 800 L and stops at 700 L"},
		{"float above the start of the pump", func(s *sound) { s.other.LowLevel = ptr(units.Litres(700)) }, "low_level: the float trips at 700 L: expected 0 L, which the suction cannot reach, to less than the 675 L at which the pump starts"},
		{"float at the bottom", func(s *sound) { s.other.LowLevel = ptr(units.Litres(0)) }, "low_level: a float at the bottom gives no warning"},
		{"suction above the start of the pump", func(s *sound) {
			s.other.UnusableVolume, s.other.LowLevel = ptr(units.Litres(700)), ptr(units.Litres(100))
		}, "unusable: 700 L cannot be reached: expected 0 to less than the 675 L at which the pump starts"},
		{"fill of days", func(s *sound) { s.other.FillMinutes = ptr(3000.0) }, "fill_minutes: 3 000 minutes is out of range: expected 0.1 to 1 440 minutes"},
		{"back before out", func(s *sound) {
			s.tank.OutFrom, s.tank.BackOn = ptr(calendar.Date(2027, 2, 1)), ptr(calendar.Date(2027, 2, 1))
		}, "back_on: 2027-02-01 is not after out_from, 2027-02-01: expected the first day on which the tank is in service again"},
		{"back but never out", func(s *sound) { s.tank.BackOn = ptr(calendar.Date(2027, 2, 1)) }, "back_on: in service again from 2027-02-01, but never out: fill in out_from, or leave back_on blank"},
	})
}
