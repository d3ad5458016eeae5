package demo

import (
	"math"
	"slices"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

func season(t *testing.T, sc Scenario, route, window string, year int) Season {
	t.Helper()
	i := slices.IndexFunc(sc.Seasons, func(s Season) bool { return s.Route == route && s.Window == window && s.Year == year })
	if i < 0 {
		t.Fatalf("no season of %s, %s, %d", route, window, year)
	}
	return sc.Seasons[i]
}

func TestNoWindowCanKeepTheReserveOfCapeOrrin(t *testing.T) {
	eachSeed(t, func(t *testing.T, sc Scenario) {
		tr := sc.Truth["cape-orrin"]
		opens := season(t, sc, "kestrel-barge", "early-summer", 2026).Opens
		if tr.ReserveDate == nil || *tr.ReserveDate >= date(2026, time.May, 10) || *tr.ReserveDate <= AsOf+7 {
			t.Errorf("reserve date %v, want after a week and long before the barge", tr.ReserveDate)
		}
		if tr.DryDate == nil || *tr.DryDate >= opens {
			t.Errorf("dry on %v, the window opens on %v", tr.DryDate, opens)
		}
		dir := inventory.NewDirectory(sc.Rows)
		if !slices.ContainsFunc(dir.RoutesOf("cape-orrin"), func(r *inventory.Route) bool { return r.Fallback && r.Mode == inventory.Air }) {
			t.Error("no air fallback")
		}
	})
}

func TestSomePlantsHaveMuchTimeAndSomeLittle(t *testing.T) {
	eachSeed(t, func(t *testing.T, sc Scenario) {
		little, much := 0, 0
		for _, tr := range sc.Truth {
			switch {
			case tr.ReserveDate != nil && *tr.ReserveDate < AsOf+90:
				little++
			case tr.ReserveDate == nil || *tr.ReserveDate > AsOf+180:
				much++
			}
		}
		if little < 1 || much < 3 {
			t.Errorf("%d plants reach their reserve within 90 days and %d not within 180", little, much)
		}
	})
}

func TestPloverBightHasBeenSilentForSixWeeks(t *testing.T) {
	eachSeed(t, func(t *testing.T, sc Scenario) {
		var last time.Time
		for _, g := range of("plover-bight", sc.Rows.Gaugings) {
			last = later(last, g.At)
		}
		for _, r := range of("plover-bight", sc.Rows.Readings) {
			last = later(last, r.At)
		}
		if weeks := Now.Sub(last).Hours() / 24 / 7; weeks < 6 || weeks > 9 {
			t.Errorf("the last reading is %.1f weeks old", weeks)
		}
		if faultOf(sc.Truth["plover-bight"], Silence) == nil {
			t.Error("the silence is not among the faults")
		}
	})
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

func faultOf(tr Truth, kind FaultKind) *Fault {
	if i := slices.IndexFunc(tr.Faults, func(f Fault) bool { return f.Kind == kind }); i >= 0 {
		return &tr.Faults[i]
	}
	return nil
}

func TestAlderSloughReportsMonthTotalsOnly(t *testing.T) {
	sc := scenarioOf(DefaultSeed)
	if n := len(of("alder-slough", sc.Rows.Readings)); n != 0 {
		t.Errorf("%d meter readings", n)
	}
	totals := of("alder-slough", sc.Rows.Totals)
	if len(totals) != 36 {
		t.Fatalf("%d month totals, want 36", len(totals))
	}
	correction := faultOf(sc.Truth["alder-slough"], CountCorrection)
	for _, row := range totals {
		want := total(sc.Truth["alder-slough"].Burn, row.FirstDay, row.LastDay)
		switch {
		case correction != nil && row.Key == correction.Key:
			if row.Volume >= 0 {
				t.Errorf("the count correction is %v L", row.Volume)
			}
		case math.Abs(float64(row.Volume)/want-1) > 0.05: // 2 % of expansion, 0.5 % of error
			t.Errorf("%s: %.0f L, burned %.0f", row.Key, row.Volume, want)
		}
	}
}

func TestCoralStepHasGaugingsAloneAndNoTemperatures(t *testing.T) {
	sc := scenarioOf(DefaultSeed)
	if n := len(of("coral-step", sc.Rows.Meters)) + len(of("coral-step", sc.Rows.Totals)); n != 0 {
		t.Errorf("%d meters and totals", n)
	}
	gaugings := of("coral-step", sc.Rows.Gaugings)
	if len(gaugings) < 500 {
		t.Errorf("only %d gaugings", len(gaugings))
	}
	for _, g := range gaugings {
		if g.Temperature != nil {
			t.Fatalf("%s has a temperature", g.Key)
		}
	}
}

func TestTernLandingSwappedItsMeterAndLentFuelUnrecorded(t *testing.T) {
	sc := scenarioOf(DefaultSeed)
	swaps := of("tern-landing", sc.Rows.Swaps)
	if len(swaps) != 1 || calendar.DayOf(swaps[0].At, time.UTC) != date(2024, time.November, 14) {
		t.Fatalf("swaps %v, want one on 14 November 2024", swaps)
	}
	if *swaps[0].Closing <= *swaps[0].Opening {
		t.Errorf("from %v to %v counts", *swaps[0].Closing, *swaps[0].Opening)
	}
	written := 0.0
	for _, d := range of("tern-landing", sc.Rows.Draws) {
		if d.FirstDay == date(2025, time.January, 1) {
			written += float64(d.Volume)
		}
	}
	truly := total(sc.Truth["tern-landing"].Draws, date(2025, time.January, 1), date(2025, time.January, 31))
	near(t, "litres drawn in January and not written down", truly-written, 300*gal, 0.08*written) // 5 % of expansion, 1 % of error
	if faultOf(sc.Truth["tern-landing"], UnrecordedDraw) == nil {
		t.Error("the loan is not among the faults")
	}
}

func TestNorthgatesRegisterRollsOver(t *testing.T) {
	eachSeed(t, func(t *testing.T, sc Scenario) {
		rolled := 0
		readings := of("northgate", sc.Rows.Readings)
		for i := 1; i < len(readings); i++ {
			if readings[i-1].Register-readings[i].Register > 9e5 {
				rolled++
			}
		}
		if rolled != 1 {
			t.Errorf("it rolled over %d times, want once", rolled)
		}
	})
}

func TestStillwaterBendsOldTankIsOutOfServiceAndEmpty(t *testing.T) {
	eachSeed(t, func(t *testing.T, sc Scenario) {
		row := inventory.NewDirectory(sc.Rows).Tank("stillwater-bend", "farm-1")
		if row.Available(AsOf) || !row.Available(date(2026, time.August, 1)) {
			t.Error("it should be out of service until August 2026")
		}
		gaugings := of("stillwater-bend", sc.Rows.Gaugings)
		for _, g := range slices.Backward(gaugings) {
			if g.Tank == "farm-1" {
				if *g.Depth > *row.SuctionDepth+20 {
					t.Errorf("it stands at %v mm, the suction at %v", *g.Depth, *row.SuctionDepth)
				}
				return
			}
		}
	})
}

func TestOspreyInletsJetTankIsNoStockOfDiesel(t *testing.T) {
	sc := scenarioOf(DefaultSeed)
	jet := inventory.NewDirectory(sc.Rows).Tank("osprey-inlet", "airstrip")
	if jet.Product != "jet-a1" {
		t.Fatalf("it holds %s", jet.Product)
	}
	if n := len(slices.Collect(gaugedIn(sc, "osprey-inlet", "airstrip"))); n < 100 {
		t.Errorf("it was dipped %d times", n)
	}
}

func gaugedIn(sc Scenario, plant, tank string) func(yield func(*inventory.Gauging) bool) {
	return func(yield func(*inventory.Gauging) bool) {
		for _, g := range of(plant, sc.Rows.Gaugings) {
			if g.Tank == tank && !yield(g) {
				return
			}
		}
	}
}

func TestMartenSpitPumpedByHandAndReturnedFuel(t *testing.T) {
	sc := scenarioOf(DefaultSeed)
	into, outOf := 0, 0
	for _, tr := range of("marten-spit", sc.Rows.Transfers) {
		if tr.To == "day" {
			into++
		}
		if tr.From == "day" {
			outOf++
		}
	}
	if into < 2 || outOf != 1 {
		t.Errorf("%d hand-pumped fills and %d returns", into, outOf)
	}
}

func TestSlipsStandInTheRowsThatTheTruthNames(t *testing.T) {
	eachSeed(t, func(t *testing.T, sc Scenario) {
		rows := byKey(sc.Rows)
		slip := faultOf(sc.Truth["cape-orrin"], DigitSlip)
		fixed := faultOf(sc.Truth["stillwater-bend"], CorrectedSlip)
		dip := faultOf(sc.Truth["grayling-mouth"], MisreadDip)
		if slip == nil || fixed == nil || dip == nil {
			t.Fatal("a slip is missing among the faults")
		}
		wrong, ok := rows[rowID{inventory.KindReading, slip.Key}].(*inventory.MeterReading)
		if !ok || onALine(of("cape-orrin", sc.Rows.Readings), wrong) {
			t.Errorf("the reading %s fits its neighbours", slip.Key)
		}
		right, ok := rows[rowID{inventory.KindReading, fixed.Key + "/correction"}].(*inventory.MeterReading)
		if !ok || right.Replaces != fixed.Key {
			t.Errorf("%s was not replaced", fixed.Key)
		}
		if _, ok := rows[rowID{inventory.KindGauging, dip.Key}]; !ok {
			t.Errorf("no dip %s", dip.Key)
		}
	})
}

// onALine tells whether a reading lies between those before and after it.
func onALine(readings []*inventory.MeterReading, r *inventory.MeterReading) bool {
	i := slices.Index(readings, r)
	return readings[i-1].Register <= r.Register && r.Register <= readings[i+1].Register
}

func TestSummerFuelShrinksInTheColdTank(t *testing.T) {
	sc := scenarioOf(DefaultSeed)
	for _, d := range of("northgate", sc.Rows.Deliveries) {
		if d.Order != "" && *d.Temperature < 4 {
			t.Errorf("%s came at %.0f °C", d.Key, *d.Temperature)
		}
	}
	coldest := units.Celsius(99)
	for g := range gaugedIn(sc, "northgate", "farm-2") {
		coldest = min(coldest, *g.Temperature)
	}
	if coldest > -5 || coldest < -14 {
		t.Errorf("the coldest dip was at %.0f °C", coldest)
	}
}

func TestRoundsAreMissedByDaysAndByWeeks(t *testing.T) {
	eachSeed(t, func(t *testing.T, sc Scenario) {
		for _, id := range []string{"marten-spit", "northgate", "osprey-inlet"} {
			readings := of(id, sc.Rows.Readings)
			longest := time.Duration(0)
			for i := 1; i < len(readings); i++ {
				longest = max(longest, readings[i].At.Sub(readings[i-1].At))
			}
			missed := 1 - float64(len(readings))/float64(index(AsOf)+1)
			if missed < 0.05 || missed > 0.15 || longest < 14*24*time.Hour {
				t.Errorf("%s misses %.0f %% of its rounds, at most %.0f days on end", id, 100*missed, longest.Hours()/24)
			}
			if last := readings[len(readings)-1].At; Now.Sub(last) > 26*time.Hour {
				t.Errorf("%s: the last round was at %s", id, last)
			}
		}
	})
}
