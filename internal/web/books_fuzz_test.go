package web

import (
	"context"
	"errors"
	"html"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/labstack/echo/v4"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/inventory/bookstest"
)

// opened remembers the book that was opened last.
type opened struct {
	Books
	last *inventory.Stretch
}

func (o *opened) Open(ctx context.Context, q inventory.BooksQuestion) (s *inventory.Stretch, err error) {
	s, err = o.Books.Open(ctx, q)
	o.last = s
	return s, err
}

// knownForm is a moment as browsers send one, and a little wider.
var (
	knownForm  = regexp.MustCompile(`^(\d{4}-\d\d-\d\d)[T ](\d\d:\d\d)$`)
	widerKnown = regexp.MustCompile(`^\s*(\d{4}-\d\d-\d\d)\s*[T ]\s*(\d\d?:\d\d)\s*$`)
)

// FuzzTheBooksPageShowsTheStretchThatIsAskedFor asks for the page in any words. It must show the very stretch that the
// test reads in them, or name a field that is wrong; the page's own form and links must ask for the same again.
func FuzzTheBooksPageShowsTheStretchThatIsAskedFor(f *testing.F) {
	for _, q := range bookstest.Seeds() {
		f.Add(q.Plant[1]-'0', q.Product, q.From, q.To, strings.TrimSuffix(q.KnownAt, ":00Z"))
	}
	for _, known := range []string{"2026-03-30T18:00", "2026-03-30 18:00", "2026-03-30T9:00", "2026-03-31T12:01", "2026-03-30T18:00:30", "0000-01-01T00:00"} {
		f.Add(uint8(1), "", "", "", known)
	}
	f.Add(uint8(3), "", "2026-03-01T06:00:00+02:00", "2026-03-29T08:00:00Z", "2026-03-30T18:00")
	s := newBooksSite(f, bookstest.Rows(), bookstest.Mistaken())
	books := &opened{Books: &inventory.Bookkeeper{Ledger: s.db, Clock: calendar.At(bookstest.Now)}}
	e := serveBooks(s.db, s.db, books).echo
	var failure error
	answer := e.HTTPErrorHandler
	e.HTTPErrorHandler = func(err error, c echo.Context) { failure = err; answer(err, c) }
	f.Fuzz(func(t *testing.T, plant uint8, product, from, to, known string) {
		q := bookstest.Question{Plant: bookstest.Plant(plant), Product: product, From: strings.TrimSpace(from), To: strings.TrimSpace(to)}
		zone, mayRefuse := bookstest.Zone(q.Plant), []string{}
		if known != "" {
			q.KnownAt = "never"
			if part := widerKnown.FindStringSubmatch(known); part != nil {
				if at := bookstest.Wall(part[1], strings.Repeat("0", 5-len(part[2]))+part[2], zone); len(at) == 1 {
					q.KnownAt = at[0].UTC().Format(time.RFC3339)
				}
			}
			if !knownForm.MatchString(known) {
				mayRefuse = append(mayRefuse, "known_at")
			}
		}
		want, wrong := bookstest.Desk{Now: bookstest.Now}.Read(q)
		v := url.Values{"product": {product}, "from": {from}, "to": {to}, "known": {known}}
		books.last, failure = nil, nil
		w := get(e, "/plants/"+q.Plant+"/books?"+v.Encode())
		if readable(product + from + to + known) {
			checkPage(t, w.Body.String())
		}
		if w.Code != http.StatusOK {
			checkPageRefusal(t, w.Code, failure, append(mayRefuse, wrong...))
			return
		}
		if len(wrong) > 0 {
			t.Fatalf("%+v is answered, though %v is wrong", q, wrong)
		}
		checkStretch(t, books.last, want)
		page := w.Body.String()
		for name, day := range map[string]string{"from": bookstest.Day(want.From, zone), "to": bookstest.Day(want.To.Add(-time.Millisecond), zone)} {
			if got := hidden(t, page, name); got != day {
				t.Fatalf("%+v: the form says %q for %s, want %q", q, got, name, day)
			}
		}
		if link := regexp.MustCompile(`href="(/plants/P\d/receipts[^"/]*)">Receipts`).FindStringSubmatch(page); link != nil {
			if w := get(e, html.UnescapeString(link[1])); w.Code != http.StatusOK {
				t.Fatalf("%s: %d", link[1], w.Code)
			}
			checkStretch(t, books.last, want)
		}
	})
}

// readable tells whether a text that a page repeats leaves the page readable for checkPage.
func readable(text string) bool {
	odd := func(r rune) bool { return r < ' ' || r > '~' }
	return !strings.ContainsFunc(text, odd) && !strings.Contains(text, "NaN") && !strings.Contains(text, "%!")
}

func checkPageRefusal(t *testing.T, status int, failure error, wrong []string) {
	t.Helper()
	var told *fault.Error
	switch {
	case !errors.As(failure, &told):
		t.Fatalf("%d without a fault: %v", status, failure)
	case told.Kind == fault.NotFound && slices.Contains(wrong, "plant"):
		return
	case told.Kind != fault.Invalid || len(told.Fields) == 0:
		t.Fatalf("%d: %v", status, failure)
	}
	for _, one := range told.Fields {
		if !slices.Contains(wrong, strings.ReplaceAll(one.Where, " ", "_")) {
			t.Fatalf("refused for %s (%s), and what is wrong is %v", one.Where, one.Message, wrong)
		}
	}
}

func checkStretch(t *testing.T, got *inventory.Stretch, want bookstest.Stretch) {
	t.Helper()
	known := func(a, b *time.Time) bool { return a == nil && b == nil || a != nil && b != nil && a.Equal(*b) }
	if string(got.Product) != want.Product || !got.From.Equal(want.From) || !got.To.Equal(want.To) || !known(got.KnownAt, want.KnownAt) {
		t.Fatalf("%s from %s to %s, known at %v: want %+v", got.Product, got.From, got.To, got.KnownAt, want)
	}
}
