package advice_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/demo"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

// withPast is a plant with a barge window stated from 1 July to 1 October. In the years given it opened on 5 and 11 May in
// turn; one year it failed.
func withPast(first, last int, failed int) inventory.Rows {
	rows := inventory.Rows{
		Plants:   []*inventory.Plant{{ID: "P", Name: "P", Zone: "UTC", Product: "diesel-2-s15"}},
		Routes:   []*inventory.Route{{ID: "b", Mode: inventory.Barge, LeadDays: 30}},
		Services: []*inventory.Service{{Route: "b", Plant: "P"}},
		Windows: []*inventory.Window{{
			Route: "b", Name: "summer", Opens: inventory.MonthDay{Month: time.July, Day: 1}, OpensSDDays: 3,
			Closes: inventory.MonthDay{Month: time.October, Day: 1}, OpensLagDays: 14,
		}},
	}
	for year := first; year <= last; year++ {
		p := &inventory.PastWindow{Entry: inventory.Entry{Key: calendar.Date(year, 1, 1).String()}, Route: "b", Name: "summer", Year: year, Failed: year == failed}
		if !p.Failed {
			day := calendar.Date(year, time.May, 5) + calendar.Day(6*(year%2))
			p.Opens = &day
		}
		rows.PastWindows = append(rows.PastWindows, p)
	}
	return rows
}

// summer gives the plant's first window with a year's opening.
func summer(t *testing.T, p advice.Plant, year int) advice.Window {
	t.Helper()
	i := slices.IndexFunc(p.Windows, func(w advice.Window) bool {
		y, _, _ := w.Opens.P50.Civil()
		return y == year
	})
	if i < 0 {
		t.Fatalf("no window of %d: %+v", year, p.Windows)
	}
	return p.Windows[i]
}

func told(notes notice.List, code string) []notice.Notice {
	return slices.DeleteFunc(slices.Clone(notes), func(n notice.Notice) bool { return n.Code != code })
}

// By hand: 15 years on 5 May, 15 on 11 May, one left out: the mean is about 8 May, and the barge comes 14 days later.
func TestAWindowWithAPastIsForetoldFromItAndSaysSo(t *testing.T) {
	p := advise(t, newLedger(withPast(1996, 2025, 2001)), adviserOptions()).Plants[0]
	w := summer(t, p, 2027)
	if want := calendar.Date(2027, time.May, 22); w.Opens.P50 != want || w.Opens.P10 != want-4 || w.Opens.P90 != want+4 {
		t.Errorf("opens %v, want %v ± 4", w.Opens, want)
	}
	if w.OpensFrom != resupply.ByPast || w.ClosesFrom != resupply.Stated || w.Closes.P50 != calendar.Date(2027, time.October, 1) {
		t.Errorf("opening from %s, closing from %s: %v", w.OpensFrom, w.ClosesFrom, w.Closes)
	}
	if want := 1.0 / 31; w.LossChance < want-1e-9 || w.LossChance > want+1e-6 { // one of 30; the stated 0 counts as one year
		t.Errorf("lost with %v, want %v", w.LossChance, want)
	}
	if n := told(p.Notices, advice.CodeWindowByPast); len(n) != 1 || n[0].Subject != "window summer of b, opening" ||
		!strings.Contains(n[0].Message, "foretold from 29 past dates, 1996 to 2025, law mean: 2026-05-22, 2026-05-18 to 2026-05-26") {
		t.Errorf("told %v", n)
	}
	if n := told(p.Notices, advice.CodePastDatesFew); len(n) != 1 || n[0].Subject != "window summer of b, closing" {
		t.Errorf("of the closing %v", n)
	}
	if n := told(p.Notices, advice.CodeStatedUnlikePast); len(n) != 1 || !strings.Contains(n[0].Message, "36 days after") { // 1 July, 26 May
		t.Errorf("the stated opening: %v", n)
	}
	if !slices.Contains(p.Assumptions, "opening of window summer of b by past years 1996 to 2025") {
		t.Errorf("assumed %q", p.Assumptions)
	}
}

// The demo's as-of day is in March 2026: what the ledger says of later days was not known then.
func TestOnlyWhatWasKnownOnTheDayCounts(t *testing.T) {
	early := withPast(1996, 2025, 0)
	later := withPast(1996, 2026, 2027)
	a := advise(t, newLedger(early), adviserOptions()).Plants[0]
	b := advise(t, newLedger(later), adviserOptions()).Plants[0]
	if !slices.Equal(a.Windows, b.Windows) {
		t.Errorf("with the opening of May 2026 %+v, without %+v, on %v", b.Windows, a.Windows, demo.AsOf)
	}
	if a.InputsVersion == b.InputsVersion {
		t.Error("another past window is another input")
	}
}

func TestAWindowOfOneYearCountsAsStatedWhateverItsPast(t *testing.T) {
	rows := withPast(1996, 2025, 0)
	rows.Windows = append(rows.Windows, &inventory.Window{
		Entry: inventory.Entry{Key: "2027"}, Route: "b", Name: "summer", Year: 2027,
		Opens: inventory.MonthDay{Month: time.June, Day: 3}, Closes: inventory.MonthDay{Month: time.October, Day: 1},
	})
	p := advise(t, newLedger(rows), adviserOptions()).Plants[0]
	if w := summer(t, p, 2027); w.OpensFrom != resupply.Stated || w.Opens.P50 != calendar.Date(2027, time.June, 3) {
		t.Errorf("2027 from %s: %v", w.OpensFrom, w.Opens)
	}
	if w := summer(t, p, 2026); w.OpensFrom != resupply.ByPast {
		t.Errorf("2026 from %s", w.OpensFrom)
	}
}

func TestAPastThatIsOldOrDoesNotAgreeIsNamed(t *testing.T) {
	p := advise(t, newLedger(withPast(1980, 2005, 0)), adviserOptions()).Plants[0]
	if n := told(p.Notices, advice.CodePastDatesOld); len(n) != 1 || n[0].Severity != notice.Caution || !strings.Contains(n[0].Message, "is of 2005") {
		t.Errorf("an old past: %v", n)
	}
	rows := withPast(1996, 2025, 0)
	*rows.PastWindows[3].Opens += 365
	p = advise(t, newLedger(rows), adviserOptions()).Plants[0]
	if n := told(p.Notices, advice.CodePastDatesWrong); len(n) != 1 || !strings.Contains(n[0].Message, "the season of 1999 opens on 2000-05-1") {
		t.Errorf("a date of another season: %v", n)
	}
	if w := summer(t, p, 2026); w.OpensFrom != resupply.Stated {
		t.Errorf("then the opening is from %s", w.OpensFrom)
	}
}
