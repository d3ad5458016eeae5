package web

import (
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/intake"
)

// FuzzARoundIsWrittenAsTypedOrNotAtAll sends any text as the form of a round. It is written once, whole, with the values that the
// test reads in it, or nothing is and the form comes back.
func FuzzARoundIsWrittenAsTypedOrNotAtAll(f *testing.F) {
	register, depth, warm := "meters/fuel/register", "tanks/a/depth", "tanks/a/temperature"
	for _, more := range [][]string{
		{register, "999900", depth, "98,5"}, {register, "999 910"}, {register, "1.5e3"}, {register, "-1"}, {register, "NaN"}, {register, "999900", "day", "2026-03-08", "clock", "02:30"},
		{depth, "98 1/2", warm, "14"}, {depth, "1,234"}, {depth, "9999"}, {warm, "14"}, {"tanks/day/volume", "70"}, {register, "999900", "who", "\xff"},
		{register, "999900", "key", "a/b"}, {register, "999900", "clock", "8:05"}, {register, "999900", "day", "2027-01-01"}, {register, "999900", "offered", "2026-03-03T05:00:30Z"},
		{"replaces/meters/fuel", "round/bay/1/fuel", "again", "1"}, {register, "999900", "replaces/meters/fuel", "round/bay/1/fuel"}, {depth, "98", "replaces/tanks/a", "a1"},
	} {
		f.Add(bayForm(more...).Encode())
	}
	f.Add(bayForm(register, "999900").Encode() + "&" + bayForm(register, "999901").Encode())
	f.Add(bayForm(register, "999900").Encode() + "&x=%zz")
	file, err := bayLedger()
	path := filepath.Join(f.TempDir(), "bay.db")
	if err == nil {
		err = os.WriteFile(path, file, 0o600)
	}
	if err != nil {
		f.Fatal(err)
	}
	fresh := spare(f, path)
	zone, err := time.LoadLocation("America/Anchorage")
	if err != nil {
		f.Fatal(err)
	}
	var kept *noted
	var e *echo.Echo
	renew := func() {
		db := fresh()
		kept, e = &noted{Ledger: db}, echo.New()
		desk, clock := advice.NewDesk(db, 1), calendar.At(bayNow)
		site := New(Deps{Desk: desk, Intake: &intake.Desk{Ledger: kept, Advice: desk, Clock: clock}, Ledger: db, Clock: clock})
		e.HTTPErrorHandler = site.Error
		site.Register(e)
	}
	renew()
	f.Fuzz(func(t *testing.T, body string) {
		send := func() *httptest.ResponseRecorder {
			r := httptest.NewRequest(http.MethodPost, bayPath, strings.NewReader(body))
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			w := httptest.NewRecorder()
			e.ServeHTTP(w, r)
			return w
		}
		form, whole := readForm(body)
		w := send()
		if len(kept.rows) > 0 {
			defer renew()
		}
		if w.Code != http.StatusSeeOther {
			if kept.number != 0 || w.Code != http.StatusOK && w.Code != http.StatusUnprocessableEntity && w.Code != http.StatusConflict {
				t.Fatalf("%q: %d, %d rows are written: %s", body, w.Code, kept.number, mainOf(w.Body.String()))
			}
			return
		}
		if !whole || len(kept.rows) != 1 {
			t.Fatalf("%q is written %d times", body, len(kept.rows))
		}
		at := strings.TrimSpace(form["day"]) + " " + padded(strings.TrimSpace(form["clock"]))
		rows := kept.rows[0]
		for _, r := range rows.Readings {
			if got := r.At.In(zone).Format("2006-01-02 15:04"); !r.Void && (got != at || !typedAs(form["meters/"+r.Meter+"/register"], r.Register)) {
				t.Fatalf("%q reads %v at %s", body, r.Register, got)
			}
		}
		for _, g := range rows.Gaugings {
			if got := g.At.In(zone).Format("2006-01-02 15:04"); !g.Void && got != at {
				t.Fatalf("%q gauges at %s", body, got)
			}
			if g.Depth != nil && !typedAs(form["tanks/"+g.Tank+"/depth"], float64(*g.Depth)/25.4) ||
				g.Volume != nil && !typedAs(form["tanks/"+g.Tank+"/volume"], float64(*g.Volume)/3.785411784) ||
				g.Temperature != nil && !typedAs(form["tanks/"+g.Tank+"/temperature"], float64(*g.Temperature)*9/5+32) {
				t.Fatalf("%q is gauged as %+v", body, g)
			}
		}
		if again := send(); again.Code != w.Code || len(kept.rows) != 1 {
			t.Fatalf("%q sent again: %d, written %d times", body, again.Code, len(kept.rows))
		}
	})
}

func padded(clock string) string { return strings.Repeat("0", max(0, 5-len(clock))) + clock }

// typedAs tells whether a text is a value in the unit of its field, by its digits alone. Inches may be whole with a fraction.
func typedAs(text string, value float64) bool {
	text = strings.NewReplacer(",", ".", "−", "-", "\u00a0", " ", "\u2009", " ", "\u202f", " ").Replace(strings.TrimSpace(text))
	whole, over, parted := strings.Cut(text, "/")
	want := 0.0
	if parted {
		parts := strings.Fields(whole)
		under, _ := strconv.ParseFloat(over, 64)
		a, _ := strconv.ParseFloat(parts[len(parts)-1], 64)
		want, text = a/under, strings.Join(parts[:len(parts)-1], "")
	}
	if text = strings.Join(strings.Fields(text), ""); text != "" || !parted {
		x, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return false
		}
		want += x
	}
	return math.Abs(want-value) <= 1e-9*math.Max(1, math.Abs(want))
}
