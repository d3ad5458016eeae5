package api_test

import (
	"encoding/json"
	"fmt"
	"testing"

	"overwinter/internal/api"
)

// TestTheChangesComeInOrderAPageAtATime follows the demo's ledger to its end, writes a round, and asks on.
func TestTheChangesComeInOrderAPageAtATime(t *testing.T) {
	w := writing(t)
	ask := func(after int64, limit int) (page api.ChangesAnswer) {
		t.Helper()
		answer := w.get(fmt.Sprintf("/api/v1/changes?after=%d&limit=%d", after, limit)).want(t, 200)
		if err := json.Unmarshal(answer.body, &page); err != nil {
			t.Fatal(err)
		}
		return page
	}
	end := int64(0)
	for page := ask(0, 5000); len(page.Rows) > 0; page = ask(page.Next, 5000) {
		for _, r := range page.Rows {
			if r.Position != end+1 {
				t.Fatalf("after the position %d comes %d", end, r.Position)
			}
			end = r.Position
		}
		if page.Next != end {
			t.Fatalf("a page that ends at %d goes on at %d", end, page.Next)
		}
	}
	if first := ask(0, 1).Rows; len(first) != 1 || first[0].Kind != "plant" || first[0].Plant == nil {
		t.Errorf("the first row is %+v", first)
	}
	w.post("/api/v1/plants/marten-spit/gaugings", "K", examples(t)["report-gauging"]).want(t, 201)
	page := ask(end, 10)
	if len(page.Rows) != 1 || page.Rows[0].Kind != "gauging" || *page.Rows[0].Plant != "marten-spit" || *page.Rows[0].Who != "A. Operator" || page.Rows[0].Replaces != nil {
		t.Errorf("after a gauging: %+v", page.Rows)
	}
	if page := ask(page.Next, 10); len(page.Rows) != 0 || page.Next != end+1 {
		t.Errorf("after the end: %+v", page)
	}
	w.get("/api/v1/changes?after=-1").want(t, 422)
	w.get("/api/v1/changes?limit=0").want(t, 422)
}
