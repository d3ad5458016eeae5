package api_test

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"io"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/demo"
)

// fleet is the list as a client reads it.
type fleet struct {
	AsOf     *string `json:"as_of"`
	Basis    string
	Quality  string
	Revision int64
	Total    int
	Next     *string
	Notices  []struct{ Code string }
	Plants   []row
}

type row struct {
	Plant, Name, Status, Quality string
	AsOf                         string                `json:"as_of"`
	Usable                       *float64              `json:"usable_l15"`
	OrderBy                      *string               `json:"order_by"`
	Lot                          *float64              `json:"lot_l15"`
	Short                        *float64              `json:"short_l15"`
	Newest                       *string               `json:"newest_reading_at"`
	Age                          *int                  `json:"reading_age_days"`
	ReserveDate                  struct{ P50 *string } `json:"reserve_date"`
}

func (w *world) list(t testing.TB, query string) fleet {
	t.Helper()
	var f fleet
	w.get("/api/v1/plants"+query).want(t, 200).read(t, &f)
	return f
}

func (w *world) saved(t testing.TB) *advice.InForce {
	t.Helper()
	in, err := advice.NewDesk(w.db, seed).InForce(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return in
}

func ids(rows []row) []string {
	var all []string
	for _, r := range rows {
		all = append(all, r.Plant)
	}
	return all
}

func TestTheFleetIsTheSavedAdviceMostUrgentFirst(t *testing.T) {
	w := reading(t)
	saved, got := w.saved(t), w.list(t, "")
	if got.Total != len(saved.Plants) || len(got.Plants) != len(saved.Plants) || got.Revision != saved.Revision || *got.AsOf != demo.AsOf.String() {
		t.Fatalf("%d of %d plants at revision %d as of %s, want %d at %d as of %s",
			len(got.Plants), got.Total, got.Revision, *got.AsOf, len(saved.Plants), saved.Revision, demo.AsOf)
	}
	for i, p := range saved.Plants {
		r := got.Plants[i]
		if r.Plant != p.Plant || r.Status != string(p.Status) || r.Quality != string(p.Quality) || r.AsOf != p.AsOf.String() {
			t.Errorf("row %d is %+v, want that of %s", i, r, p.Plant)
		}
		if !equal(r.Usable, p.Stock.Usable) || (r.OrderBy != nil) != (p.Order != nil) || (r.Short != nil) != (p.Short != nil) {
			t.Errorf("%s: stock, order or shortage differ from the saved advice", p.Plant)
		}
		if p.Order != nil && (*r.OrderBy != p.Order.OrderBy.String() || *r.Lot != p.Order.Lot) {
			t.Errorf("%s: order %v L by %v, want %v by %v", p.Plant, *r.Lot, *r.OrderBy, p.Order.Lot, p.Order.OrderBy)
		}
	}
	if got.Plants[0].Status != "short" {
		t.Errorf("the demo's short plant comes first, not %s", got.Plants[0].Plant)
	}
}

func equal(a, b *float64) bool { return (a == nil) == (b == nil) && (a == nil || *a == *b) }

func TestTheAgeOfAReadingIsCountedInLocalDays(t *testing.T) {
	w := reading(t)
	want := map[string]int{
		"marten-spit":     0,
		"plover-bight":    43, // silent since 18 January: the demo's story
		"meridian-lagoon": 0,  // 18:00 UTC on 1 March is 2 March at the plant, 12 hours ahead
	}
	for _, r := range w.list(t, "").Plants {
		if days, ok := want[r.Plant]; ok && (r.Age == nil || *r.Age != days) {
			t.Errorf("%s: newest reading is %v days old, want %d", r.Plant, r.Age, days)
		}
	}
}

func TestTheFleetIsFilteredByStatus(t *testing.T) {
	w := reading(t)
	all := w.list(t, "")
	for _, of := range []string{"short", "order now", "unknown", "order soon", "in hand", "short,unknown"} {
		var want []string
		for _, r := range all.Plants {
			if slices.Contains(strings.Split(of, ","), r.Status) {
				want = append(want, r.Plant)
			}
		}
		got := w.list(t, "?status="+url.QueryEscape(of))
		if !slices.Equal(ids(got.Plants), want) || got.Total != len(want) {
			t.Errorf("%s: %v, want %v", of, ids(got.Plants), want)
		}
	}
}

func TestPagesByPlantFollowOnFromEachOther(t *testing.T) {
	w := writing(t)
	want := ids(w.list(t, "").Plants)
	slices.Sort(want)
	for _, limit := range []string{"1", "4", "6", "100"} {
		var got []string
		for after := ""; ; {
			p := w.list(t, "?order=plant&limit="+limit+"&after="+url.QueryEscape(after))
			got = append(got, ids(p.Plants)...)
			if p.Next == nil {
				break
			}
			after = *p.Next
			if limit == "4" && len(got) == 4 { // the order by urgency changes between two pages
				w.post("/api/v1/plants/marten-spit/rounds", "between-pages", roundAt("2026-03-02T21:00:00Z")).want(t, 201)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("in pages of %s: %v, want %v", limit, got, want)
		}
	}
}

func TestTheMostUrgentCanBeAskedForAlone(t *testing.T) {
	w := reading(t)
	all, few := w.list(t, ""), w.list(t, "?limit=3")
	if !slices.Equal(ids(few.Plants), ids(all.Plants)[:3]) || few.Total != all.Total || few.Next != nil {
		t.Errorf("%v of %d, next %v", ids(few.Plants), few.Total, few.Next)
	}
}

func TestQuestionsThatMakeNoSenseAreRefused(t *testing.T) {
	w := reading(t)
	tests := []struct{ query, parameter string }{
		{"?status=fine", "status"},
		{"?order=name", "order"},
		{"?limit=0", "limit"},
		{"?limit=many", "limit"},
		{"?after=northgate", "after"},
		{"?colour=red", "colour"},
	}
	for _, tt := range tests {
		p := w.get("/api/v1/plants"+tt.query).want(t, 422).problem(t)
		if len(p.Errors) != 1 || p.Errors[0].In != "query" || p.Errors[0].Parameter == nil || *p.Errors[0].Parameter != tt.parameter {
			t.Errorf("%s: %+v, want the place %s", tt.query, p.Errors, tt.parameter)
		}
	}
}

func TestAnAnswerThatTheClientHoldsIsNotSentAgain(t *testing.T) {
	w := reading(t)
	for _, path := range []string{"/plants", "/plants?order=plant&limit=5", "/plants/northgate", "/plants/northgate/stock",
		"/plants/northgate/projection", "/plants/northgate/advice", "/plants/northgate/advice/issued", "/plants/northgate/plan", "/plants/northgate/plan/options", "/plants/northgate/forecast-scores", "/budget", "/changes", "/health"} {
		first := w.get("/api/v1"+path).want(t, 200)
		tag := first.Header.Get("ETag")
		if !strings.HasPrefix(tag, `"`) || first.Header.Get("Cache-Control") != "private, no-cache" {
			t.Errorf("%s: ETag %s, Cache-Control %s", path, tag, first.Header.Get("Cache-Control"))
		}
		for _, held := range []string{tag, "W/" + tag, `"other", ` + tag, "*"} {
			again := w.get("/api/v1"+path, "If-None-Match", held).want(t, 304)
			if len(again.body) > 0 || again.Header.Get("ETag") != tag {
				t.Errorf("%s: 304 with %d bytes and ETag %s", path, len(again.body), again.Header.Get("ETag"))
			}
		}
		w.get("/api/v1"+path, "If-None-Match", `"other"`).want(t, 200)
	}
}

func TestNewAdviceIsAnotherAnswer(t *testing.T) {
	w := writing(t)
	before := w.get("/api/v1/plants").want(t, 200)
	w.post("/api/v1/plants/marten-spit/rounds", "new-advice", roundAt("2026-03-02T21:10:00Z")).want(t, 201)
	after := w.get("/api/v1/plants", "If-None-Match", before.Header.Get("ETag")).want(t, 200)
	if bytes.Equal(before.body, after.body) || before.Header.Get("ETag") == after.Header.Get("ETag") {
		t.Error("a round changed nothing in the list")
	}
}

func TestTheCompressedAnswerIsTheSame(t *testing.T) {
	w := reading(t)
	plain := w.get("/api/v1/plants").want(t, 200)
	small := w.get("/api/v1/plants", "Accept-Encoding", "br, gzip;q=0.8").want(t, 200)
	if small.Header.Get("Content-Encoding") != "gzip" || small.Header.Get("ETag") == plain.Header.Get("ETag") || small.Header.Get("Vary") != "Accept-Encoding" {
		t.Fatalf("headers: %v", small.Header)
	}
	z, err := gzip.NewReader(bytes.NewReader(small.body))
	if err != nil {
		t.Fatal(err)
	}
	if got, err := io.ReadAll(z); err != nil || !bytes.Equal(got, plain.body) {
		t.Errorf("it holds something else: %v", err)
	}
	w.get("/api/v1/plants", "Accept-Encoding", "gzip", "If-None-Match", small.Header.Get("ETag")).want(t, 304)
	for _, accepted := range []string{"", "br", "gzip;q=0", "gzip; q=0.000"} {
		if got := w.get("/api/v1/plants", "Accept-Encoding", accepted).Header.Get("Content-Encoding"); got != "" {
			t.Errorf("Accept-Encoding %q: %s", accepted, got)
		}
	}
}

func TestALedgerWithoutAdviceIsAnsweredAsUnknown(t *testing.T) {
	w := serve(t, filepath.Join(t.TempDir(), "empty.db"))
	f := w.list(t, "")
	if f.AsOf != nil || f.Quality != "no answer" || len(f.Plants) != 0 || len(f.Notices) != 1 || f.Notices[0].Code != "no-advice" {
		t.Errorf("an empty ledger answers %+v", f)
	}
	w.get("/api/v1/budget").want(t, 404)
	w.get("/api/v1/plants/northgate").want(t, 404)
	w.get("/api/v1/plants/northgate/advice").want(t, 404)
}

func TestTheSameQuestionGivesTheSameBytes(t *testing.T) {
	w := reading(t)
	other := serve(t, w.path)
	for _, path := range []string{"/plants", "/plants/northgate", "/plants/northgate/projection", "/budget", "/openapi.json", "/openapi.yaml"} {
		a, b := w.get("/api/v1"+path).want(t, 200), other.get("/api/v1"+path).want(t, 200)
		if !bytes.Equal(a.body, b.body) {
			t.Errorf("%s differs between two instances on the same ledger", path)
		}
		if strings.HasSuffix(path, "yaml") {
			continue
		}
		if !json.Valid(a.body) {
			t.Errorf("%s is no JSON", path)
		}
	}
}
