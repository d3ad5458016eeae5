package api_test

import (
	"context"
	"math"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"slices"
	"testing"
	"time"
	"unicode/utf8"

	"overwinter/internal/api"
	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/inventory/bookstest"
	"overwinter/internal/store"
)

// booksWorld serves the plants of bookstest.
func booksWorld(tb testing.TB) *world {
	tb.Helper()
	path := filepath.Join(tb.TempDir(), "books.db")
	db, err := store.Open(tb.Context(), path)
	if err == nil {
		_, err = db.Record(context.Background(), bookstest.Rows(), bookstest.Written)
	}
	if err == nil {
		err = db.Close()
	}
	if err != nil {
		tb.Fatal(err)
	}
	return serve(tb, path, func(d *api.Deps) {
		d.Books = &inventory.Bookkeeper{Ledger: d.Ledger.(*store.DB), Clock: calendar.At(bookstest.Now)}
	})
}

// booksAnswer is what the test reads of an answer.
type booksAnswer struct {
	Product  string
	From, To string
	KnownAt  *string `json:"known_at"`
	Receipts []struct {
		First       string `json:"first_at"`
		Tolerance   float64
		Differences []struct {
			Share  float64 `json:"share_of_agreed"`
			Within bool    `json:"within_tolerance"`
		}
	}
}

// FuzzAQuestionToTheBooksIsAnsweredAsAsked asks the API anything. It must answer for the very stretch, product,
// knowledge and tolerance that the test reads in the question, or refuse it for a parameter that is wrong.
func FuzzAQuestionToTheBooksIsAnsweredAsAsked(f *testing.F) {
	for i, q := range bookstest.Seeds() {
		f.Add(uint8(i), q.Plant[1]-'0', q.Product, q.From, q.To, q.KnownAt, "0.03")
	}
	for _, tolerance := range []string{"0.0001", "0.5", "0.50001", "1e-3", "NaN", "Inf", "-0.01", "0,01", "0x1p-5", "5", " 0.01", ".5"} {
		f.Add(uint8(1), uint8(0), "", "", "", "", tolerance)
	}
	w := booksWorld(f)
	f.Fuzz(func(t *testing.T, operation, plant uint8, product, from, to, known, tolerance string) {
		of := []string{"books", "receipts", "usages"}[operation%3]
		q := bookstest.Question{Plant: bookstest.Plant(plant), Product: product, From: from, To: to, KnownAt: known}
		v := url.Values{}
		for name, text := range map[string]string{"product": product, "from": from, "to": to, "known_at": known, "tolerance": tolerance} {
			if text != "" && (name != "tolerance" || of == "receipts") {
				v.Set(name, text)
			}
		}
		r := httptest.NewRequest("GET", "/api/v1/plants/"+q.Plant+"/"+of+"?"+v.Encode(), nil)
		recorder := httptest.NewRecorder()
		w.echo.ServeHTTP(recorder, r)
		a := answer{recorder.Result(), recorder.Body.Bytes()}
		a.Request = r
		(&client{tb: t}).check(r, "", a)

		want, wrong := bookstest.Desk{Now: bookstest.Now}.Read(q)
		share, may, must := bookstest.Tolerance(v.Get("tolerance"))
		for name, longest := range map[string]int{"product": 64, "from": 40, "to": 40, "known_at": 40} {
			if utf8.RuneCountInString(v.Get(name)) > longest {
				wrong = append(wrong, name)
			}
		}
		if !may {
			wrong = append(wrong, "tolerance")
		}
		if a.StatusCode != 200 {
			if !may || !must {
				wrong = append(wrong, "tolerance")
			}
			checkRefusal(t, a, wrong)
			return
		}
		if len(wrong) > 0 {
			t.Fatalf("%s is answered, though %v is wrong: %s", r.URL, wrong, a.body)
		}
		var got booksAnswer
		a.read(t, &got)
		if got.Product != want.Product || !same(t, got.From, want.From) || !same(t, got.To, want.To) ||
			(got.KnownAt == nil) != (want.KnownAt == nil) || got.KnownAt != nil && !same(t, *got.KnownAt, *want.KnownAt) {
			t.Fatalf("%s is answered for %s, %s to %s, known at %v: want %+v", r.URL, got.Product, got.From, got.To, got.KnownAt, want)
		}
		delivered := time.Date(2026, time.March, 9, 9, 0, 0, 0, time.UTC)
		inside := want.Product == bookstest.Products(q.Plant)[0] && !delivered.Before(want.From) && delivered.Before(want.To)
		if of == "receipts" && inside != (len(got.Receipts) == 1) {
			t.Fatalf("%s: %d deliveries", r.URL, len(got.Receipts))
		}
		for _, receipt := range got.Receipts {
			for _, d := range receipt.Differences {
				if receipt.Tolerance != share || d.Within != (math.Abs(d.Share) <= share) {
					t.Fatalf("%s: %v within %v is %v: want %v", r.URL, d.Share, receipt.Tolerance, d.Within, share)
				}
			}
		}
	})
}

// checkRefusal holds that a question is refused for one of the fields that are wrong with it.
func checkRefusal(t *testing.T, a answer, wrong []string) {
	t.Helper()
	p := a.problem(t)
	if a.StatusCode == 404 && slices.Contains(wrong, "plant") {
		return
	}
	if a.StatusCode != 422 || len(p.Errors) == 0 {
		t.Fatalf("%s: %d %s", a.Request.URL, a.StatusCode, a.body)
	}
	for _, e := range p.Errors {
		if e.In != "query" || e.Parameter == nil || !slices.Contains(wrong, *e.Parameter) {
			t.Fatalf("%s: refused for %+v, and what is wrong is %v", a.Request.URL, e, wrong)
		}
	}
}

func same(t *testing.T, text string, want time.Time) bool {
	t.Helper()
	at, ok := bookstest.Instant(text)
	if !ok {
		t.Fatalf("%q is no instant", text)
	}
	return at.Equal(want)
}
