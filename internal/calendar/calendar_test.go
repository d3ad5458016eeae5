package calendar

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func zone(t *testing.T, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

func TestADayIsAsLongAsTheLocalClocksMakeIt(t *testing.T) {
	tests := []struct {
		zone, day string
		hours     float64
	}{
		// IANA time zone database, rules US and none.
		{"America/Anchorage", "2026-03-08", 23},
		{"America/Anchorage", "2026-11-01", 25},
		{"America/Anchorage", "2026-06-01", 24},
		{"Pacific/Tarawa", "2026-03-08", 24},
		// Clocks in Havana go forward at midnight: the day begins at 01:00.
		{"America/Havana", "2026-03-08", 23},
	}
	for _, tt := range tests {
		d, err := ParseDay(tt.day)
		if err != nil {
			t.Fatal(err)
		}
		start, end := d.Bounds(zone(t, tt.zone))
		if got := end.Sub(start).Hours(); got != tt.hours {
			t.Errorf("%s in %s lasts %v h, want %v", tt.day, tt.zone, got, tt.hours)
		}
	}
}

func TestEveryInstantFallsInsideItsOwnDay(t *testing.T) {
	zones := []*time.Location{
		zone(t, "America/Anchorage"), zone(t, "America/Havana"), zone(t, "Pacific/Apia"), zone(t, "Asia/Kathmandu"), time.UTC,
	}
	rapid.Check(t, func(t *rapid.T) {
		z := rapid.SampledFrom(zones).Draw(t, "zone")
		at := time.Unix(rapid.Int64Range(0, 4e9).Draw(t, "unix"), 0)
		start, end := DayOf(at, z).Bounds(z)
		if at.Before(start) || !at.Before(end) {
			t.Fatalf("%v is not in [%v, %v)", at, start, end)
		}
		if f := Fraction(at, z); math.Floor(f) != float64(DayOf(at, z)) {
			t.Fatalf("%v has fraction %v on day %d", at, f, DayOf(at, z))
		}
	})
}

// IANA time zone database, rule Jordan: on 29 October 2021 the clocks of Amman went back from 01:00 to 00:00, from UTC+3 to
// UTC+2. The day began at 21:00 UTC and had 25 hours.
func TestADayBeginsAtTheFirstOfTwoMidnights(t *testing.T) {
	start, end := Date(2021, time.October, 29).Bounds(zone(t, "Asia/Amman"))
	if want := time.Date(2021, time.October, 28, 21, 0, 0, 0, time.UTC); !start.Equal(want) || end.Sub(start) != 25*time.Hour {
		t.Errorf("from %v to %v", start.UTC(), end.UTC())
	}
}

func TestFractionIsHalfAtNoonOnlyWhenTheDayHas24Hours(t *testing.T) {
	z := zone(t, "America/Anchorage")
	tests := []struct {
		at   time.Time
		want float64
	}{
		{time.Date(2026, 6, 1, 12, 0, 0, 0, z), 0.5},
		{time.Date(2026, 3, 8, 12, 0, 0, 0, z), 11.0 / 23},
		{time.Date(2026, 11, 1, 12, 0, 0, 0, z), 13.0 / 25},
	}
	for _, tt := range tests {
		if got := Fraction(tt.at, z) - float64(DayOf(tt.at, z)); math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("%v: %v, want %v", tt.at, got, tt.want)
		}
	}
}

func TestDaysCountAcrossLeapYears(t *testing.T) {
	if got := Date(2028, time.March, 1) - Date(2028, time.February, 28); got != 2 {
		t.Errorf("28 Feb to 1 Mar 2028 is %d days, want 2", got)
	}
	if got := Date(2100, time.March, 1) - Date(2100, time.February, 28); got != 1 {
		t.Errorf("28 Feb to 1 Mar 2100 is %d day, want 1", got)
	}
	if got := Date(2024, time.December, 31).YearDay(); got != 366 {
		t.Errorf("last day of 2024 is day %d, want 366", got)
	}
}

func TestAFiscalYearIsNamedByItsLastMonth(t *testing.T) {
	tests := []struct {
		month  Month
		begins time.Month
		want   int
	}{
		{Month{2026, time.June}, time.July, 2026},
		{Month{2026, time.July}, time.July, 2027},
		{Month{2026, time.December}, time.January, 2026},
		{Month{2027, time.March}, time.April, 2027},
	}
	for _, tt := range tests {
		if got := tt.month.FiscalYear(tt.begins); got != tt.want {
			t.Errorf("%v in a year from %v is %d, want %d", tt.month, tt.begins, got, tt.want)
		}
	}
	if got := (Month{2026, time.December}).Next(); got != (Month{2027, time.January}) {
		t.Errorf("after December comes %v", got)
	}
}

func TestAMonthIsReadAsItIsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := MonthOf(Day(rapid.IntRange(-700_000, 2_900_000).Draw(t, "day")))
		text, _ := m.MarshalText()
		var back Month
		if err := back.UnmarshalText(text); err != nil || back != m {
			t.Fatalf("%s comes back as %v (%v)", text, back, err)
		}
	})
	for _, text := range []string{"", "2026", "2026-13", "2026-3", "2026-03-02", "03/2026"} {
		kept := Month{2026, time.March}
		if err := kept.UnmarshalText([]byte(text)); err == nil || kept != (Month{2026, time.March}) {
			t.Errorf("%q is read as %v (%v)", text, kept, err)
		}
	}
}

func FuzzParseDay(f *testing.F) {
	for _, s := range []string{"2026-03-02", "2024-02-29", "2025-02-29", "02/03/2026", "", "9999-12-31"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := ParseDay(text)
		if err == nil && d.String() != text {
			t.Errorf("%q comes back as %q", text, d)
		}
	})
}
