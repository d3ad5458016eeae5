package web

import (
	"net/http"
	"testing"
	"time"

	"overwinter/internal/intake"
)

func TestTheMomentThatWasFilledInIsKeptWhileTheClocksAreLeft(t *testing.T) {
	zone := bayZone(t)
	// IANA time zone database, rule US: clocks go back from 02:00 to 01:00 on 1 November 2026, at 10:00 UTC.
	const first, second = "2026-11-01T09:30:00Z", "2026-11-01T10:30:00Z"
	tests := []struct{ name, day, clock, offered, want string }{
		{"with its seconds", "2026-03-02", "10:03", "2026-03-02T19:03:27.25Z", "2026-03-02T19:03:27.25Z"},
		{"blanks around", " 2026-03-02", "10:03 ", "2026-03-02T19:03:27Z", "2026-03-02T19:03:27Z"},
		{"another time", "2026-03-02", "10:04", "2026-03-02T19:03:27Z", "2026-03-02T19:04:00Z"},
		{"another day", "2026-03-01", "10:03", "2026-03-02T19:03:27Z", "2026-03-01T19:03:00Z"},
		{"the first of two hours", "2026-11-01", "01:30", first, first},
		{"the second of two hours", "2026-11-01", "01:30", second, second},
		{"out of the doubled hour", "2026-11-01", "02:30", second, "2026-11-01T11:30:00Z"},
		{"within the doubled hour", "2026-11-01", "01:31", second, ""},
		{"nothing was offered", "2026-11-01", "01:30", "", ""},
		{"something else was sent", "2026-03-02", "10:03", "<b>", "2026-03-02T19:03:00Z"},
	}
	for _, tt := range tests {
		at, problem := momentOf(tt.day, tt.clock, tt.offered, zone)
		if tt.want == "" {
			if problem == "" {
				t.Errorf("%s: read as %v", tt.name, at)
			}
			continue
		}
		if got := at.UTC().Format(time.RFC3339Nano); got != tt.want || problem != "" {
			t.Errorf("%s: %s (%s), want %s", tt.name, got, problem, tt.want)
		}
	}
}

func TestACorrectedRoundKeepsItsMoment(t *testing.T) {
	for name, at := range map[string]time.Time{
		"by the second":            time.Date(2026, time.March, 2, 19, 3, 27, 0, time.UTC),
		"first of the two hours":   time.Date(2025, time.November, 2, 9, 30, 0, 0, time.UTC),
		"second of the two hours":  time.Date(2025, time.November, 2, 10, 30, 0, 0, time.UTC),
		"by the thousandth second": time.Date(2026, time.March, 2, 19, 3, 27, 4e6, time.UTC),
	} {
		t.Run(name, func(t *testing.T) {
			s := newRoundSite(t, nil)
			old := intake.Round{Report: intake.Report{Key: "old", Plant: "bay"}, At: at, Meters: []intake.MeterEntry{{Meter: "fuel", Register: 999_880}}}
			if _, err := s.desk.Round(t.Context(), old); err != nil {
				t.Fatal(err)
			}
			page := s.page(t, bayPath+"?again=old")
			form := bayForm("key", "new", "again", "old", "day", hidden(t, page, "day\" type=\"date"), "clock", hidden(t, page, "clock\" type=\"time"),
				"offered", hidden(t, page, "offered"), "replaces/meters/fuel", hidden(t, page, "replaces/meters/fuel"), "meters/fuel/register", "999881")
			w := s.post(form)
			if w.Code == http.StatusOK { // doubtful: it is of long ago, or fell
				page = shown(t, w, http.StatusOK)
				form.Set("offered", hidden(t, page, "offered"))
				form.Set("confirm", hidden(t, page, "confirm"))
				w = s.post(form)
			}
			s.sentOn(t, w)
			got, err := s.desk.RoundOf(t.Context(), intake.Report{Key: "new", Plant: "bay"})
			if err != nil || !got.At.Equal(at) || got.Meters[0].Register != 999_881 {
				t.Errorf("%+v (%v), want the moment %v", got, err, at)
			}
		})
	}
}

func bayZone(t *testing.T) *time.Location {
	t.Helper()
	zone, err := bay().Plants[0].Location()
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

func TestAMomentToComeIsRefusedInThePagesOwnWords(t *testing.T) {
	s := newRoundSite(t, nil)
	page := shown(t, s.post(bayForm("meters/fuel/register", "999901", "day", "2026-03-03", "clock", "07:15")), http.StatusUnprocessableEntity)
	holds(t, page, "07:15 on 3 March 2026 is in the future: at the plant it is now 22:00 on 2 March 2026. Check the date and the time")
	lacks(t, page, "bare day")
	page = shown(t, s.post(bayForm("meters/fuel/register", "999901", "day", "1830-03-03", "clock", "07:15")), http.StatusUnprocessableEntity)
	holds(t, page, "the year 1830 cannot be meant")
}
