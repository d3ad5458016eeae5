package web

import (
	"context"
	"fmt"
	"html"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
	"overwinter/internal/inventory/bookstest"
	"overwinter/internal/store"
)

// noted is a ledger that notes what is written to it.
type noted struct {
	intake.Ledger
	rows   []inventory.Rows
	number int
}

func (n *noted) RecordReport(ctx context.Context, r inventory.Report, rows inventory.Rows, at time.Time) (inventory.Recorded, error) {
	done, err := n.Ledger.RecordReport(ctx, r, rows, at)
	if err == nil && done.New > 0 {
		n.rows, n.number = append(n.rows, rows), n.number+done.New
	}
	return done, err
}

// spare gives ledgers that hold the same, each in a file of its own.
func spare(f *testing.F, path string) func() *store.DB {
	data, err := os.ReadFile(path)
	if err != nil {
		f.Fatal(err)
	}
	dir, n := f.TempDir(), 0
	var db *store.DB
	f.Cleanup(func() { _ = db.Close() })
	return func() *store.DB {
		if db != nil {
			_ = db.Close()
		}
		n++
		path := filepath.Join(dir, fmt.Sprint(n))
		if err = os.WriteFile(path, data, 0o600); err == nil {
			db, err = store.Open(context.Background(), path)
		}
		if err != nil {
			f.Fatal(err)
		}
		_ = os.Remove(filepath.Join(dir, fmt.Sprint(n-1)))
		return db
	}
}

// booksFile makes a file with the plants of bookstest and the row that looks wrong.
func booksFile(f *testing.F) string {
	path := filepath.Join(f.TempDir(), "books.db")
	db, err := store.Open(f.Context(), path)
	if err == nil {
		_, err = db.Record(f.Context(), bookstest.Rows(), bookstest.Written)
	}
	if err == nil {
		_, err = db.Record(f.Context(), bookstest.Mistaken(), bookstest.Doubted)
	}
	if err == nil {
		err = db.Close()
	}
	if err != nil {
		f.Fatal(err)
	}
	return path
}

// FuzzAConfirmationIsOfTheRowThatIsNamedOrNothingIsWritten sends any text as the form. What the test reads as sound must write one
// confirmation of that row by that name and reason, and no second one when it comes again; all else writes nothing and is told.
func FuzzAConfirmationIsOfTheRowThatIsNamedOrNothingIsWritten(f *testing.F) {
	sound := url.Values{"key": {"form-1"}, "of": {"delivery"}, "row": {"big"}, "who": {" A. <Clerk> "}, "why": {"The note\nsays so."}}
	f.Add(sound.Encode())
	for name, values := range map[string][]string{
		"key": {"", "a/b", strings.Repeat("k", 101)}, "of": {"", "plant", "meter reading", "Delivery"}, "row": {"", "gone", "P1D", "P0D", " big", "\xff"},
		"who": {"", " ", "a\tb", "\xff", strings.Repeat("é", 201)}, "why": {"", "\u00a0", "a\tb", "a\x00b", "\xff", strings.Repeat("é", 2001)},
		"from": {"soon", "2026-03-20", "0000-01-01"}, "to": {"2026-03-05"}, "known": {"2026-03-29T18:00"}, "product": {"jet-a1"},
	} {
		for _, value := range values {
			v := url.Values{}
			for n, is := range sound {
				v[n] = is
			}
			v.Set(name, value)
			f.Add(v.Encode())
		}
	}
	f.Add(sound.Encode() + "&row=P0D")
	f.Add(sound.Encode() + "&who=%zz")
	f.Add(strings.ReplaceAll(sound.Encode(), "&", ";"))
	fresh := spare(f, booksFile(f))
	var kept *noted
	var s booksSite
	renew := func() {
		db := fresh()
		kept = &noted{Ledger: db}
		s = serveBooks(db, kept, &inventory.Bookkeeper{Ledger: db, Clock: calendar.At(bookstest.Now)})
	}
	renew()
	f.Fuzz(func(t *testing.T, body string) {
		form, wrong := readConfirmation(body)
		w := s.sent(body)
		if len(kept.rows) > 0 {
			defer renew()
		}
		if w.Code != http.StatusSeeOther {
			if kept.number != 0 || len(wrong) == 0 {
				t.Fatalf("%q is refused with %d for %v, and %d rows are written: %s", body, w.Code, wrong, kept.number, mainOf(w.Body.String()))
			}
			checkTold(t, w, wrong)
			return
		}
		if len(wrong) > 0 || len(kept.rows) != 1 {
			t.Fatalf("%q is taken and written %d times, though %v is wrong", body, len(kept.rows), wrong)
		}
		want := inventory.Rows{Confirmations: []*inventory.Confirmation{{Plant: "P0", Of: inventory.Kind(form["of"]), Row: form["row"],
			Entry: inventory.Entry{Key: "confirmation/P0/" + form["key"], Who: strings.TrimSpace(form["who"]), Why: strings.TrimSpace(form["why"])}}}}
		if diff := cmp.Diff(want, kept.rows[0]); diff != "" {
			t.Fatalf("%q writes: %s", body, diff)
		}
		if again := s.sent(body); again.Code != w.Code || kept.number != 1 {
			t.Fatalf("%q sent again: %d, %d rows", body, again.Code, kept.number)
		}
	})
}

func (s booksSite) sent(body string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(http.MethodPost, "/plants/P0/books/confirm", strings.NewReader(body))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	w := httptest.NewRecorder()
	s.echo.ServeHTTP(w, r)
	return w
}

var soundKey = regexp.MustCompile(`^[A-Za-z0-9._:-]{1,100}$`)

// readConfirmation reads a form. Wrong lists what is wrong with it.
func readConfirmation(body string) (form map[string]string, wrong []string) {
	form, whole := readForm(body)
	if !whole {
		return form, []string{"form"}
	}
	refuse := func(name string, is bool) {
		if is {
			wrong = append(wrong, name)
		}
	}
	rows := map[string][]string{"meter reading": {"P0M1", "P0M29"}, "delivery": {"P0D", "big"}, "draw": {"P0W"},
		"gauging": {"P0T diesel-2-s151", "P0T diesel-2-s1529", "P0T diesel-1-s151", "P0T diesel-1-s1529"}}
	who, why := strings.TrimSpace(form["who"]), strings.TrimSpace(form["why"])
	note := func(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' }
	refuse("key", !soundKey.MatchString(form["key"]))
	refuse("of", rows[form["of"]] == nil)
	refuse("row", !slices.Contains(rows[form["of"]], form["row"]))
	refuse("who", who == "" || utf8.RuneCountInString(who) > 200 || !utf8.ValidString(who) || strings.ContainsFunc(who, unicode.IsControl))
	refuse("why", why == "" || utf8.RuneCountInString(why) > 2000 || !utf8.ValidString(why) || strings.ContainsFunc(why, note))
	return form, wrong
}

// readForm reads names and values by the rules of application/x-www-form-urlencoded (URL standard, section 5.1). It is not whole where a
// percent sign lacks its digits, a semicolon may part a pair, or a name comes twice.
func readForm(text string) (form map[string]string, whole bool) {
	form, whole = map[string]string{}, true
	for pair := range strings.SplitSeq(text, "&") {
		if pair == "" {
			continue
		}
		name, value, _ := strings.Cut(pair, "=")
		name, okName := decoded(name)
		value, okValue := decoded(value)
		_, twice := form[name]
		form[name] = value
		whole = whole && okName && okValue && !twice && !strings.Contains(pair, ";")
	}
	return form, whole
}

// decoded reads what percent signs and plus signs stand for.
func decoded(text string) (string, bool) {
	var b strings.Builder
	for i := 0; i < len(text); i++ {
		switch {
		case text[i] == '+':
			b.WriteByte(' ')
		case text[i] != '%':
			b.WriteByte(text[i])
		case i+2 >= len(text):
			return "", false
		default:
			value, err := strconv.ParseUint(text[i+1:i+3], 16, 8)
			if err != nil {
				return "", false
			}
			b.WriteByte(byte(value))
			i += 2
		}
	}
	return b.String(), true
}

// checkTold holds that a page names what is wrong: in words, beside its field, or in the list of a page of its own.
func checkTold(t *testing.T, w *httptest.ResponseRecorder, wrong []string) {
	t.Helper()
	page := w.Body.String()
	if w.Code != http.StatusUnprocessableEntity {
		t.Fatalf("status %d: %s", w.Code, mainOf(page))
	}
	for _, name := range append(wrong, "from", "to", "product") {
		shown := html.EscapeString(name)
		if strings.Contains(page, capital(name)+": ") || strings.Contains(page, " id=\""+name+"-wrong-") || strings.Contains(page, "<b>"+shown+"</b>: ") {
			return
		}
	}
	if !slices.Contains(wrong, "form") || !strings.Contains(page, "form could not be read") && !strings.Contains(page, "given more than once") {
		t.Fatalf("%v is wrong, and the page says: %s", wrong, mainOf(page))
	}
}
