package inventory

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// The meter runs 1 000 L a day and the register 3 600 kWh: 3.6 kWh a litre, where 1.59 to 4.76 are what a diesel plant can make.
func TestEnergyAndFuelOfRoundsAreHeldAgainstEachOther(t *testing.T) {
	tests := []struct {
		name   string
		change func(*Rows)
		tanks  []*Tank
		want   []told
		notes  []string
	}{
		{"they go together", func(*Rows) {}, nil, nil, nil},
		// 1 100 kWh of 1 000 L, then 6 100: the register was 2 500 short, and both together are right.
		{"the energy of one round is too little", func(r *Rows) { *r.Rounds[10].EnergyRegister -= 2500 }, nil, []told{{"e0111", EnergyPerLitre, EnergyFigure}},
			[]string{"doubtful-round"}},
		// 300 L made 3 600 kWh, then 1 700 L: both together are right.
		{"a meter is read too low", func(r *Rows) { r.Readings[10].Register -= 700 }, nil, []told{{"m0111", EnergyPerLitre, WholeRow}}, nil},
		// The register goes on from there, and the meter alone cannot tell it from a day of wind: its fuel counts.
		{"700 L went past the meter", func(r *Rows) {
			for _, m := range r.Readings[10:] {
				m.Register -= 700
			}
		}, nil, []told{{"e0111", EnergyPerLitre, EnergyFigure}}, []string{"doubtful-round"}},
		{"two days of energy on one", func(r *Rows) {
			for _, x := range r.Rounds[10:] {
				*x.EnergyRegister += 3600
			}
		}, nil, []told{{"e0111", EnergyPerLitre, EnergyFigure}}, []string{"doubtful-round"}},
		// Of another unit or with a wind turbine beside it: told once.
		{"never together", func(r *Rows) {
			for i, x := range r.Rounds {
				*x.EnergyRegister += 3600 * float64(i)
			}
		}, nil, nil, []string{"energy-per-litre"}},
		// A day tank of 800 L may have swung twice by that: the 1 300 L of two days tell nothing, the 3 000 L of three do.
		{"a day tank", func(r *Rows) { r.Readings[10].Register -= 700 }, []*Tank{volumeTank("bulk", Storage, 50_000), volumeTank("day", DayTank, 800)},
			nil, nil},
		{"the meter was not read in the round", func(r *Rows) {
			*r.Rounds[10].EnergyRegister -= 2500
			r.Rounds[10].At = at(time.January, 11, 15)
		}, nil, nil, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := Rows{Rounds: kWh(20)}
			for i := range 20 {
				r := reading(at(time.January, 1+i, 8), 10_000+1000*float64(i))
				r.Key = "m" + r.At.Format("0102")
				rows.Readings = append(rows.Readings, r)
			}
			tt.change(&rows)
			if tt.tanks == nil {
				tt.tanks = []*Tank{volumeTank("bulk", Storage, 50_000)}
			}
			b := bookOf(t, rows, tt.tanks...)
			if diff := cmp.Diff(tt.want, toldOf(b)); diff != "" {
				t.Error(diff)
			}
			if got := codes(b.Doubts()); !slices.Equal(got, tt.notes) {
				t.Errorf("notices %v, want %v", got, tt.notes)
			}
		})
	}
}
