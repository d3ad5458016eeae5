package web

import (
	"context"
	"strings"
	"testing"

	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/resupply"
)

// optioner answers with what the test says.
type optioner struct {
	asked string
	got   advice.PlanOptions
	err   error
}

func (o *optioner) Options(_ context.Context, plant string) (advice.PlanOptions, error) {
	o.asked = plant
	return o.got, o.err
}

// everyOption is orin's plan with an option of every kind; of two windows that fail, one leaves fuel missing.
func everyOption() advice.PlanOptions {
	p := planned()
	of := func(kind resupply.OptionKind, more int64, below float64) advice.PlanOption {
		return advice.PlanOption{Kind: kind, More: more, MoreError: 50_000, Below: below, BelowMore: below - 0.043, BelowError: 0.006, Fallback: 9_000, Missing: 3_000}
	}
	onLot := func(lot int, o advice.PlanOption) advice.PlanOption {
		o.Lot, o.Route, o.Window, o.Opens = &lot, "kestrel-barge", "early-summer", pointer(after(99))
		return o
	}
	fails := func(opens int, short *advice.Shortage) advice.PlanOption {
		o := of(resupply.WindowFails, 4_000_000, 0.6)
		o.Route, o.Window, o.Opens, o.Short = "kestrel-barge", "early-summer", pointer(after(opens)), short
		return o
	}
	saved := of(resupply.SaveFuel, -1_150_000, 0.02)
	saved.Share = pointer(0.05)
	return advice.PlanOptions{Plant: p.Plant, Name: p.Name, AsOf: asOf, Planned: p.Planned, Options: []advice.PlanOption{
		onLot(0, of(resupply.SkipDelivery, 2_500_000, 0.25)), onLot(1, of(resupply.FillUp, 75_000, 0.043)), onLot(0, of(resupply.LitresOrdered, 100_000, 0.093)),
		fails(99, northgate().Short), fails(464, nil), saved,
	}}
}

// optionServer serves the pages of one plant with an optioner.
func optionServer(t testing.TB, p advice.Plant, o Optioner) *echo.Echo {
	site := New(Deps{
		Desk: advice.NewDesk(keep(t, p), 1), Ledger: keep(t, p), Optioner: o, Clock: calendar.At(march(4, 8)), AsOf: pointer(asOf),
		JSON: func(plant string) string { return "/json/" + plant },
	})
	e := echo.New()
	site.Register(e)
	e.HTTPErrorHandler = site.Error
	return e
}

// options asks for the options of orin and gives the page's text with plain spaces.
func options(t *testing.T, p advice.Plant, o Optioner, status int) string {
	t.Helper()
	w := get(optionServer(t, p, o), "/plants/cape-orrin/options")
	if w.Code != status {
		t.Fatalf("status %d, want %d: %s", w.Code, status, w.Body)
	}
	checkPage(t, w.Body.String())
	return plainSpaces.Replace(w.Body.String())
}

// The points more often below the reserve are the share less the plan's 4.3 %: 25 − 4.3 = 20.7, 9.3 − 4.3 = 5, 2 − 4.3 = −2.3.
func TestOptionsStandBesideThePlan(t *testing.T) {
	o := &optioner{got: everyOption()}
	page := options(t, planned(), o, 200)
	if o.asked != "cape-orrin" {
		t.Errorf("asked for %q", o.asked)
	}
	row := func(name string, cells ...string) string {
		return `<th scope="row">` + name + `</th><td class="n">` + strings.Join(cells, `</td><td class="n">`) + "</td>"
	}
	holds(t, page, "<h1>Two deliveries, about 230 000 USD</h1>", `href="/json/cape-orrin/plan/options"`, "<h2>The plan</h2>", "<h2>Compared with it</h2>",
		row("skip: Early summer barge", "&#43;25 000", "± 500", "25 %", "21 % ± 0.6 %", "12"),
		row("fill the tanks: Early summer barge, late", "&#43;750", "± 500", "4.3 %", "0 % ± 0.6 %", "12"),
		row("fix the litres when ordering: Early summer barge", "&#43;1 000", "± 500", "9.3 %", "5 % ± 0.6 %", "12"),
		row("fails: early summer barge of 10 June", "&#43;40 000", "± 500", "60 %", "56 % ± 0.6 %", "12"),
		row("burn 5 % less", "−11 500", "± 500", "2 %", "−2.3 % ± 0.6 %", "12"),
		"Nothing here is saved", "not accounting or credit advice")
}

func TestAFailingWindowSaysWhatIsMissingAndWhatWouldBringIt(t *testing.T) {
	holds(t, options(t, planned(), &optioner{got: everyOption()}, 200),
		"If the early summer barge of 10 June fails, 34 kL are missing", ", at the accepted risk.",
		`<th scope="row">air</th><td>air</td><td class="n">2 of 17 kL</td><td>6 days</td><td>if ordered by 5 May</td><td class="n">45 000 USD</td>`,
		"If the early summer barge of 9 June 2032 fails, the rest of the plan holds the reserve at the accepted risk.")
}

func TestAPlantWithoutAPlanHasNoOptions(t *testing.T) {
	page := options(t, orin(), &optioner{err: fault.New(fault.Invalid, "there is no plan for Cape Orrin: see the notices of its advice")}, 422)
	holds(t, page, "<h1>There is no plan to compare with</h1>", "There is no plan for Cape Orrin: see the notices of its advice.", `<a href="/plants/cape-orrin">Advice</a>`)
	if strings.Contains(page, "Compared with it") || strings.Contains(page, "/json/") {
		t.Errorf("options are shown: %s", mainOf(page))
	}
}

func TestOptionsThatCannotBeWorkedOutAreAFailure(t *testing.T) {
	if w := get(optionServer(t, planned(), &optioner{err: fault.New(fault.Unavailable, "busy")}), "/plants/cape-orrin/options"); w.Code != 503 {
		t.Errorf("a ledger that cannot be reached: %d", w.Code)
	}
	o := &optioner{}
	if w := get(optionServer(t, planned(), o), "/plants/nowhere/options"); w.Code != 404 || o.asked != "" {
		t.Errorf("no such plant: %d, asked for %q", w.Code, o.asked)
	}
}
