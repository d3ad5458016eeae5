package api_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"testing"

	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"

	"overwinter/internal/demo"
	"overwinter/internal/inventory"
	"overwinter/internal/store"
	"overwinter/internal/store/pgtest"
)

// BenchmarkFleetList asks for a list of 1,000 plants over loopback, from the API and from a bare handler
// that sends the same bytes after the same look into an index. The ratio is bare time / our time, so 1 is
// as fast and more is faster.
func BenchmarkFleetList(b *testing.B) {
	engines := []struct {
		name string
		url  func(b *testing.B) string
	}{
		{"sqlite", func(b *testing.B) string { return filepath.Join(b.TempDir(), "fleet.db") }},
		{"postgres", func(b *testing.B) string { return pgtest.New(b) }},
	}
	for _, engine := range engines {
		b.Run(engine.name, func(b *testing.B) {
			w := serve(b, engine.url(b))
			crowd(b, w.db, 1000)
			b.Run("plain", func(b *testing.B) { against(b, w, "") })
			b.Run("gzip", func(b *testing.B) { against(b, w, "gzip") })
		})
	}
}

// crowd puts advice for many plants in force: that of the demo's, under other ids.
func crowd(b *testing.B, db *store.DB, plants int) {
	b.Helper()
	saved := open(b).saved(b).Plants
	for i := range plants {
		p := saved[i%len(saved)]
		p.Plant = fmt.Sprintf("plant-%04d", i)
		body, err := json.Marshal(p)
		if err != nil {
			b.Fatal(err)
		}
		err = db.SaveAdvice(b.Context(), inventory.Issued{
			Plant: p.Plant, AsOf: p.AsOf, ModelVersion: p.ModelVersion, InputsVersion: p.InputsVersion, Seed: seed, IssuedAt: demo.Now, Body: body, Ledger: 1,
		})
		if err != nil {
			b.Fatal(err)
		}
	}
}

// against measures both in turn, so that the machine's other work falls on both.
func against(b *testing.B, w *world, encoding string) {
	list := w.url + "/api/v1/plants"
	body := fetch(b, list, "")
	bare := httptest.NewServer(bareServer(w.db, body))
	b.Cleanup(bare.Close)
	fetch(b, list, encoding)
	fetch(b, bare.URL, encoding)
	var ours, theirs float64
	b.Run("overwinter", func(b *testing.B) { ours = each(b, list, encoding) })
	b.Run("bare", func(b *testing.B) {
		theirs = each(b, bare.URL, encoding)
		b.ReportMetric(theirs/ours, "bare/overwinter")
	})
}

func each(b *testing.B, url, encoding string) float64 {
	n := 0
	for b.Loop() {
		n = len(fetch(b, url, encoding))
	}
	b.ReportMetric(float64(n), "bytes")
	return b.Elapsed().Seconds() / float64(b.N)
}

// bareServer sends fixed bytes after asking the database for the revision.
func bareServer(db *store.DB, body []byte) http.Handler {
	e := echo.New()
	e.GET("/", func(c echo.Context) error {
		if _, err := db.AdviceRevision(c.Request().Context(), seed); err != nil {
			return err
		}
		return c.Blob(http.StatusOK, "application/json", body)
	}, middleware.Gzip())
	return e
}

var keptAlive = http.Client{Transport: &http.Transport{DisableCompression: true}}

func fetch(b *testing.B, url, encoding string) []byte {
	r, err := http.NewRequestWithContext(context.Background(), "GET", url, nil)
	if err != nil {
		b.Fatal(err)
	}
	if encoding != "" {
		r.Header.Set("Accept-Encoding", encoding)
	}
	response, err := keptAlive.Do(r)
	if err != nil {
		b.Fatal(err)
	}
	defer response.Body.Close()
	var body bytes.Buffer
	if _, err := io.Copy(&body, response.Body); err != nil || response.StatusCode != http.StatusOK {
		b.Fatalf("%s: %d, %v", url, response.StatusCode, err)
	}
	return body.Bytes()
}
