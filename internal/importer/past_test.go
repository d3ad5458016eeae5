package importer

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

const pastHeader = "route,window,year,opens,closes,failed\n"

func TestAPastWindowThatCannotBeIsNamed(t *testing.T) {
	windows := "route,window,opens,closes,year\nriver,summer,06-10,10-15,\nriver,spring,05-10,06-15,2027\n"
	for _, tt := range []struct {
		name, rows string
		want       []string
	}{
		{"no such window", "river,autumn,2025,2025-06-01,,\n", []string{
			`past_windows.csv:2:window: there is no recurring window "autumn" of route river: expected one of summer, or enter the recurring window first`}},
		{"a window of one year", "river,spring,2025,2025-05-11,,\n", []string{
			`past_windows.csv:2:window: there is no recurring window "spring" of route river: expected one of summer, or enter the recurring window first`}},
		{"nothing known", "river,summer,2025,,,no\n", []string{
			"past_windows.csv:2:opens: blank, and so is closes: expected a date, or yes in failed; leave a year out of which nothing is known"}},
		{"failed and opened", "river,summer,2025,2025-06-01,,yes\n", []string{
			"past_windows.csv:2:failed: the window failed in 2025, yet has a date: expected either"}},
		{"of another season", "river,summer,2025,2024-06-01,,\n", []string{
			"past_windows.csv:2:opens: 2024-06-01 is no date of the season of 2025: expected 2024-07-01 to 2026-12-31; check the year"}},
		{"closes first", "river,summer,2025,2025-06-01,2025-05-01,\n", []string{
			"past_windows.csv:2:closes: 2025-05-01 is before the opening, 2025-06-01: expected the opening first"}},
		{"to come", "river,summer,2026,2026-06-01,2026-10-09,\n", []string{
			"past_windows.csv:2:closes: 2026-10-09 is in the future: nowhere is it later than 2026-10-02; check the date"}},
		{"a year twice", "river,summer,2025,2025-06-01,,\nriver,summer,2025,2025-06-02,,\n", []string{
			"past_windows.csv:3:key: row 2 has the same key, river/summer/2025, and other content: leave one of them out, or give the correction a key of its own and put river/summer/2025 into replaces"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			folder := small().with(texts{"windows.csv": windows, "past_windows.csv": pastHeader + tt.rows})
			if diff := cmp.Diff(tt.want, refusal(t, folder, inventory.Rows{})); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestAFileOfPastWindowsIsReadByItself(t *testing.T) {
	const file = "\ufeffkey,replaces,void,route,window,year,opens,closes,failed\n" +
		"a,,,river,summer,2024,2024-06-01,,\n,,,river,summer,2025,2025-06-03,2025-10-01,\nb,a,,river,summer,2024,2024-06-11,,\n,,,road,ice,2024,,,yes\n"
	got, notes, err := PastWindows("past.csv", strings.NewReader(file), now)
	if err != nil || len(notes) > 0 {
		t.Fatal(err, notes)
	}
	want := []*inventory.PastWindow{
		{Entry: inventory.Entry{Key: "river/summer/2025"}, Route: "river", Name: "summer", Year: 2025,
			Opens: ptr(calendar.Date(2025, time.June, 3)), Closes: ptr(calendar.Date(2025, time.October, 1))},
		{Entry: inventory.Entry{Key: "b", Replaces: "a"}, Route: "river", Name: "summer", Year: 2024, Opens: ptr(calendar.Date(2024, time.June, 11))},
		{Entry: inventory.Entry{Key: "road/ice/2024"}, Route: "road", Name: "ice", Year: 2024, Failed: true},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestAFileOfPastWindowsWithAMistakeNamesItsPlace(t *testing.T) {
	for _, tt := range []struct{ file, want string }{
		{pastHeader + "river,summer,25,2025-06-03,,\n", `past.csv:2:year: "25": expected a whole number from 1900 to 2200`},
		{"route,window,opens\n", "past.csv:1:year: the column is missing: add it to the header"},
		{"", "past.csv: the file is empty: expected a header line"},
		{pastHeader + "river,summer,2025,3 June,,\n", `past.csv:2:opens: "3 June" is no day: expected YYYY-MM-DD such as 2026-03-02`},
	} {
		_, _, err := PastWindows("past.csv", strings.NewReader(tt.file), now)
		var e *fault.Error
		if !errors.As(err, &e) || e.Kind != fault.Invalid || len(e.Fields) == 0 {
			t.Errorf("%q: %v", tt.file, err)
			continue
		}
		if e.Message != "past.csv cannot be used: 1 problem" && e.Message != "past.csv cannot be used: 2 problems" {
			t.Errorf("%q: %s", tt.file, e.Message)
		}
		if got := e.Fields[0].Where + ": " + e.Fields[0].Message; got != tt.want {
			t.Errorf("%q: %s, want %s", tt.file, got, tt.want)
		}
	}
}
