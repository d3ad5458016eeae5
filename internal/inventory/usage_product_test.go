package inventory

import (
	"slices"
	"testing"
	"time"

	"overwinter/internal/calendar"
)

// toJet gives the day tank over to jet fuel at a moment.
func toJet(when time.Time) []*ProductChange {
	return []*ProductChange{{Plant: "P", Tank: "day", At: when, Product: "jet-a1"}}
}

// usedOf sums what the book of a product says that was burned of it, by source.
func usedOf(t *testing.T, p Product, rows Rows, of Kind) (sum float64, n int, told []string) {
	t.Helper()
	all, notes := productBook(t, jetBeside(), p, rows).Usages()
	for _, u := range all {
		if u.Source == of {
			sum, n = sum+float64(u.Litres), n+1
		}
	}
	return sum, n, codes(notes)
}

// 100 L a day from 1 000 on, read at 08:00 of each day from the 1st to the 11th. Where the day tank goes over at 20:00 of the 5th,
// half of that day's 100 L are of either fuel: 450 and 550 L. Where it goes over at 10:00, within the round, all are jet fuel.
func TestAtAChangeOfFuelAMeterThatIsReadDailyIsDividedByTheHour(t *testing.T) {
	for hour, want := range map[int][2]float64{20: {450, 550}, 10: {400, 600}} {
		rows := Rows{ProductChanges: toJet(at(time.March, 5, hour))}
		for d := range 11 {
			rows.Readings = append(rows.Readings, reading(at(time.March, 1+d, 8), 1000+100*float64(d)))
		}
		diesel, before, _ := usedOf(t, "diesel-2-s15", rows, KindReading)
		jet, after, _ := usedOf(t, "jet-a1", rows, KindReading)
		if !near(diesel, want[0]) || !near(jet, want[1]) || before+after != 10+hour/20 {
			t.Errorf("%d:00: %v L of diesel in %d, %v L of jet in %d, want %v", hour, diesel, before, jet, after, want)
		}
		all, _ := productBook(t, jetBeside(), "diesel-2-s15", rows).PlantUsages()
		if len(all) != 10 {
			t.Errorf("the plant burned in %d intervals, whatever the fuel: want 10", len(all))
		}
	}
}

// Read on the 1st, 8th and 15th, 700 L apart; the day tank goes over on the 11th. Which fuel the 700 L of the second week were nobody
// knows.
func TestAWeekInWhichTheFuelChangedIsInNeitherBook(t *testing.T) {
	rows := Rows{ProductChanges: toJet(at(time.March, 11, 8)),
		Readings: []*MeterReading{reading(at(time.March, 1, 8), 1000), reading(at(time.March, 8, 8), 1700), reading(at(time.March, 15, 8), 2400), reading(at(time.March, 22, 8), 3100)}}
	for _, p := range []Product{"diesel-2-s15", "jet-a1"} {
		sum, n, told := usedOf(t, p, rows, KindReading)
		if n != 1 || !near(sum, 700) || !slices.Contains(told, "usage-of-two-products") {
			t.Errorf("%s: %v L in %d, %v", p, sum, n, told)
		}
	}
}

// The meter was put in after the day tank had gone over: before its first reading it says nothing of either fuel.
func TestAChangeOfFuelBeforeTheFirstReadingMakesNoInterval(t *testing.T) {
	rows := Rows{ProductChanges: toJet(at(time.March, 2, 8)), Readings: []*MeterReading{reading(at(time.March, 10, 8), 0), reading(at(time.March, 11, 8), 100)}}
	if sum, n, _ := usedOf(t, "jet-a1", rows, KindReading); n != 1 || !near(sum, 100) {
		t.Errorf("%v L in %d", sum, n)
	}
}

// The plant reports by the month: January and February are of diesel, March of jet fuel, since the day tank went over on 1 March at
// noon. Had it gone over in the middle of February, that month would be of both.
func TestAPeriodTotalIsOfTheFuelThatWasBurnedInIt(t *testing.T) {
	totals := func(change time.Time) Rows {
		rows := Rows{ProductChanges: toJet(change)}
		for month := range 3 {
			m := calendar.MonthOf(calendar.Date(2026, time.Month(1+month), 1))
			rows.Totals = append(rows.Totals, &PeriodTotal{Entry: Entry{Key: m.String()}, Plant: "P", FirstDay: m.First(), LastDay: m.Next().First() - 1, Measure: at15(6000)})
		}
		return rows
	}
	for change, want := range map[time.Time][2]int{at(time.March, 1, 12): {2, 1}, at(time.February, 14, 12): {1, 1}} {
		_, diesel, told := usedOf(t, "diesel-2-s15", totals(change), KindTotal)
		_, jet, _ := usedOf(t, "jet-a1", totals(change), KindTotal)
		if diesel != want[0] || jet != want[1] || slices.Contains(told, "usage-of-two-products") != (want[0] == 1) {
			t.Errorf("%v: %d of diesel, %d of jet, want %v; %v", change, diesel, jet, want, told)
		}
	}
}
