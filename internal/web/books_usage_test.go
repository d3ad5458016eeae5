package web

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// 7 000 L in the 28 days from 1 to 29 March are 250 L a day; a meter is certain to 0.5 %, here 35 L.
func TestTheUsageIntervalsAreInTheBooks(t *testing.T) {
	page := newBooksSite(t, small(37_000, inventory.Display{})).page(t, "/plants/P/books", 200)
	holds(t, page, "One usage interval: one measured.",
		`1 Mar, 08:00</th><td>29 Mar, 08:00</td><td class="n">7 000</td><td class="n">35</td><td class="n">250</td><td>measured</td></tr>`)
	for _, absent := range []string{"kWh", "<summary>the intervals</summary>"} {
		if strings.Contains(page, absent) {
			t.Errorf("the page has %q: no energy was read, and one interval need not be folded", absent)
		}
	}
}

// 7 000 L are 7 000 / 3.785411784 = 1 849.2 US gal, by 28 days 66.0.
func TestTheUsageIntervalsAreInThePlantsUnits(t *testing.T) {
	page := newBooksSite(t, small(37_000, inventory.Display{Volume: "us_gal"})).page(t, "/plants/P/books", 200)
	holds(t, page, `<td class="n">1 849</td><td class="n">9</td><td class="n">66</td><td>measured</td>`)
}

// The reading of 29 March stands for an earlier one. The energy register ran from 100 000 to 126 600 kWh.
func TestAUsageIntervalSaysItsQualityAndItsEnergy(t *testing.T) {
	rows := small(37_000, inventory.Display{})
	rows.Readings = append(rows.Readings, &inventory.MeterReading{Entry: inventory.Entry{Key: "r3", Replaces: "r2", Who: "A", Why: "misread"},
		Plant: "P", Meter: "M", At: march(29, 8), Register: 8050, Temperature: pointer(units.Celsius(15))})
	for day, register := range map[int]float64{1: 100_000, 29: 126_600} {
		rows.Rounds = append(rows.Rounds, &inventory.Round{Entry: inventory.Entry{Key: fmt.Sprint("round", day)}, Plant: "P", At: march(day, 8), EnergyRegister: &register})
	}
	page := newBooksSite(t, rows).page(t, "/plants/P/books", 200)
	holds(t, page, "One usage interval: one corrected.", `<th scope="col" class="n">kWh</th>`,
		`<td class="n">7 050</td><td class="n">35</td><td class="n">252</td><td>corrected</td><td class="n">26 600</td></tr>`)
}

// daily is the small plant with a reading each day instead of those of 1 and 29 March, 250 L apart.
func daily(days int) inventory.Rows {
	rows := small(37_000, inventory.Display{})
	rows.Readings = nil
	for day := range days {
		rows.Readings = append(rows.Readings, &inventory.MeterReading{Entry: inventory.Entry{Key: fmt.Sprint("r", day)}, Plant: "P", Meter: "M",
			At: march(1+day, 8), Register: 1000 + 250*float64(day), Temperature: pointer(units.Celsius(15))})
	}
	return rows
}

func TestManyUsageIntervalsAreFolded(t *testing.T) {
	const fold = "<details><summary>the intervals</summary>"
	if page := newBooksSite(t, daily(13)).page(t, "/plants/P/books", 200); strings.Contains(page, fold) {
		t.Error("twelve intervals are folded")
	}
	page := newBooksSite(t, daily(14)).page(t, "/plants/P/books", 200)
	holds(t, page, fold, "13 usage intervals: 13 measured.", `<th scope="row">13 Mar, 08:00</th><td>14 Mar, 08:00</td><td class="n">250</td>`)
}

func TestABookWithoutUsageIntervalsSaysWhatMakesThem(t *testing.T) {
	rows := small(37_000, inventory.Display{})
	rows.Tanks = append(rows.Tanks, &inventory.Tank{Entry: inventory.Entry{Key: "jet"}, Plant: "P", ID: "jet", Role: inventory.Storage, Product: "jet-a1",
		Shape: inventory.ShapeVolume, Capacity: pointer(units.Litres(9000))})
	s := newBooksSite(t, rows)
	holds(t, s.page(t, "/plants/P/books?from=2026-03-30", 200), "No usage interval lies in this stretch: one takes two readings of every meter")
}

// The tank of jet fuel fell from 6 000 to 5 600 L: 400 L. The 7 000 L that the meter ran are diesel.
func TestTheBookOfAnotherFuelHasTheUsageOfItsOwnTanks(t *testing.T) {
	rows := small(37_000, inventory.Display{})
	rows.Tanks = append(rows.Tanks, &inventory.Tank{Entry: inventory.Entry{Key: "jet"}, Plant: "P", ID: "jet", Role: inventory.Storage, Product: "jet-a1",
		Shape: inventory.ShapeVolume, Capacity: pointer(units.Litres(9000))})
	for day, v := range map[int]units.Litres{1: 6000, 29: 5600} {
		rows.Gaugings = append(rows.Gaugings, &inventory.Gauging{Entry: inventory.Entry{Key: fmt.Sprint("jet", day)}, Plant: "P", Tank: "jet", At: march(day, 8),
			Volume: &v, Temperature: pointer(units.Celsius(15))})
	}
	page := newBooksSite(t, rows).page(t, "/plants/P/books?product=jet-a1", 200)
	holds(t, page, "One usage interval: one derived.", `29 Mar, 08:00</td><td class="n">400</td>`, "no meter measures what is burned of jet-a1: its usage is the fall of its own tanks")
	if strings.Contains(page, "7 000") {
		t.Error("what the plant burned of its diesel is shown as jet fuel")
	}
}

// A day is 24 hours to a burn rate, also where the clocks are put forward: 230 L in 23 hours are 240 a day.
func TestABurnRateIsToADayOf24Hours(t *testing.T) {
	start := march(7, 21)
	if got := burnRate(inventory.Usage{Start: start, End: start.Add(23 * time.Hour), Litres: 230}); got < 239.999 || got > 240.001 {
		t.Errorf("%v L a day, want 240", got)
	}
}

// A delivery without a temperature is in the balances, and once more in the sheet of the delivery.
func TestOneFindingIsToldOnceThoughTwoReckoningsMakeIt(t *testing.T) {
	rows := small(37_000, inventory.Display{})
	rows.Deliveries[0].Basis = inventory.BasisUnknown
	page := newBooksSite(t, rows).page(t, "/plants/P/books", 200)
	holds(t, page, "volumes without a temperature are reckoned at the plant")
	if strings.Contains(page, "times)") {
		t.Error("it is told twice")
	}
}
