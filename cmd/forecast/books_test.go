package main

import (
	"encoding/json"
	"math"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/store"
	"overwinter/internal/units"
)

func march(day, hour int) time.Time { return time.Date(2026, time.March, day, hour, 0, 0, 0, time.UTC) }

// smallLedger holds a plant dipped on 1 and 29 March: 40 000 L less 7 000 L through the meter and 300 L drawn, and 5 000 L
// received, are 37 700 L in the book; the dips find 37 000. All at 15 °C. A second plant has no meter. A mistaken delivery
// of more than the tank holds was written on 30 March and withdrawn on 31 March.
func smallLedger(t *testing.T) string {
	t.Helper()
	e := func(key string) inventory.Entry { return inventory.Entry{Key: key} }
	warm, capacity, byMeter := units.Celsius(15), units.Litres(50_000), units.Litres(4900)
	at15 := func(v units.Litres) inventory.Measure { return inventory.Measure{Volume: v, Basis: inventory.Basis15} }
	rows := inventory.Rows{
		Meters: []*inventory.Meter{{Entry: e("M"), Plant: "P", ID: "M", Digits: 5, LitresPerCount: 1}},
		Readings: []*inventory.MeterReading{{Entry: e("r1"), Plant: "P", Meter: "M", At: march(1, 8), Register: 1000, Temperature: &warm},
			{Entry: e("r2"), Plant: "P", Meter: "M", At: march(29, 8), Register: 8000, Temperature: &warm}},
		Deliveries: []*inventory.Delivery{{Entry: e("d"), Plant: "P", Tank: "bulk", At: march(9, 9), Measure: at15(5000), Document: "B 7",
			ByMeter: inventory.DeliveryFigure{Volume: &byMeter, Basis: inventory.Basis15}}},
		Draws: []*inventory.Draw{{Entry: e("w"), Plant: "P", FirstDay: calendar.Date(2026, 3, 5), LastDay: calendar.Date(2026, 3, 6), Measure: at15(300), Purpose: inventory.Heat}},
	}
	for _, plant := range []string{"P", "Q"} {
		rows.Plants = append(rows.Plants, &inventory.Plant{Entry: e(plant), ID: plant, Name: "Plant " + plant, Zone: "UTC", Product: "diesel-2-s15"})
		rows.Tanks = append(rows.Tanks, &inventory.Tank{Entry: e(plant + "bulk"), Plant: plant, ID: "bulk", Role: inventory.Storage, Product: "diesel-2-s15",
			Shape: inventory.ShapeVolume, Capacity: &capacity})
		for day, v := range map[int]units.Litres{1: 40_000, 29: 37_000} {
			rows.Gaugings = append(rows.Gaugings, &inventory.Gauging{Entry: e(plant + march(day, 8).Format("0102")), Plant: plant, Tank: "bulk", At: march(day, 8), Volume: &v, Temperature: &warm})
		}
	}
	mistaken := inventory.Rows{Deliveries: []*inventory.Delivery{{Entry: e("big"), Plant: "P", Tank: "bulk", At: march(12, 9), Measure: at15(500_000)}}}
	withdrawn := inventory.Rows{Deliveries: []*inventory.Delivery{{Entry: inventory.Entry{Key: "none", Replaces: "big", Void: true}, Plant: "P", Tank: "bulk", At: march(12, 9)}}}
	path := filepath.Join(t.TempDir(), "small.db")
	db, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range []inventory.Rows{rows, mistaken, withdrawn} {
		if _, err := db.Record(t.Context(), r, march(29+i, 12)); err != nil {
			t.Fatal(err)
		}
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

// books runs the command as of 31 March.
func books(t *testing.T, db string, more ...string) string {
	t.Helper()
	code, out, errors := command(append([]string{"books", "--db", db, "--as-of", "2026-03-31"}, more...)...)
	if code != fault.ExitDone || errors != "" {
		t.Fatalf("exit %d: %s", code, errors)
	}
	return out
}

// squeezed makes runs of spaces and line breaks one space.
func squeezed(text string) string { return regexp.MustCompile(`\s+`).ReplaceAllString(text, " ") }

func TestTheBooksAddUpAsByHand(t *testing.T) {
	text := books(t, smallLedger(t), "--usage")
	for _, want := range []string{
		"Plant P (P), diesel-2-s15: balances: nothing is missing that the instruments could show, to 29 Mar 2026.",
		"Nothing looks wrong beside its neighbours", "opening 40000 + received 5000 - consumed, metered 7000 - drawn 300 + repaid 0",
		"= book 37700 physical 37000 variance: physical - book -700", "2026-03 40000 5000 7000 300 37700 37000",
		// 1 % of 7 300 L + 130 · 3.785411784 L = 565.1 L, against 700 L.
		"1 Mar 2026 7300 565 beyond", "no leak test", "no legal record of a spill",
		"B 7, 1 row, agreed 5000 ± 25", "meter less agreed: -100 ± 35, -2.00 % of what was agreed, beyond the tolerance of 0.5 %",
		"1 Mar 2026 08:00 29 Mar 2026 08:00 7000",
		"Plant Q (Q), diesel-2-s15: no variance: without a meter",
	} {
		if !strings.Contains(squeezed(text), want) {
			t.Errorf("the books lack %q:\n%s", want, text)
		}
	}
}

func TestTheBooksForMachinesSayTheSame(t *testing.T) {
	var got struct {
		Books []struct {
			Plant    string
			Balance  map[string]any
			Receipts []struct{ Differences []map[string]any }
			Usages   []map[string]any
		}
	}
	if err := json.Unmarshal([]byte(books(t, smallLedger(t), "--json", "--usage", "--plant", "P", "--tolerance", "0.03")), &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Books) != 1 || len(got.Books[0].Usages) != 1 {
		t.Fatalf("%+v", got)
	}
	b := got.Books[0]
	for name, want := range map[string]float64{"opening_l15": 40_000, "received_l15": 5000, "consumed_l15": 7000, "drawn_l15": 300, "book_l15": 37_700, "physical_l15": 37_000, "variance_l15": -700} {
		if v, ok := b.Balance[name].(float64); !ok || math.Abs(v-want) > 1e-6 {
			t.Errorf("%s is %v, want %v", name, b.Balance[name], want)
		}
	}
	if d := b.Receipts[0].Differences[0]; d["within_tolerance"] != true || math.Abs(d["difference_l15"].(float64)+100) > 1e-6 {
		t.Errorf("%v", d)
	}
}

// The reading of 12 March is misread: the balances, the receipts and the usage intervals all rest on it.
func TestOneFindingIsToldOnceThoughThreeReckoningsMakeIt(t *testing.T) {
	path := smallLedger(t)
	db, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	misread := inventory.Rows{Readings: []*inventory.MeterReading{{Entry: inventory.Entry{Key: "low"}, Plant: "P", Meter: "M", At: march(12, 8), Register: 20}}}
	if _, err := db.Record(t.Context(), misread, march(31, 14)); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Books []struct{ Notices notice.List }
	}
	if err := json.Unmarshal([]byte(books(t, path, "--json", "--usage", "--plant", "P")), &got); err != nil {
		t.Fatal(err)
	}
	if n := got.Books[0].Notices; len(n) != 1 || n[0].Code != "meter-misread" || n[0].Count != 1 {
		t.Errorf("%+v", n)
	}
}

func TestTheBooksOnceKnownNameWhatLookedWrong(t *testing.T) {
	text := squeezed(books(t, smallLedger(t), "--plant", "P", "--known-at", "2026-03-30T18:00:00Z"))
	for _, want := range []string{"as known at 30 Mar 2026 18:00", "Looks wrong: not counted until somebody corrects or confirms it", "12 Mar 2026 09:00 delivery big", "no variance"} {
		if !strings.Contains(text, want) {
			t.Errorf("the books lack %q: %s", want, text)
		}
	}
}

func TestTheBooksOfTheDemoFitAPrintedPage(t *testing.T) {
	code, out, errors := command("books", "--demo", "--usage")
	if code != fault.ExitDone || errors != "" {
		t.Fatalf("exit %d: %s", code, errors)
	}
	for line := range strings.Lines(out) {
		if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > pageWidth {
			t.Errorf("%d characters: %s", n, line)
		}
	}
}

func TestWrongQuestionsAboutTheBooksAreRefused(t *testing.T) {
	db := smallLedger(t)
	for _, x := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"--from", "soon"}, fault.ExitInvalid, "from: \"soon\" is neither a day nor a moment"},
		{[]string{"--known-at", "2026-03-02"}, fault.ExitInvalid, "known_at: \"2026-03-02\" is no moment"},
		{[]string{"--tolerance", "5"}, fault.ExitInvalid, "--tolerance: 5 is out of range"},
		{[]string{"--tolerance", "NaN"}, fault.ExitInvalid, "--tolerance: NaN is out of range"},
		{[]string{"--to", "0000-01-01"}, fault.ExitInvalid, "to: the year 0 cannot be meant"},
		{[]string{"--plant", "Z"}, fault.ExitNotFound, "there is no plant \"Z\""},
		{[]string{"--product", "jet-a1"}, fault.ExitNotFound, "no tank of any plant holds \"jet-a1\""},
		{[]string{"--plant", "P", "--product", "jet-a1"}, fault.ExitInvalid, "no tank of plant P holds \"jet-a1\""},
	} {
		code, out, errors := command(append([]string{"books", "--db", db, "--as-of", "2026-03-31"}, x.args...)...)
		if code != x.code || out != "" || !strings.Contains(errors, x.says) {
			t.Errorf("%v: exit %d: %s%s", x.args, code, out, errors)
		}
	}
}
