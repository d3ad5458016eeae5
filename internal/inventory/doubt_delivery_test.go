package inventory

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

func TestADeliveryIsHeldAgainstTheDipsAndItsDocument(t *testing.T) {
	day := func(key string, v float64, document string) *Delivery {
		return &Delivery{Entry: Entry{Key: key}, Plant: "P", Tank: "bulk", At: at(time.January, 18, 12), Measure: at15(units.Litres(v)), Document: document}
	}
	tests := []struct {
		name string
		rows []*Delivery
		want []told
	}{
		{"as the dips say", []*Delivery{day("a", 12_000, "7")}, nil},
		{"US gallons", []*Delivery{day("a", 12_000/3.785, "7")}, []told{{"a", UnitsSwitched, WholeRow}}},
		{"a digit more", []*Delivery{day("a", 120_000, "7")}, []told{{"a", DigitAdded, WholeRow}}},
		{"more than the tank holds, for no reason", []*Delivery{day("a", 90_000, "7")}, []told{{"a", BesideTheDips, WholeRow}}},
		{"twice", []*Delivery{day("b", 12_000, "7"), day("a", 12_000, "7")}, []told{{"b", Duplicate, WholeRow}}},
		{"in two halves", []*Delivery{day("a", 5900, "7"), day("b", 6100, "7")}, nil},
		{"far less", []*Delivery{day("a", 4500, "7")}, []told{{"a", BesideTheDips, WholeRow}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := Rows{Readings: daily(70), Gaugings: weeklyDips(6, 30_000), Deliveries: tt.rows}
			for _, g := range rows.Gaugings[3:] {
				*g.Volume += 12_000
			}
			if diff := cmp.Diff(tt.want, toldOf(bookOf(t, rows, volumeTank("bulk", Storage, 50_000)))); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// Tank A of 80 000 L was dipped on 1 January at 3 000 mm, 30 000 L, and holds 10 L a millimetre. Nobody dipped it since: there is
// room for 50 000 L and what may have left, half as much again as is usual.
func TestADeliveryWithoutADipAfterItIsHeldAgainstTheRoom(t *testing.T) {
	tests := []struct {
		name   string
		d      int // of January
		v      units.Litres
		change func(*Rows)
		want   Cause
	}{
		{"it fits", 8, 50_000, nil, ""},
		// 50 000 + 1.5 · 2 100 + three deviations (510 L), and 12 % more: 60 100 L.
		{"nearly", 8, 59_000, nil, ""},
		{"it does not fit", 8, 62_000, nil, BeyondRoom},
		{"after three weeks there may be more room", 22, 62_000, nil, ""},
		{"after more than three weeks nobody knows", 23, 75_000, nil, ""},
		{"it fits into no such tank", 23, 90_000, nil, BeyondRoom},
		// 20 000 L came before it: how much room they left nobody knows.
		{"another delivery before it", 8, 62_000, func(r *Rows) {
			r.Deliveries = append(r.Deliveries, &Delivery{Entry: Entry{Key: "first"}, Plant: "P", Tank: "A", At: at(time.January, 4, 12), Document: "1", Measure: at15(20_000)})
		}, ""},
		{"what is usual nobody knows", 8, 62_000, func(r *Rows) { r.Readings = nil }, ""},
		{"no tank is said", 8, 62_000, func(r *Rows) { r.Deliveries[0].Tank = "" }, BeyondRoom},
		{"neither tank nor hour is said", 8, 62_000, func(r *Rows) { r.Deliveries[0].Tank, r.Deliveries[0].At = "", at(time.January, 8, 12) }, BeyondRoom},
		{"another that says neither before it", 8, 62_000, func(r *Rows) {
			r.Deliveries[0].Tank, r.Deliveries[0].At = "", at(time.January, 8, 12)
			r.Deliveries = append(r.Deliveries, &Delivery{Entry: Entry{Key: "first"}, Plant: "P", At: at(time.January, 8, 12), Document: "1", Measure: at15(10_000)})
		}, ""},
		{"it went into another tank", 8, 62_000, func(r *Rows) { r.Deliveries[0].Tank = "day" }, ""},
		{"it comes after the as-of day", 100, 62_000, nil, ""},
	}
	for _, tt := range tests {
		rows := Rows{Readings: even(60), Gaugings: dipped("A", 3000),
			Deliveries: []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: "A", At: at(time.January, tt.d, 14), Document: "2", Measure: at15(tt.v)}}}
		if tt.change != nil {
			tt.change(&rows)
		}
		var want []told
		if tt.want != "" {
			want = []told{{"d", tt.want, WholeRow}}
		}
		if diff := cmp.Diff(want, toldOf(bookOf(t, rows, upright("A"), volumeTank("day", DayTank, 1000)))); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

// 20 000 L were ordered and nobody dips the tank, which holds 80 000.
func TestADeliveryIsHeldAgainstItsOrder(t *testing.T) {
	const gallon = 3.785411784
	tests := []struct {
		name  string
		order string
		v     units.Litres
		more  units.Litres // that came for the order as well
		want  Cause
	}{
		{"as ordered", "A1", 20_000, 0, ""},
		{"litres as US gallons", "A1", 20_000 * gallon, 0, UnitsSwitched},
		// More is brought now and then; 15 % about a known ratio, or nothing.
		{"a seventh about US gallons", "A1", 20_000 * gallon / 1.14, 0, UnitsSwitched},
		{"a sixth about US gallons", "A1", 20_000 * gallon / 1.17, 0, ""},
		{"twice as much", "A1", 40_000, 0, ""},
		// Less may be a part: within 5 %, and only where nothing else came.
		{"US gallons as litres", "A1", 20_000 / gallon, 0, UnitsSwitched},
		{"a digit less", "A1", 2000, 0, DigitDropped},
		{"near a digit less", "A1", 2080, 0, DigitDropped},
		{"a twentieth from a digit less", "A1", 2120, 0, ""},
		{"a digit less, and the rest came as well", "A1", 2000, 18_000, ""},
		{"of another order", "B2", 2000, 0, ""},
		{"of none", "", 2000, 0, ""},
	}
	for _, tt := range tests {
		rows := Rows{
			Orders:     []*Order{{Plant: "P", ID: "A1", State: InTransit, Measure: at15(20_000), OrderedOn: calendar.Date(2026, 1, 1), Early: day(1), Likely: day(10), Late: day(20)}},
			Deliveries: []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: "A", At: at(time.March, 10, 14), Document: "2", Order: tt.order, Measure: at15(tt.v)}}}
		if tt.more > 0 {
			rows.Deliveries = append(rows.Deliveries, &Delivery{Entry: Entry{Key: "e"}, Plant: "P", Tank: "A", At: at(time.March, 12, 14), Document: "3", Order: "A1", Measure: at15(tt.more)})
		}
		var want []told
		if tt.want != "" {
			want = []told{{"d", tt.want, WholeRow}}
		}
		if diff := cmp.Diff(want, toldOf(bookOf(t, rows, upright("A")))); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

// What came for an order and looks wrong may be the whole of it: nothing more is counted on, and it is said.
func TestADoubtedDeliveryClosesItsOrderUntilThatIsSettled(t *testing.T) {
	rows := Rows{
		Orders:     []*Order{{Plant: "P", ID: "A1", State: InTransit, Measure: at15(20_000), OrderedOn: calendar.Date(2026, 1, 1), Early: day(1), Likely: day(10), Late: day(20)}},
		Deliveries: []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: "A", At: at(time.March, 10, 14), Order: "A1", Measure: at15(2000)}}}
	var notes notice.List
	if open := bookOf(t, rows, upright("A")).OpenOrders(&notes); open != nil || !slices.Contains(codes(notes), "order-doubtful") {
		t.Errorf("open %+v, %v", open, codes(notes))
	}
	// Confirmed, 18 000 L are still to come.
	rows.Confirmations = []*Confirmation{{Plant: "P", Of: KindDelivery, Row: "d"}}
	notes = nil
	if open := bookOf(t, rows, upright("A")).OpenOrders(&notes); len(open) != 1 || !near(float64(open[0].Litres), 18_000) || notes != nil {
		t.Errorf("open %+v, %v", open, codes(notes))
	}
}

// Weekly dips, 210 mm less each, and 2 100 L by the meter. Two rows stand between the dips of the 15th and the 22nd, and the tank
// rose by what came and nothing else.
func TestOfSeveralDeliveriesBetweenTwoDipsTheOneIsDoubtedThatASlipExplains(t *testing.T) {
	const gallon = 3.785411784
	tests := []struct {
		name string
		rows [2]units.Litres
		came units.Litres
		want []told
	}{
		{"both right", [2]units.Litres{12_000, 9000}, 21_000, nil},
		{"the second in US gallons", [2]units.Litres{12_000, 9000 / gallon}, 21_000, []told{{"b", UnitsSwitched, WholeRow}}},
		{"the second a digit less", [2]units.Litres{12_000, 900}, 21_000, []told{{"b", DigitDropped, WholeRow}}},
		// 16 000 L in place of 21 000 may have come.
		{"the second half of it", [2]units.Litres{12_000, 4500}, 21_000, nil},
	}
	for _, tt := range tests {
		rose := units.Millimetres(tt.came / 10)
		rows := Rows{Readings: even(60), Gaugings: dipped("A", 4000, 3790, 3580, 3370+rose, 3160+rose, 2950+rose), Deliveries: []*Delivery{
			{Entry: Entry{Key: "a"}, Plant: "P", Tank: "A", At: at(time.January, 17, 14), Document: "1", Measure: at15(tt.rows[0])},
			{Entry: Entry{Key: "b"}, Plant: "P", Tank: "A", At: at(time.January, 19, 14), Document: "2", Measure: at15(tt.rows[1])}}}
		if diff := cmp.Diff(tt.want, toldOf(bookOf(t, rows, upright("A")))); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

// A bill for 9 000 L that came on nobody knows which side of the dip of the 15th is held against the dips before and after it: the
// tank rose by so much in the week before.
func TestADeliveryAtTheHourOfADipIsHeldAgainstTheNextDipsToo(t *testing.T) {
	for v, want := range map[units.Litres]bool{9000: false, 90_000: true} {
		rows := Rows{Readings: even(60), Gaugings: dipped("A", 4000, 3790, 4480, 4270, 4060, 3850), Deliveries: []*Delivery{
			{Entry: Entry{Key: "d"}, Plant: "P", Tank: "A", At: at(time.January, 15, 9), Document: "1", Measure: at15(v)}}}
		if got := toldOf(bookOf(t, rows, upright("A"))); (got != nil) != want {
			t.Errorf("%v L: %v, want doubted %v", v, got, want)
		}
		// Nobody knows into which of two tanks it went, so that no dip says on which side of it it came.
		rows.Deliveries[0].Tank = ""
		rows.Gaugings = append(rows.Gaugings, dipped("B", 3000, 3000, 3000, 3000, 3000, 3000)...)
		if got := toldOf(bookOf(t, rows, upright("A"), upright("B"))); (got != nil) != want {
			t.Errorf("%v L into one of two: %v, want doubted %v", v, got, want)
		}
	}
}

// Two tanks are dipped weekly; A falls by 210 mm and B stands. A bill of 12 000 L lies between the dips of the 15th and the 22nd, and
// the tanks rose by so many litres as the name says.
func TestADeliveryIsHeldAgainstTheTanksThatItWentInto(t *testing.T) {
	beside := []told{{"d", BesideTheDips, WholeRow}}
	tests := []struct {
		name   string
		tank   string
		a, b   units.Millimetres // that they rose beside the burn
		change func(*Rows)
		want   []told
	}{
		{"into A, which rose", "A", 1200, 0, nil, nil},
		{"into B, which rose", "B", 0, 1200, nil, nil},
		{"nobody knows into which, one rose", "", 1200, 0, nil, nil},
		{"nobody knows into which, both rose", "", 500, 700, nil, nil},
		{"into A, and neither rose", "A", 0, 0, nil, beside},
		{"nobody knows into which, and neither rose", "", 0, 0, nil, beside},
		// 12 000 L of each.
		{"another into the other", "A", 1200, 1200, func(r *Rows) { also(r, "B", 18, 12_000) }, nil},
		{"another a week after", "A", 1200, 0, func(r *Rows) {
			also(r, "A", 25, 12_000)
			raise(r, "A", 4, 1200)
		}, nil},
		{"another a week before", "A", 1200, 0, func(r *Rows) {
			also(r, "A", 11, 12_000)
			raise(r, "A", 2, 1200)
		}, nil},
		{"moved on to B", "A", 600, 600, func(r *Rows) {
			r.Transfers = []*Transfer{{Plant: "P", From: "A", To: "B", At: at(time.January, 20, 12), Measure: at15(6000)}}
		}, nil},
		{"moved over from B, and it came as well", "A", 1200, -600, func(r *Rows) {
			r.Transfers = []*Transfer{{Plant: "P", From: "B", To: "A", At: at(time.January, 20, 12), Measure: at15(6000)}}
			r.Deliveries[0].Volume = 6000
		}, nil},
		// The next dip tells of it then.
		{"the dip after has a digit less", "A", 1200, 0, func(r *Rows) { *r.Gaugings[3].Depth /= 10 }, []told{{"A 0122", DigitDropped, WholeRow}}},
		// Three weeks on either side tell of it, more do not.
		{"dipped three weeks after", "A", 0, 0, func(r *Rows) { r.Gaugings = notUntil(r.Gaugings, at(time.February, 5, 0)) }, beside},
		{"dipped more than three weeks after", "A", 0, 0, func(r *Rows) { r.Gaugings = notUntil(r.Gaugings, at(time.February, 9, 0)) }, nil},
	}
	for _, tt := range tests {
		rows := Rows{Readings: even(60), Gaugings: slices.Concat(dipped("A", 4000, 3790, 3580, 3370, 3160, 2950), dipped("B", 3000, 3000, 3000, 3000, 3000, 3000)),
			Deliveries: []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: tt.tank, At: at(time.January, 18, 14), Document: "1", Measure: at15(12_000)}}}
		raise(&rows, "A", 3, tt.a)
		raise(&rows, "B", 3, tt.b)
		if tt.change != nil {
			tt.change(&rows)
		}
		if diff := cmp.Diff(tt.want, toldOf(bookOf(t, rows, upright("A"), upright("B")))); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

// raise lifts the dips of a tank from a week on.
func raise(r *Rows, tank string, week int, by units.Millimetres) {
	for _, g := range r.Gaugings {
		if g.Tank == tank && !g.At.Before(at(time.January, 1+7*week, 0)) {
			*g.Depth += by
		}
	}
}

// also enters another delivery.
func also(r *Rows, tank string, d int, v units.Litres) {
	r.Deliveries = append(r.Deliveries, &Delivery{Entry: Entry{Key: "also"}, Plant: "P", Tank: tank, At: at(time.January, d, 16), Document: "2", Measure: at15(v)})
}

// notUntil leaves out the dips after 15 January until a moment.
func notUntil(all []*Gauging, until time.Time) []*Gauging {
	return slices.DeleteFunc(all, func(g *Gauging) bool { return g.At.After(at(time.January, 16, 0)) && g.At.Before(until) })
}
