package inventory

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// daily gives readings of meter M on every day from 1 January, 300 counts a day and a little more or less.
func daily(days int) []*MeterReading {
	var rows []*MeterReading
	register := 20_000.0
	for i := range days {
		r := reading(at(time.January, 1+i, 8), register)
		r.Key = "m" + r.At.Format("0102")
		rows = append(rows, r)
		register += 300 + float64(17*i%41) - 20
	}
	return rows
}

// weeklyDips gives gaugings of the storage tank "bulk" every week from 1 January, 2 100 L a week apart.
func weeklyDips(weeks int, from units.Litres) []*Gauging {
	var rows []*Gauging
	for i := range weeks {
		g := gauged("bulk", at(time.January, 1+7*i, 8), from-units.Litres(2100*i))
		g.Key = "g" + g.At.Format("0102")
		rows = append(rows, g)
	}
	return rows
}

type told struct {
	Key   string
	Cause Cause
	Scope Scope
}

func toldOf(b *Book) (all []told) {
	for _, d := range b.Doubtful() {
		all = append(all, told{d.Key, d.Cause, d.Scope})
	}
	return all
}

func TestAMisreadRegisterIsDoubtedWithItsLikelyCause(t *testing.T) {
	// 29 January: 28 398 or so is right; 11 February is the newest.
	tests := []struct {
		name   string
		day    int
		change func(right float64) float64
		want   []told
	}{
		{"none", 28, func(v float64) float64 { return v }, nil},
		{"a digit dropped", 28, func(v float64) float64 { return float64(int(v) / 10) }, []told{{"m0129", DigitDropped, WholeRow}}},
		{"a digit typed twice", 28, func(v float64) float64 { return 10*v + float64(int(v)%10) }, []told{{"m0129", DigitAdded, WholeRow}}},
		{"two digits exchanged", 28, func(v float64) float64 { return v + 54_000 }, []told{{"m0129", DigitsExchanged, WholeRow}}},
		{"one digit wrong", 28, func(v float64) float64 { return v + 60_000 }, []told{{"m0129", DigitMistaken, WholeRow}}},
		{"the newest, a digit dropped", 41, func(v float64) float64 { return float64(int(v) / 10) }, []told{{"m0211", DigitDropped, WholeRow}}},
		{"the newest, a new meter", 41, func(float64) float64 { return 0 }, []told{{"m0211", MeterSwapped, WholeRow}}},
		{"the newest, far beyond the burn", 41, func(v float64) float64 { return v + 7777 }, []told{{"m0211", BeyondBurn, WholeRow}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := daily(42)
			rows[tt.day].Register = tt.change(rows[tt.day].Register)
			if diff := cmp.Diff(tt.want, toldOf(bookOf(t, Rows{Readings: rows}))); diff != "" {
				t.Errorf("%v: %s", rows[tt.day].Register, diff)
			}
		})
	}
}

func TestAMeterChangedWithoutARecordLeavesOutOnlyTheRunUpToIt(t *testing.T) {
	rows := daily(42)
	for i := 30; i < 42; i++ {
		rows[i].Register -= rows[30].Register - 50
		if i == 30 {
			rows[i].Register = 50
		}
	}
	for i := 31; i < 42; i++ {
		rows[i].Register = rows[i-1].Register + 310
	}
	b := bookOf(t, Rows{Readings: rows}, volumeTank("bulk", Storage, 50_000))
	if diff := cmp.Diff([]told{{"m0131", MeterSwapped, RunBefore}}, toldOf(b)); diff != "" {
		t.Error(diff)
	}
	if u, _ := b.Usages(); len(u) != 40 {
		t.Errorf("%d usage intervals, want the 41 but that over the change", len(u))
	}
}

func TestAMisreadGaugingIsDoubtedWithItsLikelyCause(t *testing.T) {
	upright := &Tank{Plant: "P", ID: "bulk", Role: Storage, Product: "diesel-2-s15", Shape: ShapeVertical,
		Diameter: ptr(units.Millimetres(3568.248)), Height: ptr(units.Millimetres(8000))} // 10 L a millimetre, within 0.01 %
	dip := func(week int, depth units.Millimetres) *Gauging {
		g := &Gauging{Plant: "P", Tank: "bulk", At: at(time.January, 1+7*week, 8), Depth: &depth, Temperature: ptr(units.Celsius(15))}
		g.Key = "g" + g.At.Format("0102")
		return g
	}
	tests := []struct {
		name  string
		week  int
		depth units.Millimetres // 5 160 on 19 February, week 7; 4 740 is the newest, week 9
		want  []told
	}{
		{"none", 4, 5160, nil},
		{"centimetres", 4, 516, []told{{"g0129", DigitDropped, WholeRow}}},
		{"inches", 4, 5160 / 25.4, []told{{"g0129", UnitsSwitched, WholeRow}}},
		{"a foot more", 4, 5160 + 304.8, []told{{"g0129", StickMisread, WholeRow}}},
		{"a metre less", 4, 5160 - 1000, []told{{"g0129", StickMisread, WholeRow}}},
		{"the newest higher", 9, 5750, []told{{"g0305", RiseUnexplained, WholeRow}}},
		{"the newest in inches", 9, 4110 / 25.4, []told{{"g0305", UnitsSwitched, WholeRow}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := Rows{Readings: daily(70)}
			for week := range 10 {
				rows.Gaugings = append(rows.Gaugings, dip(week, 6000-units.Millimetres(210*week)))
			}
			rows.Gaugings[tt.week].Depth = &tt.depth
			if diff := cmp.Diff(tt.want, toldOf(bookOf(t, rows, upright))); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestARiseWithoutADeliveryIsDoubtedUntilItIsEntered(t *testing.T) {
	rows := Rows{Readings: daily(70), Gaugings: weeklyDips(6, 40_000)}
	for _, g := range rows.Gaugings[3:] {
		*g.Volume += 9000
	}
	bulk := volumeTank("bulk", Storage, 50_000)
	if diff := cmp.Diff([]told{{"g0122", RiseUnexplained, RunBefore}}, toldOf(bookOf(t, rows, bulk))); diff != "" {
		t.Error(diff)
	}
	rows.Deliveries = []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: "bulk", At: at(time.January, 18, 12), Measure: at15(9000)}}
	if got := toldOf(bookOf(t, rows, bulk)); got != nil {
		t.Errorf("with the delivery entered: %v", got)
	}
}

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

// monthly gives period totals of 2024 and 2025 with their energy, at 13 kWh a US gallon.
func monthly() []*PeriodTotal {
	var rows []*PeriodTotal
	for m := range 24 {
		first := calendar.Date(2024, time.January+time.Month(m), 1)
		last := calendar.Date(2024, time.February+time.Month(m), 1) - 1
		v := 300 * (1 + 0.1*float64((m*5)%7-3)/3) * float64(last-first+1)
		rows = append(rows, &PeriodTotal{Entry: Entry{Key: first.String()[:7]}, Plant: "P", FirstDay: first, LastDay: last,
			Measure: at15(units.Litres(v)), Energy: ptr(v / units.LitresPerUSGallon * 13)})
	}
	return rows
}

func TestAPeriodTotalIsHeldAgainstItsNeighboursAndItsEnergy(t *testing.T) {
	tests := []struct {
		name   string
		change func(rows []*PeriodTotal) []*PeriodTotal
		want   []told
	}{
		{"none", func(r []*PeriodTotal) []*PeriodTotal { return r }, nil},
		{"US gallons", func(r []*PeriodTotal) []*PeriodTotal { r[15].Volume /= 3.785; return r }, []told{{"2025-04", UnitsSwitched, WholeRow}}},
		{"a digit more", func(r []*PeriodTotal) []*PeriodTotal { r[15].Volume *= 10; return r }, []told{{"2025-04", DigitAdded, WholeRow}}},
		{"two months in one", func(r []*PeriodTotal) []*PeriodTotal {
			r[15].Volume += r[14].Volume
			*r[15].Energy += *r[14].Energy
			return slices.Delete(r, 14, 15)
		}, []told{{"2025-04", PeriodsInOne, WholeRow}}},
		{"less than nothing", func(r []*PeriodTotal) []*PeriodTotal { r[11].Volume = -500; return r }, []told{{"2024-12", NotPositive, WholeRow}}},
		{"energy of another month", func(r []*PeriodTotal) []*PeriodTotal { *r[15].Energy *= 3; return r }, []told{{"2025-04", EnergyPerLitre, EnergyFigure}}},
		{"half the fuel", func(r []*PeriodTotal) []*PeriodTotal { r[15].Volume /= 2; return r }, []told{{"2025-04", EnergyPerLitre, WholeRow}}},
		{"a load that doubles and stays", func(r []*PeriodTotal) []*PeriodTotal {
			for _, t := range r[12:] {
				t.Volume *= 2
				*t.Energy *= 2
			}
			return r
		}, nil},
		{"twice under two keys", func(r []*PeriodTotal) []*PeriodTotal {
			again := *r[3]
			again.Key = "again"
			return append(r, &again)
		}, []told{{"again", Duplicate, WholeRow}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, toldOf(bookOf(t, Rows{Totals: tt.change(monthly())}))); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestAConfirmedRowCounts(t *testing.T) {
	rows := Rows{Totals: monthly()}
	rows.Totals[15].Volume *= 10
	before, _ := bookOf(t, rows).Usages()
	rows.Confirmations = []*Confirmation{{Plant: "P", Of: KindTotal, Row: "2025-04"}}
	b := bookOf(t, rows)
	after, _ := b.Usages()
	for _, d := range b.Doubtful() {
		if d.Scope == WholeRow {
			t.Errorf("still doubted: %+v", d)
		}
	}
	if len(before) != 23 || len(after) != 24 {
		t.Errorf("%d intervals before, %d after, want 23 and 24", len(before), len(after))
	}
}

// Whatever slips there are and in whatever order the rows come, the same rows give the same doubts and the same usage.
func TestTheOrderOfArrivalChangesNeitherDoubtsNorUsage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := Rows{Readings: daily(60), Gaugings: weeklyDips(8, 40_000), Totals: monthly()}
		for range rapid.IntRange(0, 6).Draw(t, "slips") {
			r := rows.Readings[rapid.IntRange(0, 59).Draw(t, "reading")]
			r.Register = rapid.Float64Range(0, 99_999).Draw(t, "register")
			g := rows.Gaugings[rapid.IntRange(0, 7).Draw(t, "gauging")]
			g.Volume = ptr(units.Litres(rapid.Float64Range(0, 50_000).Draw(t, "volume")))
			total := rows.Totals[rapid.IntRange(0, 23).Draw(t, "total")]
			total.Volume = units.Litres(rapid.Float64Range(-10_000, 100_000).Draw(t, "total's volume"))
			key := string(rune('a' + rapid.IntRange(0, 9).Draw(t, "key")))
			rows.Deliveries = append(rows.Deliveries, &Delivery{Entry: Entry{Key: key + string(rune('0'+len(rows.Deliveries)))}, Plant: "P", Tank: "bulk",
				At: at(time.January, rapid.IntRange(1, 50).Draw(t, "day"), 12), Measure: at15(units.Litres(rapid.SampledFrom([]float64{3000, 12_000, 45_000}).Draw(t, "delivered")))})
		}
		other := Rows{Readings: slices.Clone(rows.Readings), Gaugings: slices.Clone(rows.Gaugings), Totals: slices.Clone(rows.Totals), Deliveries: slices.Clone(rows.Deliveries)}
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order"), 0))
		random.Shuffle(len(other.Readings), func(i, j int) { other.Readings[i], other.Readings[j] = other.Readings[j], other.Readings[i] })
		random.Shuffle(len(other.Gaugings), func(i, j int) { other.Gaugings[i], other.Gaugings[j] = other.Gaugings[j], other.Gaugings[i] })
		random.Shuffle(len(other.Totals), func(i, j int) { other.Totals[i], other.Totals[j] = other.Totals[j], other.Totals[i] })
		random.Shuffle(len(other.Deliveries), func(i, j int) { other.Deliveries[i], other.Deliveries[j] = other.Deliveries[j], other.Deliveries[i] })
		a, b := openBook(t, rows), openBook(t, other)
		if diff := cmp.Diff(a.Doubtful(), b.Doubtful(), cmpopts.IgnoreUnexported(Doubt{})); diff != "" {
			t.Fatal(diff)
		}
		ua, _ := a.Usages()
		ub, _ := b.Usages()
		if diff := cmp.Diff(ua, ub); diff != "" {
			t.Fatal(diff)
		}
	})
}

func openBook(t *rapid.T, rows Rows) *Book {
	bulk := volumeTank("bulk", Storage, 50_000)
	d := NewDirectory(Rows{Plants: []*Plant{{ID: "P", Zone: "UTC", Product: "diesel-2-s15"}}, Tanks: []*Tank{bulk},
		Meters: []*Meter{{Plant: "P", ID: "M", Digits: 5, LitresPerCount: 1}}})
	b, err := NewBook(d, "P", rows, calendar.Date(2026, time.March, 31))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Three years of daily rounds: a meter, a day tank, and three storage tanks weekly.
func BenchmarkNewBook(b *testing.B) {
	start := time.Date(2023, 4, 1, 8, 0, 0, 0, time.UTC)
	all := []*Tank{volumeTank("day", DayTank, 1000)}
	for _, id := range []string{"s1", "s2", "s3"} {
		all = append(all, &Tank{Plant: "P", ID: id, Role: Storage, Product: "diesel-2-s15", Shape: ShapeHorizontal,
			Diameter: ptr(units.Millimetres(2743)), Length: ptr(units.Millimetres(9000))})
	}
	var rows Rows
	for i := range 1095 {
		when := start.AddDate(0, 0, i)
		rows.Readings = append(rows.Readings, reading(when, float64(300*i+i%41)))
		rows.Gaugings = append(rows.Gaugings, gauged("day", when, units.Litres(700+i%200)))
		for n, id := range []string{"s1", "s2", "s3"} {
			if i%7 == 0 {
				rows.Gaugings = append(rows.Gaugings, &Gauging{Plant: "P", Tank: id, At: when, Temperature: ptr(units.Celsius(5)),
					Depth: ptr(units.Millimetres(2400 - i - n))})
			}
		}
	}
	d := NewDirectory(Rows{Plants: []*Plant{{ID: "P", Zone: "UTC", Product: "diesel-2-s15"}}, Tanks: all,
		Meters: []*Meter{{Plant: "P", ID: "M", Digits: 7, LitresPerCount: 1}}})
	for b.Loop() {
		if _, err := NewBook(d, "P", rows, calendar.Date(2026, time.March, 31)); err != nil {
			b.Fatal(err)
		}
	}
}
