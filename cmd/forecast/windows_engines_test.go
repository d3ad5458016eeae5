package main

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/fault"
	"overwinter/internal/resupply"
)

// advisedOpening advises the plant of the small folder and gives the opening of 2026.
func advisedOpening(t *testing.T, url string) advice.Window {
	t.Helper()
	code, out, said := command("advise", "--db", url, "--as-of", "2026-03-02", "--json")
	if code != fault.ExitDone {
		t.Fatalf("exit %d: %s", code, said)
	}
	var fleet advice.Fleet
	if err := json.Unmarshal([]byte(out), &fleet); err != nil {
		t.Fatal(err)
	}
	for _, w := range fleet.Plants[0].Windows {
		if strings.HasPrefix(w.Opens.P50.String(), "2026") {
			return w
		}
	}
	t.Fatalf("no window of 2026: %+v", fleet.Plants[0].Windows)
	return advice.Window{}
}

// Six springs, all on 12 May but one, which stands as 12 June until it is corrected: then the window opens on 12 May.
func TestPastWindowsGoThroughTheLedgerIntoAdvice(t *testing.T) {
	onEveryEngine(t, func(t *testing.T, url string) {
		load := func(folder, want string) {
			t.Helper()
			if code, out, said := command("load", "--db", url, folder); code != fault.ExitDone || !strings.Contains(out, want) {
				t.Fatalf("exit %d: %s%s", code, out, said)
			}
		}
		folder := smallFolder(t)
		write(t, folder, "routes.csv", "route,mode,lead_days\nriver,barge,30\n")
		write(t, folder, "services.csv", "route,plant\nriver,P1\n")
		write(t, folder, "windows.csv", "route,window,opens,closes,opens_sd_days\nriver,summer,06-20,10-01,4\n")
		load(folder, "rows written")
		if w := advisedOpening(t, url); w.OpensFrom != resupply.Stated || w.Opens.P50.String() != "2026-06-20" {
			t.Errorf("without a past: %+v", w)
		}
		var past strings.Builder
		past.WriteString("route,window,year,opens\n")
		for year := 2020; year < 2026; year++ {
			month := 5
			if year == 2022 {
				month = 6
			}
			fmt.Fprintf(&past, "river,summer,%d,%d-%02d-12\n", year, year, month)
		}
		write(t, folder, "past_windows.csv", past.String())
		load(folder, "6 rows written")
		load(folder, "0 rows written")
		if w := advisedOpening(t, url); w.OpensFrom != resupply.ByPast || w.Opens.P90 < w.Opens.P50+10 {
			t.Errorf("with a wrong year: %+v", w)
		}
		later := t.TempDir()
		write(t, later, "past_windows.csv", "key,replaces,who,why,route,window,year,opens\nfix,river/summer/2022,Office,the wrong month,river,summer,2022,2022-05-12\n")
		load(later, "1 row")
		w := advisedOpening(t, url)
		if got := w.Opens.P10.String() + " " + w.Opens.P50.String() + " " + w.Opens.P90.String(); got != "2026-05-12 2026-05-12 2026-05-12" {
			t.Errorf("corrected: %s", got)
		}
		write(t, later, "past_windows.csv", "key,replaces,who,why,route,window,year,opens\nfix2,river/summer/2022,Office,again,river,summer,2022,2022-05-13\n")
		if code, _, said := command("load", "--db", url, later); code != fault.ExitConflict {
			t.Errorf("a second correction of one row: exit %d: %s", code, said)
		}
	})
}
