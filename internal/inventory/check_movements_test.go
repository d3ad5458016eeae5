package inventory

import (
	"math"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

func TestAWrongMovementOrOrderIsToldWhatToDo(t *testing.T) {
	toldWhatToDo(t, []wrongRow{
		{"days the wrong way round", func(s *sound) { s.draw.FirstDay = s.draw.LastDay + 1 }, "first_day: 2026-10-01 is after the last day, 2026-09-30: expected the earlier day first"},
		{"future total", func(s *sound) { s.total.LastDay = calendar.Date(2026, 10, 2) }, "last_day: 2026-10-02 is in the future: at the plant it is now 2026-10-01; check the date"},
		{"total not finite", func(s *sound) { s.total.Volume = units.Litres(math.NaN()) }, "volume: not a number is out of range: expected -1 000 000 000 to 1 000 000 000 L"},
		{"basis", func(s *sound) { s.total.Basis = "60F" }, `basis: "60F" is not known: expected one of observed, 15C`},
		{"purpose", func(s *sound) { s.draw.Purpose = "gift" }, `purpose: "gift" is not known: expected one of heat, vehicles, sale, loan`},
		{"no volume", func(s *sound) { s.delivery.Volume = 0 }, "volume: 0 L cannot be moved: expected more than 0 and at most 1 000 000 000 L"},
		{"unknown tank", func(s *sound) { s.delivery.Tank = "T3" }, `tank: there is no tank "T3" at plant NAK: expected one of T1, T2, or enter the tank first`},
		{"unknown plant", func(s *sound) { s.transfer.Plant = "NAC" }, `plant: there is no plant "NAC": expected one of NAK, or enter the plant first`},
		{"there and back", func(s *sound) { s.transfer.To = "T1" }, "to_tank: the fuel leaves tank T1 and goes back into it: expected two tanks"},
		{"ordered tomorrow", func(s *sound) { s.order.OrderedOn = calendar.Date(2026, 10, 2) }, "ordered_on: 2026-10-02 is in the future: at the plant it is now 2026-10-01; check the date"},
		{"early after likely", func(s *sound) { s.order.Early = s.order.Likely + 1 }, "early: 2027-04-29 is after likely, 2027-04-28: expected early, likely and late in order"},
		{"late before likely", func(s *sound) { s.order.Late = s.order.Likely - 1 }, "late: 2027-04-27 is before likely, 2027-04-28: expected early, likely and late in order"},
		{"unknown route", func(s *sound) { s.order.Route = "road" }, `route: there is no supply route "road": expected one of river, air, or enter the supply route first`},
		{"state", func(s *sound) { s.order.State = "lost" }, `state: "lost" is not known: expected one of proposed, cleared, ordered, loaded, in-transit, received, closed, cancelled`},
	})
}
