package web

import (
	"strings"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/fault"
	"overwinter/internal/resupply"
)

// sensitive is orin's answer with changes of every kind, one of which loses the order and one of which brings
// it from elsewhere.
func sensitive() advice.Sensitive {
	p := orin()
	same := func(s resupply.Sensitivity) resupply.Sensitivity {
		s.Status, s.Route, s.Window = p.Status, p.Order.Route, p.Order.Window
		return s
	}
	return advice.Sensitive{Plant: p.Plant, AsOf: p.AsOf, Status: p.Status, Order: p.Order, Sensitivities: []resupply.Sensitivity{
		{What: resupply.ChangedBurn, By: -5, Lot: -120_000, Status: resupply.InHand},
		{What: resupply.ChangedLead, By: 1, OrderByDays: pointer(-1), Short: 12_000, Status: resupply.Short, Route: "air", Window: "all year"},
		same(resupply.Sensitivity{What: resupply.ChangedLead, By: -1, OrderByDays: pointer(1)}),
		same(resupply.Sensitivity{What: resupply.ChangedRoom, By: 1000, OrderByDays: pointer(0), Lot: 1000, Short: -1000}),
		same(resupply.Sensitivity{What: resupply.ChangedRisk, By: -1, OrderByDays: pointer(-2)}),
		same(resupply.Sensitivity{What: resupply.ChangedReserve, By: -1, OrderByDays: pointer(3)}),
		same(resupply.Sensitivity{What: resupply.ChangedReserveL, By: -2345, OrderByDays: pointer(0)}),
		same(resupply.Sensitivity{What: resupply.ChangedOpening, By: -7, OrderByDays: pointer(0)}),
	}}
}

func TestThePlantPageOffersToWorkTheChangesOutAndShowsThem(t *testing.T) {
	s := &supposer{under: sensitive()}
	e := supposeServer(t, orin(), s)
	holds(t, get(e, "/plants/cape-orrin").Body.String(), `<a href="/plants/cape-orrin?changes=yes#changes">Work it out</a>`)
	w := get(e, "/plants/cape-orrin?changes=yes")
	if w.Code != 200 {
		t.Fatalf("status %d: %s", w.Code, w.Body)
	}
	checkPage(t, w.Body.String())
	page := plainSpaces.Replace(w.Body.String())
	row := func(name, days, lot, short, then string) string {
		return `<th scope="row">` + name + `</th><td>` + days + `</td><td class="n">` + lot + `</td><td class="n">` + short + `</td><td>` + then + `</td>`
	}
	holds(t, page, "against: "+string(orin().Status)+", order 120 kL by 9 April for the early summer barge",
		row("5 % less burn", "no order", "−120 000", "0", "in hand"),
		row("1 day more lead time", "1 day earlier", "0", "&#43;12 000", "short and air"),
		row("1 day less lead time", "1 day later", "0", "0", ""),
		row("1 000 L more room in the tanks", "same day", "&#43;1 000", "−1 000", ""),
		row("one percentage point less risk accepted", "2 days earlier", "0", "0", ""),
		row("1 day less of reserve", "3 days later", "0", "0", ""),
		row("2 345 L less of reserve, a mean day’s use", "same day", "0", "0", ""),
		row("the window opens 7 days earlier", "same day", "0", "0", ""))
	if strings.Contains(page, "Work it out") {
		t.Error("it is still offered")
	}
}

func TestEveryChangeHasWordsOfItsOwn(t *testing.T) {
	said := map[string]bool{}
	for _, what := range resupply.Changes() {
		for _, by := range []float64{-1, 1} {
			text := changeName(resupply.Sensitivity{What: what, By: by})
			if said[text] || strings.Contains(text, string(what)) {
				t.Errorf("%s by %v: %q", what, by, text)
			}
			said[text] = true
		}
	}
}

func TestChangesThatCannotBeWorkedOutAreSaid(t *testing.T) {
	for want, s := range map[string]*supposer{
		"Without a known stock and consumption there is nothing to work out.": {},
		"The tank has no table.": {err: fault.New(fault.Invalid, "the tank has no table")},
	} {
		holds(t, get(supposeServer(t, orin(), s), "/plants/cape-orrin?changes=yes").Body.String(), want)
	}
	if w := get(supposeServer(t, orin(), &supposer{err: fault.New(fault.Unavailable, "busy")}), "/plants/cape-orrin?changes=yes"); w.Code != 503 {
		t.Errorf("a ledger that cannot be reached: %d", w.Code)
	}
}

// The lot has its own arithmetic: the steps after those of the day, and the two paths.
func TestTheLotsArithmeticStandsApartFromTheDays(t *testing.T) {
	p := orin()
	if whyLotOf(p) != nil {
		t.Error("a lot without steps has some")
	}
	days := len(p.Explanation.Steps)
	p.Explanation.Steps = append(p.Explanation.Steps,
		resupply.Step{Kind: resupply.LeastFollowing, Litres: pointer(int64(118_000))},
		resupply.Step{Kind: resupply.RouteStep, Litres: pointer(int64(1893)), Limit: pointer(1892.70589), Lot: pointer(int64(119_240))})
	path := &resupply.Deciding{Path: 3, Lines: p.Explanation.Lines[:2], Steps: []resupply.Step{{Kind: resupply.ReserveThen, Day: pointer(after(99)), Litres: pointer(int64(28_000))}}}
	p.Explanation.Need, p.Explanation.Room = path, path
	v := whyLotOf(p)
	if len(whyOf(p, 0.05).Steps) != days || len(v.Steps) != 2 || len(v.Need.Lines) != 2 || v.Room.Received {
		t.Errorf("%+v", v)
	}
	if got := spaced(v.Steps[1]); got != "The route brings whole steps of 1 892.706 L: lot 119 240 L." {
		t.Errorf("%q", got)
	}
	page := get(supposeServer(t, p, nil), "/plants/cape-orrin").Body.String()
	checkPage(t, page)
	holds(t, spaced(page), "<h3>What is needed</h3>", "<h3>The room</h3>", "10 June: reserve 28 000 L.")
}
