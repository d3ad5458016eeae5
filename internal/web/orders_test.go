package web

import (
	"testing"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// ordered is the small plant with an order that was received in March, one on its way and a proposed one. Of the 6 000 L
// ordered for 2 March 5 000 came on 9 March.
func ordered() inventory.Rows {
	rows := small(37_000, inventory.Display{})
	rows.Deliveries[0].Order = "PO-1"
	day := func(month time.Month, d int) calendar.Day { return calendar.Date(2026, month, d) }
	order := func(key, replaces, id string, state inventory.OrderState, litres units.Litres, likely calendar.Day) *inventory.Order {
		return &inventory.Order{
			Entry: inventory.Entry{Key: key, Replaces: replaces, Who: "A. Coordinator", Why: "told by phone"}, Plant: "P", ID: id, State: state,
			Measure: inventory.Measure{Volume: litres, Basis: inventory.Basis15}, OrderedOn: day(time.January, 5), Early: likely - 3, Likely: likely, Late: likely + 5,
		}
	}
	received := order("c", "b", "PO-1", inventory.Closed, 6_000, day(time.March, 6))
	received.StateAt = new(march(10, 9))
	rows.Orders = []*inventory.Order{
		order("a", "", "PO-1", inventory.Committed, 6_000, day(time.March, 2)), order("b", "a", "PO-1", inventory.InTransit, 6_000, day(time.March, 6)), received,
		order("d", "", "PO-2", inventory.Loaded, 20_000, day(time.May, 20)), order("e", "", "PO-3", inventory.Proposed, 9_000, day(time.August, 1)),
	}
	rows.Orders[4].OrderBy = new(day(time.May, 2))
	rows.Clearances = []*inventory.Clearance{
		{Entry: inventory.Entry{Key: "x"}, Plant: "P", Order: "PO-3", Name: "credit", TakesDays: new(40), By: "Savings <bank>"},
		{Entry: inventory.Entry{Key: "y"}, Plant: "P", Order: "PO-3", Name: "permit", LastSafeOn: new(day(time.April, 10)), Note: "for the mooring"},
		{Entry: inventory.Entry{Key: "z"}, Plant: "P", Order: "PO-3", Name: "signature", ClearedOn: new(day(time.March, 3))},
	}
	return rows
}

func TestTheOrdersPageHoldsPlansAgainstWhatCame(t *testing.T) {
	page := newBooksSite(t, ordered()).page(t, "/plants/P/orders", 200)
	holds(t, page, "<h1>20 kL on the way in one order; one order is proposed</h1>",
		"One order has come, all of them later than was likely when they were ordered; the latest by 7 days.",
		// 5 000 less 6 000 L; 9 March is 7 days after 2 March and 3 after 6 March.
		`PO-1</a></th><td>closed</td><td class="n">6.0</td><td class="n">5.0</td><td class="n">−1.0</td><td>2 Mar</td><td>9 Mar</td><td>7 days late</td>`,
		`as first ordered</th><td class="n">6.0</td><td>2 Mar</td>`, `as last stated</th><td class="n">6.0</td><td>6 Mar</td>`, "3 days late",
		"PO-1 · closed", "PO-2 · loaded", "20 kL are still to come, and are counted on at the dates last stated.",
		"it is closed, and its deliveries brought 5 000 L of 6 000 L at 15 °C: 1 000 L are missing",
		"<th scope=\"row\">in transit</th>", "without being loaded", "A. Coordinator", "Told by phone.",
		"To come as stated it must be placed by 2 May.", "Savings &lt;bank&gt;", "given 3 Mar", "due in 10 days", "overdue by 8 days", "/plants/P\"")
	newBooksSite(t, small(37_000, inventory.Display{})).page(t, "/plants/Q/orders", 404)
	holds(t, newBooksSite(t, small(37_000, inventory.Display{})).page(t, "/plants/P/orders", 200), "No order is in the ledger", "load orders.csv")
}

func TestThePlantPageShowsWhatBecomesOfAnOverfullOrder(t *testing.T) {
	p := orin()
	minor := int64(1_234_500)
	currency := "CAD"
	p.Stock.InTransit = 70_000
	p.Proposed = []advice.Expected{{Order: "PO-9", State: "proposed", Litres: 90_000, Early: after(190), Likely: after(200), Late: after(220)}}
	p.Clearances = []inventory.OrderClearanceState{{Order: "PO-9", Clearance: "credit", State: inventory.ClearanceOverdue, LastSafe: pointer(after(-3)), By: pointer("bank")}}
	p.Overfull = []advice.Overfull{{
		Order: "PO-7", Litres: 70_000, RoomP10: 40_000, RoomP50: 55_000, RoomP90: 70_000, Balance: 15_000, BalanceMinor: &minor, Currency: &currency,
		Arrives: after(100), RoomForAll: advice.RoomDates{P50: pointer(after(117)), AtRisk: pointer(after(130))},
		Choices: []advice.Choice{{Choice: advice.TankBack, Message: "tank farm-2 is out of service until 2031-08-01: back earlier it would give room"}},
	}}
	k := keep(t, p)
	w := get(server(k, asOf), "/plants/cape-orrin")
	checkPage(t, w.Body.String())
	holds(t, plainSpaces.Replace(w.Body.String()), "More than there is room for",
		"Of its 70 kL, 55 kL are likely to have room when it comes, about 11 June (40 to 70 kL in eight of ten simulated paths).",
		"15 kL have none, 12 345 CAD of its price", "room for all of it from 28 June on, and by 11 July at all but the accepted risk",
		"Tank farm-2 is out of service until 1 August: back earlier it would give room.", "In transit, in no tank yet: 70 kL",
		"Proposed: would arrive", "PO-9", "overdue by 3 days", `class="act">overdue`, "/plants/cape-orrin/orders")
}

func TestWhatIsSaidOfRoomThatNeverComes(t *testing.T) {
	for want, room := range map[string]advice.RoomDates{
		"not likely to be room for all of it as far as anybody looked": {},
		"room for all of it from 28 June on.":                          {P50: pointer(after(117))},
	} {
		holds(t, plainSpaces.Replace(overfullText(advice.Overfull{Order: "A", Litres: 9, RoomForAll: room}, orin())), want)
	}
}
