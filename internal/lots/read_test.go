package lots

import (
	"errors"
	"math"
	"strings"
	"testing"

	"overwinter/internal/fault"
)

const (
	someWindow = `{"name":"a","need_l15":5,"price_per_l15":1}`
	somePlant  = `{"name":"P","windows":[` + someWindow + `]}`
)

// withWindow is a problem of one window with more fields.
func withWindow(fields string) string {
	return `{"currency":"USD","plants":[{"name":"P","windows":[{"name":"a",` + fields + `}]}]}`
}

// withLimit is a problem of two windows with a limit.
func withLimit(fields string) string {
	return `{"currency":"USD","plants":[{"name":"P","windows":[` + someWindow + `,{"name":"b","need_l15":5,"price_per_l15":1}],"limits":[{` + fields + `}]}]}`
}

func TestAProblemIsReadAsItStands(t *testing.T) {
	p, err := Read("p.json", strings.NewReader(`{"note":"x","currency":"CAD","plants":[{"note":"x","name":"P","windows":[
		{"note":"x","name":"a","need_l15":-1.5,"room_l15":20,"min_l15":2,"max_l15":10,"step_l15":0.5,"fixed_cost":7,"price_per_l15":1.25,"carrying_per_l15":0.1,"fallback":{"price_per_l15":3,"load_l15":4}},
		`+strings.Replace(someWindow, `"a"`, `"b"`, 1)+`],"limits":[{"note":"x","name":"l","windows":["b","a"],"max_l15":9,"max_cost":8}]}]}`))
	if err != nil {
		t.Fatal(err)
	}
	plant := p.Plants[0]
	a, b, l := plant.Windows[0], plant.Windows[1], plant.Limits[0]
	if p.Currency != "CAD" || plant.Name != "P" || a.Name != "a" || a.Need != -1.5 || a.Room != 20 || a.Min != 2 || a.Max != 10 || a.Step != 0.5 || a.Fixed != 7 ||
		a.Price != 1.25 || a.Carrying != 0.1 || *a.Fallback != (Fallback{3, 4}) || l.Name != "l" || l.Windows[0] != 1 || l.Windows[1] != 0 || *l.Litres != 9 || *l.Money != 8 {
		t.Errorf("%+v", p)
	}
	if !math.IsInf(float64(b.Room), 1) || !math.IsInf(float64(b.Max), 1) || b.Min != 0 || b.Step != 0 || b.Fixed != 0 || b.Carrying != 0 || b.Fallback != nil {
		t.Errorf("what is missing: %+v", b)
	}
}

func TestWhatIsWrongIsNamedByItsPlace(t *testing.T) {
	const sound = `"need_l15":5,"price_per_l15":1`
	for _, tt := range []struct{ text, says string }{
		{"", "p.json: empty: expected a JSON object"},
		{"[]", "p.json:1: found a list: expected an object"},
		{`{"currency":"USD"}`, "p.json:1:plants: missing"},
		{`{"currency":"usd","plants":[` + somePlant + `]}`, `currency: "usd": expected the three capital letters`},
		{`{"currency":"USD","plants":[]}`, "plants: empty: expected a plant"},
		{`{"currency":"USD","plants":[` + somePlant + `],"voyages":[]}`, "voyages: no such field here: expected one of note, currency, plants"},
		{"{\"currency\":\"USD\",\"plants\":[" + somePlant + ",\n" + somePlant + "]}", `p.json:2:plants[2].name: "P" is a plant already`},
		{`{"currency":"USD","plants":[{"name":" ","windows":[` + someWindow + `]}]}`, "plants[1].name: blank"},
		{`{"currency":"USD","plants":[{"name":"P","windows":[]}]}`, "plants[1].windows: there are 0: expected 1 to 14"},
		{`{"currency":"USD","plants":[{"name":"P","windows":[` + someWindow + `,` + someWindow + `]}]}`, `windows[2].name: "a" is window 1 already`},
		{withWindow(`"price_per_l15":1`), "plants[1].windows[1].need_l15: missing"},
		{withWindow(`"need_l15":5`), "windows[1].price_per_l15: missing"},
		{withWindow(`"need_l15":"5","price_per_l15":1`), `need_l15: found a text ("5"): expected a number`},
		{withWindow(`"need_l15":1e400,"price_per_l15":1`), "need_l15: "},
		{withWindow(`"need_l15":1e13,"price_per_l15":1`), "need_l15: 1e+13: expected litres from"},
		{withWindow(sound + `,"need_l15":6`), "need_l15: the field stands twice"},
		{withWindow(sound + `,"room_l15":null`), "room_l15: found null: expected a number"},
		{withWindow(sound + `,"min_l15":-1`), "min_l15: -1: expected 0 to"},
		{withWindow(sound + `,"min_l15":7,"max_l15":6`), "max_l15: 6: expected min_l15 (7) or more"},
		{withWindow(sound + `,"step_l15":1e-9`), "step_l15: 1e-09: expected 0 for any amount, or 5e-06 or more"},
		{withWindow(sound + `,"min_l15":50,"max_l15":90,"step_l15":200`), "windows[1].step_l15: 200: no whole multiple of it above 0 lies from min_l15 (50) to max_l15 (90)"},
		{withWindow(sound + `,"min_l15":61,"max_l15":119,"step_l15":60`), "step_l15: 60: no whole multiple of it above 0 lies from min_l15 (61) to max_l15 (119)"}, // 60 and 120
		{withWindow(sound + `,"max_l15":9,"step_l15":10`), "step_l15: 10: no whole multiple"},
		{withWindow(sound + `,"price":1`), "price: no such field here"},
		{withWindow(sound + `,"fixed_cost":-1`), "fixed_cost: -1: expected 0 to"},
		{withWindow(`"need_l15":5,"price_per_l15":-1`), "price_per_l15: -1: expected 0 to"},
		{withWindow(sound + `,"fallback":3`), `fallback: found a number ("3"): expected an object`},
		{withWindow(sound + `,"fallback":{}`), "windows[1].fallback.price_per_l15: missing"},
		{withWindow(sound + `,"fallback":{"price_per_l15":-3}`), "windows[1].fallback.price_per_l15: -3: expected 0 to"},
		{withWindow(sound + `,"fallback":{"price_per_l15":3,"load":2}`), "windows[1].fallback.load: no such field here"},
		{withLimit(`"name":"l","windows":["a"]`), "limits[1]: max_l15: missing: expected max_l15, max_cost or both"},
		{withLimit(`"name":"l","windows":[],"max_l15":1`), "limits[1].windows: empty"},
		{withLimit(`"name":"l","windows":["a","c"],"max_l15":1`), `limits[1].windows[2]: "c": expected the name of one of the plant's windows`},
		{withLimit(`"name":"l","windows":["a","a"],"max_l15":1`), "limits[1].windows: place 2 names a window again"},
		{withLimit(`"name":"l","windows":[1],"max_l15":1`), "limits[1].windows[1]: found a number"},
		{withLimit(`"name":"l","windows":["a"],"max_cost":-1`), "limits[1].max_cost: -1: expected 0 to"},
	} {
		p, err := Read("p.json", strings.NewReader(tt.text))
		if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s\n%+v, %v\nwant %s", tt.text, p, err, tt.says)
		}
	}
}

func TestAStepOfWhichAMultipleIsALotIsTaken(t *testing.T) {
	for _, bounds := range []string{
		`"min_l15":50,"max_l15":90,"step_l15":90`, `"min_l15":61,"max_l15":120,"step_l15":60`, `"min_l15":0.3,"max_l15":0.3,"step_l15":0.1`, // 0.3 is three steps but for rounding
		`"min_l15":50,"step_l15":200`, `"max_l15":0,"step_l15":200`,
	} {
		if _, err := Read("p.json", strings.NewReader(withWindow(`"need_l15":5,"price_per_l15":1,`+bounds))); err != nil {
			t.Errorf("%s: %v", bounds, err)
		}
	}
}

// Any text is refused by name, or is a problem whose plans keep every bound, or for which the first bound that none keeps is named.
func FuzzAnyTextIsRefusedOrPlanned(f *testing.F) {
	f.Add(`{"currency":"USD","plants":[` + somePlant + `]}`)
	f.Add(withWindow(`"need_l15":500,"price_per_l15":1.5,"room_l15":700,"min_l15":100,"max_l15":300,"step_l15":7,"fixed_cost":10,"carrying_per_l15":0.1,"fallback":{"price_per_l15":3,"load_l15":40}`))
	f.Add(withLimit(`"name":"l","windows":["a","b"],"max_l15":4,"max_cost":3`))
	f.Add(withWindow(`"need_l15":1e12,"price_per_l15":1e-300,"max_l15":0,"min_l15":3`))
	f.Add(withWindow(`"need_l15":-0,"price_per_l15":0,"room_l15":-5`))
	f.Add("{\"currency\":\"USD\"\n,\"plants\":[{}]}")
	f.Fuzz(func(t *testing.T, text string) {
		p, err := Read("p.json", strings.NewReader(text))
		if err != nil {
			if fault.KindOf(err) != fault.Invalid {
				t.Fatal(err)
			}
			return
		}
		for i := range p.Plants {
			plant := &p.Plants[i]
			plan, err := plant.within(200)
			var why *Infeasible
			switch {
			case errors.As(err, &why):
				if !(why.Litres > 0) || why.Window < 0 || why.Window >= len(plant.Windows) {
					t.Fatalf("%+v", why)
				}
			case err != nil:
				if fault.KindOf(err) != fault.Invalid {
					t.Fatal(err)
				}
			default:
				size := float64(plant.size()) + float64(plan.Cost.Total)
				if by := breach(plant, plan.Lots, plan.Fallback); !(by <= 1e-8*size) || plan.Bound > plan.Cost.Total || math.IsNaN(float64(plan.Cost.Total)) {
					t.Fatalf("%+v breaks a bound by %v", plan, by)
				}
			}
		}
	})
}
