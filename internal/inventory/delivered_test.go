package inventory

import (
	"math"
	"slices"
	"testing"
	"time"

	"overwinter/internal/units"
)

// One document of 20 000 L over two tanks and two days. Its meter said 19 900 L; the tanks rose by 11 900 and 7 820 L. The
// meter of the plant ran 100 L between the dips, from one of two tanks: 50 L each, give or take.
func TestADocumentsRowsStandTogetherAgainstMeterAndDips(t *testing.T) {
	figure := func(v units.Litres) DeliveryFigure { return DeliveryFigure{Volume: &v, Basis: Basis15} }
	row := func(key, tank string, d int, v, meter units.Litres) *Delivery {
		return &Delivery{Entry: Entry{Key: key}, Plant: "P", Tank: tank, At: at(time.March, d, 12), Document: "BL 7", Measure: at15(v),
			ByDocument: figure(20_000), ByMeter: figure(meter)}
	}
	rows := Rows{
		Readings: []*MeterReading{reading(at(time.March, 9, 8), 1000), reading(at(time.March, 13, 8), 1400)},
		Gaugings: []*Gauging{gauged("a", at(time.March, 10, 8), 5000), gauged("a", at(time.March, 11, 8), 16_900),
			gauged("b", at(time.March, 11, 8), 6000), gauged("b", at(time.March, 12, 8), 13_820)},
		Deliveries:    []*Delivery{row("2", "b", 11, 8000, 7950), row("1", "a", 10, 12_000, 11_950)},
		Confirmations: []*Confirmation{{Plant: "P", Of: KindDelivery, Row: "1"}, {Plant: "P", Of: KindDelivery, Row: "2"}},
	}
	b := bookOf(t, rows, volumeTank("a", Storage, 30_000), volumeTank("b", Storage, 30_000))
	all, _ := b.Receipts(0)
	if len(all) != 1 || len(all[0].Keys) != 2 {
		t.Fatalf("%+v, doubts %v", all, b.Doubtful())
	}
	r := all[0]
	for _, f := range []struct {
		name string
		got  Figure
		want float64
	}{{"agreed", r.Agreed, 20_000}, {"document, stated on each row", r.ByDocument, 20_000}, {"meter", r.ByMeter, 19_900}, {"dips", r.ByDips, 19_820}} {
		if !f.got.Known || !near(float64(f.got.Litres), f.want) {
			t.Errorf("%s: %+v, want %v", f.name, f.got, f.want)
		}
	}
	want := []Difference{{Of: "meter", Less: "document", Litres: -100, Within: true}, {Of: "dips", Less: "document", Litres: -180, Within: false},
		{Of: "dips", Less: "meter", Litres: -80, Within: true}}
	if len(r.Differences) != len(want) {
		t.Fatalf("%+v", r.Differences)
	}
	for i, d := range r.Differences {
		if d.Of != want[i].Of || d.Less != want[i].Less || !near(float64(d.Litres), float64(want[i].Litres)) || d.Within != want[i].Within || d.Certain || d.Sigma <= 0 {
			t.Errorf("%+v, want %+v", d, want[i])
		}
	}
	if strict, _ := b.Receipts(0.001); strict[0].Differences[0].Within {
		t.Error("100 L of 20 000 keep to 0.1 %")
	}
}

func TestAFigureThatNobodyStatedIsNotMadeUp(t *testing.T) {
	rows := Rows{Deliveries: []*Delivery{{Plant: "P", At: at(time.March, 10, 12), Measure: at15(9000)}}}
	all, _ := bookOf(t, rows).Receipts(0)
	if len(all) != 1 || all[0].ByDocument.Known || all[0].ByMeter.Known || all[0].ByDips.Known || all[0].ByDips.Why == "" || all[0].Differences != nil {
		t.Errorf("%+v", all)
	}
}

// A bill that looks wrong is no delivery in the books, but its receipt shows it, with the doubt; what was entered twice is shown once.
func TestTheReceiptOfADoubtedBillShowsItWithItsDoubt(t *testing.T) {
	rows := Rows{Readings: even(60), Gaugings: dipped("A", 4000, 3790, 3580, 4570, 4360, 4150),
		Deliveries: []*Delivery{{Entry: Entry{Key: "b"}, Plant: "P", Tank: "A", At: at(time.January, 21, 14), Document: "7", Measure: at15(12_000 / 3.785411784), Refused: ptr(units.Litres(40))},
			{Entry: Entry{Key: "c"}, Plant: "P", Tank: "A", At: at(time.January, 21, 14), Document: "7", Measure: at15(12_000 / 3.785411784)},
			{Entry: Entry{Key: "later"}, Plant: "P", Tank: "A", At: at(time.April, 20, 14), Document: "8", Measure: at15(12_000)},
			{Entry: Entry{Key: "jet"}, Plant: "P", Product: "jet-a1", At: at(time.January, 21, 14), Document: "9", Measure: at15(12_000)}}}
	eve := dipped("A", 3430)[0]
	eve.At = at(time.January, 20, 8)
	rows.Gaugings = append(rows.Gaugings, eve)
	b := bookOf(t, rows, upright("A"))
	all, _ := b.Receipts(0)
	if len(all) != 1 || !slices.Equal(all[0].Keys, []string{"b"}) || len(all[0].Doubts) != 1 || all[0].Doubts[0].Cause != UnitsSwitched || all[0].Refused != 40 {
		t.Fatalf("%+v", all)
	}
	// The tank rose by 11 400 L and 600 ran through the meter: 12 000 L came, in US gallons 3 170.
	r := all[0]
	if math.Abs(float64(r.ByDips.Litres)-12_000) > 5 || !r.Differences[0].Certain || r.Differences[0].Within || r.Differences[0].Less != FigureAgreed {
		t.Errorf("%+v", r)
	}
	if bal, _ := b.Balance(time.Time{}, time.Time{}); bal.Received != 0 || bal.Known {
		t.Errorf("the books count %v", bal.Received)
	}
}

// Rows of 12 000 and 8 000 L of one document.
func TestAFigureOfSeveralRowsIsThatOfTheWholeOnlyWhereItSaysSo(t *testing.T) {
	figure := func(v units.Litres) DeliveryFigure {
		if v == 0 {
			return DeliveryFigure{}
		}
		return DeliveryFigure{Volume: &v, Basis: Basis15}
	}
	for _, tt := range []struct {
		name string
		said [3]units.Litres // of the three rows, 0 for none
		rows int
		want float64 // 0 where it is not known
	}{
		{"on one row alone", [3]units.Litres{20_000}, 2, 20_000},
		{"on each its own", [3]units.Litres{12_100, 7900}, 2, 20_000},
		{"the whole on each", [3]units.Litres{20_100, 20_100}, 2, 20_100},
		// 10 000 twice are 20 000 together, and nobody repeats half of it.
		{"the same on each by chance", [3]units.Litres{10_000, 10_000}, 2, 20_000},
		{"on two of three", [3]units.Litres{12_000, 8000}, 3, 0},
		{"on none", [3]units.Litres{}, 2, 0},
	} {
		var rows Rows
		for i, v := range []units.Litres{12_000, 8000, 500}[:tt.rows] {
			rows.Deliveries = append(rows.Deliveries, &Delivery{Entry: Entry{Key: string(rune('a' + i))}, Plant: "P", Tank: "A", At: at(time.January, 10+i, 14), Document: "7", Measure: at15(v), ByMeter: figure(tt.said[i])})
		}
		all, _ := bookOf(t, rows, upright("A")).Receipts(0)
		if len(all) != 1 || all[0].ByMeter.Known != (tt.want != 0) || tt.want != 0 && !near(float64(all[0].ByMeter.Litres), tt.want) {
			t.Errorf("%s: %+v", tt.name, all)
		}
	}
}

// Numbers of documents come again: a month apart they are one delivery, longer they are two.
func TestADocumentThatComesAgainAfterAMonthIsAnother(t *testing.T) {
	for days, want := range map[int]int{20: 1, 31: 1, 32: 2} {
		rows := Rows{Deliveries: []*Delivery{{Entry: Entry{Key: "a"}, Plant: "P", Tank: "A", At: at(time.January, 10, 14), Document: "7", Measure: at15(5000)},
			{Entry: Entry{Key: "b"}, Plant: "P", Tank: "A", At: at(time.January, 10+days, 14), Document: "7", Measure: at15(6000)}}}
		if all, _ := bookOf(t, rows, upright("A")).Receipts(0); len(all) != want {
			t.Errorf("%d days apart: %d receipts, want %d", days, len(all), want)
		}
	}
}

// 9 000 L came into A on 20 January at 14:00; 600 L ran through the meter between the dips of the 19th and the 21st.
func TestTheDipsOfADeliveryAreThoseOfTwoDaysLessWhatElseMoved(t *testing.T) {
	dip := func(d, hour int, depth units.Millimetres) *Gauging {
		return &Gauging{Plant: "P", Tank: "A", At: at(time.January, d, hour), Depth: &depth, Temperature: ptr(units.Celsius(15))}
	}
	near20 := []*Gauging{dip(19, 8, 3000), dip(21, 8, 3840)}
	tests := []struct {
		name   string
		change func(*Rows)
		tanks  []*Tank
		want   float64 // 0 where the dips do not say
	}{
		{"the meter alone", func(*Rows) {}, nil, 9000},
		{"300 L moved out", func(r *Rows) {
			r.Transfers = []*Transfer{{Plant: "P", From: "A", To: "B", At: at(time.January, 20, 9), Measure: at15(300)}}
			*r.Gaugings[1].Depth -= 30
		}, nil, 9000},
		{"300 L moved in", func(r *Rows) {
			r.Transfers = []*Transfer{{Plant: "P", From: "B", To: "A", At: at(time.January, 20, 9), Measure: at15(300)}}
			*r.Gaugings[1].Depth += 30
		}, nil, 9000},
		{"300 L moved out on another day", func(r *Rows) {
			r.Transfers = []*Transfer{{Plant: "P", From: "A", To: "B", At: at(time.January, 25, 9), Measure: at15(300)}}
		}, nil, 9000},
		{"500 L of another document", func(r *Rows) {
			r.Deliveries = append(r.Deliveries, &Delivery{Entry: Entry{Key: "e"}, Plant: "P", Tank: "A", At: at(time.January, 20, 16), Document: "8", Measure: at15(500)})
			*r.Gaugings[1].Depth += 50
		}, nil, 9000},
		{"500 L of another document into another tank", func(r *Rows) {
			r.Deliveries = append(r.Deliveries, &Delivery{Entry: Entry{Key: "e"}, Plant: "P", Tank: "B", At: at(time.January, 20, 16), Document: "8", Measure: at15(500)})
		}, nil, 9000},
		// Two tanks feed the meter: half of the 600 L each.
		{"two tanks", func(r *Rows) {
			r.Gaugings = append(r.Gaugings, gauged("B", at(time.January, 19, 8), 3000), gauged("B", at(time.January, 21, 8), 3000))
		}, []*Tank{upright("A"), upright("B")}, 8700},
		{"dipped more than two days before", func(r *Rows) { r.Gaugings[0].At = at(time.January, 18, 8) }, nil, 0},
		{"dipped more than two days after", func(r *Rows) { r.Gaugings[1].At = at(time.January, 23, 8) }, nil, 0},
		{"not dipped before", func(r *Rows) { r.Gaugings = r.Gaugings[1:] }, nil, 0},
		{"not dipped after", func(r *Rows) { r.Gaugings = r.Gaugings[:1] }, nil, 0},
		{"no tank said", func(r *Rows) { r.Deliveries[0].Tank = "" }, nil, 0},
		{"what is burned nobody knows", func(r *Rows) { r.Readings = nil }, nil, 0},
		// A swap whose registers are not known, and all else is usual: 300 L a day.
		{"the meter was changed in between", func(r *Rows) {
			r.Swaps = []*MeterSwap{{Plant: "P", Meter: "M", At: at(time.January, 20, 12)}}
		}, nil, 9000},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := Rows{Readings: even(60), Gaugings: []*Gauging{dip(19, 8, *near20[0].Depth), dip(21, 8, *near20[1].Depth)},
				Deliveries: []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: "A", At: at(time.January, 20, 14), Document: "7", Measure: at15(9000)}}}
			tt.change(&rows)
			rows.Confirmations = []*Confirmation{{Plant: "P", Of: KindDelivery, Row: "d"}, {Plant: "P", Of: KindDelivery, Row: "e"}}
			if tt.tanks == nil {
				tt.tanks = []*Tank{upright("A")}
			}
			b := bookOf(t, rows, tt.tanks...)
			all, _ := b.Receipts(0)
			if f := all[0].ByDips; f.Known != (tt.want != 0) || f.Known && math.Abs(float64(f.Litres)-tt.want) > 2 || f.Known == (f.Why != "") {
				t.Errorf("%+v, want %v; doubts %v", f, tt.want, toldOf(b))
			}
		})
	}
}
