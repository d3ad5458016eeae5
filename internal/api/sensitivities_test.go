package api_test

import (
	"slices"
	"testing"
)

// What is answered is of the answer in force: marten-spit orders, and each change is told once.
func TestSensitivitiesAreToldBesideTheAnswerAndSaveNothing(t *testing.T) {
	w := reading(t)
	before := w.get("/api/v1/plants/marten-spit/advice").want(t, 200)
	a := w.get("/api/v1/plants/marten-spit/sensitivities").want(t, 200)
	var got struct {
		Plant  string
		AsOf   string `json:"as_of"`
		Status string
		Order  struct {
			OrderBy string  `json:"order_by"`
			Lot     float64 `json:"lot_l15"`
		}
		Sensitivities []struct {
			What        string
			By          float64
			OrderByDays *int  `json:"order_by_days"`
			Lot         int64 `json:"lot_l15"`
			Short       int64 `json:"short_l15"`
			Status      string
			Route       string
		}
	}
	a.read(t, &got)
	advised := part(t, before, "status", "order")
	order, _ := advised["order"].(map[string]any)
	if got.Plant != "marten-spit" || got.AsOf != "2026-03-02" || got.Status != advised["status"] || got.Order.OrderBy != order["order_by"] || got.Order.Lot != order["lot_l15"] {
		t.Errorf("%+v, the advice in force says %v", got, advised)
	}
	var changes []string
	for _, s := range got.Sensitivities {
		changes = append(changes, s.What)
		if s.What == "lead-time-days" && (s.OrderByDays == nil || s.By*float64(*s.OrderByDays) > 0) {
			t.Errorf("%+v: a longer lead time orders no later", s)
		}
		if s.What == "burn-percent" && s.OrderByDays != nil && *s.OrderByDays < 0 {
			t.Errorf("%+v: less burn orders no earlier", s)
		}
	}
	for _, what := range []string{"lead-time-days", "room-l15", "burn-percent", "window-opening-days"} {
		if !slices.Contains(changes, what) {
			t.Errorf("nothing is said of %s: %v", what, changes)
		}
	}
	if after := w.get("/api/v1/plants/marten-spit/advice").want(t, 200); string(after.body) != string(before.body) {
		t.Error("the advice in force has changed")
	}
	w.get("/api/v1/plants/marten-spit/sensitivities", "If-None-Match", a.Header.Get("ETag")).want(t, 304)
}
