package inventory

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// counted gives twelve weekly dips of a tank of 10 L a millimetre and weekly readings: the meter runs 2 100 L a week, and
// the dips are off by 1 mm this way and that.
func counted() Rows {
	depths := make([]units.Millimetres, 12)
	rows := Rows{}
	for week := range depths {
		depths[week] = 6000 - units.Millimetres(210*week) + units.Millimetres(week%3) - 1
		rows.Readings = append(rows.Readings, reading(at(time.January, 1+7*week, 8), 20_000+2100*float64(week)))
	}
	rows.Gaugings = dipped("A", depths...)
	for i := range depths { // no other sign and no other unit of 0 °C is worth 1 000 L
		rows.Gaugings[i].Temperature, rows.Readings[i].Temperature = ptr(units.Celsius(0)), ptr(units.Celsius(0))
	}
	return rows
}

// On 5 February, week 5, the stick is read ten centimetres short: 1 000 L, which the tank might well have lost and got. Three
// deviations of two dips are 250 L, six of the plant's own counts 6 · 1.4826 · 10 L.
func TestADipThatTheMeterContradictsThereAndBackIsDoubted(t *testing.T) {
	off := func(by units.Millimetres) func(*Rows) {
		return func(r *Rows) { *r.Gaugings[5].Depth += by }
	}
	also := func(change func(*Rows)) func(*Rows) {
		return func(r *Rows) { off(-100)(r); change(r) }
	}
	misread := []told{{"A 0205", StickMisread, WholeRow}}
	drawn := func(first, last calendar.Day, v units.Litres) func(*Rows) {
		return func(r *Rows) {
			r.Draws = []*Draw{{Plant: "P", FirstDay: first, LastDay: last, Purpose: Heat, Measure: at15(v)}}
		}
	}
	feb := func(d int) calendar.Day { return calendar.Date(2026, time.February, d) }
	tests := []struct {
		name   string
		change func(*Rows)
		tanks  []*Tank
		want   []told
	}{
		{"none", func(*Rows) {}, nil, nil},
		{"ten centimetres short", off(-100), nil, misread},
		{"ten centimetres long", off(100), nil, misread},
		// No slip is of 40 mm.
		{"four centimetres short", off(-40), nil, nil},
		{"confirmed", also(func(r *Rows) {
			r.Confirmations = []*Confirmation{{Plant: "P", Of: KindGauging, Row: "A 0205"}}
		}), nil, nil},
		// Seven counts tell nothing of what is usual.
		{"of eight counts", also(func(r *Rows) { r.Gaugings = r.Gaugings[:8] }), nil, nil},
		{"of nine counts", also(func(r *Rows) { r.Gaugings = r.Gaugings[:9] }), nil, misread},
		{"the stock stays lower", also(func(r *Rows) {
			for _, g := range r.Gaugings[6:] {
				*g.Depth -= 100
			}
		}), nil, nil},
		{"half of it comes back", also(func(r *Rows) {
			for _, g := range r.Gaugings[6:] {
				*g.Depth -= 50
			}
		}), nil, nil},
		{"fuel came the week after", also(func(r *Rows) {
			r.Deliveries = []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: "A", At: at(time.February, 9, 12), Measure: at15(1000)}}
			r.Confirmations = []*Confirmation{{Plant: "P", Of: KindDelivery, Row: "d"}}
		}), nil, nil},
		{"drawn on the day of the dip", also(drawn(feb(5), feb(5), 10)), nil, nil},
		{"drawn on the day of the dip before", also(drawn(calendar.Date(2026, time.January, 29), calendar.Date(2026, time.January, 29), 10)), nil, nil},
		{"drawn on the day of the dip after", also(drawn(feb(12), feb(12), 10)), nil, nil},
		{"drawn over eight days", also(drawn(feb(1), feb(8), 80)), nil, misread},
		{"drawn over a week", also(drawn(feb(1), feb(7), 70)), nil, nil},
		// The dip of the week before is left out, and the count with it. Between sound dips and one that is off no slip explains it.
		{"the dip before has a digit less", also(func(r *Rows) { *r.Gaugings[4].Depth /= 10 }), nil, append([]told{{"A 0129", FallUnexplained, WholeRow}}, misread...)},
		{"drawn two days before", also(drawn(feb(3), feb(3), 10)), nil, misread},
		{"drawn all month, a little a day", also(drawn(feb(1), feb(28), 280)), nil, misread},
		{"the meter was not read in that round", also(func(r *Rows) { r.Readings[5].At = at(time.February, 5, 15) }), nil, nil},
		{"the tank was out and came back", off(-100), func() []*Tank {
			a := upright("A")
			a.OutFrom, a.BackOn = ptr(feb(2)), ptr(feb(3))
			return []*Tank{a}
		}(), nil},
		{"a day tank of 1 500 L", off(-100), []*Tank{upright("A"), volumeTank("day", DayTank, 1500)}, nil},
		{"a day tank of 500 L", off(-100), []*Tank{upright("A"), volumeTank("day", DayTank, 500)}, misread},
		{"a volume off a gauge", also(func(r *Rows) {
			g := r.Gaugings[5]
			g.Volume, g.Depth = ptr(units.Litres(10*float64(*g.Depth))), nil
		}), nil, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := counted()
			tt.change(&rows)
			if tt.tanks == nil {
				tt.tanks = []*Tank{upright("A")}
			}
			b := bookOf(t, rows, tt.tanks...)
			if diff := cmp.Diff(tt.want, toldOf(b)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// Of two tanks it is the dip of the one that then stands best between its own: B stands at 3 000 mm all the time.
func TestOfSeveralTanksTheOneThatFitsItsOwnDipsBestIsDoubted(t *testing.T) {
	for tank, want := range map[string]string{"A": "A 0205", "B": "B 0205"} {
		rows := counted()
		rows.Gaugings = append(rows.Gaugings, dipped("B", 3000, 3000, 3000, 3000, 3000, 3000, 3000, 3000, 3000, 3000, 3000, 3000)...)
		for _, g := range rows.Gaugings {
			if g.Key == tank+" 0205" {
				*g.Depth -= 100
			}
		}
		if diff := cmp.Diff([]told{{want, StickMisread, WholeRow}}, toldOf(bookOf(t, rows, upright("A"), upright("B")))); diff != "" {
			t.Error(diff)
		}
	}
}
