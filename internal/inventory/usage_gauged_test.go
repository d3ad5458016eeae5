package inventory

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// The tank of 10 L a millimetre is dipped every week; there is no meter.
func TestAnIntervalThatNoBurnExplainsIsNamed(t *testing.T) {
	tests := []struct {
		name   string
		depths []units.Millimetres
		bills  []*Delivery
		notes  []string
	}{
		{"even", []units.Millimetres{5000, 4790, 4580, 4370, 4160, 3950, 3740, 3530}, nil, nil},
		// 2 100 L are usual: 2.4 times as much may be burn, 2.6 times are told.
		{"2.4 times", []units.Millimetres{5000, 4790, 4580, 4370, 3866, 3656, 3446, 3236}, nil, nil},
		{"2.6 times", []units.Millimetres{5000, 4790, 4580, 4370, 3824, 3614, 3404, 3194}, nil, []string{"fall-unusual"}},
		// 6 000 L came and 5 000 were entered: −1 000 + 300 burned.
		{"more came than was entered", []units.Millimetres{5000, 4970, 4940, 5510, 5480, 5450, 5420, 5390},
			[]*Delivery{{Plant: "P", Tank: "A", At: at(time.January, 18, 12), Measure: at15(5000)}}, []string{"usage-negative"}},
		// 43 L are one deviation of two dips and two temperatures.
		{"a little more came", []units.Millimetres{5000, 4970, 4940, 5415, 5385, 5355, 5325, 5295},
			[]*Delivery{{Plant: "P", Tank: "A", At: at(time.January, 18, 12), Measure: at15(5000)}}, nil},
	}
	for _, tt := range tests {
		usages, notes := bookOf(t, Rows{Gaugings: dipped("A", tt.depths...), Deliveries: tt.bills}, upright("A")).Usages()
		if got := codes(notes); !slices.Equal(got, tt.notes) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.notes)
		}
		if len(usages) != 7 {
			t.Fatalf("%s: %d intervals, want 7", tt.name, len(usages))
		}
		for i, u := range usages {
			if doubtful := u.Quality == Doubtful; doubtful != (i == 2 && slices.Contains(tt.notes, "usage-negative")) {
				t.Errorf("%s: interval %d of %v L is %s", tt.name, i, u.Litres, u.Quality)
			}
		}
	}
}

// A day tank that rose by 600 L while 500 ran: one that was filled past the meter and not entered.
func TestADayTankThatRoseByMoreThanTheMeterRanIsNamed(t *testing.T) {
	rows := Rows{
		Readings: []*MeterReading{reading(at(time.March, 1, 8), 0), reading(at(time.March, 2, 8), 500)},
		Gaugings: []*Gauging{gauged("day", at(time.March, 1, 8), 100), gauged("day", at(time.March, 2, 8), 700)},
	}
	u, notes := bookOf(t, rows, volumeTank("bulk", Storage, 50_000), volumeTank("day", DayTank, 1000)).Usages()
	if len(u) != 1 || !near(float64(u[0].Litres), -100) || u[0].Quality != Doubtful || !slices.Equal(codes(notes), []string{"usage-negative"}) || !strings.Contains(notes[0].Message, "hand pump") {
		t.Errorf("%+v %v", u, notes)
	}
}

// 1 000 L of the fall of 3 100 are heat of the second week, which is reported until the 31st of January, 1 000 L a week. From then
// on it is taken to go on: 3 100 − 1 000 = 2 100 L either way, but less certainly.
func TestDrawsThatAreNotReportedYetAreNoBurn(t *testing.T) {
	rows := Rows{Gaugings: dipped("A", 7900, 7590, 7280, 6970, 6660, 6350, 6040, 5730)}
	for week := range 17 { // from 5 October on, so that they span three months
		first := calendar.Date(2025, 10, 5) + calendar.Day(7*week)
		rows.Draws = append(rows.Draws, draw(first, first+6, 1000, Heat))
	}
	last := rows.Draws[len(rows.Draws)-1].LastDay // 31 January
	usages, notes := bookOf(t, rows, upright("A")).Usages()
	if len(usages) != 7 || last != calendar.Date(2026, 1, 31) {
		t.Fatalf("%d intervals, %v, last draw on %v", len(usages), codes(notes), last)
	}
	for i, u := range usages {
		if math.Abs(float64(u.Litres)-2100) > 1 {
			t.Errorf("interval %d: %v L, want 2 100", i, u.Litres)
		}
	}
	// 30 % of 1 000 L beside two dips (42 L) and two temperatures (70 L).
	if taken := float64(usages[6].Sigma); taken < math.Hypot(300, 70) || taken > math.Hypot(300, 95) {
		t.Errorf("σ %v, want about 311", taken)
	}
}

// Of two falls of 90 L, which two dips tell to 60 L, neither says anything; both together do.
func TestIntervalsThatSayLessThanTheirErrorAreTakenTogether(t *testing.T) {
	week := func(i int, v, sigma units.LitresAt15) Usage {
		return Usage{Start: at(time.January, 1+7*i, 8), End: at(time.January, 8+7*i, 8), Litres: v, Sigma: sigma}
	}
	got := gaugedRates([]Usage{week(0, 700, 60), week(1, 140, 60), week(2, 210, 60), week(3, 70, 60), week(5, 700, 60)})
	// 700 L in a week; 350 L in two, against 3 · 85 L; the 70 L say nothing before the gap.
	want := []rate{{at(time.January, 4, 20), 100}, {at(time.January, 15, 8), 25}, {at(time.February, 8, 20), 100}}
	if !slices.EqualFunc(got, want, func(a, b rate) bool { return a.mid.Equal(b.mid) && near(a.perDay, b.perDay) }) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// Five weeks of 2 100 L and one of 24 000 more, which look wrong: that week has no interval, and the others have theirs.
func TestAFallThatLooksWrongIsNoInterval(t *testing.T) {
	rows := Rows{Gaugings: dipped("A", 7000, 6790, 6580, 6370, 6160, 5950, 5740, 5530, 2920, 2710, 2500)}
	b := bookOf(t, rows, upright("A"))
	usages, _ := b.Usages()
	if len(usages) != 9 || slices.ContainsFunc(usages, func(u Usage) bool { return math.Abs(float64(u.Litres)-2100) > 2 }) {
		t.Errorf("%+v; %v", usages, toldOf(b))
	}
}
