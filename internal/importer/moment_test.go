package importer

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"overwinter/internal/calendar"
)

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

func TestAMomentIsReadByThePlantsClocks(t *testing.T) {
	tests := []struct {
		zone, text, want string
		times            int
	}{
		// Offsets from the IANA time zone database.
		{"America/Anchorage", "2026-03-02", "2026-03-02T21:00:00Z", 1},
		{"America/Anchorage", "2026-03-02T08:00", "2026-03-02T17:00:00Z", 1},
		{"America/Anchorage", "2026-07-02 08:00:30", "2026-07-02T16:00:30Z", 1},
		{"America/Anchorage", "2026-03-02T08:00:00-09:00", "2026-03-02T17:00:00Z", 1},
		{"America/Anchorage", "2026-03-02 08:00+05:45", "2026-03-02T02:15:00Z", 1},
		{"America/Anchorage", "2026-03-02T17:00Z", "2026-03-02T17:00:00Z", 1},
		{"America/Anchorage", "2026-11-01T01:30", "2026-11-01T09:30:00Z", 2},
		{"America/Anchorage", "2026-11-01T02:00", "2026-11-01T11:00:00Z", 1},
		{"America/Anchorage", "2026-03-08T03:00", "2026-03-08T11:00:00Z", 1},
		{"Australia/Lord_Howe", "2026-04-05T01:45", "2026-04-04T14:45:00Z", 2}, // by half an hour
		{"Asia/Kathmandu", "2026-03-02T08:00", "2026-03-02T02:15:00Z", 1},
	}
	for _, tt := range tests {
		at, times, err := moment(tt.text, zone(t, tt.zone))
		if err != nil || instant(at) != tt.want || times != tt.times {
			t.Errorf("%s in %s is %s, %d times, %v; want %s, %d times", tt.text, tt.zone, instant(at), times, err, tt.want, tt.times)
		}
	}
}

func TestWhatIsNoMomentIsRefused(t *testing.T) {
	tests := []struct{ zone, text string }{
		{"UTC", "02/03/2026"}, {"UTC", "2026-3-2"}, {"UTC", "2026-03-02T8:00"}, {"UTC", "2026-03-02T24:00"},
		{"UTC", "2026-03-02T08:00:00.5"}, {"UTC", "2026-03-02T08:00:60"}, {"UTC", "2026-03-02T08"},
		{"UTC", "2026-03-02T08:00 AM"}, {"UTC", "2026-03-02T08:00-9"}, {"UTC", "2026-02-30T08:00"}, {"UTC", "now"},
		{"UTC", "2026-03-02T08:00:00,5Z"},
		{"America/Anchorage", "2026-03-08T02:00"}, {"America/Anchorage", "2026-03-08T02:59:59"},
		{"Pacific/Apia", "2011-12-30"}, // the day that Samoa left out
	}
	for _, tt := range tests {
		if at, _, err := moment(tt.text, zone(t, tt.zone)); err == nil {
			t.Errorf("%s in %s is %v", tt.text, tt.zone, at)
		}
	}
}

func TestEveryInstantComesBackFromTheClocksOrAnHourEarlier(t *testing.T) {
	zones := []*time.Location{
		zone(t, "America/Anchorage"), zone(t, "Australia/Lord_Howe"), zone(t, "Pacific/Apia"), zone(t, "Europe/Moscow"), time.UTC,
	}
	rapid.Check(t, func(t *rapid.T) {
		z := rapid.SampledFrom(zones).Draw(t, "zone")
		at := time.Unix(rapid.Int64Range(0, 4e9).Draw(t, "unix"), 0)
		got, times, err := moment(at.In(z).Format("2006-01-02T15:04:05"), z)
		if err != nil || got.After(at) || times == 1 && !got.Equal(at) {
			t.Fatalf("%v comes back as %v, %d times, %v", at.In(z), got, times, err)
		}
		if calendar.DayOf(got, z) != calendar.DayOf(at, z) {
			t.Fatalf("%v comes back on another day, %v", at.In(z), got.In(z))
		}
	})
}

func TestKeysOfOtherFieldsDiffer(t *testing.T) {
	part := rapid.StringMatching(`[ab/%2F]{0,4}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := [2]string{part.Draw(t, "a0"), part.Draw(t, "a1")}, [2]string{part.Draw(t, "b0"), part.Draw(t, "b1")}
		if (key(a[0], a[1]) == key(b[0], b[1])) != (a == b) {
			t.Fatalf("%q and %q give %s and %s", a, b, key(a[0], a[1]), key(b[0], b[1]))
		}
	})
}

func TestNumbersAreDecimal(t *testing.T) {
	for text, want := range map[string]float64{"1205.5": 1205.5, "-3": -3, "+.5": 0.5, "1.5e3": 1500, "007": 7} {
		if got, ok := number(text); !ok || got != want {
			t.Errorf("%s is %v, %v", text, got, ok)
		}
	}
	for _, text := range []string{"", "x", "1_000", "0x10", "1p3", "NaN", "inf", "Infinity", "1e999", "1.2.3", "--1", "1 2", "١"} {
		if got, ok := number(text); ok {
			t.Errorf("%q is read as %v", text, got)
		}
	}
}
