package web

import (
	"strings"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/resupply"
)

// planned is orin with a plan of two deliveries of one window, the second of which is the same window's late one.
// The levels add up: 150 000 − 70 000 + 27 000 = 107 000 L asked, 13 000 more; and 180 000 + 28 000 = 208 000 L, 8 000 less.
func planned() advice.Plant {
	p := orin()
	first := advice.PlannedLot{
		Route: "kestrel-barge", Window: "early-summer", Opens: pointer(after(99)), Delivery: 1, OrderBy: after(37),
		Arrives: resupply.Dates{P10: pointer(after(95)), P50: pointer(after(101)), P90: pointer(after(110))},
		UpTo:    120_000, CallBelow: 110_000, Lot: 60_000, LotP10: 50_000, LotP90: 70_000, Called: 0.98, PriceMinor: 162_000, FailChance: 0.02,
		Why: advice.PlannedLevel{From: after(95), Tightest: after(250), Outflow: 150_000, Brought: 70_000, Reserve: 27_000, Asked: 107_000, Raised: 13_000, Room: pointer(int64(140_000))},
	}
	late := first
	late.Delivery, late.Late, late.OrderBy, late.Alone, late.FailChance = 2, true, after(60), true, 0.075
	late.Arrives = resupply.Dates{P10: pointer(after(120))}
	late.UpTo, late.CallBelow, late.LotP10, late.LotP90, late.Called = 200_000, 150_000, 80_000, 80_000, 1
	late.Why = advice.PlannedLevel{From: after(120), Tightest: after(460), Outflow: 180_000, Reserve: 28_000, Asked: 208_000, Raised: -8_000}
	p.Planned = &advice.Planned{
		Currency: "USD", Lots: []advice.PlannedLot{first, late}, Fallback: 4_000,
		Until: advice.PlannedEnd{Route: "kestrel-barge", Window: "early-summer", Opens: pointer(after(464))},
		Cost: advice.PlannedCost{Mean: 23_456_700, Error: 120_000, P10: 21_000_000, P50: 23_000_000, P90: 26_000_000,
			Fixed: 1_000_000, Fuel: 24_000_000, Fallback: 300_000, Carrying: 156_700, Left: 2_000_000},
		Risk: advice.PlannedRisk{Paths: 1000, Below: 0.043, Fallback: 1_200, FallbackP90: 5_000, Missing: 300},
	}
	return p
}

func TestThePlantPageShowsThePlanDeliveryByDelivery(t *testing.T) {
	w := get(server(keep(t, planned()), asOf), "/plants/cape-orrin")
	if w.Code != 200 {
		t.Fatalf("status %d: %s", w.Code, w.Body)
	}
	checkPage(t, w.Body.String())
	holds(t, plainSpaces.Replace(w.Body.String()),
		`<a href="#plan">Plan</a>`, `<section id="plan"><h2>The cheapest plan</h2>`, `href="/plants/cape-orrin/options"`,
		"Two deliveries, about 230 000 (210 000 to 260 000 USD), and the stock below its reserve before a fallback on 4.3 % of paths.",
		"They carry to the early summer barge of 9 June 2032, from which nothing is planned yet.",
		`<th scope="row">Early summer barge</th><td>9 April</td><td>6 Jun to 21 Jun</td><td class="n">110</td><td class="n">120</td><td class="n">50 to 70</td><td class="n">1 620</td><td class="n">98 %</td><td class="n">2 %</td>`,
		`<th scope="row">Early summer barge, late</th><td>2 May</td><td>after 1 Jul</td><td class="n">150</td><td class="n">200</td><td class="n">80</td><td class="n">1 620</td><td class="n">100 %</td><td class="n">7.5 %</td>`,
		"234 567 ± 1 200 USD on average of 1 000 paths that it was not made from: stops 10 000, fuel 240 000, fallback 3 000, interest and storage 1 567, less 20 000 for what is left at the end",
		"1.2 kL on average, at most 5.0 kL on nine of ten paths", "4.0 kL must come by a fallback at the accepted risk", "0.3 kL on average, for which no fallback",
		"Early summer barge: 150 000 L go out from 6 June to 8 November, less 70 000 L by orders on their way, and 27 000 L of reserve are to be left: 107 000 L at the accepted risk; 13 000 L more, because that is cheaper in the end. There is room for 140 000 L.",
		"Early summer barge, late: 180 000 L go out from 1 July to 5 June 2032, and 28 000 L of reserve are to be left: 208 000 L at the accepted risk; 8 000 L less, since room, lots or money do not allow more. It fails more often than the accepted risk: no lot from it alone holds that.",
	)
}

func TestAPlanThatOrdersNothingSaysUntilWhen(t *testing.T) {
	p := planned()
	p.Planned.Lots = []advice.PlannedLot{}
	page := plainSpaces.Replace(get(server(keep(t, p), asOf), "/plants/cape-orrin").Body.String())
	holds(t, page, "The cheapest plan orders nothing before the early summer barge of 9 June 2032, and leaves 1.2 kL to a fallback on average.")
	if strings.Contains(page, `aria-label="The plan"`) {
		t.Error("there is a table of no deliveries")
	}
}

func TestAPlantWithoutAPlanShowsNone(t *testing.T) {
	page := get(server(keep(t, orin()), asOf), "/plants/cape-orrin").Body.String()
	if strings.Contains(page, "#plan") || strings.Contains(page, `id="plan"`) || strings.Contains(page, "/options") {
		t.Errorf("a plan is shown: %s", mainOf(page))
	}
}
