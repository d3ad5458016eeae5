package intake

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// wholeDelivery says all that can be said of a delivery.
func wholeDelivery() Delivery {
	at := evening(0)
	return Delivery{
		Report: report("k"), Measure: litres(9000), At: at, Order: "O", Document: "BOL 1", Product: "diesel-1-s15",
		ByDocument: inventory.DeliveryFigure{Volume: p(units.Litres(9120)), Basis: inventory.Basis15},
		ByMeter:    inventory.DeliveryFigure{Volume: p(units.Litres(9010)), Temperature: p(units.Celsius(3)), Basis: inventory.BasisObserved},
		Refused:    p(units.Litres(200)), PricePerLitre: p(1.62), Freight: p(450.25), Currency: "CAD",
		Split: []Part{{"a", 8900}, {"d", 100}},
		Dips: []TankDips{{Tank: "a",
			Before: &Dip{at.Add(-time.Hour), TankEntry{Depth: p(units.Millimetres(1000)), Water: p(units.Millimetres(5)), Temperature: p(units.Celsius(-3))}},
			After:  &Dip{at.Add(time.Minute), TankEntry{Depth: p(units.Millimetres(2250)), Temperature: p(units.Celsius(1)), Precision: 2, Moving: true}},
		}},
	}
}

func TestADeliveryIsWrittenWithAllThatIsSaidOfIt(t *testing.T) {
	d, _ := newDesk(t)
	v := wholeDelivery()
	v.Split, v.Tank = nil, "a"
	if got := must(t)(d.Delivery(t.Context(), v)); got.New != 3 {
		t.Errorf("%+v, want a delivery and two gaugings", got)
	}
	rows, who := ledger(t, d), "A. Operator"
	want := inventory.Rows{
		Deliveries: []*inventory.Delivery{{
			Entry: inventory.Entry{Key: "delivery/bay/k", Who: who}, Measure: v.Measure, Plant: "bay", Tank: "a", At: v.At, Order: "O", Document: "BOL 1",
			Product: v.Product, ByDocument: v.ByDocument, ByMeter: v.ByMeter, Refused: v.Refused, PricePerLitre: v.PricePerLitre, Freight: v.Freight, Currency: "CAD",
		}},
		Gaugings: []*inventory.Gauging{
			{Entry: inventory.Entry{Key: "delivery/bay/k/a/before", Who: who}, Plant: "bay", Tank: "a", At: v.At.Add(-time.Hour),
				Depth: p(units.Millimetres(1000)), Water: p(units.Millimetres(5)), Temperature: p(units.Celsius(-3))},
			{Entry: inventory.Entry{Key: "delivery/bay/k/a/after", Who: who}, Plant: "bay", Tank: "a", At: v.At.Add(time.Minute),
				Depth: p(units.Millimetres(2250)), Temperature: p(units.Celsius(1)), Precision: 2, Moving: true},
		},
	}
	if diff := cmp.Diff(want, rows); diff != "" {
		t.Error(diff)
	}
	for _, w := range []Withdrawal{
		{because("w1"), inventory.KindDelivery, "delivery/bay/k"},
		{because("w2"), inventory.KindGauging, "delivery/bay/k/a/before"},
	} {
		must(t)(d.Withdraw(t.Context(), w))
	}
	if got := ledgerLen(t, d); got != 1 {
		t.Errorf("%d rows in force after two withdrawals", got)
	}
}

func TestADeliveryThatIsWrongInItselfIsNoneThatCameBefore(t *testing.T) {
	d, _ := newDesk(t)
	v := Delivery{Report: report("k"), Measure: litres(9000), Tank: "a", At: evening(0)}
	must(t)(d.Delivery(t.Context(), v))
	v.Dips = []TankDips{{Tank: "a"}} // of which no row would be left
	_, err := d.Delivery(t.Context(), v)
	if diff := cmp.Diff([]string{"dips/0/before"}, refused(t, err, fault.Invalid)); diff != "" {
		t.Error(diff)
	}
}

// The books take a figure that one row of a document states for that of the whole document.
func TestTheFiguresOfASplitDeliveryCountOnce(t *testing.T) {
	d, _ := newDesk(t)
	v := wholeDelivery()
	for _, want := range []inventory.Recorded{{New: 4}, {Known: 4}} {
		if got := must(t)(d.Delivery(t.Context(), v)); got.New != want.New || got.Known != want.Known {
			t.Errorf("%+v, want %+v", got, want)
		}
	}
	rows := ledger(t, d)
	book, err := inventory.NewBook(inventory.NewDirectory(plantRows()), "bay", rows, march+1)
	if err != nil {
		t.Fatal(err)
	}
	receipts, _ := book.Receipts(0)
	if len(receipts) != 1 || len(receipts[0].Keys) != 2 || receipts[0].Refused != 200 || receipts[0].ByDocument.Litres != 9120 {
		t.Fatalf("%+v, want one receipt of two rows, with the document's 9 120 L and 200 L refused", receipts)
	}
	var freight, price float64
	volumes := map[string]units.Litres{}
	for _, row := range rows.Deliveries {
		volumes[row.Tank] = row.Volume
		price += *row.PricePerLitre * float64(row.Volume)
		if row.Freight != nil {
			freight += *row.Freight
		}
	}
	// 9 000 L at 1.62 are 14 580.
	if diff := cmp.Diff(map[string]units.Litres{"a": 8900, "d": 100}, volumes); diff != "" || freight != 450.25 || math.Abs(price-14580) > 1e-6 {
		t.Errorf("freight %v, price %v, %s", freight, price, diff)
	}
}

func TestADeliveryIsCorrectedByOneThatIsSplit(t *testing.T) {
	d, _ := newDesk(t)
	must(t)(d.Delivery(t.Context(), Delivery{Report: report("one"), Measure: litres(9000), Tank: "a", At: evening(0)}))
	before := version(t, d)
	v := wholeDelivery()
	v.Report, v.Replaces, v.Dips = because("split"), "delivery/bay/one", nil
	must(t)(d.Delivery(t.Context(), v))
	if rows := ledger(t, d); len(rows.Deliveries) != 2 || rows.Deliveries[0].Volume+rows.Deliveries[1].Volume != 9000 {
		t.Errorf("%d deliveries in force", len(rows.Deliveries))
	}
	if got := only(t, asKnown(t, d, before)).(*inventory.Delivery); got.Tank != "a" || got.Volume != 9000 {
		t.Errorf("as known before: %+v", got)
	}
}

func TestWhatIsImpossibleInADeliveryIsNamed(t *testing.T) {
	tests := []struct {
		name string
		with func(*Delivery)
		want []string
	}{
		{"parts of more than the whole", func(v *Delivery) { v.Split[0].Volume = 8902 }, []string{"split"}},
		{"parts that are no number", func(v *Delivery) { v.Split[0].Volume = units.Litres(nan) }, []string{"split", "split/0/volume"}},
		{"one tank and a split", func(v *Delivery) { v.Tank = "a" }, []string{"tank"}},
		{"a part into an unknown tank", func(v *Delivery) { v.Split[1].Tank = "x" }, []string{"split/1/tank"}},
		{"a tank twice", func(v *Delivery) { v.Split[1].Tank = "a" }, []string{"split/1/tank"}},
		{"a part of nothing", func(v *Delivery) { v.Split[0].Volume, v.Split[1].Volume = 9000, 0 }, []string{"split/1/volume"}},
		{"a split with figures and no document", func(v *Delivery) { v.Document = "" }, []string{"document"}},
		{"a currency of two letters", func(v *Delivery) { v.Currency = "CA" }, []string{"currency"}},
		{"a document's volume below nothing", func(v *Delivery) { v.ByDocument.Volume = p(units.Litres(-1)) }, []string{"document_volume"}},
		{"a meter's basis alone", func(v *Delivery) { v.ByMeter = inventory.DeliveryFigure{Basis: "15C"} }, []string{"meter_volume"}},
		{"nothing refused", func(v *Delivery) { v.Refused = p(units.Litres(0)) }, []string{"refused"}},
		{"a price below nothing", func(v *Delivery) { v.PricePerLitre, v.Freight = p(-1.0), p(-2.0) }, []string{"price", "freight"}},
		{"a dip before that came after", func(v *Delivery) { v.Dips[0].Before.At = v.At }, []string{"dips/0/before/at"}},
		{"a dip after that came before", func(v *Delivery) { v.Dips[0].After.At = v.At.Add(-time.Second) }, []string{"dips/0/after/at"}},
		{"a dip to come", func(v *Delivery) { v.Dips[0].After.At = now.Add(time.Hour) }, []string{"dips/0/after/at"}},
		{"a dip above the tank", func(v *Delivery) { v.Dips[0].After.Depth = p(units.Millimetres(4001)) }, []string{"dips/0/after/depth"}},
		{"dips of an unknown tank", func(v *Delivery) { v.Dips[0].Tank = "x" }, []string{"dips/0/tank"}},
		{"dips of a tank twice", func(v *Delivery) { v.Dips = append(v.Dips, v.Dips[0]) }, []string{"dips/1/tank"}},
		{"no dip", func(v *Delivery) { v.Dips[0].Before, v.Dips[0].After = nil, nil }, []string{"dips/0/before"}},
		{"a delivery to come", func(v *Delivery) { v.At, v.Dips = now.Add(time.Hour), nil }, []string{"at"}},
	}
	d, _ := newDesk(t)
	for _, tt := range tests {
		v := wholeDelivery()
		tt.with(&v)
		_, err := d.Delivery(t.Context(), v)
		if diff := cmp.Diff(tt.want, refused(t, err, fault.Invalid)); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
	if got := ledgerLen(t, d); got != 0 {
		t.Errorf("%d rows of refused reports", got)
	}
}
