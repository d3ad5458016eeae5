package api_test

import (
	"context"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/api"
	"overwinter/internal/calendar"
	"overwinter/internal/demo"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
	"overwinter/internal/store"
)

// seed and paths of the tests' advice: few futures are enough, since no figure is judged here.
const (
	seed  = 1
	paths = 100
)

// advised holds a ledger file with the demo and its advice, made once and copied for each test that writes.
var advised = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "overwinter-api-")
	if err != nil {
		return "", err
	}
	atExit = append(atExit, func() { _ = os.RemoveAll(dir) })
	db, err := store.Open(context.Background(), filepath.Join(dir, "demo.db"))
	if err != nil {
		return dir, err
	}
	if _, err := db.Record(context.Background(), someOfTheDemo(demo.Now.AddDate(-1, 0, 0)), demo.Now); err != nil {
		return dir, err
	}
	if err := adviser(db).Fleet(context.Background()); err != nil {
		return dir, err
	}
	return dir, db.Close()
})

// someOfTheDemo gives a few of its plants, of each status and from both sides of the date line, and what was
// read there from a moment on.
func someOfTheDemo(from time.Time) inventory.Rows {
	plants := []string{"", "cape-orrin", "heron-point", "marten-spit", "meridian-lagoon", "northgate", "plover-bight"}
	all := demo.Generate(demo.DefaultSeed).Rows
	var rows inventory.Rows
	for r := range all.All() {
		old := false
		switch r := r.(type) {
		case *inventory.MeterReading:
			old = r.At.Before(from)
		case *inventory.Gauging:
			old = r.At.Before(from)
		}
		if !old && slices.Contains(plants, r.PlantID()) {
			rows.Add(r)
		}
	}
	return rows
}

func TestMain(m *testing.M) {
	code := m.Run()
	if code == 0 && whole() {
		code = declared()
	}
	for _, end := range atExit {
		end()
	}
	os.Exit(code)
}

// whole tells whether all tests were run.
func whole() bool {
	for _, some := range []string{"test.run", "test.skip", "test.fuzz"} {
		if flag.Lookup(some).Value.String() != "" {
			return false
		}
	}
	return true
}

// declared fails the whole run where the document declares an answer that no test met.
func declared() int {
	missing, err := unmet()
	if err != nil {
		fmt.Println(err)
		return 1
	}
	for _, m := range missing {
		fmt.Println("FAIL: declared and never answered in any test:", m)
	}
	return min(len(missing), 1)
}

func adviser(db *store.DB) *advice.Adviser {
	asOf := demo.AsOf
	return advice.NewAdviser(db, advice.Options{
		AsOf: &asOf, Seed: seed, Paths: paths, Price: advice.Price{PerLitre: 1.62, Currency: "CAD"},
	}, calendar.At(demo.Now))
}

// refresher advises a plant anew at once.
type refresher struct{ *advice.Adviser }

func (r refresher) Refresh(ctx context.Context, plant string) error {
	_, err := r.Plant(ctx, plant)
	return err
}

// world is the API on a ledger.
type world struct {
	db   *store.DB
	echo *echo.Echo
	path string // of the ledger
	url  string
	*client
}

// atExit ends what the whole run shares.
var atExit []func()

// shared makes worlds that live as long as the run: one for tests that read alone, one for those that write
// and look at no more than what they wrote.
func shared() func(testing.TB) *world {
	once := sync.OnceValues(func() (*world, error) {
		dir, err := os.MkdirTemp("", "overwinter-api-")
		if err != nil {
			return nil, err
		}
		path, err := copied(dir)
		if err != nil {
			return nil, err
		}
		w, end, err := start(path)
		atExit = append(atExit, func() { end(); _ = os.RemoveAll(dir) })
		return w, err
	})
	return func(t testing.TB) *world {
		t.Helper()
		w, err := once()
		if err != nil {
			t.Fatal(err)
		}
		mine := *w
		mine.client = newClient(t, w.url)
		return &mine
	}
}

var (
	reading = shared()
	writing = shared()
)

// open serves the API on a ledger of the test's own; change may alter what it needs.
func open(t testing.TB, change ...func(*api.Deps)) *world {
	t.Helper()
	path, err := copied(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	return serve(t, path, change...)
}

// copied copies the demo's ledger into a folder.
func copied(dir string) (string, error) {
	from, err := advised()
	if err != nil {
		return "", err
	}
	data, err := os.ReadFile(filepath.Join(from, "demo.db"))
	if err != nil {
		return "", err
	}
	path := filepath.Join(dir, "ledger.db")
	return path, os.WriteFile(path, data, 0o600)
}

// serve serves the API on the ledger of a URL until the test ends.
func serve(t testing.TB, url string, change ...func(*api.Deps)) *world {
	t.Helper()
	w, end, err := start(url, change...)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(end)
	w.client = newClient(t, w.url)
	return w
}

func start(url string, change ...func(*api.Deps)) (*world, func(), error) {
	db, err := store.Open(context.Background(), url)
	if err != nil {
		return nil, func() {}, err
	}
	desk, asOf := advice.NewDesk(db, seed), demo.AsOf
	deps := api.Deps{
		Desk: desk, Ledger: db, Issued: db, Ping: func(context.Context) error { return nil },
		Intake:   &intake.Desk{Ledger: db, Refresh: refresher{adviser(db)}, Advice: desk, Clock: calendar.At(demo.Now), AsOf: &asOf},
		Supposer: adviser(db), Optioner: adviser(db),
		Books: &inventory.Bookkeeper{Ledger: db, Clock: calendar.At(demo.Now), AsOf: &asOf},
		Log:   slog.New(slog.NewTextHandler(io.Discard, nil)),
	}
	for _, c := range change {
		c(&deps)
	}
	e := echo.New()
	api.New(deps).Register(e)
	server := httptest.NewServer(e)
	return &world{db: db, echo: e, path: url, url: server.URL}, func() { server.Close(); _ = db.Close() }, nil
}
