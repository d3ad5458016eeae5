package inventory

import (
	"math"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

func TestAWrongChangeOfLoadIsToldWhatToDo(t *testing.T) {
	toldWhatToDo(t, []wrongRow{
		{"no plant", func(s *sound) { s.load.Plant = "NAC" }, `plant: there is no plant "NAC"`},
		{"no such year", func(s *sound) { s.load.From = calendar.Date(26, 5, 1) }, "from: the year 26 cannot be meant"},
		{"ends before it begins", func(s *sound) { s.load.Until = ptr(s.load.From) }, "until: 2027-04-18 is not after from, 2027-04-18: expected the first day without the change"},
		{"nothing said", func(s *sound) { s.load.Times = nil }, "times: neither times nor added_kw"},
		{"said twice over", func(s *sound) { s.load.Added = ptr(units.Kilowatts(5)) }, "times: both times and added_kw"},
		{"less than nothing", func(s *sound) { s.load.Times = ptr(-0.1) }, "times: -0.1 is out of range: expected 0 to 20"},
		{"no number", func(s *sound) { s.load.Times = ptr(math.NaN()) }, "times: not a number is out of range"},
		{"changes nothing", func(s *sound) { s.load.Times = ptr(1.0) }, "times: 1 times the use changes nothing"},
		{"no load", func(s *sound) { s.load.Times, s.load.Added = nil, ptr(units.Kilowatts(0)) }, "added_kw: 0 kW changes nothing"},
		{"watts", func(s *sound) { s.load.Times, s.load.Added = nil, ptr(units.Kilowatts(250_000)) }, "added_kw: 250 000 kW is out of range: expected -100 000 to 100 000 kW"},
		{"stands by and runs", func(s *sound) { s.load.Cause = LoadStandby }, "times: 1.1 of a plant that stands by: expected 0"},
		{"stands by and adds load", func(s *sound) { s.load.Cause, s.load.Times, s.load.Added = LoadStandby, nil, ptr(units.Kilowatts(5)) }, "added_kw: a plant that stands by adds no load"},
		{"uncertainty", func(s *sound) { s.load.Uncertainty = ptr(101.0) }, "uncertainty_percent: 101 % is out of range: expected 0 to 100 %"},
		{"cause", func(s *sound) { s.load.Cause = "whim" }, `cause: "whim" is not known: expected one of load-connected, load-lost, wind, sun, water, intertie, standby, engine, other`},
		{"note", func(s *sound) { s.load.Note = "a\x00" }, "note: "},
	})
}

func TestWrongDegreeDaysAreToldWhatToDo(t *testing.T) {
	toldWhatToDo(t, []wrongRow{
		{"no such group", func(s *sound) { s.cold.Group = "bay" }, `group: there is no climate group "bay": state it in a plant's row first, or leave it blank here too`},
		{"another group", func(s *sound) { s.plant.Group, s.cold.Group = "bay", "boy" }, `group: there is no climate group "boy": expected one of bay, or state it in a plant's row first`},
		{"no group", func(s *sound) { s.plant.Group = "bay" }, "group: blank, and no plant is without a group: expected one of bay"},
		{"out of order", func(s *sound) { s.cold.FirstDay = s.cold.LastDay + 1 }, "first_day: 2026-10-01 is after the last day, 2026-09-30"},
		{"still to come", func(s *sound) { s.cold.LastDay += 2 }, "last_day: 2026-10-02 is in the future: at the plant it is now 2026-10-01"},
		{"more than a year", func(s *sound) { s.cold.FirstDay -= 365 }, "last_day: 395 days: expected at most 366"},
		{"kelvin", func(s *sound) { s.cold.Under = 291 }, "base: 291 °C is out of range: expected 0 to 30 °C"},
		{"below nothing", func(s *sound) { s.cold.Sum = -1 }, "degree_days: -1 °C·d is out of range: expected 0 to 2 640 °C·d"}, // 30 days of 18 + 70
		{"no number", func(s *sound) { s.cold.Sum = units.DegreeDays(math.NaN()) }, "degree_days: not a number is out of range"},
	})
}

// On 1 October in Anchorage it is 2 October at a plant beyond the date line: its group's degree days may be of that day, not over.
func TestDegreeDaysMayBeOfTheDayThatIsTheFurthestOnInTheGroup(t *testing.T) {
	s := soundRows()
	west := *s.plant
	west.ID, west.Zone = "KIR", "Pacific/Kiritimati"
	s.cold.LastDay += 2
	if got := s.cold.Check(NewDirectory(Rows{Plants: []*Plant{s.plant, &west}}), checkedAt); got != nil {
		t.Error(got)
	}
}

func TestAChangeOfLoadThatContradictsItsCauseIsNoticed(t *testing.T) {
	for name, tt := range map[string]struct {
		row  LoadChange
		told bool
	}{
		"a load that saves fuel":     {LoadChange{Cause: LoadConnected, Times: ptr(0.9)}, true},
		"a load that takes power":    {LoadChange{Cause: LoadConnected, Added: ptr(units.Kilowatts(40))}, false},
		"wind that takes power":      {LoadChange{Cause: LoadWind, Added: ptr(units.Kilowatts(40))}, true},
		"wind that gives power":      {LoadChange{Cause: LoadWind, Added: ptr(units.Kilowatts(-40))}, false},
		"an engine that burns more":  {LoadChange{Cause: LoadEngine, Times: ptr(1.05)}, true},
		"an intertie to feed":        {LoadChange{Cause: LoadIntertie, Times: ptr(1.5)}, false},
		"an intertie that feeds":     {LoadChange{Cause: LoadIntertie, Times: ptr(0.5)}, false},
		"ten times for a tenth more": {LoadChange{Cause: LoadConnected, Times: ptr(10.0)}, true},
		"standing by":                {LoadChange{Cause: LoadStandby, Times: ptr(0.0)}, false},
	} {
		if got := tt.row.Doubts(nil); (got != nil) != tt.told || tt.told && got[0].Code != CodeLoadChangeOdd {
			t.Errorf("%s: %v", name, got)
		}
	}
}
