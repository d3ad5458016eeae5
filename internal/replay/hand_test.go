package replay

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"overwinter/internal/backtest"
	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
	"overwinter/internal/sheet"
)

// The world of these tests is invented, and all that happens in it is sure: 1,000 L a day, one window from 1 June to 1 October, one
// delivery in it, 30 days from order to arrival. The tanks hold 500,000 L, and 200,000 L are in them on 1 March 2020. It
// lasts 365 days: 92 to the end of May, 273 from 1 June on.
const perDay = 1000.0

func on(text string) calendar.Day {
	d, err := calendar.ParseDay(text)
	if err != nil {
		panic(err)
	}
	return d
}

func sureScenario() Scenario {
	return Scenario{
		Start: on("2020-03-01"), End: on("2021-02-28"), Seed: 1, Currency: "USD", OpeningShare: 0.4, ReserveDays: 30, Risk: 0.05,
		Carrying: 0.036525, // so that a litre of a dollar costs 1e-4 dollars a day
		Window:   WindowRules{Deliveries: 1, Apart: 45},
		Delivery: DeliveryRules{Lead: 30, StopCost: 8000, Price: 1, Lot: resupply.Lot{Step: 1000, Max: 1e6}},
		Fallback: FallbackRules{Lead: 4, Price: 3, Load: 17_000, AtDays: 10},
	}
}

// sureCase is a plant of that world.
func sureCase(t *testing.T, s Scenario) *Case {
	t.Helper()
	text := "series_id,start,end,litres\n"
	for m := (calendar.Month{Year: 2018, Month: 1}); m.First() < on("2021-06-01"); m = m.Next() {
		text += fmt.Sprintf("P,%s,%s,%v\n", m.First(), m.Next().First(), perDay*float64(m.Next().First()-m.First()))
	}
	fleet, err := backtest.Read(context.Background(), backtest.Files{History: &sheet.Source{Name: "history.csv", In: strings.NewReader(text)}})
	if err != nil {
		t.Fatal(err)
	}
	r := &route{id: "barge", terms: resupply.Route{ID: "barge", LeadDays: s.Delivery.Lead, Lot: s.Delivery.Lot, Recurring: []resupply.Recurring{{
		Name: window, Opens: resupply.YearDate{Month: time.June, Day: 1}, Closes: resupply.YearDate{Month: time.October, Day: 1},
	}}}}
	return &Case{Scenario: s, fleet: fleet, Plants: []*Plant{{ID: "P", Usable: 500_000, route: r, use: useOf(fleet.Series()[0])}}}
}

// steady burns the same every day on every path.
type steady int

func (s steady) Count() int { return int(s) }

func (s steady) Cumulative(_, day int) float64 { return perDay * float64(day) }

// lived replays the case with foresight of the steady use; went may change how the seasons go.
func lived(t *testing.T, c *Case, name string, went func(map[int]season)) (*run, Score) {
	t.Helper()
	const paths = 60
	o := Options{Policies: []string{name}, Worlds: 1, Paths: paths}
	runs := c.runs(c.Plants[0], o)
	if went != nil {
		all := runs[0].went
		went(all)
		runs[0] = newRun(&c.Scenario, c.Plants[0], runs[0].policy, 1, 1, all)
	}
	for asOf := c.Scenario.Start - 1; asOf < c.Scenario.End; {
		next := min(calendar.MonthOf(asOf+1).Next().First()-1, c.Scenario.End)
		ahead := &foresight{c: c, p: c.Plants[0], asOf: asOf, made: true, drawn: steady(paths)}
		ahead.middle = medianOf(ahead.drawn, ahead.days())
		c.month(runs, ahead, next, o)
		asOf = next
	}
	return runs[0], runs[0].close()
}

// A policy fills up to its level on 1 June, when 200 − 92 = 108 thousand litres are left, so that level − 108 are delivered and
// level − 273 left at the end. The closes of the days, in thousand litres, are 200 − k for k = 1 to 92 and level − k for k = 1 to 273:
// their sum is 92·200 − 92·93/2 + 273·level − 273·274/2 = 14,122 + 273·level − 37,401, at 0.1 dollars each.
//   - fill: the level is 500.
//   - upto: 1.2 × 365 = 438, to the next 1 June.
//   - ours and mean: 365 to the day before the next 1 June, and 30 of reserve at its close: 395.
func TestAWorldWithoutChanceCostsWhatIsReckonedByHand(t *testing.T) {
	for _, tt := range []struct {
		policy string
		level  float64
	}{{"fill", 500}, {"upto", 438}, {"ours", 395}, {"mean", 395}} {
		r, got := lived(t, sureCase(t, sureScenario()), tt.policy, nil)
		delivered, closing := 1000*(tt.level-108), 1000*(tt.level-273)
		carrying := 0.1 * (14_122 + 273*tt.level - 37_401)
		want := Score{
			Plant: got.Plant, Policy: tt.policy, World: 1, Fuel: delivered, Stops: 8000, Carrying: got.Carrying, Left: closing,
			Opening: 200_000, Delivered: delivered, Burned: 365_000, Closing: closing, Deliveries: 1, Days: 365,
		}
		if got != want || math.Abs(got.Carrying-carrying) > 1e-6 {
			t.Errorf("%s: carrying %v\n%+v\nwant %v\n%+v", tt.policy, got.Carrying, got, carrying, want)
		}
		if cost := 8000 + delivered - closing + carrying; math.Abs(got.Cost()-cost) > 1e-6 {
			t.Errorf("%s: costs %v, want %v", tt.policy, got.Cost(), cost)
		}
		// 2 May is the last day in time: it is passed before the decision at the end of May.
		if o := r.orders[0]; o != (order{call{visit{2020, 0}, 0}, on("2020-04-30"), on("2020-06-01")}) {
			t.Errorf("%s: ordered %v, arrived %v", tt.policy, o.on, o.arrived)
		}
	}
}

// The window fails. The 191st day closes with 9,000 L, less than ten days: a load is bought, which comes four days later, when 6,000 L
// are left, and lasts 17 days; so loads are bought on days 191, 208, … 361, 11 of them, and the last comes on day 365. Day 171 closes with
// 29,000 L, and no load brings the stock back above 30,000: 195 days below the reserve. 200 + 11·17 − 365 = 22 thousand are left.
func TestAWindowThatFailsIsBridgedByWholeLoads(t *testing.T) {
	for _, policy := range Policies() {
		_, got := lived(t, sureCase(t, sureScenario()), policy, func(went map[int]season) { went[2020] = failing(went[2020]) })
		if got.Fallback != 187_000 || got.Flown != 561_000 || got.Closing != 22_000 || got.Below != 195 || got.BelowAfterFailed != 195 || got.Dry != 0 || got.Deliveries != 0 {
			t.Errorf("%s: %+v", policy, got)
		}
	}
}

func failing(s season) season {
	s.fails = true
	return s
}

// Without a fallback 200 days are served; 165 of 365 are not, a thousand litres each.
func TestWithoutAFallbackThePlantIsDry(t *testing.T) {
	s := sureScenario()
	s.Fallback.AtDays = 0
	_, got := lived(t, sureCase(t, s), "fill", func(went map[int]season) { went[2020] = failing(went[2020]) })
	if got.Dry != 165 || got.Unserved != 165_000 || got.Burned != 200_000 || got.Closing != 0 || got.Fallback != 0 {
		t.Errorf("%+v", got)
	}
}

// With two visits 45 days apart, on 1 June and 16 July, fill brings 392,000 L and then what was burned since, 45,000 L.
func TestTheSecondVisitFillsWhatWasBurnedSinceTheFirst(t *testing.T) {
	s := sureScenario()
	s.Window.Deliveries = 2
	r, got := lived(t, sureCase(t, s), "fill", nil)
	if got.Delivered != 437_000 || got.Deliveries != 2 || r.orders[1].arrived != on("2020-07-16") {
		t.Errorf("%+v, second on %s", got, r.orders[1].arrived)
	}
}

// 200 days from order to arrival: an order of the first decision, at the end of February, would come on 16 September. One that is
// placed at the end of March would come after the closing and is lost.
func TestWhatComesAfterTheClosingIsLost(t *testing.T) {
	s := sureScenario()
	s.Delivery.Lead = 200
	r, got := lived(t, sureCase(t, s), "fill", nil)
	if got.Deliveries != 1 || r.orders[0].arrived != on("2020-09-16") {
		t.Errorf("%d deliveries, first on %s", got.Deliveries, r.orders[0].arrived)
	}
	s.Start = on("2020-04-01")
	if _, got = lived(t, sureCase(t, s), "fill", nil); got.Deliveries != 0 {
		t.Errorf("%d deliveries after the closing", got.Deliveries)
	}
}

// Room for 3,000 L on 1 June is less than the smallest lot: the visit brings nothing, and costs nothing.
func TestAVisitWithoutRoomForTheSmallestLotCostsNothing(t *testing.T) {
	s := sureScenario()
	s.Delivery.Lot.Min = 20_000
	c := sureCase(t, s)
	c.Scenario.OpeningShare, c.Plants[0].Usable = 1, 111_000
	c.Scenario.Start = on("2020-05-29")
	c.Scenario.End = on("2020-06-02")
	if _, got := lived(t, c, "fill", nil); got.Deliveries != 0 || got.Stops != 0 || got.Closing != 106_000 {
		t.Errorf("%+v", got)
	}
}
