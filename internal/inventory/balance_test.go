package inventory

import (
	"slices"
	"strings"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// figures are the lines of a balance, in the order in which they are added.
func figures(b Balance) []float64 {
	var all []float64
	for _, v := range []units.LitresAt15{b.Opening, b.Received, b.Consumed, b.Drawn, b.Repaid, b.Corrected, b.Changed, b.Moved, b.OutOfService, b.Book, b.Physical, b.Variance} {
		all = append(all, float64(v))
	}
	return all
}

// march is the rows of a metered month: dipped on the 1st and on the 29th, 7 000 L through the meter.
func march(opening, closing units.Litres) Rows {
	return Rows{
		Readings: []*MeterReading{reading(at(time.March, 1, 8), 1000), reading(at(time.March, 29, 8), 8000)},
		Gaugings: []*Gauging{gauged("bulk", at(time.March, 1, 8), opening), gauged("bulk", at(time.March, 29, 8), closing)},
	}
}

func day(d int) calendar.Day { return calendar.Date(2026, time.March, d) }

func TestABalanceAddsUpLineByLine(t *testing.T) {
	draw := func(v units.Litres, p Purpose) *Draw {
		return &Draw{Plant: "P", FirstDay: day(5), LastDay: day(6), Measure: at15(v), Purpose: p}
	}
	move := func(from, to string, d int, v units.Litres) *Transfer {
		return &Transfer{Plant: "P", From: from, To: to, At: at(time.March, d, 12), Measure: at15(v)}
	}
	dayDips := func(r *Rows, first, last units.Litres) {
		r.Gaugings = append(r.Gaugings, gauged("day", at(time.March, 1, 9), first), gauged("day", at(time.March, 29, 8), last))
	}
	tests := []struct {
		name string
		rows func(*Rows)
		want []float64 // opening, received, consumed, drawn, repaid, corrected, changed, moved, out of service, book, physical, variance
	}{
		// 40 000 − 7 000 = 33 000; the dips find 32 900.
		{"the meter alone", func(*Rows) {}, []float64{40_000, 0, 7000, 0, 0, 0, 0, 0, 0, 33_000, 32_900, -100}},
		// The day tank fell by 250 L, which were burned: they were never in the storage tank's variance.
		{"a day tank that swings", func(r *Rows) { dayDips(r, 950, 700) },
			[]float64{40_950, 0, 7250, 0, 0, 0, 0, 0, 0, 33_700, 33_600, -100}},
		{"a day tank read while it fills", func(r *Rows) {
			dayDips(r, 950, 700)
			r.Gaugings[3].Moving = true
		}, []float64{40_000, 0, 7000, 0, 0, 0, 0, 0, 0, 33_000, 32_900, -100}},
		// 60 L went back past the meter: 6 940 burned of the 7 000.
		{"a pump-down return", func(r *Rows) { r.Transfers = append(r.Transfers, move("day", "bulk", 10, 60)) },
			[]float64{40_000, 0, 6940, 0, 0, 0, 0, 0, 0, 33_060, 32_900, -160}},
		{"a fill by hand pump", func(r *Rows) { r.Transfers = append(r.Transfers, move("bulk", "day", 10, 90)) },
			[]float64{40_000, 0, 7090, 0, 0, 0, 0, 0, 0, 32_910, 32_900, -10}},
		{"a fill by hand pump with the day tank gauged", func(r *Rows) {
			dayDips(r, 950, 700)
			r.Transfers = append(r.Transfers, move("bulk", "day", 10, 90))
		}, []float64{40_950, 0, 7340, 0, 0, 0, 0, 0, 0, 33_610, 33_600, -10}},
		// Between the meter's reading at 08:00 and the day tank's gauging at 09:00 on the 1st: the storage tank sees it alone.
		{"a fill between the gaugings of one round", func(r *Rows) {
			dayDips(r, 950, 700)
			r.Transfers = append(r.Transfers, &Transfer{Plant: "P", From: "bulk", To: "day", At: at(time.March, 1, 8).Add(30 * time.Minute), Measure: at15(90)})
		}, []float64{40_950, 0, 7250, 0, 0, 0, 0, -90, 0, 33_610, 33_600, -10}},
		{"received, drawn, repaid, corrected", func(r *Rows) {
			r.Gaugings[1] = gauged("bulk", at(time.March, 29, 8), 38_300)
			r.Deliveries = append(r.Deliveries, &Delivery{Entry: Entry{Key: "large"}, Plant: "P", Tank: "bulk", At: at(time.March, 9, 9), Measure: at15(5000)},
				&Delivery{Plant: "P", At: at(time.March, 10, 9), Measure: at15(1000)},
				&Delivery{Plant: "P", Product: "jet-a1", At: at(time.March, 10, 9), Measure: at15(777)})
			// Two readings do not tell what the plant usually burns, so that the delivery looks too large.
			r.Confirmations = []*Confirmation{{Plant: "P", Of: KindDelivery, Row: "large"}}
			r.Draws = append(r.Draws, draw(300, Heat), draw(400, Loan), draw(150, Repayment))
			r.CountCorrections = []*CountCorrection{{Plant: "P", Product: "diesel-2-s15", Day: day(15), Measure: at15(-120)},
				{Plant: "P", Product: "jet-a1", Day: day(15), Measure: at15(-9)}}
		}, []float64{40_000, 6000, 7000, 700, 150, -120, 0, 0, 0, 38_450, 38_300, -150}},
		{"a delivery straight into the day tank", func(r *Rows) {
			r.Deliveries = append(r.Deliveries, &Delivery{Plant: "P", Tank: "day", At: at(time.March, 9, 9), Measure: at15(200)})
		}, []float64{40_000, 200, 7200, 0, 0, 0, 0, 0, 0, 33_000, 32_900, -100}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := march(40_000, 32_900)
			tt.rows(&rows)
			b := bookOf(t, rows)
			got, _ := b.Balance(at(time.March, 1, 0), at(time.March, 31, 0))
			if !got.Known || !slices.EqualFunc(figures(got), tt.want, near) {
				t.Errorf("known %v (%s)\n got %v\nwant %v\ndoubts %v", got.Known, got.Why, figures(got), tt.want, b.Doubtful())
			}
		})
	}
}

func TestAPlantWithoutAMeterHasNoVariance(t *testing.T) {
	rows := march(40_000, 32_900)
	rows.Readings = nil
	b := bookOf(t, rows)
	b.meters = nil
	got, _ := b.Balance(time.Time{}, time.Time{})
	if got.Known || got.Metered || got.Why == "" || !near(float64(got.Consumed), 7100) || got.Variance != 0 || got.Sigma != 0 || got.Book != got.Physical {
		t.Errorf("%+v", got)
	}
}

func directoryOf(tanks ...*Tank) *Directory {
	return NewDirectory(Rows{
		Plants: []*Plant{{ID: "P", Zone: "UTC", Product: "diesel-2-s15", AssumedTemperature: ptr(units.Celsius(15))}},
		Tanks:  tanks,
		Meters: []*Meter{{Plant: "P", ID: "M", Digits: 5, LitresPerCount: 1}},
	})
}

func balanceOf(t *testing.T, d *Directory, p Product, rows Rows) Balance {
	t.Helper()
	b, err := NewProductBook(d, "P", p, rows, day(31))
	if err != nil {
		t.Fatal(err)
	}
	got, _ := b.Balance(time.Time{}, time.Time{})
	return got
}

func TestABalanceSaysWhyThereIsNoVariance(t *testing.T) {
	move := func(key, from, to string, d int, v units.Litres) *Transfer {
		return &Transfer{Entry: Entry{Key: key}, Plant: "P", From: from, To: to, At: at(time.March, d, 12), Measure: at15(v)}
	}
	tests := []struct {
		name    string
		rows    func(*Rows)
		tanks   []*Tank
		why     string // how it begins; blank where there is a variance
		leftOut int
	}{
		{"sound", func(*Rows) {}, nil, "", 0},
		{"one count", func(r *Rows) { r.Gaugings = r.Gaugings[:1] }, nil, "there are no two counts", 0},
		// 60 000 L into a tank of 50 000.
		{"a doubted delivery", func(r *Rows) {
			r.Deliveries = []*Delivery{{Plant: "P", Tank: "bulk", At: at(time.March, 10, 12), Measure: at15(60_000)}}
		}, nil, "a delivery, a transfer or a draw in between looks wrong", 1},
		// 1 500 L out of a day tank of 1 000.
		{"a doubted transfer", func(r *Rows) { r.Transfers = []*Transfer{move("a", "day", "bulk", 10, 1500)} }, nil, "a delivery, a transfer or a draw", 1},
		{"a doubted transfer after the last count", func(r *Rows) { r.Transfers = []*Transfer{move("a", "day", "bulk", 30, 1500)} }, nil, "", 0},
		{"a doubted transfer before the first count", func(r *Rows) {
			r.Transfers = []*Transfer{{Plant: "P", From: "day", To: "bulk", At: at(time.February, 20, 12), Measure: at15(1500)}}
		}, nil, "", 0},
		// 80 000 L on one day, and all tanks together hold 51 000.
		{"a doubted draw", func(r *Rows) {
			r.Draws = []*Draw{{Plant: "P", FirstDay: day(10), LastDay: day(10), Purpose: Sale, Measure: at15(80_000)}}
		}, nil, "a delivery, a transfer or a draw", 1},
		// The row that it repeats tells of the fuel.
		{"a transfer entered twice", func(r *Rows) {
			r.Transfers = []*Transfer{move("a", "day", "bulk", 10, 60), move("b", "day", "bulk", 10, 60)}
		}, nil, "", 1},
		{"no tank but a day tank", func(r *Rows) {
			r.Gaugings = []*Gauging{gauged("day", at(time.March, 1, 8), 900), gauged("day", at(time.March, 29, 8), 900)}
			r.Readings[1].Register = 1700 // no more than the tank held: it was filled past the books
		}, []*Tank{volumeTank("day", DayTank, 1000)}, "no tank but day tanks", 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := march(40_000, 32_900)
			tt.rows(&rows)
			got, _ := bookOf(t, rows, tt.tanks...).Balance(time.Time{}, time.Time{})
			if got.Known != (tt.why == "") || !strings.HasPrefix(got.Why, tt.why) || got.LeftOut != tt.leftOut {
				t.Errorf("known %v (%s), %d left out; want %q, %d", got.Known, got.Why, got.LeftOut, tt.why, tt.leftOut)
			}
			if !got.Known && (got.Variance != 0 || got.Sigma != 0 || got.Screen.Applies) {
				t.Errorf("a variance that is not known is %v ± %v, screened %v", got.Variance, got.Sigma, got.Screen.Applies)
			}
		})
	}
}

func TestABalanceIsBetweenTheCountsNearestToTheMomentsThatWereAskedFor(t *testing.T) {
	rows := march(40_000, 32_900)
	b := bookOf(t, rows)
	asked := [2]time.Time{at(time.March, 4, 0), at(time.March, 20, 0)}
	got, _ := b.Balance(asked[0], asked[1])
	if !got.From.Equal(at(time.March, 1, 8)) || !got.To.Equal(at(time.March, 29, 8)) || got.Asked != asked {
		t.Errorf("from %v to %v, asked %v", got.From, got.To, got.Asked)
	}
	got, _ = b.Balance(at(time.March, 2, 0), at(time.March, 3, 0))
	if got.Known || !strings.HasSuffix(got.Why, "that of 2026-03-01") {
		t.Errorf("both are nearest to the count of the 1st: %+v", got)
	}
}

// Without a meter what was burned follows from the stock, but not as long as a movement looks wrong.
func TestWithoutAMeterADoubtedMovementLeavesTheBurnUnknown(t *testing.T) {
	rows := march(40_000, 32_900)
	rows.Readings = nil
	rows.Draws = []*Draw{{Plant: "P", FirstDay: day(10), LastDay: day(10), Purpose: Sale, Measure: at15(80_000)}}
	b := bookOf(t, rows)
	got, _ := b.Balance(time.Time{}, time.Time{})
	if got.Consumed != 0 || got.Known || got.Metered {
		t.Errorf("%+v", got)
	}
	if u, _ := b.Usages(); u != nil {
		t.Errorf("usage %+v, want none", u)
	}
}
