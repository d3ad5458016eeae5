package web

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
	"overwinter/internal/store"
	"overwinter/internal/units"
)

func march(day, hour int) time.Time { return time.Date(2026, time.March, day, hour, 0, 0, 0, time.UTC) }

// small is a plant dipped on 1 and 29 March: 40 000 L less 7 000 L through the meter and 300 L drawn, and 5 000 L received,
// are 37 700 L in the book; the dips find closing. All at 15 °C.
func small(closing units.Litres, display inventory.Display) inventory.Rows {
	e := func(key string) inventory.Entry { return inventory.Entry{Key: key} }
	warm := pointer(units.Celsius(15))
	gauging := func(key string, day int, v units.Litres) *inventory.Gauging {
		return &inventory.Gauging{Entry: e(key), Plant: "P", Tank: "bulk", At: march(day, 8), Volume: &v, Temperature: warm}
	}
	reading := func(key string, day int, register float64) *inventory.MeterReading {
		return &inventory.MeterReading{Entry: e(key), Plant: "P", Meter: "M", At: march(day, 8), Register: register, Temperature: warm}
	}
	at15 := func(v units.Litres) inventory.Measure { return inventory.Measure{Volume: v, Basis: inventory.Basis15} }
	return inventory.Rows{
		Plants: []*inventory.Plant{{Entry: e("P"), ID: "P", Name: "Small <1>", Zone: "UTC", Product: "diesel-2-s15", Display: display}},
		Tanks: []*inventory.Tank{{Entry: e("bulk"), Plant: "P", ID: "bulk", Role: inventory.Storage, Product: "diesel-2-s15",
			Shape: inventory.ShapeVolume, Capacity: pointer(units.Litres(50_000))}},
		Meters:   []*inventory.Meter{{Entry: e("M"), Plant: "P", ID: "M", Digits: 5, LitresPerCount: 1}},
		Readings: []*inventory.MeterReading{reading("r1", 1, 1000), reading("r2", 29, 8000)},
		Gaugings: []*inventory.Gauging{gauging("g1", 1, 40_000), gauging("g2", 29, closing)},
		Deliveries: []*inventory.Delivery{{Entry: e("d"), Plant: "P", Tank: "bulk", At: march(9, 9), Measure: at15(5000), Document: "B/7",
			ByMeter: inventory.DeliveryFigure{Volume: pointer(units.Litres(4900)), Basis: inventory.Basis15}}},
		Draws: []*inventory.Draw{{Entry: e("w"), Plant: "P", FirstDay: calendar.Date(2026, 3, 5), LastDay: calendar.Date(2026, 3, 6),
			Measure: at15(300), Purpose: inventory.Heat}},
	}
}

// booksSite is the pages on a ledger with the small plant, on 31 March.
type booksSite struct {
	echo *echo.Echo
	db   *store.DB
}

func newBooksSite(t testing.TB, rows ...inventory.Rows) booksSite {
	t.Helper()
	db, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "ledger.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = db.Close() })
	for i, r := range rows {
		if _, err := db.Record(t.Context(), r, march(29+i, 12)); err != nil {
			t.Fatal(err)
		}
	}
	return serveBooks(db, db, &inventory.Bookkeeper{Ledger: db, Clock: calendar.At(march(31, 12))})
}

func serveBooks(db *store.DB, reports intake.Ledger, books Books) booksSite {
	clock := calendar.At(march(31, 12))
	site := New(Deps{Desk: advice.NewDesk(db, 1), Intake: &intake.Desk{Ledger: reports, Clock: clock}, Ledger: db, Books: books, Clock: clock})
	s := booksSite{echo.New(), db}
	s.echo.HTTPErrorHandler = site.Error
	site.Register(s.echo)
	return s
}

// page gives a page's text with its spaces made plain.
func (s booksSite) page(t *testing.T, path string, status int) string {
	t.Helper()
	w := get(s.echo, path)
	if w.Code != status {
		t.Fatalf("%s: status %d, want %d: %s", path, w.Code, status, w.Body)
	}
	checkPage(t, w.Body.String())
	return plainSpaces.Replace(w.Body.String())
}

var plainSpaces = strings.NewReplacer(thin, " ", joint, " ")

func (s booksSite) confirm(v url.Values) *httptest.ResponseRecorder {
	r := httptest.NewRequest(http.MethodPost, "/plants/P/books/confirm", strings.NewReader(v.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	w := httptest.NewRecorder()
	s.echo.ServeHTTP(w, r)
	return w
}

func TestTheBooksPageAddsUpAsByHand(t *testing.T) {
	page := newBooksSite(t, small(37_000, inventory.Display{})).page(t, "/plants/P/books", 200)
	holds(t, page, "<h1>Balances: nothing is missing that the instruments could show</h1>", "the dips find 700 L less than the records say",
		`opening, by the dips</th><td class="n">40 000`, `&#43; received</th><td class="n">5 000`, `− consumed</th><td class="n">7 000`,
		`− drawn for heat, vehicles, sale or loan</th><td class="n">300`, `what the records say</th><td class="n">37 700`,
		`what the dips say</th><td class="n">37 000`, `variance: physical less book</th><td class="n">−700`,
		`Mar 2026</th><td class="n">40 000</td><td class="n">5 000</td><td class="n">7 000</td><td class="n">300</td><td class="n">37 700</td><td class="n">37 000</td><td class="n">−700</td>`,
		// 1 % of 7 300 L + 130 · 3.785411784 L = 565.1 L, against 700 L.
		`<td class="n">565</td><td>beyond</td>`, "no leak test", "no legal record of a spill", "Running sum of the variance", "Small &lt;1&gt;")
}

// 7 700 L or 2 034 US gal are missing of 37 700 L.
func TestMissingFuelIsTheHeadingInThePlantsUnits(t *testing.T) {
	s := newBooksSite(t, small(30_000, inventory.Display{Volume: "us_gal"}))
	page := s.page(t, "/plants/P/books", 200)
	holds(t, page, "<h1>2 034 US gal missing since 1 March, ", "times its uncertainty</h1>", "A spill, or what looks like one, is reported by the local rule at once",
		`<td class="n act">−2 034</td>`, "US gal at 15 °C")
	if strings.Contains(page, "59 °F") {
		t.Error("the temperature of the standard is converted")
	}
}

// mistaken is a delivery of a digit too many: more than the tank holds.
func mistaken() inventory.Rows {
	return inventory.Rows{Deliveries: []*inventory.Delivery{{Entry: inventory.Entry{Key: "big"}, Plant: "P", Tank: "bulk", At: march(12, 9),
		Measure: inventory.Measure{Volume: 500_000, Basis: inventory.Basis15}}}}
}

func TestARowThatLooksWrongIsConfirmedByNameAndReason(t *testing.T) {
	s := newBooksSite(t, small(37_000, inventory.Display{}), mistaken())
	page := s.page(t, "/plants/P/books", 200)
	holds(t, page, "<h1>Balances: no variance can be shown</h1>", "One row looks wrong", "Row big.", "500 000 L at 15 °C", `name="row" value="big"`)
	_, rest, _ := strings.Cut(page, `name="key" value="`)
	key, _, _ := strings.Cut(rest, `"`)
	form := url.Values{"key": {key}, "of": {"delivery"}, "row": {"big"}, "who": {"A. <Clerk>"}, "why": {" "}, "from": {"2026-03-01"}}
	refused := s.confirm(form)
	text := refused.Body.String()
	checkPage(t, text)
	if refused.Code != 422 {
		t.Fatalf("without a reason: %d", refused.Code)
	}
	holds(t, text, "Blank: a change to what was written says who makes it, and why", `value="A. &lt;Clerk&gt;"`, "<details open>", `value="`+key+`"`)
	form.Set("why", "The delivery note says so.")
	for range 2 { // sent twice it is written once
		if done := s.confirm(form); done.Code != 303 || done.Header().Get("Location") != "/plants/P/books?done=confirmed&from=2026-03-01" {
			t.Fatalf("%d to %q", done.Code, done.Header().Get("Location"))
		}
	}
	rows, err := s.db.PlantRows(t.Context(), "P", march(31, 23))
	if err != nil || len(rows.Confirmations) != 1 {
		t.Fatalf("%v, %d confirmations", err, len(rows.Confirmations))
	}
	if c := rows.Confirmations[0]; c.Row != "big" || c.Of != inventory.KindDelivery || c.Who != "A. <Clerk>" || c.Why != "The delivery note says so." {
		t.Errorf("%+v", c)
	}
	holds(t, s.page(t, "/plants/P/books?done=confirmed", 200), "the row counts now", "Nothing in this stretch looks wrong")
}

func TestAConfirmationThatFitsNoRowSaysSo(t *testing.T) {
	s := newBooksSite(t, small(37_000, inventory.Display{}))
	for _, x := range []struct{ of, row, says string }{
		{"delivery", "gone", "Row: there is no delivery &#34;gone&#34; in force"}, {"plant", "P", "Of: "}, {"delivery", "", "Row: blank: expected the key of the row"},
	} {
		w := s.confirm(url.Values{"key": {"k1"}, "of": {x.of}, "row": {x.row}, "who": {"A"}, "why": {"B"}})
		if w.Code != 422 || !strings.Contains(w.Body.String(), x.says) {
			t.Errorf("%+v: %d %s", x, w.Code, w.Body)
		}
	}
}

// The mistaken delivery was written on 30 March; on the 29th nobody knew of it.
func TestWhatWasKnownThenIsShownWithoutForms(t *testing.T) {
	s := newBooksSite(t, small(37_000, inventory.Display{}), mistaken())
	before := s.page(t, "/plants/P/books?known=2026-03-29T18:00", 200)
	holds(t, before, "This is what was known at 29 Mar, 18:00 UTC", "<h1>Balances: nothing is missing")
	later := s.page(t, "/plants/P/books?known=2026-03-30T18:00", 200)
	holds(t, later, "Row big.")
	if strings.Contains(later, "<form method=\"post\"") {
		t.Error("the past can be confirmed")
	}
	holds(t, s.page(t, "/plants/P/books?known=2027-01-01T00:00", 422), "still to come")
	holds(t, s.page(t, "/plants/P/books?from=soon", 422), "neither a day nor a moment")
	s.page(t, "/plants/Q/books", 404)
}

// 4 900 L by the meter are 100 L, or 2 %, less than the 5 000 L agreed on.
func TestEachDeliveryIsASheetOfItsOwn(t *testing.T) {
	nameless := inventory.Rows{Deliveries: []*inventory.Delivery{{Entry: inventory.Entry{Key: "no/paper"}, Plant: "P", Tank: "bulk", At: march(20, 9),
		Measure: inventory.Measure{Volume: 20, Basis: inventory.Basis15}}}}
	s := newBooksSite(t, small(37_000, inventory.Display{}), nameless)
	all := s.page(t, "/plants/P/receipts", 200)
	holds(t, all, "Two deliveries: the figures of one lie farther apart than agreed", "Delivery B/7, 9 March", "Delivery without a document, 20 March")
	one := s.page(t, "/plants/P/receipts/B%2F7", 200)
	holds(t, one, `meter less agreed</th><td class="n act">−100</td>`, "−2 %", "beyond 0.5 %", "Not a custody-transfer record", "received by, date")
	if strings.Contains(one, "without a document") {
		t.Error("another delivery is on the sheet")
	}
	holds(t, s.page(t, "/plants/P/receipts/no%2Fpaper", 200), "without a document")
	s.page(t, "/plants/P/receipts/B8", 404)
	holds(t, s.page(t, "/plants/P/books", 200), `<a href="/plants/P/receipts/B%2F7">B/7</a>`, `<a href="/plants/P/receipts/no%2Fpaper">`)
}

func TestARoundFromTheFormIsEnteredAgainFromTheBooks(t *testing.T) {
	w := bookWords{plant: "P"}
	for key, want := range map[string]string{"round/P/form-ABC/M": "/plants/P/round?again=form-ABC", "round/P/7/M": "", "big": ""} {
		if got := w.again(key); got != want {
			t.Errorf("%s leads to %q, want %q", key, got, want)
		}
	}
}

func TestTheOnlyPlantsBooksAreOpenedAtOnce(t *testing.T) {
	if w := get(newBooksSite(t, small(37_000, inventory.Display{})).echo, "/books"); w.Code != 303 || w.Header().Get("Location") != "/plants/P/books" {
		t.Errorf("%d to %q", w.Code, w.Header().Get("Location"))
	}
	holds(t, newBooksSite(t).page(t, "/books", 200), "There are no plants yet")
}

func TestTheFormShowsTheDaysOfMomentsThatWereAskedFor(t *testing.T) {
	s := newBooksSite(t, small(37_000, inventory.Display{}), mistaken())
	const ends = "from=2026-03-01T06:00:00Z&to=2026-03-29T08:00:00Z"
	page := s.page(t, "/plants/P/books?"+ends, 200)
	holds(t, page, `type="date" name="from" value="2026-03-01"`, `type="date" name="to" value="2026-03-29"`,
		`type="hidden" name="from" value="2026-03-01T06:00:00Z"`, `type="hidden" name="to" value="2026-03-29T08:00:00Z"`)
}

func TestWhatWouldBePassedOverInAnAddressOrAFormIsRefused(t *testing.T) {
	s := newBooksSite(t, small(37_000, inventory.Display{}), mistaken())
	for query, says := range map[string]string{"from=%zz": "could not be read", "from=2026-03-01;to=2026-03-02": "could not be read", "to=2026-03-01&to=2026-03-02": "<b>to</b>: given more than once"} {
		holds(t, s.page(t, "/plants/P/books?"+query, 422), says)
	}
	w := s.confirm(url.Values{"key": {"k"}, "of": {"delivery"}, "row": {"big", "d"}, "who": {"A"}, "why": {"B"}})
	if w.Code != 422 || !strings.Contains(w.Body.String(), "<b>row</b>: given more than once") {
		t.Errorf("%d %s", w.Code, mainOf(w.Body.String()))
	}
	if rows, err := s.db.PlantRows(t.Context(), "P", march(31, 23)); err != nil || len(rows.Confirmations) != 0 {
		t.Errorf("%v, %d confirmations", err, len(rows.Confirmations))
	}
}

func TestARefusedConfirmationComesBackWithTheBooksOfNow(t *testing.T) {
	s := newBooksSite(t, small(37_000, inventory.Display{}), mistaken())
	w := s.confirm(url.Values{"key": {"k"}, "of": {"delivery"}, "row": {"big"}, "who": {"A"}, "why": {""}, "known": {"2026-03-29T18:00"}})
	if w.Code != 422 {
		t.Fatalf("status %d", w.Code)
	}
	holds(t, w.Body.String(), `id="why-wrong-1"`, `value="A"`)
}
