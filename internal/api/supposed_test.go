package api_test

import (
	"context"
	"math"
	"net/http/httptest"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"testing"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/api"
	"overwinter/internal/demo"
)

// supposed is what the tests read of an answer.
type supposed struct {
	Plant       string
	AsOf        string         `json:"as_of"`
	Supposition map[string]any `json:"supposition"`
	Uses        []struct {
		Days          int
		Without, With struct {
			P10 float64 `json:"p10_l15"`
			P50 float64 `json:"p50_l15"`
			P90 float64 `json:"p90_l15"`
		}
		Difference float64 `json:"difference_l15"`
		Percent    float64 `json:"difference_percent"`
	}
	Without, With struct {
		Status string
		Order  *struct {
			OrderBy string  `json:"order_by"`
			Lot     float64 `json:"lot_l15"`
		}
	}
	Assumptions []string
}

func TestASuppositionIsAnsweredWithoutAndWith(t *testing.T) {
	w := reading(t)
	before := w.get("/api/v1/plants/marten-spit/advice").want(t, 200)
	a := w.get("/api/v1/plants/marten-spit/supposed?load_percent=10").want(t, 200)
	var got supposed
	a.read(t, &got)
	if got.Plant != "marten-spit" || got.AsOf != "2026-03-02" || len(got.Uses) != 3 {
		t.Fatalf("%s", a.body)
	}
	for i, days := range []int{30, 180, 365} { // a tenth more of each day is a tenth more of each sum
		u := got.Uses[i]
		if u.Days != days || math.Abs(u.With.P50/u.Without.P50-1.1) > 1e-6 || math.Abs(u.Percent-10) > 1e-4 || math.Abs(u.Difference-(u.With.P50-u.Without.P50)) > 1e-6 {
			t.Errorf("%+v", u)
		}
	}
	if got.Supposition["load_from"] != "2026-03-03" || got.Supposition["load_percent"] != 10.0 || got.Supposition["winter"] != nil {
		t.Errorf("supposed %v", got.Supposition)
	}
	var advised struct {
		Status string
		Order  struct {
			OrderBy string  `json:"order_by"`
			Lot     float64 `json:"lot_l15"`
		}
	}
	before.read(t, &advised)
	if o := got.Without.Order; got.Without.Status != advised.Status || o == nil || *o != advised.Order {
		t.Errorf("without: %+v, the advice in force says %+v", o, advised)
	}
	if after := w.get("/api/v1/plants/marten-spit/advice").want(t, 200); string(after.body) != string(before.body) {
		t.Error("the advice in force has changed")
	}
	w.get("/api/v1/plants/marten-spit/supposed?load_percent=10", "If-None-Match", a.Header.Get("ETag")).want(t, 304)
}

func TestASuppositionThatMakesNoSenseIsRefusedForItsParameters(t *testing.T) {
	tests := []struct {
		name, query string
		parameters  []string
	}{
		{"nothing", "", nil},
		{"an unknown parameter", "load=40", []string{"load"}},
		{"a parameter twice", "load_kw=1&load_kw=2", []string{"load_kw"}},
		{"a blank", "load_kw=", []string{"load_kw"}},
		{"no number", "load_kw=much", []string{"load_kw"}},
		{"a number in powers", "load_kw=1e2", []string{"load_kw"}},
		{"no finite number", "winter=NaN", []string{"winter"}},
		{"a winter above all", "winter=1.01", []string{"winter"}},
		{"a winter without degree days", "winter=0.9", []string{"winter"}},
		{"a load of nothing", "load_kw=0", []string{"load_kw"}},
		{"a load that is not there to go", "load_kw=-99000", []string{"load_kw"}},
		{"a load in both units", "load_kw=4&load_percent=4", []string{"load_percent"}},
		{"all of the load gone", "load_percent=-100", []string{"load_percent"}},
		{"a day of no month", "load_percent=4&load_from=2026-02-30", []string{"load_from"}},
		{"a day that is known", "load_percent=4&load_from=2026-03-02", []string{"load_from"}},
		{"a day beyond the plan", "load_percent=4&load_from=2027-08-25", []string{"load_from"}},
		{"a day of nothing", "load_from=2026-04-02", []string{"load_from"}},
		{"an end without a beginning", "standby_until=2026-04-02", []string{"standby_until"}},
		{"an end before the beginning", "standby_from=2026-04-02&standby_until=2026-04-01", []string{"standby_until"}},
		{"two days that are none", "standby_from=a&standby_until=b", []string{"standby_from", "standby_until"}},
		{"engines that burn nothing", "engines_less_percent=100", []string{"engines_less_percent"}},
		{"engines that burn more", "engines_less_percent=-5&engines_from=2026-03-01", []string{"engines_from", "engines_less_percent"}},
	}
	w := reading(t)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := w.get("/api/v1/plants/marten-spit/supposed?"+tt.query).want(t, 422).problem(t)
			var named []string
			for _, e := range p.Errors {
				if e.In != "query" || e.Parameter == nil || e.Message == "" {
					t.Fatalf("%+v", e)
				}
				if !slices.Contains(tt.parameters, *e.Parameter) {
					t.Errorf("%s is named: %s", *e.Parameter, e.Message)
				}
				named = append(named, *e.Parameter)
			}
			if tt.parameters != nil && len(named) == 0 || p.Detail == "" {
				t.Errorf("%+v names %v", p, named)
			}
		})
	}
}

// echoing checks a supposition as an adviser does, and gives it back.
type echoing struct{}

func (echoing) Suppose(_ context.Context, plant string, s advice.Supposition) (advice.Supposed, error) {
	return advice.Supposed{Plant: plant, AsOf: demo.AsOf, Quality: advice.Sound, Supposition: s,
		Without: advice.SupposedOutcome{Status: "in hand"}, With: advice.SupposedOutcome{Status: "in hand"}}, s.Check(demo.AsOf, demo.AsOf)
}

func (echoing) Sensitivities(context.Context, string) (advice.Sensitive, error) {
	return advice.Sensitive{}, nil
}

var (
	supposedFigure = regexp.MustCompile(`^-?\d+(\.\d+)?$`)
	supposedDay    = regexp.MustCompile(`^\d{4}-\d\d-\d\d$`)
)

// FuzzASuppositionIsAnsweredAsAskedOrRefused gives every parameter any text. What is answered is what the test reads in them; what is
// refused names parameters that are wrong by the test's own reading.
func FuzzASuppositionIsAnsweredAsAskedOrRefused(f *testing.F) {
	f.Add("0.9", "40", "", "2026-04-01", "", "", "8", "")
	f.Add("1.1", "", "-100", "2026-02-30", "2026-06-01", "2026-09-01", "100", "2026-10-01")
	f.Add("NaN", "1e3", "-0", "2026-03-02", "2026-04-01", "2026-04-01", "+5", "2027-08-24")
	f.Add("", "", "", "", "", "2026-04-01", "", "2027-08-25")
	f.Add("0", "-100000", "0.1", "0000-01-01", "9999-12-31", " ", "0x8", "2026-3-4")
	w := serve(f, reading(f).path, func(d *api.Deps) { d.Supposer = echoing{} })
	names := []string{"winter", "load_kw", "load_percent", "load_from", "standby_from", "standby_until", "engines_less_percent", "engines_from"}
	first, last := time.Date(2026, time.March, 3, 0, 0, 0, 0, time.UTC), time.Date(2027, time.August, 24, 0, 0, 0, 0, time.UTC) // 540 days after 2 March
	f.Fuzz(func(t *testing.T, winter, kW, percent, loadFrom, standbyFrom, standbyUntil, engines, enginesFrom string) {
		given := map[string]string{}
		v := url.Values{}
		for i, text := range []string{winter, kW, percent, loadFrom, standbyFrom, standbyUntil, engines, enginesFrom} {
			if text != "" {
				given[names[i]] = text
				v.Set(names[i], text)
			}
		}
		r := httptest.NewRequest("GET", "/api/v1/plants/marten-spit/supposed?"+v.Encode(), nil)
		recorder := httptest.NewRecorder()
		w.echo.ServeHTTP(recorder, r)
		a := answer{recorder.Result(), recorder.Body.Bytes()}
		a.Request = r
		(&client{tb: t}).check(r, "", a)

		wrong := wrongIn(given, first, last)
		if a.StatusCode != 200 {
			if len(given) > 0 {
				checkRefusal(t, a, wrong)
			}
			return
		}
		if len(wrong) > 0 || len(given) == 0 {
			t.Fatalf("%s is answered, though %v is wrong: %s", r.URL, wrong, a.body)
		}
		var got supposed
		a.read(t, &got)
		for _, name := range names {
			said := got.Supposition[name]
			if number, is := said.(float64); is {
				want, _ := strconv.ParseFloat(given[name], 64)
				if number != want {
					t.Fatalf("%s: %s is %v", r.URL, name, number)
				}
			} else if said != nil && said != given[name] || said == nil && given[name] != "" {
				t.Fatalf("%s: %s is %v", r.URL, name, said)
			}
		}
	})
}

// wrongIn names the parameters that are wrong, alone or beside the others.
func wrongIn(given map[string]string, first, last time.Time) (wrong []string) {
	within := func(name string, ok func(float64) bool) {
		text, there := given[name]
		value, err := strconv.ParseFloat(text, 64)
		if there && (!supposedFigure.MatchString(text) || err != nil || !ok(value)) {
			wrong = append(wrong, name)
		}
	}
	within("winter", func(x float64) bool { return x >= 0 && x <= 1 })
	within("load_kw", func(x float64) bool { return x != 0 && x >= -100_000 && x <= 100_000 })
	within("load_percent", func(x float64) bool { return x != 0 && x > -100 && x <= 900 })
	within("engines_less_percent", func(x float64) bool { return x > 0 && x < 100 })
	day := func(name string) (time.Time, bool) {
		at, err := time.Parse(time.DateOnly, given[name])
		return at, err == nil && supposedDay.MatchString(given[name])
	}
	of := map[string]bool{"load_from": given["load_kw"] != "" || given["load_percent"] != "", "standby_from": true, "engines_from": given["engines_less_percent"] != ""}
	for name, there := range of {
		if at, ok := day(name); given[name] != "" && (!ok || !there || at.Before(first) || at.After(last)) {
			wrong = append(wrong, name)
		}
	}
	if until := given["standby_until"]; until != "" {
		end, ok := day("standby_until")
		begin, known := day("standby_from")
		if !ok || !known || !end.After(begin) {
			wrong = append(wrong, "standby_until")
		}
	}
	if given["load_kw"] != "" && given["load_percent"] != "" {
		wrong = append(wrong, "load_percent")
	}
	return wrong
}
