package inventory

import (
	"math"
	"testing"

	"overwinter/internal/units"
)

func TestAWrongPlantIsToldWhatToDo(t *testing.T) {
	toldWhatToDo(t, []wrongRow{
		{"zone", func(s *sound) { s.service.Plant, s.plant.Zone = "NAK", "Alaska" }, `zone: "Alaska" is no time zone: expected an IANA name such as America/Anchorage`},
		{"product", func(s *sound) { s.plant.Product = "diesel" }, `product: "diesel" is not known: expected one of diesel-1-s15, diesel-2-s15, diesel-arctic, diesel-en590, jet-a1`},
		{"density", func(s *sound) { s.plant.Density15 = ptr(units.KgPerM3(0.845)) }, "density: 0.845 kg/m³ is out of range: expected 600 to 1 100 kg/m³"},
		{"density without a factor", func(s *sound) { s.plant.Density15 = ptr(units.KgPerM3(605)) }, "density: 605 kg/m³ at 15 °C is outside the range of the volume correction: expected"},
		{"two reserves", func(s *sound) { s.plant.ReserveDays, s.plant.ReserveLitres = ptr(30), ptr(units.LitresAt15(5)) }, "reserve_days: the reserve is given as days and as a volume: keep one of them and leave the others blank"},
		{"negative reserve", func(s *sound) { s.plant.ReserveLitres = ptr(units.LitresAt15(-5)) }, "reserve: -5 L is out of range: expected 0 to 1 000 000 000 L"},
		{"risk", func(s *sound) { s.plant.RiskTarget = ptr(5.0) }, "risk_target: 5 is out of range: expected 0.001 to 0.5"},
		{"risk not a number", func(s *sound) { s.plant.RiskTarget = ptr(math.NaN()) }, "risk_target: not a number is out of range: expected 0.001 to 0.5"},
		{"warm to", func(s *sound) { s.plant.WarmTo = ptr(units.Celsius(-51)) }, "warm_to: -51 °C is out of range: expected -50 to 150 °C"},
		{"display", func(s *sound) { s.plant.Display.Volume = "gal" }, `display_volume: "gal" is not known: expected one of l, us_gal, imp_gal, m3, kl, bbl`},
	})
}
