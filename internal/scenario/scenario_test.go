package scenario

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/store"
	"overwinter/internal/store/pgtest"
	"overwinter/internal/units"
)

// engines are those that a ledger may be kept with.
var engines = []struct {
	name string
	url  func(testing.TB) string
}{
	{"SQLite", func(t testing.TB) string { return filepath.Join(t.TempDir(), "ledger.db") }},
	{"PostgreSQL", pgtest.New},
}

func ledger(t testing.TB, url string) *store.DB {
	t.Helper()
	db, err := store.Open(context.Background(), url)
	if err != nil {
		t.Fatal(err)
	}
	return db
}

// Each engine keeps one ledger for all scenarios, as a utility does for all its plants.
func TestTheBooksSayOfEachScenarioWhatItsHandArithmeticSays(t *testing.T) {
	scripts := readAll(t)
	for _, engine := range engines {
		t.Run(engine.name, func(t *testing.T) {
			db := ledger(t, engine.url(t))
			t.Cleanup(func() { _ = db.Close() })
			for name, s := range scripts {
				t.Run(name, func(t *testing.T) {
					for _, amiss := range s.play(t, db) {
						t.Error(amiss)
					}
				})
			}
		})
	}
}

// readAll reads the scripts by their names.
func readAll(t *testing.T) map[string]*script {
	files, err := filepath.Glob("testdata/*.txt")
	if err != nil || files == nil {
		t.Fatalf("no scenarios: %v", err)
	}
	all := map[string]*script{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		s := read(string(text))
		if s.faults != nil {
			t.Errorf("%s cannot be played:\n%s", file, strings.Join(s.faults, "\n"))
			continue
		}
		all[strings.TrimSuffix(filepath.Base(file), ".txt")] = s
	}
	return all
}

// play writes what was entered in the order of entering and asks each question when it is due. It gives the answers
// that are not as expected: at once, from rows that come in another order, and when all has been entered and the
// question is what was known then.
func (s *script) play(t *testing.T, db inventory.Store) (amiss []string) {
	from, versions := time.Time{}, map[*question]int64{}
	for _, q := range s.questions {
		asked := q.asked
		if asked.IsZero() {
			asked = s.last.Add(time.Minute)
		}
		s.write(t, db, from, asked)
		from = asked
		version, err := db.Version(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		versions[q] = version
		amiss = append(amiss, q.hold(s.ask(t, db, q, asRead), "")...)
		amiss = append(amiss, q.hold(s.ask(t, db, q, backwards), " (rows backwards)")...)
	}
	for _, q := range s.questions {
		amiss = append(amiss, q.hold(s.ask(t, db.AsKnown(versions[q]), q, asRead), " (as known then)")...)
	}
	return amiss
}

// hold holds the books against what is expected of them.
func (q *question) hold(b *books, circumstance string) (amiss []string) {
	for _, x := range q.answers {
		if wrong := x.check(b); wrong != "" {
			amiss = append(amiss, fmt.Sprintf("line %d%s: %s", x.number, circumstance, wrong))
		}
	}
	return amiss
}

func asRead(rows inventory.Rows) inventory.Rows { return rows }

// backwards turns the order of the rows round, as if the last had come first.
func backwards(rows inventory.Rows) (turned inventory.Rows) {
	all := slices.Collect(rows.All())
	for _, r := range slices.Backward(all) {
		turned.Add(r)
	}
	return turned
}

// write records what was entered from one moment until before another, after the checks that every row passes.
func (s *script) write(t *testing.T, db inventory.Store, from, before time.Time) {
	var rows inventory.Rows
	again := false
	for _, e := range s.entries {
		switch {
		case e.at.Before(from) || !e.at.Before(before):
		case e.row == nil:
			again = true
		default:
			rows.Add(e.row)
		}
	}
	known, err := db.Directory(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for r := range rows.All() {
		known.Add(r)
	}
	dir := inventory.NewDirectory(known)
	for r := range rows.All() {
		checked := r.(interface {
			Check(dir *inventory.Directory, now time.Time) []fault.Field
		})
		if wrong := checked.Check(dir, before); wrong != nil {
			t.Fatalf("%s %s is refused: %v", r.Kind(), r.Base().Key, wrong)
		}
	}
	if _, err := db.Record(t.Context(), rows, before); err != nil {
		t.Fatal(err)
	}
	if !again {
		return
	}
	if done, err := db.Record(t.Context(), rows, before.Add(time.Hour)); err != nil || done.New != 0 || done.Known != rows.Len() {
		t.Fatalf("sent again: %+v, %v", done, err)
	}
}

// ask opens the plant's book on the rows in an order.
func (s *script) ask(t *testing.T, db inventory.RowReader, q *question, order func(inventory.Rows) inventory.Rows) *books {
	directory, err := db.Directory(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	_, end := q.asOf.Bounds(s.zone)
	rows, err := db.PlantRows(t.Context(), s.plant.ID, end.Add(24*time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	rows = order(rows)
	another := func(p inventory.Product) (*inventory.Book, error) {
		return inventory.NewProductBook(inventory.NewDirectory(directory), s.plant.ID, p, rows, q.asOf)
	}
	book, err := another(s.plant.Product)
	if err != nil {
		t.Fatal(err)
	}
	b := &books{Book: book, another: another}
	b.notices.Add(book.Doubts()...)
	usages, notes := book.Usages()
	b.usages = usages
	b.notices.Add(notes...)
	b.stock, notes = book.StockNow(usages, q.expected())
	b.notices.Add(notes...)
	book.OpenOrders(&b.notices)
	_, notes = book.Balance(time.Time{}, time.Time{})
	b.notices.Add(notes...)
	return b
}

// expected is the burn that the question states for the time in which nothing was read.
func (q *question) expected() inventory.Expectation {
	if q.burn == 0 {
		return nil
	}
	return func(start, end float64) (litres, sd units.LitresAt15) {
		return units.LitresAt15(q.burn * (end - start)), units.LitresAt15(q.spread * (end - start))
	}
}
