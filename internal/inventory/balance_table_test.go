package inventory

import (
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// Three counts, 10 days apart: the variances are −100 and +60 L; a single balance over all of it finds −40 L.
func TestTheRunningSumIsASingleBalanceOverAllOfIt(t *testing.T) {
	rows := Rows{}
	for i, v := range []units.Litres{40_000, 36_900, 33_960} {
		rows.Readings = append(rows.Readings, reading(at(time.March, 1+10*i, 8), 1000+3000*float64(i)))
		rows.Gaugings = append(rows.Gaugings, gauged("bulk", at(time.March, 1+10*i, 8), v))
	}
	lines, _ := bookOf(t, rows, volumeTank("bulk", Storage, 50_000)).Balances(time.Time{}, time.Time{}, ByCount)
	if len(lines) != 2 || !near(float64(lines[0].Variance), -100) || !near(float64(lines[1].Variance), 60) || !near(float64(lines[1].Sum), -40) {
		t.Fatalf("%+v", lines)
	}
	// The count in the middle is in neither end of the whole: the sum is surer than two variances that knew nothing of each other.
	if apart := 1.4142 * float64(lines[0].Sigma); float64(lines[1].SumSigma) > apart-50 {
		t.Errorf("σ of the sum %v, apart %v", lines[1].SumSigma, apart)
	}
	if lines[0].Screen.Applies {
		t.Error("ten days are no month")
	}
}

// Of the counts on 1 and 30 January, 3 February, 2 and 20 March the one of 30 January is nearest to the beginning of February,
// that of 2 March to that of March, and the last stands for that of April. 3 000 L are burned from each to the next.
func TestATableByMonthGoesFromTheCountsNearestToTheBeginningsOfMonths(t *testing.T) {
	rows := Rows{}
	for i, when := range []time.Time{at(time.January, 1, 8), at(time.January, 30, 8), at(time.February, 3, 8), at(time.March, 2, 8), at(time.March, 20, 8)} {
		rows.Readings = append(rows.Readings, reading(when, 1000+3000*float64(i)))
		rows.Gaugings = append(rows.Gaugings, gauged("bulk", when, units.Litres(40_000-3010*i)))
	}
	lines, _ := bookOf(t, rows, volumeTank("bulk", Storage, 50_000)).Balances(time.Time{}, time.Time{}, ByMonth)
	type line struct {
		from, to, asked time.Time
		consumed        float64
		sum             float64
	}
	want := []line{
		{at(time.January, 1, 8), at(time.January, 30, 8), at(time.February, 1, 0), 3000, -10},
		{at(time.January, 30, 8), at(time.March, 2, 8), at(time.March, 1, 0), 6000, -30},
		{at(time.March, 2, 8), at(time.March, 20, 8), at(time.April, 1, 0), 3000, -40},
	}
	if len(lines) != len(want) {
		t.Fatalf("%d lines, want %d: %+v", len(lines), len(want), lines)
	}
	for i, l := range lines {
		w := want[i]
		if !l.From.Equal(w.from) || !l.To.Equal(w.to) || !l.Asked[1].Equal(w.asked) || !near(float64(l.Consumed), w.consumed) || !near(float64(l.Sum), w.sum) {
			t.Errorf("%v to %v, asked %v, %v L, sum %v; want %+v", l.From, l.To, l.Asked, l.Consumed, l.Sum, w)
		}
	}
	// 29 and 31 days are months, 18 are none.
	if !lines[0].Screen.Applies || !lines[1].Screen.Applies || lines[2].Screen.Applies {
		t.Error("the screen is for months")
	}
	if none, _ := bookOf(t, Rows{}).Balances(time.Time{}, time.Time{}, ByMonth); none != nil {
		t.Errorf("of nothing: %+v", none)
	}
}

// Four counts ten days apart; the line in the middle has a draw that looks wrong. A correction of −40 L stands in the first.
func TestARunningSumBeginsAnewAfterALineWithoutAVariance(t *testing.T) {
	rows := Rows{CountCorrections: []*CountCorrection{{Plant: "P", Product: "diesel-2-s15", Day: day(5), Measure: at15(-40)}},
		Draws: []*Draw{{Plant: "P", FirstDay: day(14), LastDay: day(14), Purpose: Sale, Measure: at15(80_000)}}}
	for i, v := range []units.Litres{40_000, 36_900, 33_900, 30_930, 27_900} {
		rows.Readings = append(rows.Readings, reading(at(time.March, 1+7*i, 8), 1000+3000*float64(i)))
		rows.Gaugings = append(rows.Gaugings, gauged("bulk", at(time.March, 1+7*i, 8), v))
	}
	b := bookOf(t, rows, volumeTank("bulk", Storage, 50_000))
	lines, _ := b.Balances(time.Time{}, time.Time{}, ByCount)
	type line struct {
		known          bool
		since          time.Time
		sum, remaining float64
	}
	want := []line{
		{true, at(time.March, 1, 8), -100, -60}, // −100 − (−40)
		{false, time.Time{}, 0, 0},
		{true, at(time.March, 15, 8), 30, 30},
		{true, at(time.March, 15, 8), 0, 0}, // 30 − 30
	}
	for i, l := range lines {
		w := want[i]
		if l.Known != w.known || !l.Since.Equal(w.since) || !near(float64(l.Sum), w.sum) || !near(float64(l.SumRemaining), w.remaining) {
			t.Errorf("line %d: %v since %v, sum %v, remaining %v; want %+v", i, l.Known, l.Since, l.Sum, l.SumRemaining, w)
		}
	}
	// Within half a day of the moments that were asked for.
	part, _ := b.Balances(at(time.March, 8, 12), at(time.March, 22, 0), ByCount)
	if len(part) != 2 || !part[0].From.Equal(at(time.March, 8, 8)) || !part[1].To.Equal(at(time.March, 22, 8)) {
		t.Errorf("part: %+v", part)
	}
}

// Points of the normal distribution: 1.96 on either side of 95 %. The sum is told of from 3 on.
func TestAVarianceIsBeyondFrom196AndASumFrom3(t *testing.T) {
	for _, tt := range []struct {
		z           float64
		beyond, sum bool
	}{{0, false, false}, {1.95, false, false}, {1.97, true, false}, {-1.97, true, false}, {2.99, true, false}, {3.01, true, true}, {-3.01, true, true}} {
		if Beyond(tt.z) != tt.beyond || SumBeyond(tt.z) != tt.sum {
			t.Errorf("%v: %v, sum %v", tt.z, Beyond(tt.z), SumBeyond(tt.z))
		}
	}
}

// The delivery of February has no temperature: the line of that month says so, and the running sums to February and March hold the same
// delivery.
func TestWhatALineHasToldItsRunningSumDoesNotTellAgain(t *testing.T) {
	var rows Rows
	for i, v := range []units.Litres{40_000, 33_000, 31_000, 24_000} {
		rows.Readings = append(rows.Readings, reading(at(time.Month(1+i), 1, 8), 7000*float64(i)))
		rows.Gaugings = append(rows.Gaugings, gauged("bulk", at(time.Month(1+i), 1, 8), v))
	}
	rows.Deliveries = []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: "bulk", At: at(time.February, 9, 9), Measure: Measure{Volume: 5000}}}
	b, err := NewBook(directoryOf(volumeTank("bulk", Storage, 50_000)), "P", rows, calendar.Date(2026, 4, 2))
	if err != nil {
		t.Fatal(err)
	}
	lines, notes := b.Balances(time.Time{}, time.Time{}, ByCount)
	if len(lines) != 3 || !lines[2].Known || lines[2].Since != at(time.January, 1, 8) || len(notes) != 1 || notes[0].Code != "basis-unknown" || notes[0].Count != 1 {
		t.Errorf("%+v; %v", notes, lines)
	}
}
