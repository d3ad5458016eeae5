package api_test

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"overwinter/internal/inventory"
)

// roundAt is a sound round of marten-spit at a moment of the demo's last day.
func roundAt(at string) string {
	return fmt.Sprintf(`{"at":%q,"tanks":[{"tank":"farm-2","depth_mm":1931,"water_mm":0}]}`, at)
}

// receipt is the answer to a report as a client reads it.
type receipt struct {
	Key            string
	Report         json.RawMessage
	Written, Known int
	Advised        bool
	Notices        []struct{ Code string }
	Row            *row
}

func (a answer) receipt(t testing.TB) receipt {
	t.Helper()
	var r struct {
		receipt
		Written int `json:"rows_written"`
		Known   int `json:"rows_known"`
	}
	a.read(t, &r)
	r.receipt.Written, r.receipt.Known = r.Written, r.Known
	return r.receipt
}

// rows counts the rows that the ledger holds of a plant.
func (w *world) rows(t testing.TB, plant string) int {
	t.Helper()
	rows, err := w.db.PlantRows(t.Context(), plant, time.Date(2100, 1, 1, 0, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	return rows.Len()
}

// reportOf says where the example of an operation is sent.
var reportOf = map[string]struct{ path, plant string }{
	"report-round":       {"/plants/marten-spit/rounds", "marten-spit"},
	"report-gauging":     {"/plants/marten-spit/gaugings", "marten-spit"},
	"report-delivery":    {"/plants/marten-spit/deliveries", "marten-spit"},
	"report-order":       {"/plants/marten-spit/orders", "marten-spit"},
	"report-clearance":   {"/plants/northgate/orders/northgate-early-summer-2026/clearances", "northgate"},
	"report-order-state": {"/plants/northgate/orders/northgate-early-summer-2026/state", "northgate"},

	"report-meter-reading":    {"/plants/marten-spit/meter-readings", "marten-spit"},
	"report-meter-swap":       {"/plants/marten-spit/meter-swaps", "marten-spit"},
	"report-meter-proving":    {"/plants/marten-spit/meter-provings", "marten-spit"},
	"report-period-total":     {"/plants/marten-spit/period-totals", "marten-spit"},
	"report-transfer":         {"/plants/marten-spit/transfers", "marten-spit"},
	"report-draw":             {"/plants/marten-spit/draws", "marten-spit"},
	"report-count-correction": {"/plants/marten-spit/count-corrections", "marten-spit"},
	"report-product-change":   {"/plants/marten-spit/product-changes", "marten-spit"},
	"report-load-change":      {"/plants/marten-spit/load-changes", "marten-spit"},
	"report-degree-day":       {"/plants/marten-spit/degree-days", "marten-spit"},
	"confirm-row":             {"/plants/marten-spit/confirmations", "marten-spit"},
	"withdraw-row":            {"/plants/marten-spit/withdrawals", "marten-spit"},
}

// examples gives the request body that the document shows for each report.
func examples(t testing.TB) map[string]string {
	t.Helper()
	doc, err := contract()
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]string{}
	for _, item := range doc.model.Paths.PathItems.FromOldest() {
		if item.Post == nil {
			continue
		}
		media, _ := item.Post.RequestBody.Content.Get("application/json")
		var body any
		if err := media.Example.Decode(&body); err != nil {
			t.Fatal(err)
		}
		text, err := json.Marshal(body)
		if err != nil {
			t.Fatal(err)
		}
		found[item.Post.OperationId] = string(text)
	}
	return found
}

// otherwise changes a figure in the example of each report.
var otherwise = map[string][2]string{
	"report-round":       {"1930", "1800"},
	"report-gauging":     {"2436", "2300"},
	"report-delivery":    {"9130", "9140"},
	"report-order":       {"60000", "50000"},
	"report-order-state": {"cancelled", "received"},
	"report-clearance":   {"21", "28"},

	"report-meter-reading":    {"83624", "83625"},
	"report-meter-swap":       {"83627", "83628"},
	"report-meter-proving":    {"1.0021", "1.0022"},
	"report-period-total":     {"7600", "7700"},
	"report-transfer":         {"1200", "1300"},
	"report-draw":             {"loan", "sale"},
	"report-count-correction": {"-310", "310"},
	"report-product-change":   {"diesel-arctic", "jet-a1"},
	"report-load-change":      {"35", "-35"},
	"report-degree-day":       {"728.5", "730"},
	"confirm-row":             {"2026-03-02", "2026-03-01"},
	"withdraw-row":            {"/day/", "/farm-1/"},
}

// takenOut says by how many more rows in force a report leaves than it writes.
var takenOut = map[string]int{"report-order-state": -1, "withdraw-row": -2}

func TestEveryExampleIsWrittenOnceAndItsKeyStandsForItAlone(t *testing.T) {
	all := examples(t)
	if len(all) != len(reportOf) {
		t.Fatalf("%d reports have an example, want %d", len(all), len(reportOf))
	}
	w := open(t)
	for operation, body := range all {
		t.Run(operation, func(t *testing.T) {
			to := reportOf[operation]
			before := w.rows(t, to.plant)
			first := w.post("/api/v1"+to.path, "K-1", body).want(t, 201).receipt(t)
			if first.Key != "K-1" || first.Written == 0 || first.Known != 0 || !first.Advised || first.Row == nil || first.Row.Plant != to.plant {
				t.Errorf("written: %+v", first)
			}
			if !sameJSON(t, body, string(first.Report)) {
				t.Errorf("understood as %s, sent as %s", first.Report, body)
			}
			written := w.rows(t, to.plant)
			if more := written - before; more != first.Written+takenOut[operation] {
				t.Errorf("the ledger has %d rows more, the answer says %d", more, first.Written)
			}
			again := w.post("/api/v1"+to.path, "K-1", body).want(t, 200).receipt(t)
			if again.Written != 0 || again.Known != first.Written || !again.Advised {
				t.Errorf("sent again: %+v", again)
			}
			if !reflect.DeepEqual(again.Row, first.Row) || string(again.Report) != string(first.Report) {
				t.Error("the second answer shows another report or row")
			}
			other := strings.Replace(body, otherwise[operation][0], otherwise[operation][1], 1)
			if other == body {
				t.Fatal("nothing was changed in the example")
			}
			w.post("/api/v1"+to.path, "K-1", other).want(t, 409)
			if got := w.rows(t, to.plant); got != written {
				t.Errorf("sent again and with other figures, the ledger has %d rows more", got-written)
			}
		})
	}
}

func sameJSON(t testing.TB, a, b string) bool {
	t.Helper()
	var x, y any
	if err := json.Unmarshal([]byte(a), &x); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal([]byte(b), &y); err != nil {
		t.Fatal(err)
	}
	return reflect.DeepEqual(x, y)
}

func TestTheExampleOfARoundRaisesNoDoubts(t *testing.T) {
	first := open(t).post("/api/v1/plants/marten-spit/rounds", "K", examples(t)["report-round"]).want(t, 201).receipt(t)
	if len(first.Notices) > 0 {
		t.Error(first.Notices)
	}
}

func TestARoundShowsInThePlantsRowAtOnce(t *testing.T) {
	w := writing(t)
	got := w.post("/api/v1/plants/marten-spit/rounds", "shown", roundAt("2026-03-02T22:00:00Z")).want(t, 201).receipt(t)
	if got.Row == nil || got.Row.Newest == nil || *got.Row.Newest != "2026-03-02T22:00:00Z" {
		t.Errorf("the row after the round is %+v", got.Row)
	}
	for _, r := range w.list(t, "").Plants {
		if r.Plant == "marten-spit" && !reflect.DeepEqual(r, *got.Row) {
			t.Errorf("the list shows %+v, the answer %+v", r, *got.Row)
		}
	}
}

func TestAnOrderGoesThroughItsStates(t *testing.T) {
	w := writing(t)
	order := `{"order":"PO-7","volume_l":40000,"basis":"15C","state":"committed","ordered_on":"2026-03-02","early":"2026-06-10","likely":"2026-06-20","late":"2026-07-05"}`
	w.post("/api/v1/plants/marten-spit/orders", "new", order).want(t, 201)
	for i, state := range []string{
		`{"state":"in-transit","likely":"2026-06-15","early":null}`, `{"state":"received","why":"all of it came"}`,
	} {
		w.post("/api/v1/plants/marten-spit/orders/PO-7/state", fmt.Sprintf("step-%d", i), state).want(t, 201)
	}
	rows, err := w.db.PlantRows(t.Context(), "marten-spit", time.Date(2100, 1, 1, 0, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range rows.Orders {
		if o.ID == "PO-7" && (o.State != inventory.Received || o.Likely.String() != "2026-06-15" || o.Early.String() != "2026-06-10") {
			t.Errorf("the order is %s, expected %s, %s", o.State, o.Early, o.Likely)
		}
	}
	w.post("/api/v1/plants/marten-spit/orders/PO-8/state", "x", `{"state":"received"}`).want(t, 404)
}

func TestARoundCanBeCorrectedByAnother(t *testing.T) {
	w := writing(t)
	w.post("/api/v1/plants/marten-spit/rounds", "wrong", roundAt("2026-03-02T21:30:00Z")).want(t, 201)
	right := strings.Replace(roundAt("2026-03-02T21:30:00Z"), `"depth_mm":1931`, `"depth_mm":1913,"replaces":"round/marten-spit/wrong/farm-2"`, 1)
	before := w.rows(t, "marten-spit")
	w.post("/api/v1/plants/marten-spit/rounds", "right", right).want(t, 201)
	if got := w.rows(t, "marten-spit"); got != before {
		t.Errorf("a correction leaves %d rows more in force", got-before)
	}
	again := w.post("/api/v1/plants/marten-spit/rounds", "wrong", roundAt("2026-03-02T21:30:00Z")).want(t, 200).receipt(t)
	notInForce := func(n struct{ Code string }) bool { return n.Code == "known-not-in-force" }
	if again.Known != 1 || !slices.ContainsFunc(again.Notices, notInForce) {
		t.Errorf("the wrong round again: %+v", again)
	}
	if again = w.post("/api/v1/plants/marten-spit/rounds", "right", right).want(t, 200).receipt(t); again.Known != 1 || slices.ContainsFunc(again.Notices, notInForce) {
		t.Errorf("the right round again: %+v", again)
	}
}
