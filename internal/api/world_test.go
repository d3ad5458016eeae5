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
	db, err := store.Open(context.Background(), filepath.Join(dir, "demo.db"))
	if err != nil {
		return dir, err
	}
	if _, err := db.Record(context.Background(), someOfTheDemo(), demo.Now); err != nil {
		return dir, err
	}
	if err := adviser(db).Fleet(context.Background()); err != nil {
		return dir, err
	}
	return dir, db.Close()
})

// someOfTheDemo gives the rows of a few of its plants: each status, both sides of the date line.
func someOfTheDemo() inventory.Rows {
	plants := []string{"", "cape-orrin", "heron-point", "marten-spit", "meridian-lagoon", "northgate", "plover-bight"}
	all := demo.Generate(demo.DefaultSeed).Rows
	var rows inventory.Rows
	for r := range all.All() {
		if slices.Contains(plants, r.PlantID()) {
			rows.Add(r)
		}
	}
	return rows
}

func TestMain(m *testing.M) {
	code := m.Run()
	if whole := flag.Lookup("test.run").Value.String() == "" && flag.Lookup("test.fuzz").Value.String() == ""; code == 0 && whole {
		code = declared()
	}
	if dir, err := advised(); err == nil {
		_ = os.RemoveAll(dir)
	}
	os.Exit(code)
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

// world is the API on a ledger of its own.
type world struct {
	db   *store.DB
	echo *echo.Echo
	url  string
	*client
}

// open serves the API on a copy of the demo's ledger; change may alter what it needs.
func open(t testing.TB, change ...func(*api.Deps)) *world {
	t.Helper()
	dir, err := advised()
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(dir, "demo.db"))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "ledger.db")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return serve(t, path, change...)
}

// serve serves the API on the ledger of a URL.
func serve(t testing.TB, url string, change ...func(*api.Deps)) *world {
	t.Helper()
	db, err := store.Open(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = db.Close() })
	desk := advice.NewDesk(db, seed)
	deps := api.Deps{
		Desk: desk, Ledger: db, Issued: db, Ping: func(context.Context) error { return nil },
		Intake: &intake.Desk{Ledger: db, Refresh: refresher{adviser(db)}, Advice: desk, Clock: calendar.At(demo.Now)},
		Log:    slog.New(slog.NewTextHandler(io.Discard, nil)),
	}
	for _, c := range change {
		c(&deps)
	}
	e := echo.New()
	api.New(deps).Register(e)
	server := httptest.NewServer(e)
	t.Cleanup(server.Close)
	return &world{db: db, echo: e, url: server.URL, client: newClient(t, server.URL)}
}
