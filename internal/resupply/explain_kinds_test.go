package resupply

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// sample is a step of a kind with just the values that it speaks of.
func sample(kind StepKind) Step {
	s := Step{Kind: kind}
	for _, k := range spoken {
		if k.kind != kind {
			continue
		}
		for value, set := range map[values]func(){
			aDay:       func() { day := asOf + 33; s.Day = &day },
			someDays:   func() { days := 12; s.Days = &days },
			someLitres: func() { litres := int64(4711); s.Litres = &litres },
			aLimit:     func() { limit := 4710.98765; s.Limit = &limit },
			aLot:       func() { lot := int64(1147); s.Lot = &lot },
			aRisk:      func() { risk := 0.05; s.Risk = &risk },
			aWindow:    func() { day := asOf + 44; s.Route, s.Window, s.Opening = "west", "early", &day },
		} {
			if k.of&value != 0 {
				set()
			}
		}
	}
	return s
}

// constants reads the constants of a type off the package's own source.
func constants(t *testing.T, file, kind string) []string {
	t.Helper()
	source, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	ast.Inspect(source, func(n ast.Node) bool {
		v, ok := n.(*ast.ValueSpec)
		if !ok {
			return true
		}
		if id, typed := v.Type.(*ast.Ident); typed && id.Name == kind {
			for _, value := range v.Values {
				text, err := strconv.Unquote(value.(*ast.BasicLit).Value)
				if err != nil {
					t.Fatal(err)
				}
				found = append(found, text)
			}
		}
		return true
	})
	return found
}

func TestNoKindIsLeftOutOfTheLists(t *testing.T) {
	var steps, events []string
	for _, k := range StepKinds() {
		steps = append(steps, string(k))
	}
	for _, k := range EventKinds() {
		events = append(events, string(k))
	}
	for _, tt := range []struct {
		file, kind string
		listed     []string
	}{{"step.go", "StepKind", steps}, {"event.go", "EventKind", events}} {
		defined := constants(t, tt.file, tt.kind)
		slices.Sort(defined)
		slices.Sort(tt.listed)
		if diff := cmp.Diff(defined, tt.listed); diff != "" || len(defined) < 10 {
			t.Errorf("%s: defined and listed differ: %s", tt.kind, diff)
		}
		if len(slices.Compact(defined)) != len(tt.listed) {
			t.Errorf("%s: two kinds have one code", tt.kind)
		}
	}
}

func TestEveryKindHasWordsOfItsOwnThatHoldItsValues(t *testing.T) {
	said := map[string]bool{}
	for _, kind := range StepKinds() {
		s := sample(kind)
		text := s.Text()
		if text == "" || said[text] || strings.Contains(text, "%!") || strings.Contains(text, "nil") {
			t.Errorf("%s: %q", kind, text)
		}
		said[text] = true
		for value, holds := range map[values]string{aDay: (asOf + 33).String(), someDays: "12 days", someLitres: "4711 L", aLot: "1147 L", aRisk: "5 %", aWindow: "early"} {
			if value == someLitres && kind == RouteStep {
				holds = "4710.988 L"
			}
			if s.speaks()&value != 0 && !strings.Contains(text, holds) {
				t.Errorf("%s: %q does not say %q", kind, text, holds)
			}
		}
	}
	for _, kind := range EventKinds() {
		text := Event{Kind: kind, Order: "PO-7"}.Text()
		if text == "" || said[text] || strings.Contains(text, "PO-7") != (kind == OrderArrives) {
			t.Errorf("%s: %q", kind, text)
		}
		said[text] = true
	}
	if got := (Event{Kind: "else"}).Text() + (Step{Kind: "else"}).Text(); got != "" {
		t.Errorf("a kind that there is not says %q", got)
	}
}

func TestALineSaysAllThatHappensOnItsDay(t *testing.T) {
	l := Line{Events: []Event{{OrderArrives, "A1"}, {Kind: BelowReserve}}}
	if got, want := l.Text(), "order A1 arrives; below the reserve"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// saved writes an explanation as it is saved, and reads it back.
func saved(x Explanation) (Explanation, error) {
	body, err := json.Marshal(x)
	if err != nil {
		return x, err
	}
	var back Explanation
	return back, json.Unmarshal(body, &back)
}

func TestAnExplanationOfEveryKindComesBackAsItWasSaved(t *testing.T) {
	x := Explanation{Guard: WindowGuard, Path: 7, Lines: []Line{{Day: asOf, Burn: 1, Stock: -2, Reserve: 3}}}
	for _, kind := range EventKinds() {
		e := Event{Kind: kind}
		if kind == OrderArrives {
			e.Order = "PO-7"
		}
		x.Lines[0].Events = append(x.Lines[0].Events, e)
	}
	for _, kind := range StepKinds() {
		x.Steps = append(x.Steps, sample(kind))
	}
	x.Need, x.Room = &Deciding{2, x.Lines, x.Steps}, &Deciding{3, x.Lines, x.Steps}
	back, err := saved(x)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(x, back); diff != "" {
		t.Error(diff)
	}
}

func TestEveryAnswersExplanationComesBackAsItWasSaved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := randomProblem(t)
		p.Horizon = 300                                                                             // nearer, so that not all windows lie within it
		if stock := rapid.Float64Range(0, 1).Draw(t, "of the stock"); rapid.Bool().Draw(t, "low") { // so that some are short
			for s := range p.Stock {
				p.Stock[s] *= stock
			}
		}
		if rapid.Bool().Draw(t, "one way is open all year") {
			w := &p.Windows[0]
			w.AllYear = true
			for s := range w.Opens {
				w.Opens[s], w.Closes[s] = 0, Never
			}
		}
		p.Windows = p.Windows[:rapid.IntRange(0, len(p.Windows)).Draw(t, "windows")]
		x := Decide(p).Explanation
		back, err := saved(x)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(x, back); diff != "" {
			t.Fatal(diff)
		}
	})
}

// Advice stays as it was issued: before limits said what lot they leave, and the joint guard its path.
func TestAnExplanationThatWasIssuedBeforeIsReadAndHasWords(t *testing.T) {
	var x Explanation
	body := `{"guard":"reserve","path":1,"lines":[],"steps":[{"code":"order-by-over-all-paths","day":"2026-03-02"},
		{"code":"room-on-arrival","litres_l15":500},{"code":"route-largest-lot","litres_l15":700}]}`
	if err := json.Unmarshal([]byte(body), &x); err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{
		"over all paths together order by 2026-03-02: until then it comes as early as an order placed today",
		"on arrival there is room for 500 L at the risk target, for fuel as warm as it may get", "the route brings at most 700 L at a time",
	} {
		if got := x.Steps[i].Text(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestAnExplanationOfAnotherVersionIsAnError(t *testing.T) {
	for name, body := range map[string]string{
		"steps as sentences":               `{"path":1,"lines":[],"steps":["2026-03-02: the stock falls below the reserve"]}`,
		"a step of another kind":           `{"path":1,"lines":[],"steps":[{"code":"else"}]}`,
		"a step without its day":           `{"path":1,"lines":[],"steps":[{"code":"reserve-lost"}]}`,
		"a step with a value of no use":    `{"path":1,"lines":[],"steps":[{"code":"no-route","days":3}]}`,
		"a step of another kind of need":   `{"path":1,"lines":[],"steps":[],"need":{"path":2,"lines":[],"steps":[{"code":"else"}]}}`,
		"an event of another kind of room": `{"path":1,"lines":[],"steps":[],"room":{"path":2,"lines":[{"day":"2026-03-02","events":[{"code":"else"}]}],"steps":[]}}`,
		"an event of another kind":         `{"path":1,"lines":[{"day":"2026-03-02","events":[{"code":"else"}]}],"steps":[]}`,
		"an arrival of no order":           `{"path":1,"lines":[{"day":"2026-03-02","events":[{"code":"order-arrives"}]}],"steps":[]}`,
		"an order where nothing arrives":   `{"path":1,"lines":[{"day":"2026-03-02","events":[{"code":"stock-now","order":"A1"}]}],"steps":[]}`,
	} {
		x := Explanation{Path: 5}
		if err := json.Unmarshal([]byte(body), &x); err == nil {
			t.Errorf("%s: read as %+v", name, x)
		}
		if x.Path != 5 {
			t.Errorf("%s: read by half", name)
		}
	}
}

// On the printed path the steps from today lead to the arrival: the later of lead time and opening, which
// stands last, plus the slip.
func TestTheStepsFromTodayAddUpToTheArrival(t *testing.T) {
	tests := []struct {
		name        string
		lead, opens int
		allYear     bool
		want        []StepKind
	}{
		{"opens later", 20, 60, false, []StepKind{LeadFromToday, OpensOn, ArrivesWithSlip}},
		{"open already", 20, -5, false, []StepKind{OpensOn, LeadFromToday, ArrivesWithSlip}},
		{"open all year", 20, 0, true, []StepKind{LeadFromToday, ArrivesWithSlip}},
	}
	for _, tt := range tests {
		w := &Window{Route: "west", Name: "early", Opening: asOf + 60, AllYear: tt.allYear, Opens: []int{tt.opens}, Closes: []int{Never}, Lead: []int{tt.lead}, Slip: []int{4}}
		p := &Problem{AsOf: asOf}
		steps := p.forth(w, 0)
		var kinds []StepKind
		for _, s := range steps {
			kinds = append(kinds, s.Kind)
		}
		if diff := cmp.Diff(tt.want, kinds); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
			continue
		}
		last, before := steps[len(steps)-1], steps[len(steps)-2]
		if int(*last.Day-asOf) != w.Arrival(0, 0) || int(*last.Day-*before.Day) != *last.Days {
			t.Errorf("%s: %v after %v", tt.name, last.Day, before.Day)
		}
	}
}
