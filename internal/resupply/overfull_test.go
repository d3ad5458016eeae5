package resupply

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/calendar"
)

// The case of TestAnOrderThatFindsTooLittleRoomIsNamedAndHeldToIt: 30 900 of 35 000 L have room on day 10, 4 100 L do
// not. 100 L a day are burned, so that before the burn of day 10 + k there is room for 100·k L more: for 4 100 L on day 51.
func TestTheBalanceOfAnOverfullOrderHasADay(t *testing.T) {
	p := plain()
	p.Receipts = []Receipt{{Order: "A1", Litres: 35_000, Day: same(paths, 10)}}
	all := Decide(p).Overfull
	want := Overfull{Order: "A1", Litres: 35_000, RoomP10: 30_900, RoomP50: 30_900, RoomP90: 30_900, Balance: 4_100, Arrives: asOf + 10}
	if len(all) != 1 {
		t.Fatalf("%+v", all)
	}
	got := all[0]
	for _, on := range []*calendar.Day{got.RoomForAll, got.RoomForAllAtRisk} {
		if on == nil || *on != asOf+51 {
			t.Errorf("there is room for all of it on %v, want %s", on, asOf+51)
		}
	}
	got.RoomForAll, got.RoomForAllAtRisk = nil, nil
	if got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// A tank that comes back on day 30 brings 10 000 L of room, more than the 4 100 that lack; one that never comes, none.
func TestARoomThatComesBackTakesTheBalance(t *testing.T) {
	for from, want := range map[int]*calendar.Day{30: day(30), 9000: day(51)} {
		p := plain()
		p.Capacity = append(p.Capacity, Capacity{from, 50_000})
		p.Receipts = []Receipt{{Order: "A1", Litres: 35_000, Day: same(paths, 10)}}
		if got := Decide(p).Overfull[0].RoomForAll; got == nil || *got != *want {
			t.Errorf("from day %d on: %v, want %s", from, got, *want)
		}
	}
}

// A second order arrives on day 20, when the tanks, filled to 40 000 L on day 10 and burned down by 1 000, have room for 1 000
// of its 3 000 L. The balance of the first, 4 100 L, takes room on day 61: until then the second order's 1 000 L have taken
// that of ten days' burn. Room for the second's 2 000 L comes 20 days later.
func TestTheBalanceOfAnEarlierOrderComesFirst(t *testing.T) {
	p := plain()
	p.Receipts = []Receipt{
		{Order: "second", Litres: 3_000, Day: same(paths, 20)},
		{Order: "first", Litres: 35_000, Day: same(paths, 10)},
	}
	all := Decide(p).Overfull
	if len(all) != 2 || all[0].RoomP50 != 1_000 || all[0].Balance != 2_000 {
		t.Fatalf("%+v", all)
	}
	if first, second := *all[1].RoomForAll, *all[0].RoomForAll; first != asOf+61 || second != asOf+81 {
		t.Errorf("room on %s and %s, want %s and %s", first, second, asOf+61, asOf+81)
	}
}

func TestAnOrderThatComesBeyondTheHorizonIsNotOverfull(t *testing.T) {
	p := plain()
	p.Receipts = []Receipt{{Order: "A1", Litres: 350_000, Day: same(paths, Never)}}
	if all := Decide(p).Overfull; all != nil {
		t.Errorf("%+v", all)
	}
}

// What orders bring is in the tanks or in a balance, and in one of them only; no tank is filled beyond what it holds.
func TestLitresOfOrdersAreInTheTanksOrLeftOver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const n = 40
		p := plain()
		p.Burn, p.Stock = steady{same(n, rapid.Float64Range(10, 400).Draw(t, "rate")), 800}, same(n, rapid.Float64Range(0, 40_000).Draw(t, "stock"))
		p.Windows = nil
		for range rapid.IntRange(1, 5).Draw(t, "orders") {
			first, spread := rapid.IntRange(1, 600).Draw(t, "day"), rapid.IntRange(0, 120).Draw(t, "spread")
			p.Receipts = append(p.Receipts, Receipt{
				Litres: float64(rapid.IntRange(1, 60_000).Draw(t, "litres")), Day: perPath(n, func(s int) int { return first + s*spread/n }),
			})
		}
		bare := *p
		bare.Receipts = nil
		d := Decide(p)
		for s := range n {
			came, taken := 0.0, 0.0
			for _, r := range p.Receipts {
				if r.Day[s] > p.Horizon {
					continue
				}
				came, taken = came+r.Litres, taken+r.on(s)
				if r.on(s) < 0 || r.on(s) > r.Litres {
					t.Fatalf("an order of %v L is taken with %v", r.Litres, r.on(s))
				}
				if full := p.stock(s, r.Day[s]) + p.outflow(s, r.Day[s]-1, r.Day[s]); full > 40_000+1e-6 && r.on(s) > 0 {
					t.Fatalf("the tanks hold %v L on day %d", full, r.Day[s])
				}
			}
			if in := p.stock(s, p.Horizon) - bare.stock(s, p.Horizon); math.Abs(in-taken) > 1e-6 {
				t.Fatalf("%v L came into the tanks, and %v of %v L had room", in, taken, came)
			}
		}
		for _, o := range d.Overfull {
			if math.Abs(o.RoomP50+o.Balance-o.Litres) > 1e-6 || o.RoomP10 > o.RoomP50 || o.RoomP50 > o.RoomP90 || o.RoomP90 > o.Litres {
				t.Fatalf("%+v", o)
			}
			if o.RoomForAll != nil && (*o.RoomForAll < o.Arrives || o.RoomForAllAtRisk != nil && *o.RoomForAllAtRisk < *o.RoomForAll) {
				t.Fatalf("room before it comes: %+v", o)
			}
		}
	})
}
