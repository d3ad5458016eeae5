package demo

import (
	"math"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
)

func (sc Scenario) plant(id string) *inventory.Plant {
	return inventory.NewDirectory(sc.Rows).Plant(id)
}

type checked interface {
	Check(dir *inventory.Directory, now time.Time) []fault.Field
}

func TestEveryRowPassesItsCheck(t *testing.T) {
	eachSeed(t, func(t *testing.T, sc Scenario) {
		dir := inventory.NewDirectory(sc.Rows)
		for r := range sc.Rows.All() {
			if r.Base().Key == "" {
				t.Fatalf("a %s has no key", r.Kind())
			}
			if found := r.(checked).Check(dir, Now); len(found) > 0 {
				t.Fatalf("%s %s: %v", r.Kind(), r.Base().Key, found)
			}
		}
	})
}

func TestNothingIsKnownAfterTheEndOfAsOf(t *testing.T) {
	sc := scenarioOf(DefaultSeed)
	for _, p := range sc.Rows.Plants {
		zone, err := p.Location()
		if err != nil {
			t.Fatal(err)
		}
		_, end := AsOf.Bounds(zone)
		if end.After(Now) {
			t.Errorf("%s: AsOf ends at %s, after Now", p.ID, end)
		}
		for _, g := range of(p.ID, sc.Rows.Gaugings) {
			if !g.At.Before(end) || g.At.Location() != time.UTC {
				t.Errorf("%s at %s, want UTC and before %s", g.Key, g.At, end)
			}
		}
		for _, d := range of(p.ID, sc.Rows.Draws) {
			if d.LastDay > AsOf {
				t.Errorf("%s runs to %s", d.Key, d.LastDay)
			}
		}
	}
}

// From the first to the last reading, register and day tank must give the true burn but for the meter's own
// error, which is 0.2 % as a standard deviation.
func TestRegisterAndDayTankMeasureTheTrueBurn(t *testing.T) {
	eachSeed(t, func(t *testing.T, sc Scenario) {
		for _, id := range []string{"heron-point", "meridian-lagoon", "sound-harbor", "cape-orrin"} {
			readings := of(id, sc.Rows.Readings)
			m := of(id, sc.Rows.Meters)[0]
			fuel, err := tanks.NewCorrector(sc.plant(id).Density())
			if err != nil {
				t.Fatal(err)
			}
			metered := 0.0
			for i := 1; i < len(readings); i++ {
				litres := (readings[i].Register - readings[i-1].Register) * m.LitresPerCount
				if !m.Compensated {
					factor, err := fuel.VCF(*readings[i].Temperature)
					if err != nil {
						t.Fatal(err)
					}
					litres *= factor
				}
				metered += litres
			}
			first, last := readings[0].At, readings[len(readings)-1].At
			want := burnedBetween(t, sc, id, first, last)
			if got := metered; math.Abs(got/want-1) > 4*meterErrorSD+0.001 { // 0.1 %: a day tank full or empty
				t.Errorf("%s: metered %.0f L, burned %.0f", id, got, want)
			}
		}
	})
}

func burnedBetween(t *testing.T, sc Scenario, id string, from, to time.Time) float64 {
	t.Helper()
	zone, err := sc.plant(id).Location()
	if err != nil {
		t.Fatal(err)
	}
	until := func(at time.Time) float64 {
		point := calendar.Fraction(at, zone)
		day := calendar.Day(math.Floor(point))
		burn := sc.Truth[id].Burn
		return total(burn, FirstDay, day-1) + (point-float64(day))*float64(burn[index(day)])
	}
	return until(to) - until(from)
}

// On the first day every tank is dipped; a dip of ±3 mm and a thermometer of ±1 °C leave well under 2 %.
func TestTheFirstDipsFindTheOpeningStock(t *testing.T) {
	eachSeed(t, func(t *testing.T, sc Scenario) {
		for _, p := range sc.Rows.Plants {
			fuel, err := tanks.NewCorrector(p.Density())
			if err != nil {
				t.Fatal(err)
			}
			found := 0.0
			for _, row := range of(p.ID, sc.Rows.Tanks) {
				if row.Product == p.Product {
					found += firstFuel(t, sc, p, row, fuel)
				}
			}
			if want := float64(sc.Truth[p.ID].Opening); math.Abs(found/want-1) > 0.02 {
				t.Errorf("%s: dips find %.0f L, want %.0f", p.ID, found, want)
			}
		}
	})
}

func firstFuel(t *testing.T, sc Scenario, p *inventory.Plant, row *inventory.Tank, fuel tanks.Corrector) float64 {
	t.Helper()
	measured, err := row.Measured()
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range of(p.ID, sc.Rows.Gaugings) {
		if g.Tank != row.ID {
			continue
		}
		temperature := p.FuelTemperature()
		if g.Temperature != nil {
			temperature = *g.Temperature
		}
		factor, err := fuel.VCF(temperature)
		if err != nil {
			t.Fatal(err)
		}
		if g.Volume != nil {
			return float64(*g.Volume) * factor
		}
		litres := measured.Shape.Volume(*g.Depth)
		if g.Water != nil {
			litres -= measured.Shape.Volume(*g.Water)
		}
		return float64(litres) * factor
	}
	t.Fatalf("%s was never dipped", row.Key)
	return 0
}

func TestOfACorrectedRowOnlyTheCorrectionIsInForce(t *testing.T) {
	sc := scenarioOf(DefaultSeed)
	rows := sc.InForce()
	all, inForce := byKey(sc.Rows), byKey(rows)
	corrections, replaced := 0, map[rowID]bool{}
	for id, r := range all {
		replaced[rowID{id.kind, r.Base().Replaces}] = true
	}
	for id, r := range all {
		if old := r.Base().Replaces; old != "" {
			corrections++
			if (inForce[id] == nil) != replaced[id] || inForce[rowID{id.kind, old}] != nil || all[rowID{id.kind, old}] == nil {
				t.Errorf("%s does not stand in for %s", id.key, old)
			}
		}
	}
	if corrections == 0 || rows.Len() != sc.Rows.Len()-corrections {
		t.Errorf("%d of %d rows are in force after %d corrections", rows.Len(), sc.Rows.Len(), corrections)
	}
}
