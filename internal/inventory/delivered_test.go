package inventory

import (
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
