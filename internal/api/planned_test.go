package api_test

import (
	"encoding/json"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// The plan is word for word that of the advice issued last; the options are worked out anew from the same rows, and so have the same plan.
func TestThePlanIsThatOfTheAdviceAndItsOptionsStandBesideTheSame(t *testing.T) {
	w := reading(t)
	issued, err := w.db.CurrentAdvice(t.Context(), seed, 0)
	if err != nil {
		t.Fatal(err)
	}
	var want struct{ Plan map[string]any }
	for _, c := range issued {
		if c.Plant == "marten-spit" {
			if err := json.Unmarshal(c.Body, &want); err != nil {
				t.Fatal(err)
			}
		}
	}
	plan := w.get("/api/v1/plants/marten-spit/plan").want(t, 200)
	options := w.get("/api/v1/plants/marten-spit/plan/options").want(t, 200)
	of := func(a answer) map[string]any { return part(t, a, "plant", "as_of", "basis", "quality", "plan") }
	if d := cmp.Diff(want.Plan, of(plan)["plan"]); want.Plan == nil || d != "" {
		t.Errorf("the plan is not the advice's: %s", d)
	}
	if d := cmp.Diff(of(plan), of(options)); d != "" {
		t.Errorf("the options stand beside another plan: %s", d)
	}
	if head := of(plan); head["plant"] != "marten-spit" || head["as_of"] != "2026-03-02" || head["basis"] != "15C" {
		t.Errorf("%v", head)
	}
	var got struct {
		Plan    struct{ Lots []struct{ Window string } }
		Options []struct {
			Code   string
			Lot    *int
			Window string
			Saved  *float64 `json:"burn_saved"`
			More   int64    `json:"costs_more_minor"`
		}
	}
	options.read(t, &got)
	told := map[string]int{}
	for _, o := range got.Options {
		told[o.Code]++
		if o.Lot != nil && (*o.Lot >= len(got.Plan.Lots) || got.Plan.Lots[*o.Lot].Window != o.Window) {
			t.Errorf("%+v is of no lot of the plan", o)
		}
		if (o.Code == "save-fuel") != (o.Saved != nil) || o.Saved != nil && o.More >= 0 {
			t.Errorf("%+v", o)
		}
	}
	for _, code := range []string{"skip-delivery", "fill-up", "litres-ordered", "window-fails", "save-fuel"} {
		if told[code] == 0 {
			t.Errorf("nothing is said of %s: %v", code, told)
		}
	}
	for path, first := range map[string]answer{"plan": plan, "plan/options": options} {
		w.get("/api/v1/plants/marten-spit/"+path, "If-None-Match", first.Header.Get("ETag")).want(t, 304)
	}
}

// Of plover-bight the stock is not known.
func TestAPlantWithoutAPlanAnswersNullAndRefusesOptions(t *testing.T) {
	w := reading(t)
	if p := part(t, w.get("/api/v1/plants/plover-bight/plan").want(t, 200), "plan"); p["plan"] != nil {
		t.Errorf("%v", p)
	}
	if p := w.get("/api/v1/plants/plover-bight/plan/options").want(t, 422).problem(t); p.Detail == "" {
		t.Errorf("%+v", p)
	}
	for _, path := range []string{"plan", "plan/options"} {
		w.get("/api/v1/plants/atlantis/"+path).want(t, 404).problem(t)
	}
}
