package jobs

import (
	"log/slog"
	"testing"
	"testing/synctest"
	"time"

	"overwinter/internal/calendar"
)

// The zones in which clocks change at an unusual hour or by an unusual step, by the IANA time zone
// database: by half an hour (Lord Howe), by two hours (Troll), at midnight (Santiago, Beirut, Cairo,
// Havana), on the evening before (Nuuk), at 03:00 (Athens), between 02:45 and 03:45 (Chatham), and zones of
// half and quarter hours.
var zones = []string{
	"America/Anchorage", "Australia/Lord_Howe", "Antarctica/Troll", "America/Santiago", "Asia/Beirut", "Africa/Cairo",
	"America/Havana", "America/Nuuk", "America/Scoresbysund", "America/St_Johns", "Atlantic/Azores", "America/Winnipeg",
	"Europe/Athens", "Pacific/Chatham", "Pacific/Apia", "Pacific/Kiritimati", "Asia/Kathmandu", "Africa/Casablanca", "Etc/GMT-12", "UTC",
}

func TestTheDailyTimeComesOnceOnEveryLocalDay(t *testing.T) {
	for _, name := range zones {
		zone, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		at, err := dailyIn(name)
		if err != nil {
			t.Fatal(err)
		}
		day := calendar.Date(2025, time.January, 1)
		now, _ := day.Bounds(zone)
		for ; day < calendar.Date(2029, time.January, 1); day++ {
			now = at.Next(now).In(zone)
			if calendar.DayOf(now, zone) != day || now.Format("15:04:05") != "04:30:00" {
				t.Fatalf("%s: the run of %s is at %s", name, day, now)
			}
		}
	}
}

// The schedule itself, on a clock that a test may move: over the days on which clocks change.
func TestEachZoneHasOneDailyRunALocalDay(t *testing.T) {
	for _, change := range []calendar.Day{
		calendar.Date(2026, time.March, 8), calendar.Date(2026, time.November, 1), // America/Anchorage
		calendar.Date(2026, time.April, 5), calendar.Date(2026, time.October, 4), // Australia/Lord_Howe
	} {
		t.Run(change.String(), func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				first, last := change-2, change+2
				from, _ := first.Bounds(time.UTC)
				time.Sleep(time.Until(from))
				a := new(adviser)
				j, _ := begin(t, a, "America/Anchorage", "Australia/Lord_Howe")
				j.Start()
				time.Sleep(5 * 24 * time.Hour)
				synctest.Wait()
				for _, name := range []string{"America/Anchorage", "Australia/Lord_Howe"} {
					zone, _ := time.LoadLocation(name)
					runs := map[calendar.Day]int{}
					for _, at := range a.fleets {
						if at.In(zone).Format("15:04") == "04:30" {
							runs[calendar.DayOf(at, zone)]++
						}
					}
					for day := first + 1; day <= last; day++ {
						if runs[day] != 1 {
							t.Errorf("%s has %d runs on %s, want 1", name, runs[day], day)
						}
					}
				}
			})
		})
	}
}

func TestANewZoneGetsItsDailyRun(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		a := new(adviser)
		j, log := begin(t, a)
		plants := &ledger{zones: []string{"UTC"}}
		j.ledger = plants
		j.Start()
		time.Sleep(90 * time.Minute) // 01:30 UTC
		plants.mu.Lock()
		plants.zones = append(plants.zones, "Asia/Kathmandu", "Middle/Nowhere")
		plants.mu.Unlock()
		time.Sleep(22 * time.Hour) // 23:30 UTC
		synctest.Wait()
		if len(a.fleets) != 3 { // at the start, 04:30 UTC, 22:45 UTC
			t.Errorf("the fleet was advised at %v", a.fleets)
		}
		if n := count(log.String(), `"zone":"Middle/Nowhere"`); n != 1 {
			t.Errorf("the zone that does not exist was named %d times, want once", n)
		}
	})
}

func TestAnEmptyLedgerIsAdvisedWhenItHasPlants(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		a := new(adviser)
		plants := new(ledger)
		j := New(a, plants, slog.New(slog.DiscardHandler))
		defer func() { _ = j.Stop(t.Context()) }()
		j.Start()
		time.Sleep(90 * time.Minute)
		if fleets, _ := a.asked(); fleets != 0 {
			t.Errorf("no plants were advised %d times", fleets)
		}
		plants.mu.Lock()
		plants.zones = []string{"UTC"}
		plants.mu.Unlock()
		time.Sleep(time.Hour)
		if fleets, _ := a.asked(); fleets != 1 {
			t.Errorf("the first plants were advised %d times, want once within the hour", fleets)
		}
	})
}
