package api_test

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// part reads the named properties of an answer.
func part(t testing.TB, a answer, names ...string) map[string]any {
	t.Helper()
	var all map[string]any
	a.read(t, &all)
	some := map[string]any{}
	for _, n := range names {
		v, ok := all[n]
		if !ok {
			t.Errorf("%s is missing", n)
		}
		some[n] = v
	}
	return some
}

func TestWhatIsShownOfAPlantIsItsSavedAdvice(t *testing.T) {
	w := reading(t)
	shown := map[string][]string{
		"/stock":      {"plant", "name", "zone", "as_of", "quality", "assumptions", "notices", "stock", "reserve", "days_of_cover_to_empty"},
		"/projection": {"as_of", "projection", "reserve_date", "dry_date", "burn", "burn_by_month", "open_orders", "windows", "notices"},
		"/advice":     {"status", "as_of", "order", "short", "must_last_until", "explanation", "faulty_intervals", "model_version", "inputs_version", "seed", "days_of_cover_to_reserve"},
	}
	for _, p := range w.saved(t).Plants {
		text, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		for path, names := range shown {
			got := part(t, w.get("/api/v1/plants/"+p.Plant+path).want(t, 200), names...)
			takeWords(t, got["explanation"])
			want := part(t, answer{body: text}, names...)
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%s%s is not what was saved:\n%s", p.Plant, path, diff)
			}
		}
	}
}

// takeWords takes the words for people out of an explanation: they are not saved.
func takeWords(t testing.TB, explanation any) {
	t.Helper()
	x, _ := explanation.(map[string]any)
	for _, list := range []string{"lines", "steps"} {
		all, _ := x[list].([]any)
		for _, one := range all {
			if text, _ := one.(map[string]any)["text"].(string); text == "" {
				t.Errorf("%v has no words", one)
			}
			delete(one.(map[string]any), "text")
		}
	}
	for _, part := range []string{"need", "room"} {
		if x[part] != nil {
			takeWords(t, x[part])
		}
	}
}

func TestAPlantIsDescribedWithItsRulesTanksAndRoutes(t *testing.T) {
	w := reading(t)
	for _, p := range w.saved(t).Plants {
		var got struct {
			Plant, Product string
			Specification  string  `json:"product_specification"`
			Density        float64 `json:"density15_kgm3"`
			Rules          struct {
				Days       *int     `json:"reserve_days"`
				Litres     *float64 `json:"reserve_l15"`
				RiskTarget float64  `json:"risk_target"`
			}
			Tanks  []struct{ Tank, Shape string }
			Routes []struct {
				Route   string
				Windows []struct{ Opens, Closes string }
			}
		}
		w.get("/api/v1/plants/"+p.Plant).want(t, 200).read(t, &got)
		if got.Plant != p.Plant || got.Specification == "" || got.Density < 700 || got.Density > 900 {
			t.Errorf("%s is described as %+v", p.Plant, got)
		}
		if (got.Rules.Days == nil) == (got.Rules.Litres == nil) {
			t.Errorf("%s: the reserve is days %v and litres %v, want one of them", p.Plant, got.Rules.Days, got.Rules.Litres)
		}
		if len(got.Tanks) < len(p.Stock.Tanks) || len(got.Routes) == 0 {
			t.Errorf("%s has %d tanks and %d routes", p.Plant, len(got.Tanks), len(got.Routes))
		}
	}
}

// As the demo states them.
func TestAPlantIsDescribedWithTheTermsOfItsSupply(t *testing.T) {
	w := reading(t)
	type described struct {
		Rules struct {
			Carrying   *float64 `json:"carrying_per_year"`
			FallbackAt *int     `json:"fallback_at_days"`
			Months     *float64 `json:"reserve_months"`
			Percent    *float64 `json:"reserve_percent"`
		}
		Routes []struct {
			Route, Currency string
			Terms           map[string]any
			Windows         []struct {
				Window string
				CutOff *string `json:"cut_off"`
				Limits []map[string]any
			}
		}
		SpendingLimits []map[string]any `json:"spending_limits"`
	}
	var orrin, heron described
	w.get("/api/v1/plants/cape-orrin").want(t, 200).read(t, &orrin)
	w.get("/api/v1/plants/heron-point").want(t, 200).read(t, &heron)
	if r := heron.Rules; *r.Carrying != 0.065 || *r.FallbackAt != 10 || r.Months != nil || r.Percent != nil {
		t.Errorf("rules %+v", r)
	}
	terms := map[string]any{"load_l15": 41600.0, "stop_cost": 1200.0, "freight_per_l15": 0.11, "price_growth_per_year": 0.025, "price_sd_per_year": 0.2,
		"deliveries": 2.0, "days_between": 10.0, "pay_from": "delivery", "pay_days": 45.0}
	limits := []map[string]any{{"from": "03-18", "until": "04-20", "lot_max_l15": 12 * 41600.0, "cause": "weight", "note": "half loads in convoys by night once the ice softens"}}
	for _, r := range heron.Routes {
		if r.Route != "lakes-road" {
			continue
		}
		if diff := cmp.Diff(terms, r.Terms) + cmp.Diff(limits, r.Windows[0].Limits); diff != "" || *r.Windows[0].CutOff != "04-15" {
			t.Errorf("%s, cut-off %v:\n%s", r.Route, *r.Windows[0].CutOff, diff)
		}
	}
	for _, r := range orrin.Routes {
		for _, win := range r.Windows {
			if win.CutOff != nil || win.Limits == nil || len(win.Limits) > 0 {
				t.Errorf("%s %s: cut-off %v, limits %v, want neither", r.Route, win.Window, win.CutOff, win.Limits)
			}
		}
	}
	credit := []map[string]any{{"name": "haulier-credit", "kind": "credit", "from": "2026-10-01", "until": "2027-04-30", "amount": 900000.0, "currency": "CAD", "volume_l15": nil}}
	if diff := cmp.Diff(credit, heron.SpendingLimits); diff != "" || orrin.SpendingLimits == nil || len(orrin.SpendingLimits) > 0 {
		t.Errorf("spending limits of cape-orrin %v; of heron-point\n%s", orrin.SpendingLimits, diff)
	}
}

func TestWhatWasIssuedStandsNewestFirst(t *testing.T) {
	w := writing(t)
	w.post("/api/v1/plants/marten-spit/rounds", "issued", roundAt("2026-03-02T21:20:00Z")).want(t, 201)
	type issued struct {
		At            time.Time `json:"issued_at"`
		InputsVersion string    `json:"inputs_version"`
		Said          row
	}
	var got struct{ Issued []issued }
	w.get("/api/v1/plants/marten-spit/advice/issued").want(t, 200).read(t, &got)
	var now issued
	w.get("/api/v1/plants/marten-spit/advice").want(t, 200).read(t, &now)
	if len(got.Issued) < 2 || got.Issued[0].InputsVersion != now.InputsVersion {
		t.Fatalf("the newest of %d is not the advice in force", len(got.Issued))
	}
	for i, later := range got.Issued[:len(got.Issued)-1] {
		if earlier := got.Issued[i+1]; later.At.Before(earlier.At) || later.InputsVersion == earlier.InputsVersion {
			t.Errorf("%v stands before %v", later, earlier)
		}
	}
	w.get("/api/v1/plants/marten-spit/advice/issued?limit=1").want(t, 200).read(t, &got)
	if len(got.Issued) != 1 {
		t.Errorf("asked for one, got %d", len(got.Issued))
	}
}

func TestTheBudgetIsPricedAnewAndItsLitresStay(t *testing.T) {
	w := reading(t)
	type amount struct {
		Litres struct{ P10, P50, P90 float64 } `json:"litres_l15"`
		Money  *struct{ P50 int64 }            `json:"money_minor"`
	}
	type budget struct {
		Price *struct {
			PerLitre float64 `json:"per_l15"`
			Currency string
		}
		Fleet struct {
			Months []amount
			Total  amount
		}
		Plants []struct{ Plant string }
	}
	var saved, twice budget
	w.get("/api/v1/budget").want(t, 200).read(t, &saved)
	w.get("/api/v1/budget?price=3.24&currency=CAD").want(t, 200).read(t, &twice)
	if saved.Price == nil || saved.Price.PerLitre != 1.62 || twice.Price.PerLitre != 3.24 || len(saved.Plants) != 6 || len(saved.Fleet.Months) < 18 {
		t.Fatalf("prices %v and %v, %d plants, %d months", saved.Price, twice.Price, len(saved.Plants), len(saved.Fleet.Months))
	}
	if saved.Fleet.Total.Litres != twice.Fleet.Total.Litres {
		t.Error("the litres follow the price")
	}
	if got := twice.Fleet.Total.Money.P50 - 2*saved.Fleet.Total.Money.P50; got < -1 || got > 1 {
		t.Errorf("twice the price differs from twice the money by %d hundredths", got)
	}
	for _, query := range []string{"?price=1.62", "?currency=CAD", "?price=0&currency=CAD", "?price=1.62&currency=dollars", "?price=-1&currency=CAD"} {
		w.get("/api/v1/budget"+query).want(t, 422)
	}
}
