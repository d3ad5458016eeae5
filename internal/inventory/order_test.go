package inventory

import (
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// may is the order A1 of 15 000 L at 15 °C, expected about 15 May 2026.
func may(state OrderState) *Order {
	return &Order{
		Entry: Entry{Key: "a1"}, Plant: "P", ID: "A1", State: state, Measure: at15(15_000), OrderedOn: calendar.Date(2026, time.January, 10),
		Early: calendar.Date(2026, time.May, 10), Likely: calendar.Date(2026, time.May, 15), Late: calendar.Date(2026, time.May, 20),
	}
}

func loadOf(key string, day int, v units.Litres) *Delivery {
	return &Delivery{Entry: Entry{Key: key}, Plant: "P", Order: "A1", At: at(time.March, day, 12), Measure: at15(v)}
}

func TestOnlyAPlacedOrderIsCountedOn(t *testing.T) {
	for state, counted := range map[OrderState]float64{
		Proposed: 0, Cleared: 0, Ordered: 15_000, Committed: 15_000, Loaded: 15_000, InTransit: 15_000, Cancelled: 0,
	} {
		var notes notice.List
		b := bookOf(t, Rows{Orders: []*Order{may(state)}})
		open, planned := b.OpenOrders(&notes), b.PlannedOrders(&notes)
		if sum := litresOf(open); !near(sum, counted) {
			t.Errorf("%s: %v L are counted on, want %v", state, sum, counted)
		}
		if state.Planned() != (len(planned) == 1) || len(open)+len(planned) > 1 {
			t.Errorf("%s: %d open, %d planned", state, len(open), len(planned))
		}
		if inTransit := float64(FuelInTransit(open)); (state == InTransit) != (inTransit == 15_000) {
			t.Errorf("%s: %v L in transit", state, inTransit)
		}
	}
}

func litresOf(open []OpenOrder) float64 {
	sum := 0.0
	for _, o := range open {
		sum += float64(o.Litres)
	}
	return sum
}

// The as-of day is 31 March. The moment of receiving says whether the order was under way then; without it the expected
// arrival does, unless something has come.
func TestAnArrivedOrderCountsByItsDeliveriesAlone(t *testing.T) {
	since := func(o *Order, at time.Time) *Order {
		o.StateAt = &at
		return o
	}
	overdue := may(Received)
	overdue.Early, overdue.Likely, overdue.Late = calendar.Date(2026, 3, 1), calendar.Date(2026, 3, 5), calendar.Date(2026, 3, 12)
	tests := []struct {
		name  string
		order *Order
		came  []*Delivery
		open  float64
		notes []string
	}{
		{"received early, in part", since(may(Received), at(time.March, 20, 12)), []*Delivery{loadOf("d", 20, 9_000)}, 0, nil},
		{"received early, no moment, in part", may(Received), []*Delivery{loadOf("d", 20, 9_000)}, 0, nil},
		{"received after the day, a part had come", since(may(Received), at(time.April, 9, 12)), []*Delivery{loadOf("d", 20, 9_000)}, 6_000, nil},
		{"received after the day, nearly all had come", since(may(Received), at(time.April, 9, 12)), []*Delivery{loadOf("d", 20, 14_000)}, 0, nil},
		{"received, and no delivery", since(may(Received), at(time.March, 20, 12)), nil, 0, []string{CodeOrderNotCome}},
		{"received long overdue, and no delivery", overdue, nil, 0, []string{CodeOrderNotCome}},
		{"closed, and no delivery", since(may(Closed), at(time.March, 20, 12)), nil, 0, []string{CodeOrderNotCome}},
		{"closed after the day, and no delivery", since(may(Closed), at(time.April, 20, 12)), nil, 15_000, nil},
		{"closed after the day, all had come", since(may(Closed), at(time.April, 20, 12)), []*Delivery{loadOf("d", 20, 15_000)}, 0, nil},
		{"closed, 4 % are missing", since(may(Closed), at(time.March, 21, 12)), []*Delivery{loadOf("d", 20, 14_400)}, 0, nil},
		{"closed, a third is missing", since(may(Closed), at(time.March, 21, 12)), []*Delivery{loadOf("d", 20, 10_000)}, 0, []string{CodeOrderClosedShort}},
		{"closed long ago, a third is missing", since(may(Closed), at(time.January, 12, 12)), []*Delivery{loadOf("d", 20, 10_000)}, 0, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var notes notice.List
			open := bookOf(t, Rows{Orders: []*Order{tt.order}, Deliveries: tt.came}).OpenOrders(&notes)
			if sum := litresOf(open); !near(sum, tt.open) {
				t.Errorf("%v L are counted on, want %v", sum, tt.open)
			}
			if diff := cmp.Diff(tt.notes, codes(notes)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestAStepBackOrOverStatesIsNamed(t *testing.T) {
	tests := []struct {
		from, to OrderState
		code     string
		says     string
	}{
		{Proposed, Cleared, "", ""},
		{Ordered, Committed, "", ""}, // one state in two words
		{Committed, Loaded, "", ""},
		{Cleared, Cancelled, "", ""},
		{Proposed, Ordered, CodeOrderJumped, "order A1 went from proposed to ordered without being cleared: nothing is lost by it, but the moments between are not known"},
		{Committed, Received, CodeOrderJumped, "order A1 went from ordered to received without being loaded or in-transit: nothing is lost by it, but the moments between are not known"},
		{InTransit, Loaded, CodeOrderSteppedBack, "order A1 was in-transit and is loaded again: check that the step back is meant"},
		{Closed, Received, CodeOrderSteppedBack, "order A1 was closed and is received again: check that the step back is meant"},
		{Cancelled, Proposed, CodeOrderSteppedBack, "order A1 was cancelled and is proposed again: check that the step back is meant"},
		{Received, InTransit, CodeOrderReopened, "order A1 was received and is in-transit again: the plan counts on it once more, from 2026-05-10 to 2026-05-20"},
		{Cancelled, Committed, CodeOrderReopened, "order A1 was cancelled and is ordered again: the plan counts on it once more, from 2026-05-10 to 2026-05-20"},
	}
	for _, tt := range tests {
		got := OrderStepped(may(tt.from), may(tt.to))
		if tt.code == "" && got == nil {
			continue
		}
		if len(got) != 1 || got[0].Code != tt.code || got[0].Message != tt.says {
			t.Errorf("%s to %s: %+v, want %s: %s", tt.from, tt.to, got, tt.code, tt.says)
		}
	}
}

// lived are the rows of orders as they were written one after the other, and those in force.
type lived struct {
	written []OrderWritten
	rows    Rows
}

// drawLives draws the lives of some orders, deliveries for them, and a confirmation of each: nothing looks wrong.
func drawLives(t *rapid.T) lived {
	var l lived
	words := append(OrderStates(), Committed)
	for n := range rapid.IntRange(1, 4).Draw(t, "orders") {
		id := "A" + strconv.Itoa(n)
		o := may("")
		before := ""
		for step := range rapid.IntRange(1, 6).Draw(t, "steps") {
			row := *o
			row.ID, row.Entry = id, Entry{Key: id + "/" + strconv.Itoa(step), Replaces: before}
			row.State = rapid.SampledFrom(words).Draw(t, "state")
			row.StateAt = ptr(at(time.March, 1+step, 12))
			row.Measure = at15(units.Litres(rapid.IntRange(1, 40_000).Draw(t, "litres")))
			row.Early = calendar.Date(2026, time.March, 20) // whatever arrived has arrived by the as-of day
			l.written, before = append(l.written, OrderWritten{&row, at(time.March, 1+step, 13)}), row.Key
			if step == 0 {
				l.rows.Add(&row)
			} else {
				l.rows.Orders[len(l.rows.Orders)-1] = &row
			}
		}
		for d := range rapid.IntRange(0, 3).Draw(t, "deliveries") {
			key := id + " " + strconv.Itoa(d)
			v := units.Litres(rapid.IntRange(1, 30_000).Draw(t, "brought"))
			l.rows.Add(&Delivery{Entry: Entry{Key: key}, Plant: "P", Order: id, At: at(time.March, 10+d, 12), Measure: at15(v)})
			l.rows.Add(&Confirmation{Entry: Entry{Key: key}, Plant: "P", Of: KindDelivery, Row: key})
		}
	}
	return l
}

// shuffled is the same in another order of rows.
func (l lived) shuffled(seed uint64) lived {
	random := rand.New(rand.NewPCG(seed, 1))
	swap := func(n int, swap func(i, j int)) { random.Shuffle(n, swap) }
	l.written, l.rows.Orders, l.rows.Deliveries = slices.Clone(l.written), slices.Clone(l.rows.Orders), slices.Clone(l.rows.Deliveries)
	swap(len(l.written), func(i, j int) { l.written[i], l.written[j] = l.written[j], l.written[i] })
	swap(len(l.rows.Orders), func(i, j int) { l.rows.Orders[i], l.rows.Orders[j] = l.rows.Orders[j], l.rows.Orders[i] })
	swap(len(l.rows.Deliveries), func(i, j int) {
		l.rows.Deliveries[i], l.rows.Deliveries[j] = l.rows.Deliveries[j], l.rows.Deliveries[i]
	})
	return l
}

// Whatever becomes of orders, what was delivered and what is still expected make up what was ordered, as long as the order is
// open and its deliveries leave more than a tenth; else what was delivered is all. The order of rows does not show.
func TestNoLitreOfAnOrderIsCountedTwiceOrLost(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		l := drawLives(r)
		dir := NewDirectory(Rows{})
		b := bookOf(t, l.rows, volumeTank("bulk", Storage, 1e9))
		var notes notice.List
		open := map[string]float64{}
		for _, o := range b.OpenOrders(&notes) {
			if open[o.ID] != 0 {
				r.Fatalf("order %s is open twice", o.ID)
			}
			open[o.ID] = float64(o.Litres)
		}
		for _, o := range b.PlannedOrders(&notes) {
			if open[o.ID] != 0 || !o.State.Planned() {
				r.Fatalf("order %s is %s, proposed and counted on", o.ID, o.State)
			}
		}
		lives := b.OrderLives(dir, l.written, &notes)
		for _, life := range lives {
			i := slices.IndexFunc(l.rows.Orders, func(o *Order) bool { return o.ID == life.Order })
			o, came := l.rows.Orders[i], 0.0
			for _, d := range l.rows.Deliveries {
				if d.Order == o.ID {
					came += float64(d.Volume)
				}
			}
			want := 0.0
			if slices.Contains([]OrderState{Ordered, Committed, Loaded, InTransit}, o.State) && came < 0.9*float64(o.Volume) {
				want = float64(o.Volume) - came
			}
			if !near(open[o.ID], want) || !near(float64(life.Expected), want) || life.Counted != (want > 0) {
				r.Fatalf("order %s, %s: %v L open, %+v, want %v", o.ID, o.State, open[o.ID], life, want)
			}
			if delivered := deliveredLitres(life); !near(delivered, came) {
				r.Fatalf("order %s brought %v L, want %v", o.ID, delivered, came)
			}
			if p := life.AsStated; p.More != nil && !near(float64(p.Litres+*p.More), came) {
				r.Fatalf("planned %v and %v more are not %v", p.Litres, *p.More, came)
			}
			rows := 0
			for _, w := range l.written {
				if w.ID == o.ID {
					rows++
				}
			}
			if len(life.History) != rows || life.History[rows-1].Key != o.Key {
				r.Fatalf("order %s has a history of %d rows, want %d", o.ID, len(life.History), rows)
			}
		}
		again := l.shuffled(rapid.Uint64().Draw(r, "another order"))
		other := bookOf(t, again.rows, volumeTank("bulk", Storage, 1e9)).OrderLives(dir, again.written, &notes)
		if diff := cmp.Diff(lives, other); diff != "" {
			r.Fatalf("in another order of rows: %s", diff)
		}
	})
}

func deliveredLitres(l OrderLife) float64 {
	if l.Delivered == nil {
		return 0
	}
	return float64(l.Delivered.Litres)
}
