package web

import (
	"context"
	"net/http"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/demo"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
	"overwinter/internal/store"
)

type zzRefresh struct{ a *advice.Adviser }

func (z zzRefresh) Refresh(ctx context.Context, p string) error {
	_, err := z.a.Plant(ctx, p)
	return err
}

func TestZZLook(t *testing.T) {
	addr := os.Getenv("ZZ_ADDR")
	if addr == "" {
		t.Skip()
	}
	ctx := context.Background()
	path := "/tmp/rounddemo/demo.db"
	_, statErr := os.Stat(path)
	_ = os.MkdirAll("/tmp/rounddemo", 0o755)
	db, err := store.Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	clock := calendar.At(demo.Now)
	a := advice.NewAdviser(db, advice.Options{AsOf: &demo.AsOf, Seed: 1, Paths: 300, Price: advice.Price{PerLitre: 1.62, Currency: "CAD"}}, clock)
	if statErr != nil {
		if err := demo.Load(ctx, db); err != nil {
			t.Fatal(err)
		}
	}
	start := time.Now()
	if err := a.Fleet(ctx); err != nil {
		t.Fatal(err)
	}
	t.Log("fleet", time.Since(start))
	desk := advice.NewDesk(db, 1)
	in := &intake.Desk{Ledger: db, Refresh: zzRefresh{a}, Advice: desk, Clock: clock}
	s := New(Deps{Desk: desk, Intake: in, Ledger: inventory.Reader(db), Clock: clock, Demo: true, AsOf: &demo.AsOf})
	e := echo.New()
	e.HTTPErrorHandler = func(err error, c echo.Context) { println(strings.ReplaceAll(err.Error(), "\n", " ")); s.Error(err, c) }
	s.Register(e)
	srv := &http.Server{Addr: addr, Handler: e}
	time.AfterFunc(14*time.Minute, func() { _ = srv.Close() })
	_ = srv.ListenAndServe()
}
