package intake

import (
	"context"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// shown is advice in force for the plant, read from a store as a desk does.
type shown []inventory.Current

func (s shown) CurrentAdvice(context.Context, uint64, int64) ([]inventory.Current, error) {
	return s, nil
}

func (s shown) CountsIn(context.Context, uint64, string) (bool, error) { return true, nil }

func (s shown) AdviceRevision(context.Context, uint64) (int64, error) { return int64(len(s)), nil }

// usual lets the plant's advice say that between 300 and 500 L a day are usual.
func usual(newest string) Advice {
	body := `{"plant":"bay","as_of":"2026-03-02","stock":{"newest_reading_at":"` + newest + `"},"burn":{"usual_day_low_l15":300,"usual_day_high_l15":500}}`
	return advice.NewDesk(shown{{Issued: inventory.Issued{Plant: "bay", Body: []byte(body)}, Revision: 1}}, 1)
}

func TestADoubtfulRoundIsKeptAndSaysWhy(t *testing.T) {
	fuel := func(litres units.Litres) []TankEntry {
		return []TankEntry{{Tank: "a", Depth: p(units.Millimetres(litres / 7.0685834705770345)), Temperature: p(units.Celsius(15))}} // a circle of 3 m
	}
	tests := []struct {
		name   string
		before Round
		then   Round
		want   []string
	}{
		{"as on other days", round("1", 1, 1000, 100), round("2", 0, 1200, 120), nil},
		{"a register that fell", round("1", 1, 1000, 100), round("2", 0, 900, 120), []string{"meter-backward"}},
		{"a register that rolled over", round("1", 1, 999_900, 100), round("2", 0, 100, 120), nil},
		{"too much", round("1", 1, 1000, 100), round("2", 0, 1340, 120), []string{CodeBurnUnusual}},
		{"too little", round("1", 1, 1000, 100), round("2", 0, 1010, 101), []string{CodeBurnUnusual}},
		{"two days' worth in two days", round("1", 2, 1000, 100), round("2", 0, 1400, 140), nil},
		{"the same moment", round("1", 0, 1000, 100), round("2", 0, 1000, 100), []string{CodeReadAgain, CodeReadAgain}},
		{"a tank that rose", Round{Report: report("1"), At: evening(1), Tanks: fuel(10_000)},
			Round{Report: report("2"), At: evening(0), Tanks: fuel(12_000)}, []string{CodeStockRose}},
		{"a tank that fell", Round{Report: report("1"), At: evening(1), Tanks: fuel(10_000)},
			Round{Report: report("2"), At: evening(0), Tanks: fuel(9_600)}, nil},
		{"a tank that fell by more than anything burns", Round{Report: report("1"), At: evening(1), Tanks: fuel(10_000)},
			Round{Report: report("2"), At: evening(0), Tanks: fuel(7_000)}, []string{CodeStockFell}},
		{"a long fall that the days explain", Round{Report: report("1"), At: evening(10), Tanks: fuel(10_000)},
			Round{Report: report("2"), At: evening(0), Tanks: fuel(7_000)}, nil},
		{"of last spring", round("1", 400, 1000, 100), round("2", 399, 1200, 120), []string{CodeLongAgo}},
		{"no temperature", Round{Report: report("1"), At: evening(1), Tanks: fuel(10_000)},
			Round{Report: report("2"), At: evening(0), Tanks: []TankEntry{{Tank: "a", Depth: p(units.Millimetres(1380))}}}, []string{"basis-unknown"}},
	}
	for _, tt := range tests {
		d, _ := newDesk(t)
		d.Advice = usual("2026-03-03T05:00:00Z")
		must(t)(d.Round(t.Context(), tt.before))
		got := must(t)(d.Round(t.Context(), tt.then))
		if diff := cmp.Diff(tt.want, codes(got)); diff != "" || got.New == 0 {
			t.Errorf("%s: %+v %s", tt.name, got, diff)
		}
		again := must(t)(d.Round(t.Context(), tt.then))
		if diff := cmp.Diff(got.Notices, again.Notices); diff != "" {
			t.Errorf("%s, sent again: %s", tt.name, diff)
		}
	}
}

func TestARehearsalComparesAndWritesNothing(t *testing.T) {
	d, refresh := newDesk(t)
	d.Advice = usual("2026-03-02T05:00:00Z")
	must(t)(d.Round(t.Context(), round("1", 1, 999_900, 100)))
	calls := refresh.calls
	got, err := d.RehearseRound(t.Context(), round("2", 0, 100, 122))
	if err != nil {
		t.Fatal(err)
	}
	// A meter is good to half a per cent; the day tank of 150 L was not gauged.
	const half, swing = 0.005, 0.25 * math.Sqrt2 / 3.4641016151377544 * 150
	passed := func(litres units.LitresAt15, more float64) Passed {
		return Passed{evening(1), 1, litres, units.LitresAt15(math.Hypot(half*float64(litres), more))}
	}
	want := Comparison{
		Meters: map[string]Passed{"one": passed(200, 0), "two": passed(220, 0)},
		Plant:  new(Passed),
		Usual:  &Usual{300, 500},
	}
	*want.Plant = passed(420, swing)
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(1e-9, 0)); diff != "" {
		t.Error(diff)
	}
	if n := ledgerLen(t, d); n != 2 || refresh.calls != calls {
		t.Errorf("%d rows, want the first round's two alone", n)
	}
}

func TestARangeOfAnotherSeasonIsNotHeldAgainstARound(t *testing.T) {
	d, _ := newDesk(t)
	d.Advice = usual("2026-03-02T05:00:00Z")
	must(t)(d.Round(t.Context(), round("1", 41, 1000, 100)))
	if got := must(t)(d.Round(t.Context(), round("2", 40, 9000, 900))); codes(got) != nil {
		t.Errorf("%v", got.Notices)
	}
}

func TestADeliveryIsHeldAgainstRoomAndOrders(t *testing.T) {
	at15 := func(v units.Litres) inventory.Measure { return inventory.Measure{Volume: v, Basis: inventory.Basis15} }
	order := func(id string) Order {
		return Order{Report: report(id), Measure: at15(20_000), ID: id, State: inventory.Committed,
			OrderedOn: calendar.Date(2026, 2, 1), Early: calendar.Date(2026, 3, 1), Likely: calendar.Date(2026, 3, 3), Late: calendar.Date(2026, 3, 9)}
	}
	tests := []struct {
		name     string
		delivery Delivery
		want     []string
	}{
		{"fits", Delivery{Measure: at15(5_000), Tank: "a"}, nil},
		{"more than the room", Delivery{Measure: at15(20_000), Tank: "a"}, []string{CodeNoRoom}},
		{"more than the room of all storage", Delivery{Measure: at15(20_000)}, []string{CodeNoRoom}},
		{"more than the tanks", Delivery{Measure: at15(60_000)}, []string{CodeNoRoom, inventory.CodeDeliveryTooLarge}},
		{"an order that is not there", Delivery{Measure: at15(5_000), Tank: "a", Order: "X"}, []string{CodeOrderUnknown}},
		{"an order that is open", Delivery{Measure: at15(5_000), Tank: "a", Order: "O"}, []string{CodeOrderStillOpen}},
		{"an order that is cancelled", Delivery{Measure: at15(5_000), Tank: "a", Order: "C"}, []string{CodeOrderNotOpen}},
		{"in kilolitres", Delivery{Measure: at15(5), Tank: "a"}, []string{inventory.CodeDeliverySmall}},
		{"temperature not read", Delivery{Measure: inventory.Measure{Volume: 5_000}, Tank: "a"}, []string{inventory.CodeBasisUnknown}},
	}
	for _, tt := range tests {
		d, _ := newDesk(t)
		must(t)(d.Order(t.Context(), order("O")))
		must(t)(d.Order(t.Context(), order("C")))
		must(t)(d.ChangeOrder(t.Context(), OrderChange{Report: report("1"), ID: "C", State: inventory.Cancelled}))
		must(t)(d.Gauging(t.Context(), report("g"), evening(1), TankEntry{Tank: "a", Depth: p(units.Millimetres(2000)), Temperature: p(units.Celsius(15))}))
		tt.delivery.Report, tt.delivery.At = report("d"), evening(0)
		got := must(t)(d.Delivery(t.Context(), tt.delivery))
		if diff := cmp.Diff(tt.want, codes(got)); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

func TestANoticeIsASentenceForPeople(t *testing.T) {
	d, _ := newDesk(t)
	d.Advice = usual("2026-03-02T05:00:00Z")
	must(t)(d.Round(t.Context(), round("1", 1, 1000, 100)))
	got := must(t)(d.Round(t.Context(), round("2", 0, 2500, 120)))
	const want = "1 700 L burned since 1 Mar 20:00, 1 700 L a day: more than usual (300 L to 500 L a day)."
	if text := strings.ReplaceAll(got.Notices[0].Message, "\u202f", " "); !strings.HasPrefix(text, want) {
		t.Errorf("%q, want %q", text, want)
	}
}

// A barge fills both tanks; the one is gauged with the fuel in it, the other only later. The fuel of the
// first must not be missed when it burns off.
func TestADeliveryThatALaterGaugingHoldsIsNotMissedAgain(t *testing.T) {
	rows := inventory.Rows{Tanks: []*inventory.Tank{{
		Entry: inventory.Entry{Key: "b"}, Plant: "bay", ID: "b", Role: inventory.Storage, Product: "diesel-1-s15", Shape: inventory.ShapeVertical,
		Diameter: p(units.Millimetres(3000)), Height: p(units.Millimetres(4000)),
	}}}
	depth := func(litres float64) *units.Millimetres { return p(units.Millimetres(litres / 7.0685834705770345)) }
	tests := []struct {
		name     string
		tank     string
		now, and float64 // in the one tank and in the other, of 20 000 and 10 000 L
		want     []string
	}{
		{"into the tank that holds it", "a", 19_800, 9_900, nil},
		{"into the other, which has it now", "b", 19_800, 14_900, nil},
		{"into the other, where it is not", "b", 19_800, 9_900, []string{CodeStockFell}},
		{"over both", "", 19_800, 12_400, nil},
		{"gone from the tank that held it", "a", 15_000, 9_900, []string{CodeStockFell}},
	}
	for _, tt := range tests {
		d, _ := newDesk(t)
		if _, err := d.Ledger.Record(t.Context(), rows, now); err != nil {
			t.Fatal(err)
		}
		d.Advice = usual("2026-03-02T05:00:00Z")
		warm := p(units.Celsius(15))
		must(t)(d.Gauging(t.Context(), report("b1"), evening(3), TankEntry{Tank: "b", Depth: depth(10_000), Temperature: warm}))
		must(t)(d.Delivery(t.Context(), Delivery{Report: report("d"), At: evening(2), Tank: tt.tank, Measure: inventory.Measure{Volume: 5_000, Basis: inventory.Basis15}}))
		must(t)(d.Gauging(t.Context(), report("a1"), evening(1), TankEntry{Tank: "a", Depth: depth(20_000), Temperature: warm}))
		got := must(t)(d.Round(t.Context(), Round{Report: report("2"), At: evening(0), Tanks: []TankEntry{
			{Tank: "a", Depth: depth(tt.now), Temperature: warm}, {Tank: "b", Depth: depth(tt.and), Temperature: warm},
		}}))
		if diff := cmp.Diff(tt.want, codes(got)); diff != "" {
			t.Errorf("%s: %s %v", tt.name, diff, got.Notices)
		}
	}
}

func TestAValueInThePlaceOfAnotherMetersIsAskedAbout(t *testing.T) {
	d, _ := newDesk(t)
	first := round("1", 0, 1000, 100)
	first.Tanks = []TankEntry{{Tank: "a", Depth: p(units.Millimetres(1200)), Temperature: p(units.Celsius(15))}}
	must(t)(d.Round(t.Context(), first))
	swapped := Round{Report: report("2"), At: evening(0),
		Meters: []MeterEntry{{Correction: Correction{Replaces: RoundRow(report("1"), "one")}, Meter: "two", Register: 100}},
		Tanks:  []TankEntry{{Correction: Correction{Replaces: RoundRow(report("1"), "a")}, Tank: "d", Volume: p(units.Litres(100)), Temperature: p(units.Celsius(15))}}}
	got := must(t)(d.Round(t.Context(), swapped))
	if diff := cmp.Diff([]string{CodeOtherReplaced, CodeOtherReplaced, CodeReadAgain}, codes(got)); diff != "" {
		t.Errorf("%s %v", diff, got.Notices)
	}
}
