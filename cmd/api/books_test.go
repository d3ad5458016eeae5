package main

import (
	"net/http"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// doubtful is what the API says of a plant's rows that look wrong.
func doubtful(s *service, plant string) []string {
	var books struct{ Doubts []struct{ Key string } }
	s.decode("/api/v1/plants/"+plant+"/books", &books)
	var keys []string
	for _, d := range books.Doubts {
		keys = append(keys, d.Key)
	}
	return keys
}

// keepBooks takes a person through the books: a delivery looks wrong, somebody looked once more, and says so.
func keepBooks(s *service, b *tab, name string) {
	t := s.t
	plant := map[string]string{
		"phone": "northgate", "phone-without-script": "meridian-lagoon", "desk": "stillwater-bend", "desk-without-script": "sound-harbor",
	}[name]
	body := `{"who":"A. Clerk","at":"2026-02-20T20:00:00Z","volume_l":9000000,"basis":"15C","document":"BOL 9"}`
	status, answer := send(t, s.report("/api/v1/plants/"+plant+"/deliveries", "books-"+name, strings.NewReader(body)))
	if status != http.StatusCreated {
		t.Fatalf("%d %s", status, answer)
	}
	before := doubtful(s, plant)
	if len(before) != 1 {
		t.Fatalf("%v look wrong at %s", before, plant)
	}
	b.visit("/books")
	b.fits("books-choose-" + name)
	b.follow(`a[href="/plants/` + plant + `/books"]`)
	b.fits("books-" + name)
	if row := b.text(".doubt"); !strings.Contains(row, before[0]) {
		t.Errorf("the page does not name %s: %s", before[0], row)
	}
	b.do(chromedp.Click(chromedp.CSS(".doubt summary")), chromedp.SendKeys(chromedp.CSS("#who-1"), "A. Clerk"),
		chromedp.SendKeys(chromedp.CSS("#why-1"), "Nine barges came."))
	b.fits("books-confirm-" + name)
	b.follow(".doubt button")
	b.fits("books-confirmed-" + name)
	if said := b.text(`[role="status"]`); !strings.Contains(said, "the row counts now") {
		t.Errorf("after the confirmation the page says %q", said)
	}
	if left := doubtful(s, plant); len(left) != 0 {
		t.Errorf("%v still look wrong", left)
	}
	b.visit("/plants/" + plant + "/receipts")
	b.fits("receipts-" + name)
}

func TestTheBooksOfAnEmptyLedgerSayWhatIsMissing(t *testing.T) {
	s := start(t, "--db", filepath.Join(t.TempDir(), "new.db"))
	if status, page := s.get("/books"); status != http.StatusOK || !strings.Contains(page, "There are no plants yet") {
		t.Errorf("%d %s", status, page)
	}
	if status, answer := s.get("/api/v1/plants/nowhere/books"); status != http.StatusNotFound {
		t.Errorf("%d %s", status, answer)
	}
	foreign, err := http.NewRequestWithContext(t.Context(), http.MethodPost, s.url+"/plants/x/books/confirm", strings.NewReader("key=k&of=delivery&row=d&who=A&why=B"))
	if err != nil {
		t.Fatal(err)
	}
	foreign.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	if status, page := send(t, foreign); status != http.StatusForbidden {
		t.Errorf("a confirmation without the page's token: %d %s", status, page)
	}
}
