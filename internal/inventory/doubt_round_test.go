package inventory

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// kWh gives rounds on every day from 1 January whose energy register runs on by 3 600 a day, with keys such as "e0129".
func kWh(days int) []*Round {
	var rows []*Round
	for i := range days {
		r := &Round{Plant: "P", At: at(time.January, 1+i, 8), EnergyRegister: ptr(100_000 + 3600*float64(i) + float64(i%5))}
		r.Key = "e" + r.At.Format("0102")
		rows = append(rows, r)
	}
	return rows
}

func TestAnEnergyRegisterThatDoesNotRunOnIsLeftOutAlone(t *testing.T) {
	tests := []struct {
		name    string
		change  func([]*Round)
		confirm string
		want    []told
	}{
		{"none", func([]*Round) {}, "", nil},
		{"a digit less", func(r []*Round) { *r[10].EnergyRegister /= 10 }, "", []told{{"e0111", GoingBackwards, EnergyFigure}}},
		{"a digit more", func(r []*Round) { *r[10].EnergyRegister *= 10 }, "", []told{{"e0111", BeyondBurn, EnergyFigure}}},
		{"the newest, a digit more", func(r []*Round) { *r[29].EnergyRegister *= 10 }, "", []told{{"e0130", BeyondBurn, EnergyFigure}}},
		{"the oldest, a digit more", func(r []*Round) { *r[0].EnergyRegister *= 10 }, "", []told{{"e0101", BeyondBurn, EnergyFigure}}},
		{"the newest, a digit more, confirmed", func(r []*Round) { *r[29].EnergyRegister *= 10 }, "e0130", nil},
		{"a new register", func(r []*Round) {
			for i := range r[15:] {
				*r[15+i].EnergyRegister = 3600 * float64(i)
			}
		}, "", []told{{"e0116", GoingBackwards, EnergyFigure}}},
		{"not read", func(r []*Round) { r[10].EnergyRegister = nil }, "", nil},
		// Far is four times as much.
		{"three times as much on one day", func(r []*Round) {
			for _, x := range r[10:] {
				*x.EnergyRegister += 2 * 3600
			}
		}, "", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := Rows{Rounds: kWh(30), Confirmations: []*Confirmation{{Plant: "P", Of: KindRound, Row: tt.confirm}}}
			tt.change(rows.Rounds)
			b := bookOf(t, rows)
			if diff := cmp.Diff(tt.want, toldOf(b)); diff != "" {
				t.Error(diff)
			}
			for _, r := range b.rows.Rounds {
				if left := slices.ContainsFunc(tt.want, func(d told) bool { return d.Key == r.Key }); left && r.EnergyRegister != nil {
					t.Errorf("the energy of %s is still counted", r.Key)
				}
			}
		})
	}
}
