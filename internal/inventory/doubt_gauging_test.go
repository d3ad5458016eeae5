package inventory

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

func TestAMisreadGaugingIsDoubtedWithItsLikelyCause(t *testing.T) {
	tests := []struct {
		name  string
		week  int
		depth units.Millimetres // 5 160 on 29 January, week 4; 4 110 is the newest, week 9
		want  []told
	}{
		{"none", 4, 5160, nil},
		{"centimetres", 4, 516, []told{{"A 0129", DigitDropped, WholeRow}}},
		{"inches", 4, 5160 / 25.4, []told{{"A 0129", UnitsSwitched, WholeRow}}},
		{"a foot more", 4, 5160 + 304.8, []told{{"A 0129", StickMisread, WholeRow}}},
		{"a metre less", 4, 5160 - 1000, []told{{"A 0129", StickMisread, WholeRow}}},
		{"lower for no reason", 4, 2700, []told{{"A 0129", FallUnexplained, WholeRow}}},
		{"higher for no reason", 4, 7000, []told{{"A 0129", RiseUnexplained, WholeRow}}},
		{"the newest higher", 9, 5750, []told{{"A 0305", RiseUnexplained, WholeRow}}},
		{"the newest in inches", 9, 4110 / 25.4, []told{{"A 0305", UnitsSwitched, WholeRow}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := Rows{Readings: daily(70), Gaugings: dipped("A", 6000, 5790, 5580, 5370, 5160, 4950, 4740, 4530, 4320, 4110)}
			rows.Gaugings[tt.week].Depth = &tt.depth
			if diff := cmp.Diff(tt.want, toldOf(bookOf(t, rows, upright("A")))); diff != "" {
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

// A dip that was read while fuel ran, and one that somebody confirmed, are not held against the others.
func TestADipOfMovingFuelAndOneThatIsConfirmedAreLeftAlone(t *testing.T) {
	for _, change := range []func(*Rows){
		func(r *Rows) { r.Gaugings[4].Moving = true },
		func(r *Rows) { r.Confirmations = []*Confirmation{{Plant: "P", Of: KindGauging, Row: "A 0129"}} },
	} {
		rows := Rows{Readings: daily(70), Gaugings: dipped("A", 6000, 5790, 5580, 5370, 5900, 5690, 5480)}
		change(&rows)
		if rows.Gaugings[4].Moving {
			rows.Gaugings[5].Depth, rows.Gaugings[6].Depth = ptr(units.Millimetres(4950)), ptr(units.Millimetres(4740))
		}
		if got := toldOf(bookOf(t, rows, upright("A"))); got != nil {
			t.Errorf("%v", got)
		}
	}
}

// upright is a storage tank of 10 L a millimetre, within 0.01 %, and 80 000 L.
func upright(id string) *Tank {
	return &Tank{Plant: "P", ID: id, Role: Storage, Product: "diesel-2-s15", Shape: ShapeVertical,
		Diameter: ptr(units.Millimetres(3568.248)), Height: ptr(units.Millimetres(8000))}
}

// dipped gives weekly dips of a tank at 15 °C from 1 January, with keys such as "A 0129".
func dipped(tank string, depths ...units.Millimetres) (all []*Gauging) {
	for week, depth := range depths {
		g := &Gauging{Plant: "P", Tank: tank, At: at(time.January, 1+7*week, 8), Depth: &depth, Temperature: ptr(units.Celsius(15))}
		g.Key = tank + " " + g.At.Format("0102")
		all = append(all, g)
	}
	return all
}

// Tank A falls by 210 mm a week, which is what the meter runs; B and C stand.
func TestFuelThatSeveralTanksExchangedIsNoFault(t *testing.T) {
	type depths = []units.Millimetres
	tests := []struct {
		name    string
		a, b, c depths
		want    []told
	}{
		{"nothing moved", depths{6000, 5790, 5580, 5370, 5160, 4950, 4740}, depths{3000, 3000, 3000, 3000, 3000, 3000, 3000}, nil, nil},
		// 24 000 L left A in the fourth week.
		{"into one tank", depths{6000, 5790, 5580, 5370, 2760, 2550, 2340}, depths{3500, 3500, 3500, 3500, 5900, 5900, 5900}, nil, nil},
		{"into two tanks", depths{6000, 5790, 5580, 5370, 2760, 2550, 2340}, depths{3000, 3000, 3000, 3000, 4200, 4200, 4200},
			depths{2000, 2000, 2000, 2000, 3200, 3200, 3200}, nil},
		{"into none", depths{6000, 5790, 5580, 5370, 2760, 2550, 2340}, depths{3000, 3000, 3000, 3000, 3000, 3000, 3000}, nil,
			[]told{{"A 0129", FallUnexplained, RunBefore}}},
		{"a sixth of it into another", depths{6000, 5790, 5580, 5370, 2760, 2550, 2340}, depths{3000, 3000, 3000, 3000, 3400, 3400, 3400}, nil,
			[]told{{"A 0129", FallUnexplained, RunBefore}, {"B 0129", RiseUnexplained, RunBefore}}},
		{"out of none", depths{6000, 5790, 5580, 5370, 5160, 4950, 4740}, depths{3000, 3000, 3000, 3000, 4200, 4200, 4200}, nil,
			[]told{{"B 0129", RiseUnexplained, RunBefore}}},
		// 5 160 and 3 000 mm are each in the other's row, and back in their own a week later.
		{"written down for each other", depths{6000, 5790, 5580, 5370, 3000, 4950, 4740}, depths{3000, 3000, 3000, 3000, 5160, 3000, 3000}, nil,
			[]told{{"A 0129", TanksInterchange, WholeRow}, {"B 0129", TanksInterchange, WholeRow}}},
		{"the newest written down for each other", depths{6000, 5790, 5580, 5370, 5160, 4950, 3000}, depths{3000, 3000, 3000, 3000, 3000, 3000, 4740}, nil,
			[]told{{"A 0212", TanksInterchange, WholeRow}, {"B 0212", TanksInterchange, WholeRow}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := Rows{Readings: daily(50), Gaugings: slices.Concat(dipped("A", tt.a...), dipped("B", tt.b...), dipped("C", tt.c...))}
			all := []*Tank{upright("A"), upright("B")}
			if tt.c != nil {
				all = append(all, upright("C"))
			}
			if diff := cmp.Diff(tt.want, toldOf(bookOf(t, rows, all...))); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// The newest dip finds 12 000 L less than it should: the lower figure stands, and it is told at once.
func TestAGreatFallInTheNewestDipStands(t *testing.T) {
	rows := Rows{Readings: daily(50), Gaugings: dipped("A", 6000, 5790, 5580, 5370, 5160, 4950, 3540)}
	b := bookOf(t, rows, upright("A"))
	if diff := cmp.Diff([]told{{"A 0212", FallUnexplained, RunBefore}}, toldOf(b)); diff != "" {
		t.Error(diff)
	}
	if notes := b.Doubts(); len(notes) != 1 || notes[0].Severity != notice.Serious || !strings.Contains(notes[0].Message, "Dip again now") {
		t.Errorf("%v", notes)
	}
	b.AsOf = calendar.Date(2026, time.February, 12)
	s, _ := b.StockNow(nil, func(_, _ float64) (litres, sd units.LitresAt15) { return 0, 0 })
	if math.Abs(float64(s.Usable)-35_400) > 5 { // the tank's 10 L a millimetre are within 0.01 %
		t.Errorf("stock %v, want the 35 400 L of the dip", s.Usable)
	}
	// A rise is no loss: nothing to run for.
	rows.Gaugings[6].Depth = ptr(units.Millimetres(6100))
	if notes := bookOf(t, rows, upright("A")).Doubts(); len(notes) != 1 || notes[0].Severity != notice.Caution {
		t.Errorf("a rise: %v", notes)
	}
}

// The tank fell by 24 000 L in the fourth week, for a reason that is entered.
func TestAFallIsHeldAgainstAllThatIsEntered(t *testing.T) {
	fall := []units.Millimetres{6000, 5790, 5580, 5370, 2760, 2550, 2340}
	tests := []struct {
		name   string
		change func(*Rows, *Tank)
		want   bool // doubted
	}{
		{"nothing is entered", func(*Rows, *Tank) {}, true},
		{"a sale", func(r *Rows, _ *Tank) {
			r.Draws = []*Draw{{Plant: "P", FirstDay: calendar.Date(2026, 1, 25), LastDay: calendar.Date(2026, 1, 25), Purpose: Sale, Measure: at15(24_000)}}
		}, false},
		{"a sale of another month", func(r *Rows, _ *Tank) {
			r.Draws = []*Draw{{Plant: "P", FirstDay: calendar.Date(2026, 3, 25), LastDay: calendar.Date(2026, 3, 25), Purpose: Sale, Measure: at15(12_000)}}
		}, true},
		{"a loan that came back", func(r *Rows, _ *Tank) {
			r.Draws = []*Draw{{Plant: "P", FirstDay: calendar.Date(2026, 1, 25), LastDay: calendar.Date(2026, 1, 25), Purpose: Repayment, Measure: at15(24_000)}}
		}, true},
		{"moved to the intermediate tank", func(r *Rows, _ *Tank) {
			r.Transfers = []*Transfer{{Plant: "P", From: "A", To: "mid", At: at(time.January, 25, 12), Measure: at15(24_000)}}
		}, false},
		{"moved in another week", func(r *Rows, _ *Tank) {
			r.Transfers = []*Transfer{{Plant: "P", From: "A", To: "mid", At: at(time.January, 18, 12), Measure: at15(24_000)}}
		}, true},
		{"taken out of service and brought back", func(_ *Rows, a *Tank) {
			a.OutFrom, a.BackOn = ptr(calendar.Date(2026, 1, 24)), ptr(calendar.Date(2026, 1, 26))
		}, false},
		// Others burn three times as much from a shared tank: 8 400 L, which are far, of a quarter.
		{"a quarter of it is the plant's", func(_ *Rows, a *Tank) { a.OwnShare = ptr(0.25) }, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a := upright("A")
			rows := Rows{Readings: daily(50), Gaugings: dipped("A", fall...)}
			tt.change(&rows, a)
			if got := toldOf(bookOf(t, rows, a, volumeTank("mid", Intermediate, 1000))); (got != nil) != tt.want {
				t.Errorf("%v, want doubted %v", got, tt.want)
			}
		})
	}
}

// 50 mm of water reach a suction at 50 mm, and 40 mm do not. No doubt is raised: the dip may well be right.
func TestWaterThatReachesTheSuctionIsToldWithoutADoubt(t *testing.T) {
	for _, tt := range []struct {
		water, suction units.Millimetres
		want           []string
	}{{40, 50, nil}, {50, 50, []string{"water-above-suction"}}, {50, 0, nil}} {
		a := upright("A")
		a.SuctionDepth = &tt.suction
		rows := Rows{Gaugings: dipped("A", 3000, 2990)}
		rows.Gaugings[1].Water = &tt.water
		b := bookOf(t, rows, a)
		if got := codes(b.Doubts()); !slices.Equal(got, tt.want) || b.Doubtful() != nil {
			t.Errorf("%v mm of water, suction at %v mm: %v, doubts %v", tt.water, tt.suction, got, b.Doubtful())
		}
	}
}

// The suction is at 300 mm by its row. 3 mm at each dip and 1 °C of 2 000 L or so make 43 L: 130 L are three deviations.
func TestFuelThatGoesOnFallingBelowItsSuctionIsTold(t *testing.T) {
	for _, tt := range []struct {
		name   string
		depths []units.Millimetres
		want   bool
	}{{"it fell by 400 L", []units.Millimetres{250, 210}, true}, {"it fell by 100 L", []units.Millimetres{250, 240}, false},
		{"it stood above", []units.Millimetres{350, 210}, false}, {"one dip", []units.Millimetres{250}, false}} {
		a := upright("A")
		a.SuctionDepth = ptr(units.Millimetres(300))
		if got := codes(bookOf(t, Rows{Gaugings: dipped("A", tt.depths...)}, a).Doubts()); slices.Contains(got, "suction-lower") != tt.want {
			t.Errorf("%s: %v", tt.name, got)
		}
	}
}
