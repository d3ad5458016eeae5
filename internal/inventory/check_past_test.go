package inventory

import (
	"testing"
	"time"

	"overwinter/internal/calendar"
)

func TestAWrongPastWindowIsToldWhatToDo(t *testing.T) {
	on := func(year int, month time.Month, day int) *calendar.Day { return ptr(calendar.Date(year, month, day)) }
	toldWhatToDo(t, []wrongRow{
		{"route", func(s *sound) { s.past.Route = "rivet" }, `route: there is no supply route "rivet": expected one of river, air, or enter the supply route first`},
		{"window", func(s *sound) { s.past.Name = "summit" }, `window: there is no recurring window "summit" of route river: expected one of summer, or enter the recurring window first`},
		{"window of one year", func(s *sound) { s.window.Year = 2027 }, `window: there is no recurring window "summer" of route river: enter the recurring window first`},
		{"year", func(s *sound) { s.past.Year = 25 }, "year: the year 25 cannot be meant: expected 1900 to 2200"},
		{"nothing", func(s *sound) { s.past.Opens, s.past.Closes = nil, nil }, "opens: blank, and so is closes: expected a date, or yes in failed"},
		{"both", func(s *sound) { s.past.Failed = true }, "failed: the window failed in 2025, yet has a date: expected either"},
		{"order", func(s *sound) { s.past.Closes = on(2025, time.January, 1) }, "closes: 2025-01-01 is before the opening"},
		{"season", func(s *sound) { s.past.Opens = on(2024, time.June, 30) }, "opens: 2024-06-30 is no date of the season of 2025: expected 2024-07-01 to 2026-12-31"},
		{"lag", func(s *sound) { s.window.ClosesLagDays = -200 }, "closes_lag_days: -200 days is out of range: expected -180 to 180 days"},
	})
}

// The season of 2025 of a window that usually opens around New Year may open in December before it or in the spring after.
func TestAPastWindowAroundNewYearIsSound(t *testing.T) {
	for _, opens := range []calendar.Day{calendar.Date(2024, time.December, 20), calendar.Date(2025, time.December, 30), calendar.Date(2026, time.January, 9)} {
		s := soundRows()
		s.past.Opens, s.past.Closes = &opens, ptr(opens+60)
		if got := s.found(); got != nil {
			t.Errorf("%v: %v", opens, got)
		}
	}
}
