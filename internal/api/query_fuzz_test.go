package api_test

import (
	"net/http/httptest"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// pairForm is a name and a value by the rules of application/x-www-form-urlencoded, as far as they can be read in one way.
var pairForm = regexp.MustCompile(`^([^%;&]|%[0-9A-Fa-f]{2})*$`)

// answered is what the test reads of any answer.
type answered struct {
	Plants []struct{ Plant, Status string }
	Rows   []struct{ Position int64 }
	Next   any
	Price  *struct {
		PerLitre float64 `json:"per_l15"`
		Currency string
	}
}

// FuzzAnyAddressIsAnsweredAsDeclaredOrRefused asks any question of any operation that reads. The answer must be one that the
// document declares and no failure; what is answered had no part that was passed over, and is what was asked for.
func FuzzAnyAddressIsAnsweredAsDeclaredOrRefused(f *testing.F) {
	doc, err := contract()
	if err != nil {
		f.Fatal(err)
	}
	operations := []string{"/openapi.json", "/openapi.yaml"}
	for path, item := range doc.model.Paths.PathItems.FromOldest() {
		if item.Get != nil {
			operations = append(operations, path)
		}
	}
	slices.Sort(operations)
	plants, books := slices.Index(operations, "/plants"), slices.Index(operations, "/plants/{plant}/books")
	for i, query := range []string{"", "status=short,order%20now&limit=2", "order=plant&after=heron-point&limit=1", "after=x", "status=short&status=unknown",
		"limit=%31", "limit=0x10", "limit=1_0", "limit=+5", "limit=%2B5", "limit=007", "status=short,", "status=", "price=1.62&currency=CAD", "price=NaN&currency=CAD",
		"price=1e1&currency=CAD", "after=9007199254740991", "after=-0", "from=2026-03-01;to=2026-03-02", "from=%zz", "from=2026-03-01&from=2026-03-02", "winter=0.9", "load_percent=-1e1", "load_percent=10&load_from=2026-04-01", "&&", "=", "x", "%00=1"} {
		for operation := range operations {
			if i == 0 || operation%7 == i%7 || strings.Contains(query, "limit") && operation == plants {
				f.Add(uint8(operation), "marten-spit", query, "")
			}
		}
	}
	f.Add(uint8(books), "a/b", "", `W/"x", "y"`)
	f.Add(uint8(books), "..", "", `"`)
	f.Add(uint8(books), "\xff\x00", "", "")
	f.Add(uint8(plants), "", "", "*")
	f.Add(uint8(slices.Index(operations, "/plants/{plant}")), "", "0", "0")
	w := reading(f)
	f.Fuzz(func(t *testing.T, operation uint8, plant, query, held string) {
		path := "/api/v1" + strings.Replace(operations[int(operation)%len(operations)], "{plant}", url.PathEscape(plant), 1)
		at, err := url.ParseRequestURI(path + "?" + query)
		if err != nil || strings.ContainsAny(query, " #") || at.RawQuery != query {
			t.Skip("no server hands this on")
		}
		r := httptest.NewRequest("GET", "/", nil)
		r.URL, r.RequestURI = at, path+"?"+query
		r.Header.Set("If-None-Match", held)
		recorder := httptest.NewRecorder()
		w.echo.ServeHTTP(recorder, r)
		a := answer{recorder.Result(), recorder.Body.Bytes()}
		a.Request = r
		if a.StatusCode >= 500 {
			t.Fatalf("%s: %d %s", r.URL, a.StatusCode, a.body)
		}
		if strings.HasSuffix(path, "/plants/") { // without an id it is the address of no operation, so that none declares the answer
			if a.StatusCode != 404 {
				t.Fatalf("%s: %d", r.URL, a.StatusCode)
			}
			return
		}
		(&client{tb: t}).check(r, "", a)
		if a.StatusCode != 200 || strings.Contains(path, "/openapi.") {
			return
		}
		given := map[string]string{}
		for pair := range strings.SplitSeq(query, "&") {
			name, value, _ := strings.Cut(pair, "=")
			if name, _ = url.QueryUnescape(name); pair == "" {
				continue
			}
			if _, twice := given[name]; twice || !pairForm.MatchString(pair) {
				t.Fatalf("%s is answered, and %q was passed over", r.URL, pair)
			}
			given[name], _ = url.QueryUnescape(value)
		}
		var got answered
		a.read(t, &got)
		checkAsked(t, r.URL.Path, given, got)
	})
}

// checkAsked holds that an answer keeps to what was asked for.
func checkAsked(t *testing.T, path string, given map[string]string, got answered) {
	t.Helper()
	limit, err := strconv.Atoi(given["limit"])
	if given["limit"] != "" && (err != nil || len(got.Plants) > limit || len(got.Rows) > limit) {
		t.Fatalf("%v: %d plants, %d rows", given, len(got.Plants), len(got.Rows))
	}
	for i, p := range got.Plants {
		if path != "/api/v1/plants" {
			break
		}
		if given["status"] != "" && !slices.Contains(strings.Split(given["status"], ","), p.Status) {
			t.Fatalf("%v: %s is %s", given, p.Plant, p.Status)
		}
		if given["order"] == "plant" && (p.Plant <= given["after"] || i > 0 && p.Plant <= got.Plants[i-1].Plant) {
			t.Fatalf("%v: %v", given, got.Plants)
		}
	}
	after, _ := strconv.ParseInt(given["after"], 10, 64)
	for _, row := range got.Rows {
		if row.Position <= after {
			t.Fatalf("%v: row %d", given, row.Position)
		}
		after = row.Position
	}
	if price, err := strconv.ParseFloat(given["price"], 64); err == nil && price != 0 && (got.Price == nil || got.Price.PerLitre != price || got.Price.Currency != given["currency"]) {
		t.Fatalf("%v: %+v", given, got.Price)
	}
}
