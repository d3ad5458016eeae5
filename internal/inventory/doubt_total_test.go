package inventory

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// monthly gives period totals of 2024 and 2025 with their energy, at 13 kWh a US gallon.
func monthly() []*PeriodTotal {
	var rows []*PeriodTotal
	for m := range 24 {
		first := calendar.Date(2024, time.January+time.Month(m), 1)
		last := calendar.Date(2024, time.February+time.Month(m), 1) - 1
		v := 300 * (1 + 0.1*float64((m*5)%7-3)/3) * float64(last-first+1)
		rows = append(rows, &PeriodTotal{Entry: Entry{Key: first.String()[:7]}, Plant: "P", FirstDay: first, LastDay: last,
			Measure: at15(units.Litres(v)), Energy: ptr(v / units.LitresPerUSGallon * 13)})
	}
	return rows
}

func TestAPeriodTotalIsHeldAgainstItsNeighboursAndItsEnergy(t *testing.T) {
	tests := []struct {
		name   string
		change func(rows []*PeriodTotal) []*PeriodTotal
		want   []told
	}{
		{"none", func(r []*PeriodTotal) []*PeriodTotal { return r }, nil},
		{"US gallons", func(r []*PeriodTotal) []*PeriodTotal { r[15].Volume /= 3.785; return r }, []told{{"2025-04", UnitsSwitched, WholeRow}}},
		{"a digit more", func(r []*PeriodTotal) []*PeriodTotal { r[15].Volume *= 10; return r }, []told{{"2025-04", DigitAdded, WholeRow}}},
		{"two months in one", func(r []*PeriodTotal) []*PeriodTotal {
			r[15].Volume += r[14].Volume
			*r[15].Energy += *r[14].Energy
			return slices.Delete(r, 14, 15)
		}, []told{{"2025-04", PeriodsInOne, WholeRow}}},
		{"less than nothing", func(r []*PeriodTotal) []*PeriodTotal { r[11].Volume = -500; return r }, []told{{"2024-12", NotPositive, WholeRow}}},
		{"energy of another month", func(r []*PeriodTotal) []*PeriodTotal { *r[15].Energy *= 3; return r }, []told{{"2025-04", EnergyPerLitre, EnergyFigure}}},
		{"half the fuel", func(r []*PeriodTotal) []*PeriodTotal { r[15].Volume /= 2; return r }, []told{{"2025-04", EnergyPerLitre, WholeRow}}},
		{"a load that doubles and stays", func(r []*PeriodTotal) []*PeriodTotal {
			for _, t := range r[12:] {
				t.Volume *= 2
				*t.Energy *= 2
			}
			return r
		}, nil},
		{"twice under two keys", func(r []*PeriodTotal) []*PeriodTotal {
			again := *r[3]
			again.Key = "again"
			return append(r, &again)
		}, []told{{"again", Duplicate, WholeRow}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, toldOf(bookOf(t, Rows{Totals: tt.change(monthly())}))); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// April 2025, with its energy, is so many times what it was; March may be missing.
func TestATotalIsHeldAgainstItsNeighboursByItsSize(t *testing.T) {
	for _, tt := range []struct {
		times   float64
		missing bool
		want    Cause
	}{
		{1.4, false, ""}, {2.3, false, ""}, {2.8, false, BeyondBurn}, {3.5, false, UnitsSwitched}, {6, false, BeyondBurn}, {0.42, false, ""}, {0.32, false, BelowBurn},
		{0.26, false, UnitsSwitched}, {0.1, false, DigitDropped}, {0.05, false, BelowBurn},
		{1.4, true, ""}, {1.8, true, PeriodsInOne}, {2.4, true, PeriodsInOne}, {2.8, true, BeyondBurn},
	} {
		rows := monthly()
		rows[15].Volume *= units.Litres(tt.times)
		*rows[15].Energy *= tt.times
		if tt.missing {
			rows = slices.Delete(rows, 14, 15)
		}
		var want []told
		if tt.want != "" {
			want = []told{{"2025-04", tt.want, WholeRow}}
		}
		if diff := cmp.Diff(want, toldOf(bookOf(t, Rows{Totals: rows}))); diff != "" {
			t.Errorf("%v times, the one before missing %v: %s", tt.times, tt.missing, diff)
		}
	}
}

// 6 and 18 kWh a US gallon are 1.585 and 4.755 a litre (the cleaners of Alaska's rate-support reports, see doubt_total.go).
func TestAPlantMakesSixToEighteenKilowattHoursAGallon(t *testing.T) {
	for _, tt := range []struct {
		times float64 // the 13 kWh a gallon of monthly
		want  bool
	}{{0.45, true}, {0.47, false}, {1, false}, {1.37, false}, {1.40, true}} {
		rows := monthly()
		*rows[15].Energy *= tt.times
		if got := toldOf(bookOf(t, Rows{Totals: rows})); (got != nil) != tt.want {
			t.Errorf("%v kWh a gallon: %v, want doubted %v", 13*tt.times, got, tt.want)
		}
	}
}

// Months of 9 000 L or so from October 2025 on: in the first year a month has no other of its season.
func TestInItsFirstYearOnlyASlipIsTold(t *testing.T) {
	tests := []struct {
		name   string
		months []units.Litres
		want   []told
	}{
		{"as usual", []units.Litres{9000, 9100, 8900}, nil},
		// Of two that differ nobody knows which is wrong.
		{"two months", []units.Litres{9000, 2378}, nil},
		{"the newest in US gallons", []units.Litres{9000, 9100, 8900, 2378}, []told{{"2026-01", UnitsSwitched, WholeRow}}},
		{"the newest in US gallons, of a month with a twentieth more", []units.Litres{9000, 9100, 8900, 2490}, []told{{"2026-01", UnitsSwitched, WholeRow}}},
		{"the newest, 3.3 times as much", []units.Litres{9000, 9100, 8900, 29_700}, nil},
		{"the oldest in US gallons", []units.Litres{2378, 9100, 8900, 9000}, []told{{"2025-10", UnitsSwitched, WholeRow}}},
		{"the newest a digit more", []units.Litres{9000, 9100, 8900, 90_000}, []told{{"2026-01", DigitAdded, WholeRow}}},
		// A third is no known slip: it may be the season.
		{"the newest a third", []units.Litres{9000, 9100, 8900, 3000}, nil},
		{"the newest three times", []units.Litres{9000, 9100, 8900, 27_000}, nil},
		{"one in the middle a third", []units.Litres{9000, 9100, 3000, 9000, 9100}, []told{{"2025-12", BelowBurn, WholeRow}}},
		{"one in the middle three times", []units.Litres{9000, 9100, 27_000, 9000, 9100}, []told{{"2025-12", BeyondBurn, WholeRow}}},
		{"one in the middle twice", []units.Litres{9000, 9100, 18_000, 9000, 9100}, nil},
	}
	for _, tt := range tests {
		var rows []*PeriodTotal
		for m, v := range tt.months {
			first := calendar.Date(2025, time.October+time.Month(m), 1)
			rows = append(rows, &PeriodTotal{Entry: Entry{Key: first.String()[:7]}, Plant: "P", FirstDay: first,
				LastDay: calendar.Date(2025, time.November+time.Month(m), 1) - 1, Measure: at15(v)})
		}
		if diff := cmp.Diff(tt.want, toldOf(bookOf(t, Rows{Totals: rows}))); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

// From the second year on one side alone is believed for more than a slip.
func TestTheNewestTotalIsHeldAgainstItsSeasonOnceThereIsOne(t *testing.T) {
	for months, want := range map[int]Cause{10: "", 18: BelowBurn} {
		rows := monthly()[:months]
		newest := rows[months-1]
		newest.Volume *= 0.37
		*newest.Energy *= 0.37
		var doubted []told
		if want != "" {
			doubted = []told{{newest.Key, want, WholeRow}}
		}
		if diff := cmp.Diff(doubted, toldOf(bookOf(t, Rows{Totals: rows}))); diff != "" {
			t.Errorf("%d months: %s", months, diff)
		}
	}
}

// April 2025 has a total of nothing.
func TestATotalOfNothingIsDoubtedUnlessThePlantMayWellHaveStoodBy(t *testing.T) {
	dip := func(month time.Month, d int, v units.Litres) *Gauging {
		g := gauged("bulk", time.Date(2025, month, d, 8, 0, 0, 0, time.UTC), v)
		g.Key = g.At.Format("0102")
		return g
	}
	nothing := []told{{"2025-04", NothingBurned, WholeRow}}
	tests := []struct {
		name   string
		change func(*Rows)
		want   []told
	}{
		{"nothing else is known", func(*Rows) {}, nothing},
		{"it made energy", func(r *Rows) { r.Totals[15].Energy = ptr(30_000.0) }, nothing},
		{"it made no energy", func(r *Rows) { r.Totals[15].Energy = ptr(0.0) }, nil},
		{"nor in March", func(r *Rows) { r.Totals[14].Volume, r.Totals[14].Energy = 0, nil }, nil},
		{"nor in May", func(r *Rows) { r.Totals[16].Volume, r.Totals[16].Energy = 0, nil }, nil},
		{"the tank stood", func(r *Rows) { r.Gaugings = []*Gauging{dip(time.March, 31, 40_000), dip(time.May, 1, 40_000)} }, nil},
		{"the tank fell by a month's burn", func(r *Rows) { r.Gaugings = []*Gauging{dip(time.March, 31, 40_000), dip(time.May, 1, 31_000)} }, nothing},
		{"the tank fell by what was drawn", func(r *Rows) {
			r.Gaugings = []*Gauging{dip(time.March, 31, 40_000), dip(time.May, 1, 31_000)}
			r.Draws = []*Draw{{Plant: "P", FirstDay: calendar.Date(2025, 4, 10), LastDay: calendar.Date(2025, 4, 11), Purpose: Sale, Measure: at15(9000)}}
		}, nil},
		{"the tank stood, dipped two days before and after", func(r *Rows) { r.Gaugings = []*Gauging{dip(time.March, 30, 40_000), dip(time.May, 3, 40_000)} }, nothing},
		{"less than nothing", func(r *Rows) { r.Totals[15].Volume = -1 }, []told{{"2025-04", NotPositive, WholeRow}}},
	}
	for _, tt := range tests {
		rows := Rows{Totals: monthly()}
		rows.Totals[15].Volume, rows.Totals[15].Energy = 0, nil
		tt.change(&rows)
		if diff := cmp.Diff(tt.want, toldOf(bookOf(t, rows, volumeTank("bulk", Storage, 50_000)))); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
	// The only total there is says nothing against itself.
	alone := &PeriodTotal{Plant: "P", FirstDay: day(1), LastDay: day(15), Measure: at15(0)}
	if got := toldOf(bookOf(t, Rows{Totals: []*PeriodTotal{alone}})); got != nil {
		t.Errorf("alone: %v", got)
	}
}
