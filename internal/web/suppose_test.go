package web

import (
	"context"
	"net/http"
	"strings"
	"testing"

	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

// supposer remembers what was supposed, and answers with what the test says.
type supposer struct {
	asked *advice.Supposition
	got   advice.Supposed
	under advice.Sensitive
	err   error
}

func (s *supposer) Sensitivities(context.Context, string) (advice.Sensitive, error) {
	return s.under, s.err
}

func (s *supposer) Suppose(_ context.Context, plant string, of advice.Supposition) (advice.Supposed, error) {
	s.asked = &of
	s.got.Supposition = of
	s.got.Plant = plant
	return s.got, s.err
}

// moreLoad is an answer to 40 kW more: 300 kL a year become 330 kL, and the order comes a month earlier.
func moreLoad() advice.Supposed {
	use := func(days int, litres float64) advice.SupposedUse {
		of := func(x float64) advice.UseRange { return advice.UseRange{P10: 0.9 * x, P50: x, P90: 1.1 * x} }
		return advice.SupposedUse{Days: days, Without: of(litres), With: of(1.1 * litres), Difference: 0.1 * litres, Percent: pointer(10.0)}
	}
	p := orin()
	earlier := *p.Order
	earlier.OrderBy, earlier.Least, earlier.Lot, earlier.Most = after(7), 130_000, 135_000, 150_000
	return advice.Supposed{
		Name: p.Name, AsOf: asOf, Quality: advice.Weak, Load: &advice.SupposedLoad{Ratio: 1.1, MeanKW: pointer(400.0)},
		Uses:    []advice.SupposedUse{use(30, 27_000), use(180, 160_000), use(365, 300_000)},
		Without: advice.SupposedOutcome{Status: resupply.InHand, ReserveDate: p.ReserveDate, DryDate: p.DryDate, Order: p.Order},
		With: advice.SupposedOutcome{Status: resupply.Short, ReserveDate: resupply.Dates{P10: pointer(after(100)), P90: pointer(after(130))},
			Order: &earlier, Short: &advice.Shortage{Litres: 12_000, From: after(90)}, Notices: notice.List{notice.New(notice.Serious, "d", "cape-orrin", "is too late")}},
		Assumptions: []string{"what is supposed is taken as sure"}, Notices: notice.List{notice.New(notice.Caution, "c", "tank farm-1", "looks odd")},
	}
}

// supposeServer serves the pages of one plant with a supposer.
func supposeServer(t testing.TB, p advice.Plant, s Supposer) *echo.Echo {
	site := New(Deps{
		Desk: advice.NewDesk(keep(t, p), 1), Ledger: keep(t, p), Supposer: s, Clock: calendar.At(march(4, 8)), AsOf: pointer(asOf),
		JSON: func(plant string) string { return "/json/" + plant },
	})
	e := echo.New()
	site.Register(e)
	e.HTTPErrorHandler = site.Error
	return e
}

// supposed asks for a page about orin and gives its text with plain spaces.
func supposed(t *testing.T, p advice.Plant, s Supposer, query string, status int) string {
	t.Helper()
	w := get(supposeServer(t, p, s), "/plants/cape-orrin/suppose"+query)
	if w.Code != status {
		t.Fatalf("%s: status %d, want %d: %s", query, w.Code, status, w.Body)
	}
	checkPage(t, w.Body.String())
	return plainSpaces.Replace(w.Body.String())
}

func TestBothCasesStandSideBySide(t *testing.T) {
	s := &supposer{got: moreLoad()}
	page := supposed(t, orin(), s, "?load_kw=40&load_percent=&load_from=2031-05-01&standby_from=&standby_until=&engines_less_percent=&engines_from=", 200)
	holds(t, page, "<h1>330 kL in the next 365 days instead of 300 kL</h1>", "Supposed: a load of &#43;40 kW, 1.10 times the use, from 1 May on.",
		`next 30 days</th><td class="n">27<small>24 to 30</small></td><td class="n">30<small>27 to 33</small></td><td class="n">&#43;2.7<small>&#43;10 %</small></td>`,
		"status</th><td>in hand</td><td>short</td>", "reserve reached</th><td>1 Aug to 1 Sep</td><td>11 Jun to 11 Jul</td>",
		"order by</th><td>9 April</td><td>10 March</td>", "lot</th><td>120 kL (118 to 158)</td><td>135 kL (130 to 150)</td>",
		"short</th><td>—</td><td>12 kL from 1 June</td>", "early summer barge, 10 June",
		"not a forecast of what will happen", "Nothing here is saved", "what is supposed is taken as sure", "<dt>caution</dt><dd>tank farm-1: looks odd</dd>", `<dt class="act">serious, with</dt><dd>is too late</dd>`,
		`href="/json/cape-orrin/supposed?load_from=2031-05-01&amp;load_kw=40"`, `name="load_kw" value="40"`, `value="2031-05-01" type="date" min="2031-03-04"`)
	want := advice.Supposition{LoadKW: pointer(40.0), LoadFrom: pointer(calendar.Date(2031, 5, 1))}
	if *s.asked.LoadKW != *want.LoadKW || *s.asked.LoadFrom != *want.LoadFrom || s.asked.LoadPercent != nil || s.asked.StandbyFrom != nil || s.asked.Winter != nil {
		t.Errorf("asked for %+v, want %+v", s.asked, want)
	}
}

func TestAFormThatWasNotSentAsksNothing(t *testing.T) {
	s := &supposer{}
	page := supposed(t, orin(), s, "", 200)
	holds(t, page, "<h1>What if?</h1>", `name="engines_less_percent" value=""`)
	if s.asked != nil || strings.Contains(page, "not a forecast of what will happen") {
		t.Errorf("%+v is asked for", s.asked)
	}
}

func TestAWinterIsOfferedOnlyWhereDegreeDaysAreKnown(t *testing.T) {
	without, with := orin(), orin()
	with.TakesWinter = true
	for _, path := range []string{"/plants/cape-orrin", "/plants/cape-orrin/suppose"} {
		page := get(supposeServer(t, without, nil), path).Body.String()
		holds(t, page, "load degree days of three whole years of its climate group, kestrel coast")
		if strings.Contains(page, `name="winter"`) {
			t.Errorf("%s offers a winter without degree days", path)
		}
		page = get(supposeServer(t, with, nil), path).Body.String()
		holds(t, page, `<select name="winter">`, `<option value="0.9">colder than nine in ten</option>`)
	}
	s := &supposer{got: moreLoad()}
	page := supposed(t, with, s, "?winter=0.8", 200)
	holds(t, page, "a year to come that is colder than 80 % of those observed", `<option value="0.8" selected>`)
	if *s.asked.Winter != 0.8 {
		t.Errorf("asked for a winter of %v", *s.asked.Winter)
	}
}

func TestWhatIsWrongWithASuppositionStandsBesideItsField(t *testing.T) {
	invalid := fault.New(fault.Invalid, "this cannot be supposed")
	tests := []struct {
		name, query string
		err         error
		asks        bool
		says        []string
	}{
		{"a word for a number", "?load_kw=much", nil, false, []string{`aria-describedby="load_kw-wrong"`, "“much” is no number"}},
		{"a number in two ways", "?load_kw=1,200", nil, false, []string{"can be read in two ways"}},
		{"a day of no month", "?load_percent=5&load_from=2031-02-30", nil, false, []string{`id="load_from-wrong"`, "is no date"}},
		{"a winter that is no number", "?winter=cold", nil, false, []string{`id="suppose-wrong"`, "“cold” is no number"}},
		{"a field that the plant refuses", "?standby_from=2031-01-01", invalid.With(fault.Field{Where: "standby_from", Message: "found <that>"}), true,
			[]string{`id="standby_from-wrong">Found &lt;that&gt;.</span>`, `value="2031-01-01"`}},
		{"nothing at all", "?load_kw=", fault.New(fault.Invalid, "nothing is supposed"), true, []string{`id="suppose-wrong" role="status">Nothing is supposed.`}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := &supposer{got: moreLoad(), err: tt.err}
			holds(t, supposed(t, orin(), s, tt.query, http.StatusUnprocessableEntity), tt.says...)
			if (s.asked != nil) != tt.asks {
				t.Errorf("asked: %v", s.asked)
			}
		})
	}
	if w := get(supposeServer(t, orin(), &supposer{err: fault.New(fault.Unavailable, "busy")}), "/plants/cape-orrin/suppose?load_kw=4"); w.Code != 503 {
		t.Errorf("a ledger that cannot be reached: %d", w.Code)
	}
	if w := get(supposeServer(t, orin(), nil), "/plants/nowhere/suppose"); w.Code != 404 {
		t.Errorf("no such plant: %d", w.Code)
	}
}

func TestALotOfASuppositionSaysWhatIsMissing(t *testing.T) {
	for want, o := range map[string]advice.Order{
		"83 of 93 kL needed":      {Lot: 83_000, Least: 93_000, Most: 85_000},
		"none fits: 93 kL needed": {Least: 93_000, Most: 10_000},
		"70 kL (60 to 85)":        {Lot: 70_000, Least: 60_000, Most: 85_000},
		"70 kL":                   {Lot: 70_000, Least: 70_000, Most: 70_000},
	} {
		if got := plainSpaces.Replace(lotOrNone(advice.Plant{Status: resupply.InHand, Order: &o})); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
