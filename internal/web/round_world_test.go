package web

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
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

// bayNow is 22:00 on 2 March 2026 at the bay.
var bayNow = time.Date(2026, time.March, 3, 7, 0, 0, 0, time.UTC)

// bay is a plant whose people read US gallons, inches and °F, with one meter and two tanks.
func bay() inventory.Rows {
	e := func(key string) inventory.Entry { return inventory.Entry{Key: key} }
	return inventory.Rows{
		Plants: []*inventory.Plant{{Entry: e("bay"), ID: "bay", Name: "Bay <1>", Zone: "America/Anchorage", Product: "diesel-1-s15",
			Display: inventory.Display{Volume: "us_gal", Depth: "in", Temperature: "f"}}},
		Tanks: []*inventory.Tank{
			{Entry: e("a"), Plant: "bay", ID: "a", Role: inventory.Storage, Product: "diesel-1-s15", Shape: inventory.ShapeVertical,
				Diameter: pointer(units.Millimetres(6000)), Height: pointer(units.Millimetres(5080))},
			{Entry: e("day"), Plant: "bay", ID: "day", Role: inventory.DayTank, Product: "diesel-1-s15", Shape: inventory.ShapeVolume, Capacity: pointer(units.Litres(400))},
		},
		Meters: []*inventory.Meter{{Entry: e("fuel"), Plant: "bay", ID: "fuel", Digits: 6, LitresPerCount: units.LitresPerUSGallon, Compensated: true}},
	}
}

// chain advises the plant anew as the service does.
type chain struct{ *advice.Adviser }

func (c chain) Refresh(ctx context.Context, plant string) error {
	_, err := c.Plant(ctx, plant)
	return err
}

// roundSite is the pages on a ledger of their own, with forty evenings of rounds at 100 gal a day and
// the advice that follows.
type roundSite struct {
	echo *echo.Echo
	desk *intake.Desk
	db   *store.DB
}

func newRoundSite(t *testing.T, asOf *calendar.Day) roundSite {
	t.Helper()
	path := filepath.Join(t.TempDir(), "ledger.db")
	file, err := bayLedger()
	if err == nil {
		err = os.WriteFile(path, file, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	db, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = db.Close() })
	clock, desk := calendar.At(bayNow), advice.NewDesk(db, 1)
	in := &intake.Desk{Ledger: db, Refresh: chain{bayAdviser(db)}, Advice: desk, Clock: clock}
	site := New(Deps{Desk: desk, Intake: in, Ledger: db, Clock: clock, AsOf: asOf})
	s := roundSite{echo.New(), in, db}
	s.echo.HTTPErrorHandler = site.Error
	site.Register(s.echo)
	return s
}

func bayAdviser(db *store.DB) *advice.Adviser {
	return advice.NewAdviser(db, advice.Options{Seed: 1, Paths: 30}, calendar.At(bayNow))
}

// bayLedger makes the file of the ledger with its advice, once for all tests.
var bayLedger = sync.OnceValues(func() ([]byte, error) {
	ctx := context.Background()
	dir, err := os.MkdirTemp("", "rounds")
	if err != nil {
		return nil, err
	}
	defer func() { _ = os.RemoveAll(dir) }()
	path := filepath.Join(dir, "ledger.db")
	db, err := store.Open(ctx, path)
	if err != nil {
		return nil, err
	}
	_, err = db.Record(ctx, bayReadings(), bayNow)
	if err == nil {
		err = bayAdviser(db).Fleet(ctx)
	}
	if closing := db.Close(); err == nil {
		err = closing
	}
	if err != nil {
		return nil, err
	}
	return os.ReadFile(path)
})

// bayReadings is the bay with forty evenings of rounds.
func bayReadings() inventory.Rows {
	rows := bay()
	for ago := 40; ago >= 1; ago-- {
		rows.Readings = append(rows.Readings, &inventory.MeterReading{
			Entry: inventory.Entry{Key: fmt.Sprintf("round/bay/%d/fuel", ago)}, Plant: "bay", Meter: "fuel",
			At: time.Date(2026, time.March, 3-ago, 5, 0, 0, 0, time.UTC), Register: 999_900 - 100*float64(ago) + float64(ago%3),
		})
	}
	at := time.Date(2026, time.March, 2, 5, 0, 0, 0, time.UTC)
	rows.Gaugings = []*inventory.Gauging{
		{Entry: inventory.Entry{Key: "a1"}, Plant: "bay", Tank: "a", At: at, Depth: pointer(units.Millimetres(2540)), Temperature: pointer(units.Celsius(-10))},
		{Entry: inventory.Entry{Key: "d1"}, Plant: "bay", Tank: "day", At: at, Volume: pointer(units.Litres(300)), Temperature: pointer(units.Celsius(5))},
	}
	return rows
}

const bayPath = "/plants/bay/round"

// bayForm is what the browser sends of a round this evening.
func bayForm(more ...string) url.Values {
	v := url.Values{"key": {"form-1"}, "day": {"2026-03-02"}, "clock": {"20:00"}, "who": {"A. Operator"}}
	for i := 0; i < len(more); i += 2 {
		v.Set(more[i], more[i+1])
	}
	return v
}

func (s roundSite) post(v url.Values) *httptest.ResponseRecorder {
	r := httptest.NewRequest(http.MethodPost, bayPath, strings.NewReader(v.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	w := httptest.NewRecorder()
	s.echo.ServeHTTP(w, r)
	return w
}

// page asks for a page, checks how it is set, and gives it.
func (s roundSite) page(t *testing.T, path string) string {
	t.Helper()
	w := get(s.echo, path)
	if w.Code != http.StatusOK {
		t.Fatalf("%s: status %d: %s", path, w.Code, w.Body)
	}
	checkPage(t, w.Body.String())
	return spaced(w.Body.String())
}

// shown checks that a form is shown again with a status, and gives its page.
func shown(t *testing.T, w *httptest.ResponseRecorder, status int) string {
	t.Helper()
	if w.Code != status {
		t.Fatalf("status %d, want %d: %s", w.Code, status, w.Body)
	}
	checkPage(t, w.Body.String())
	return spaced(w.Body.String())
}

// sentOn checks that a round was taken, and gives the page that it leads to.
func (s roundSite) sentOn(t *testing.T, w *httptest.ResponseRecorder) string {
	t.Helper()
	if w.Code != http.StatusSeeOther {
		t.Fatalf("status %d, want %d: %s", w.Code, http.StatusSeeOther, w.Body)
	}
	return s.page(t, w.Header().Get("Location"))
}

// evening gives what was read from this evening on.
func (s roundSite) evening(t *testing.T) inventory.Rows {
	t.Helper()
	rows, err := s.db.RecentRows(t.Context(), "bay", bayNow.Add(-3*time.Hour), bayNow)
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func holds(t *testing.T, page string, wanted ...string) {
	t.Helper()
	for _, w := range wanted {
		if !strings.Contains(page, w) {
			t.Errorf("the page lacks %q: %s", w, mainOf(page))
		}
	}
}

// mainOf gives a page's own text, short of its marks.
func mainOf(page string) string {
	_, page, _ = strings.Cut(page, "<main")
	page, _, _ = strings.Cut(page, "<footer")
	return strings.Join(strings.Fields(regexp.MustCompile("<[^>]*>").ReplaceAllString(page, " ")), " ")
}

func lacks(t *testing.T, page string, unwanted ...string) {
	t.Helper()
	for _, u := range unwanted {
		if strings.Contains(page, u) {
			t.Errorf("the page holds %q: %s", u, mainOf(page))
		}
	}
}

// hidden gives the value of a hidden field.
func hidden(t testing.TB, page, name string) string {
	t.Helper()
	found := regexp.MustCompile(`name="` + regexp.QuoteMeta(name) + `" value="([^"]*)"`).FindStringSubmatch(page)
	if found == nil {
		t.Fatalf("there is no field %s: %s", name, page)
	}
	return found[1]
}
