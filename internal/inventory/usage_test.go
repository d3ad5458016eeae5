package inventory

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// used gives the litres of the intervals that the rows make, with the notices' codes.
func used(t *testing.T, rows Rows, tanks ...*Tank) (litres []float64, notes []string) {
	t.Helper()
	usages, list := bookOf(t, rows, tanks...).Usages()
	for _, u := range usages {
		litres = append(litres, float64(u.Litres))
	}
	return litres, codes(list)
}

func TestMeterReadingsMakeUsageIntervals(t *testing.T) {
	march := func(day int, register float64) *MeterReading { return reading(at(time.March, day, 8), register) }
	bulk := volumeTank("bulk", Storage, 50_000) // no day tank: its change is nothing
	tests := []struct {
		name     string
		readings []*MeterReading
		swaps    []*MeterSwap
		want     []float64
		notes    []string
	}{
		{"day by day", []*MeterReading{march(1, 100), march(2, 350), march(3, 700)}, nil, []float64{250, 350}, nil},
		{"a gap stays one interval", []*MeterReading{march(1, 100), march(22, 5100)}, nil, []float64{5000}, nil},
		// 99 900 to 150 on five digits: 100 000 − 99 900 + 150.
		{"rollover", []*MeterReading{march(1, 99_900), march(2, 150)}, nil, []float64{250}, nil},
		{"swap with both registers", []*MeterReading{march(1, 5000), march(3, 260)},
			[]*MeterSwap{{Plant: "P", Meter: "M", At: at(time.March, 2, 9), Closing: ptr(5200.0), Opening: ptr(10.0)}},
			[]float64{450}, nil},
		{"swap without registers", []*MeterReading{march(1, 5000), march(3, 260), march(4, 500)},
			[]*MeterSwap{{Plant: "P", Meter: "M", At: at(time.March, 2, 9)}}, []float64{240}, []string{"meter-gap"}},
		{"one reading too low", []*MeterReading{march(1, 5000), march(2, 523), march(3, 5500)}, nil, []float64{500}, []string{"meter-misread"}},
		{"one reading too high", []*MeterReading{march(1, 5000), march(2, 5250), march(3, 8500), march(4, 5750)}, nil,
			[]float64{250, 500}, []string{"meter-misread"}},
		// 90 200 misread as 9 020: taken as a rollover the meter would have run all the way round.
		{"a digit lost looks like a rollover", []*MeterReading{march(1, 90_000), march(2, 90_100), march(3, 9020), march(4, 90_300)}, nil,
			[]float64{100, 200}, []string{"meter-misread"}},
		{"two digits swapped look like a rollover", []*MeterReading{march(1, 10_100), march(2, 91_020), march(3, 10_300)}, nil,
			[]float64{200}, []string{"meter-misread"}},
		{"changed without a record", []*MeterReading{march(1, 5000), march(2, 5250), march(3, 100), march(4, 350)}, nil,
			[]float64{250, 250}, []string{"meter-gap"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, notes := used(t, Rows{Readings: tt.readings, Swaps: tt.swaps}, bulk)
			if !slices.EqualFunc(got, tt.want, near) || !slices.Equal(notes, tt.notes) {
				t.Errorf("got %v %v, want %v %v", got, notes, tt.want, tt.notes)
			}
		})
	}
}

// 400 L through the meter, the day tank 100 L lower, 30 L pumped back, 50 L filled by hand:
// 400 + 100 − 30 + 50 = 520 L burned. Storage to intermediate tank is no consumption.
func TestConsumptionCountsTheDayTankReturnsAndHandFillsOnce(t *testing.T) {
	rows := Rows{
		Readings: []*MeterReading{reading(at(time.March, 1, 8), 1000), reading(at(time.March, 2, 8), 1400)},
		Gaugings: []*Gauging{gauged("day", at(time.March, 1, 8), 900), gauged("day", at(time.March, 2, 9), 800)},
		Transfers: []*Transfer{
			{Plant: "P", From: "day", To: "bulk", At: at(time.March, 1, 15), Measure: at15(30)},
			{Plant: "P", From: "bulk", To: "day", At: at(time.March, 1, 20), Measure: at15(50)},
			{Plant: "P", From: "bulk", To: "mid", At: at(time.March, 1, 21), Measure: at15(5000)},
			{Plant: "P", From: "bulk", To: "day", At: at(time.March, 3, 20), Measure: at15(70)}, // after the interval
		},
	}
	got, notes := used(t, rows)
	if !slices.EqualFunc(got, []float64{520}, near) || notes != nil {
		t.Errorf("got %v %v, want 520 L", got, notes)
	}
}

func TestAnUngaugedDayTankMakesTheIntervalLessCertain(t *testing.T) {
	rows := Rows{Readings: []*MeterReading{reading(at(time.March, 1, 8), 1000), reading(at(time.March, 2, 8), 1400)}}
	blind, _ := bookOf(t, rows).Usages()
	rows.Gaugings = []*Gauging{gauged("day", at(time.March, 1, 8), 900), gauged("day", at(time.March, 2, 8), 900)}
	seen, _ := bookOf(t, rows).Usages()
	// Ungauged: 0.25 · √2/√12 = 10.2 % of 1 000 L, against two readings of a 1 000 L scale.
	if blind[0].Sigma < 100 || blind[0].Sigma > 105 || seen[0].Sigma > 20 {
		t.Errorf("σ %v ungauged and %v gauged, want about 102 and under 20", blind[0].Sigma, seen[0].Sigma)
	}
}

// A meter that indicates 2 % too little, in US gallons: 100 gal · 1.02 · 3.785411784 L.
func TestAMetersUnitAndFactorCount(t *testing.T) {
	b := bookOf(t, Rows{Readings: []*MeterReading{reading(at(time.March, 1, 8), 0), reading(at(time.March, 2, 8), 100)}},
		volumeTank("bulk", Storage, 50_000))
	b.meters = []*Meter{{Plant: "P", ID: "M", LitresPerCount: units.LitresPerUSGallon, Factor: 1.02}}
	u, _ := b.Usages()
	if len(u) != 1 || !near(float64(u[0].Litres), 386.112001968) {
		t.Errorf("got %+v, want 386.112 L", u)
	}
}

func TestACompensatedMeterIsNeverCorrectedTwice(t *testing.T) {
	cold := func(day int, register float64) *MeterReading {
		return &MeterReading{Plant: "P", Meter: "M", At: at(time.March, day, 8), Register: register, Temperature: ptr(units.Celsius(-30))}
	}
	rows := Rows{Readings: []*MeterReading{cold(1, 0), cold(2, 1000)}}
	bulk := volumeTank("bulk", Storage, 50_000)
	b := bookOf(t, rows, bulk)
	plain, _ := b.Usages()
	b.meters = []*Meter{{Plant: "P", ID: "M", Digits: 5, LitresPerCount: 1, Compensated: true}}
	compensated, _ := b.Usages()
	// API MPMS 11.1-2004 for 845 kg/m³ at −30 °C: between 1.03750 (840) and 1.03693 (850), computed.
	if plain[0].Litres < 1036.9 || plain[0].Litres > 1037.5 || !near(float64(compensated[0].Litres), 1000) {
		t.Errorf("got %v corrected and %v compensated", plain[0].Litres, compensated[0].Litres)
	}
}

func TestTwoMetersAddWhereBothWereRead(t *testing.T) {
	second := func(day int, register float64) *MeterReading {
		r := reading(at(time.March, day, 9), register)
		r.Meter = "N"
		return r
	}
	b := bookOf(t, Rows{Readings: []*MeterReading{
		reading(at(time.March, 1, 8), 0), reading(at(time.March, 2, 8), 100), reading(at(time.March, 3, 8), 200),
		second(1, 0), second(3, 50), // not read on the 2nd
	}}, volumeTank("bulk", Storage, 50_000))
	b.meters = append(b.meters, &Meter{Plant: "P", ID: "N", LitresPerCount: 1})
	u, _ := b.Usages()
	if len(u) != 1 || !near(float64(u[0].Litres), 250) {
		t.Errorf("got %+v, want one interval of 250 L", u)
	}
}

// A second meter is not read after the 2nd: the plant's use is then not known, rather than halved.
func TestAMeterThatIsNotReadAnyMoreStopsTheCount(t *testing.T) {
	readings := Rows{Readings: []*MeterReading{
		reading(at(time.March, 1, 8), 0), reading(at(time.March, 2, 8), 100), reading(at(time.March, 3, 8), 200), reading(at(time.March, 9, 8), 800),
	}}
	for day := 1; day <= 2; day++ {
		r := reading(at(time.March, day, 8), float64(100*day))
		r.Meter = "N"
		readings.Readings = append(readings.Readings, r)
	}
	b := bookOf(t, readings, volumeTank("bulk", Storage, 50_000))
	b.meters = append(b.meters, &Meter{Plant: "P", ID: "N", LitresPerCount: 1})
	u, notes := b.Usages()
	if len(u) != 1 || !near(float64(u[0].Litres), 200) || !slices.Equal(codes(notes), []string{"meter-silent"}) {
		t.Errorf("got %+v %v, want 200 L of the first day alone", u, codes(notes))
	}
	// Taken out on the 2nd, with nothing in its place, it counts no more and the rest goes on.
	readings.Swaps = []*MeterSwap{{Plant: "P", Meter: "N", At: at(time.March, 2, 12), Closing: ptr(200.0)}}
	b = bookOf(t, readings, volumeTank("bulk", Storage, 50_000))
	b.meters = append(b.meters, &Meter{Plant: "P", ID: "N", LitresPerCount: 1})
	if u, notes = b.Usages(); len(u) != 3 || notes != nil {
		t.Errorf("after it was taken out: %d intervals, %v; want 3", len(u), codes(notes))
	}
}

// 500 L metered; 500 L delivered straight into the day tank, which stands 600 L higher: 400 L burned.
func TestADeliveryIntoADayTankIsInItsBalance(t *testing.T) {
	rows := Rows{
		Readings:   []*MeterReading{reading(at(time.March, 1, 8), 0), reading(at(time.March, 2, 8), 500)},
		Gaugings:   []*Gauging{gauged("day", at(time.March, 1, 8), 200), gauged("day", at(time.March, 2, 8), 800)},
		Deliveries: []*Delivery{{Plant: "P", Tank: "day", At: at(time.March, 1, 12), Measure: at15(500)}},
	}
	if got, _ := used(t, rows); !slices.EqualFunc(got, []float64{400}, near) {
		t.Errorf("got %v, want 400 L", got)
	}
}

// Metered until the 8th, then only dipped.
func TestGaugingsSpeakWhereMetersDoNot(t *testing.T) {
	rows := Rows{Readings: []*MeterReading{reading(at(time.March, 1, 8), 0), reading(at(time.March, 8, 8), 700)}}
	for i, v := range []units.Litres{20_000, 19_300, 18_500, 17_600} {
		rows.Gaugings = append(rows.Gaugings, gauged("bulk", at(time.March, 1+7*i, 8), v))
	}
	if got, _ := used(t, rows, volumeTank("bulk", Storage, 50_000)); !slices.EqualFunc(got, []float64{700, 800, 900}, near) {
		t.Errorf("got %v, want the metered 700 L, then the dips' 800 and 900 L", got)
	}
}

func TestATankOutOfServiceDoesNotStopTheCount(t *testing.T) {
	out := volumeTank("old", Storage, 30_000)
	out.OutFrom = ptr(calendar.Date(2026, time.March, 10))
	rows := Rows{Gaugings: []*Gauging{
		gauged("bulk", at(time.March, 1, 8), 20_000), gauged("old", at(time.March, 1, 8), 5000),
		gauged("bulk", at(time.March, 8, 8), 19_000), gauged("old", at(time.March, 8, 8), 5000),
		gauged("bulk", at(time.March, 15, 8), 18_000), gauged("bulk", at(time.March, 22, 8), 16_800),
	}}
	// From the 8th to the 15th the counts are not of the same tanks.
	if got, _ := used(t, rows, volumeTank("bulk", Storage, 50_000), out); !slices.EqualFunc(got, []float64{1000, 1200}, near) {
		t.Errorf("got %v, want 1000 and 1200 L", got)
	}
}

// 19 500 − 500 drawn − 15 000 = 4 000 L left storage, and 15 000 + 8 000 received − 21 200 = 1 800 L. The day tank was not
// gauged on the 8th: what it swings is in the uncertainty, 0.25·√2/√12 of its 1 000 L.
func TestWithoutAMeterConsumptionIsTheFallOfTotalStock(t *testing.T) {
	rows := Rows{
		Gaugings: []*Gauging{
			gauged("bulk", at(time.March, 1, 8), 19_500), gauged("day", at(time.March, 1, 9), 500),
			gauged("bulk", at(time.March, 8, 8), 15_000),
			gauged("bulk", at(time.March, 15, 8), 21_200), gauged("day", at(time.March, 15, 8), 800),
		},
		Deliveries: []*Delivery{{Plant: "P", Tank: "bulk", At: at(time.March, 10, 12), Measure: at15(8000)}},
		Draws:      []*Draw{{Plant: "P", FirstDay: calendar.Date(2026, 3, 2), LastDay: calendar.Date(2026, 3, 6), Measure: at15(500), Purpose: Heat}},
	}
	got, _ := used(t, rows)
	if !slices.EqualFunc(got, []float64{4000, 1800}, near) {
		t.Errorf("got %v, want 4000 and 1800 L", got)
	}
	usages, _ := bookOf(t, rows).Usages()
	if s := usages[0].Sigma; s < 102 {
		t.Errorf("σ %v, want no less than the day tank's 102 L", s)
	}
}

func TestAPeriodTotalStandsWhereNoMeteredIntervalOverlapsIt(t *testing.T) {
	total := func(first, last calendar.Day, v units.Litres) *PeriodTotal {
		return &PeriodTotal{Plant: "P", FirstDay: first, LastDay: last, Measure: at15(v)}
	}
	rows := Rows{
		Totals: []*PeriodTotal{
			total(calendar.Date(2026, 1, 1), calendar.Date(2026, 1, 31), 9000),
			total(calendar.Date(2026, 3, 1), calendar.Date(2026, 3, 31), 8000),
		},
		Readings: []*MeterReading{reading(at(time.March, 1, 8), 0), reading(at(time.March, 2, 8), 250)},
	}
	got, _ := used(t, rows, volumeTank("bulk", Storage, 50_000))
	if !slices.EqualFunc(got, []float64{9000, 250}, near) {
		t.Errorf("got %v, want the January total and the metered day", got)
	}
}

// Whatever is read when, metered litres are neither lost nor counted twice.
func TestMeteredIntervalsAddUpToTheRegister(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var rows Rows
		register, total, when := 0.0, 0.0, at(time.January, 1, 8)
		perHour := rapid.Float64Range(0, 500).Draw(t, "usual run an hour") // a plant that burns far more at once is doubted
		rows.Readings = append(rows.Readings, reading(when, register))
		for range rapid.IntRange(1, 40).Draw(t, "readings") {
			hours := rapid.IntRange(1, 40).Draw(t, "hours")
			run := perHour * float64(hours) * rapid.Float64Range(0.5, 1.5).Draw(t, "times the usual")
			when = when.Add(time.Duration(hours) * time.Hour)
			register, total = register+run, total+run
			if register >= 100_000 {
				register -= 100_000
			}
			rows.Readings = append(rows.Readings, reading(when, register))
		}
		d := NewDirectory(Rows{
			Plants: []*Plant{{ID: "P", Zone: "UTC", Product: "diesel-2-s15"}},
			Meters: []*Meter{{Plant: "P", ID: "M", Digits: 5, LitresPerCount: 1, Compensated: true}},
		})
		b, err := NewBook(d, "P", rows, calendar.Date(2026, time.December, 31))
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		usages, _ := b.Usages()
		for i, u := range usages {
			sum += float64(u.Litres)
			if i > 0 && !u.Start.Equal(usages[i-1].End) {
				t.Fatalf("interval %d begins at %v, the one before ended at %v", i, u.Start, usages[i-1].End)
			}
		}
		if !near(sum, total) {
			t.Fatalf("intervals sum to %v, the register ran %v", sum, total)
		}
	})
}
