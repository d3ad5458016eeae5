package inventory

import (
	"testing"
)

func TestAWrongSupplyRouteOrWindowIsToldWhatToDo(t *testing.T) {
	toldWhatToDo(t, []wrongRow{
		{"mode", func(s *sound) { s.route.Mode = "ship" }, `mode: "ship" is not known: expected one of barge, sealift, winter-road, all-season-road, air, small-boat`},
		{"spread", func(s *sound) { s.route.LeadSDDays = -1 }, "lead_sd_days: -1 days is out of range: expected 0 to 3 660 days"},
		{"lots", func(s *sound) { s.route.LotMin, s.route.LotMax = 5000, 4000 }, "lot_min: 5 000 L is more than lot_max, 4 000 L: expected the smaller lot first"},
		{"load", func(s *sound) { s.fallback.LotMax = 0 }, "lot_max: blank: a fallback route needs it, as the size of one load"},
		{"currency", func(s *sound) { s.route.Currency = "usd" }, `currency: "usd" is no currency code: expected three capital letters such as USD`},
		{"price of nothing", func(s *sound) { s.route.Currency = "" }, "currency: blank: a price needs its currency, such as USD"},
		{"window of a fallback", func(s *sound) { s.window.Route = "air" }, "route: route air is a fallback, open all year: take the window out, or the route's fallback"},
		{"no such day", func(s *sound) { s.window.Closes = MonthDay{9, 31} }, "closes: 09-31 is no day of the year: expected MM-DD such as 06-15"},
		{"chance", func(s *sound) { s.window.FailChance = 5 }, "fail_chance: 5 is out of range: expected 0 to 1"},
		{"year", func(s *sound) { s.window.Year = 26 }, "year: the year 26 cannot be meant: expected 1900 to 2200"},
	})
}
