package inventory

import (
	"slices"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// jetBeside is a plant of diesel with a meter, a day tank and an intermediate tank, and a tank of jet fuel beside them.
func jetBeside() *Directory {
	jets := volumeTank("jet", Storage, 20_000)
	jets.Product = "jet-a1"
	return directoryOf(volumeTank("bulk", Storage, 50_000), volumeTank("mid", Intermediate, 8000), volumeTank("day", DayTank, 1000), jets)
}

// besideJet are the rows of march with everything that a plant of diesel may tell of, and two dips of the tank of jet fuel,
// which fell by 150 L.
func besideJet() Rows {
	rows := march(40_000, 29_300)
	rows.Gaugings = append(rows.Gaugings, gauged("jet", at(time.March, 1, 8), 9000), gauged("jet", at(time.March, 29, 8), 8850))
	rows.Transfers = []*Transfer{{Entry: Entry{Key: "t"}, Plant: "P", From: "bulk", To: "mid", At: at(time.March, 9, 9), Measure: at15(3000)},
		{Entry: Entry{Key: "open"}, Plant: "P", From: "bulk", To: "mid", At: at(time.March, 28, 9), Measure: at15(0), Open: true}}
	rows.Deliveries = []*Delivery{{Entry: Entry{Key: "drums"}, Plant: "P", Tank: "day", At: at(time.March, 10, 9), Measure: at15(200)}}
	rows.Draws = []*Draw{draw(day(3), day(4), 700, Heat)}
	rows.Totals = []*PeriodTotal{{Entry: Entry{Key: "feb"}, Plant: "P", FirstDay: calendar.Date(2026, 2, 1), LastDay: calendar.Date(2026, 2, 28), Measure: at15(6800)}}
	for d, register := range map[int]float64{1: 100_000, 29: 126_600} {
		rows.Rounds = append(rows.Rounds, &Round{Entry: Entry{Key: "round" + day(d).String()}, Plant: "P", At: at(time.March, d, 8), EnergyRegister: &register})
	}
	return rows
}

func productBook(t *testing.T, dir *Directory, p Product, rows Rows) *Book {
	t.Helper()
	b, err := NewProductBook(dir, "P", p, rows, day(31))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// 9 000 − 8 850 = 150 L: meter, day tank, intermediate tank, period total, draw and energy are of the diesel.
func TestABookOfAnotherFuelHoldsNothingOfTheMeteredOne(t *testing.T) {
	jet := productBook(t, jetBeside(), "jet-a1", besideJet())
	got, _ := jet.Balance(time.Time{}, time.Time{})
	if want := []float64{9000, 0, 150, 0, 0, 0, 0, 0, 0, 8850, 8850, 0}; got.Known || got.Metered || !slices.EqualFunc(figures(got), want, near) {
		t.Errorf("%s %v, want %v", got.Why, figures(got), want)
	}
	used, notes := jet.Usages()
	if len(used) != 1 || used[0].Source != KindGauging || !near(float64(used[0].Litres), 150) || used[0].Energy != nil || used[0].Quality != Derived {
		t.Errorf("%+v", used)
	}
	if !slices.Equal(codes(notes), []string{"usage-unmetered"}) {
		t.Errorf("%v", notes)
	}
	if open := jet.OpenTransfers(); open != nil {
		t.Errorf("the diesel's transfer still runs in the book of jet fuel: %v", open)
	}
}

// A gauging of the diesel tank that stands for an earlier one, a reading that goes back, and a draw that is entered twice are no
// concern of the jet fuel.
func TestWhatIsWrongWithOneFuelIsNotInTheBookOfAnother(t *testing.T) {
	rows := besideJet()
	rows.Readings = append(rows.Readings, reading(at(time.March, 12, 8), 20))
	rows.Gaugings = append(rows.Gaugings, &Gauging{Entry: Entry{Key: "again", Replaces: "first"}, Plant: "P", Tank: "bulk", At: at(time.March, 29, 9), Volume: new(units.Litres(29_300)), Temperature: new(units.Celsius(15))})
	twice := *rows.Draws[0]
	twice.Key = "twice"
	twice.With, rows.Draws[0].With = "school", "school"
	rows.Draws = append(rows.Draws, &twice)
	if diesel := productBook(t, jetBeside(), "diesel-2-s15", rows); len(diesel.Doubtful()) < 2 {
		t.Errorf("diesel: %v", diesel.Doubtful())
	}
	jet := productBook(t, jetBeside(), "jet-a1", rows)
	used, _ := jet.Usages()
	if jet.Doubtful() != nil || len(used) != 1 || used[0].Quality != Derived {
		t.Errorf("%v; %+v", jet.Doubtful(), used)
	}
	if got, _ := jet.Balance(time.Time{}, time.Time{}); got.LeftOut != 0 || !near(float64(got.Consumed), 150) {
		t.Errorf("%+v", got)
	}
}

// The tank of jet fuel was dipped on the day of the delivery and the day after: 13 915 − 8 920 = 4 995 L. The 250 L that the meter ran
// meanwhile are of the diesel, also where the engines burn jet fuel later on.
func TestTheMeterTakesNothingFromADeliveryOfAnotherFuel(t *testing.T) {
	rows := besideJet()
	rows.Gaugings = append(rows.Gaugings[:2:2], gauged("jet", at(time.March, 1, 8), 9000), gauged("jet", at(time.March, 17, 8), 8920),
		gauged("jet", at(time.March, 18, 8), 13_915), gauged("jet", at(time.March, 29, 8), 13_860))
	rows.Deliveries = append(rows.Deliveries, &Delivery{Entry: Entry{Key: "jet"}, Plant: "P", Tank: "jet", At: at(time.March, 17, 15), Measure: at15(5000), Document: "J"})
	all, _ := productBook(t, jetBeside(), "jet-a1", rows).Receipts(0)
	if len(all) != 1 || all[0].ByDips.Known || all[0].ByDips.Why != "what was burned between the gaugings of tank jet is not known" {
		t.Errorf("never burned: %+v", all)
	}
	rows.ProductChanges = toJet(at(time.March, 25, 8))
	all, _ = productBook(t, jetBeside(), "jet-a1", rows).Receipts(0)
	if len(all) != 1 || !all[0].ByDips.Known || !near(float64(all[0].ByDips.Litres), 4995) {
		t.Errorf("burned later: %+v", all)
	}
}

// A product that nobody gauged has no usage, and the books say so.
func TestAFuelOfWhichNothingIsKnownHasNoUsage(t *testing.T) {
	used, notes := productBook(t, jetBeside(), "jet-a1", march(40_000, 33_000)).Usages()
	if used != nil || len(notes) == 0 || notes[len(notes)-1].Message != "no meter measures what is burned of jet-a1: and of its own tanks no two gaugings say what left them, so that its usage is not known" {
		t.Errorf("%v, %v", used, notes)
	}
}

// Two day tanks hold two fuels, and no meter says which of them it fills.
func TestDayTanksOfTwoFuelsAreNamedBesideTheMeter(t *testing.T) {
	boiler := volumeTank("boiler", DayTank, 500)
	boiler.Product = "jet-a1"
	dir := directoryOf(volumeTank("bulk", Storage, 50_000), volumeTank("day", DayTank, 1000), boiler)
	diesel := productBook(t, dir, "diesel-2-s15", march(40_000, 33_000))
	used, ofUsage := diesel.Usages()
	_, ofBalance := diesel.Balance(time.Time{}, time.Time{})
	if len(used) != 1 || !near(float64(used[0].Litres), 7000) || !slices.Contains(codes(ofUsage), "meters-of-two-products") || !slices.Contains(codes(ofBalance), "meters-of-two-products") {
		t.Errorf("%+v; %v; %v", used, ofUsage, ofBalance)
	}
	if _, notes := bookOf(t, march(40_000, 33_000)).Usages(); slices.Contains(codes(notes), "meters-of-two-products") {
		t.Errorf("one fuel: %v", notes)
	}
}
