package inventory

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/units"
)

// 2 400 mm, less 21 a week, at −25 °C; the tank holds 10 L a millimetre. One temperature is written down otherwise.
func TestATemperatureThatItsNeighboursContradictIsDoubted(t *testing.T) {
	lost := []told{{"A 0205", TemperatureSlip, WholeRow}}
	tests := []struct {
		name   string
		t      units.Celsius // of 5 February, or from then on
		change func([]*Gauging, *Rows)
		want   []told
	}{
		{"as before", -25, nil, nil},
		{"without its sign", 25, nil, lost},
		// −25 °C are −13 °F, which is warmer by twelve degrees: bulk fuel may warm as much.
		{"in °F", -13, nil, nil},
		{"warmer by fourteen degrees", -11, nil, nil},
		{"neither the other sign nor the other unit", 10, nil, nil},
		{"without its sign, and warm from then on", 25, func(g []*Gauging, _ *Rows) {
			g[6].Temperature, g[7].Temperature = ptr(units.Celsius(24)), ptr(units.Celsius(23))
		}, nil},
		{"without its sign, and fuel came", 25, func(_ []*Gauging, r *Rows) {
			r.Deliveries = []*Delivery{{Plant: "P", Tank: "A", At: at(time.February, 3, 12), Measure: at15(200)}}
		}, nil},
		{"without its sign, and confirmed", 25, func(g []*Gauging, r *Rows) {
			r.Confirmations = []*Confirmation{{Plant: "P", Of: KindGauging, Row: g[5].Key}}
		}, nil},
		{"without its sign, the one before not read", 25, func(g []*Gauging, _ *Rows) { g[4].Temperature = nil }, nil},
		{"without its sign, the newest", 25, func(g []*Gauging, r *Rows) { r.Gaugings = r.Gaugings[:6] }, lost},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := Rows{Gaugings: dipped("A", 2400, 2379, 2358, 2337, 2316, 2295, 2274, 2253)}
			for _, g := range rows.Gaugings {
				g.Temperature = ptr(units.Celsius(-25))
			}
			rows.Gaugings[5].Temperature = &tt.t
			if tt.change != nil {
				tt.change(rows.Gaugings, &rows)
			}
			if diff := cmp.Diff(tt.want, toldOf(bookOf(t, rows, upright("A")))); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// 25 °F are −3.9 °C, and the others say −4.
func TestATemperatureInFahrenheitIsTold(t *testing.T) {
	rows := Rows{Gaugings: dipped("A", 2400, 2379, 2358, 2337, 2316, 2295, 2274)}
	for _, g := range rows.Gaugings {
		g.Temperature = ptr(units.Celsius(-4))
	}
	rows.Gaugings[5].Temperature = ptr(units.Celsius(25))
	if diff := cmp.Diff([]told{{"A 0205", TemperatureSlip, WholeRow}}, toldOf(bookOf(t, rows, upright("A")))); diff != "" {
		t.Error(diff)
	}
}

// The tank should stand at 51 600 L: each reading is brought there by the slip that it suffers from.
func TestASlipIsNamedWhereItBringsTheGaugingToWhatIsLikely(t *testing.T) {
	volume := func(v units.Litres) *Gauging { return gauged("A", at(time.January, 29, 8), v) }
	depth := func(d units.Millimetres) *Gauging {
		g := volume(0)
		g.Volume, g.Depth = nil, &d
		return g
	}
	ullage := func(u units.Millimetres) *Gauging {
		g := volume(0)
		g.Volume, g.Ullage = nil, &u
		return g
	}
	tests := []struct {
		name string
		g    *Gauging
		want Cause
	}{
		{"inches as millimetres", depth(5160 / 25.4), UnitsSwitched},
		{"inches as centimetres", depth(5160 / 2.54), UnitsSwitched},
		{"a digit less", depth(516), DigitDropped},
		{"inches as feet", depth(5160.0 / 12), UnitsSwitched},
		{"a foot less", depth(5160 - 304.8), StickMisread},
		{"ten centimetres less", depth(5060), StickMisread},
		{"a metre more", depth(6160), StickMisread},
		{"half a metre more", depth(5660), ""},
		{"an ullage a foot short, of 8 100 mm", ullage(2940 - 304.8), StickMisread},
		{"US gallons", volume(51_600 / 3.785411784), UnitsSwitched},
		{"imperial gallons", volume(51_600 / 4.54609), UnitsSwitched},
		{"a digit less, a volume", volume(5160), DigitDropped},
		{"half the volume", volume(25_800), ""},
	}
	a := upright("A")
	a.ReferenceHeight = ptr(units.Millimetres(8100))
	for _, tt := range tests {
		tt.g.Key = "g"
		b := bookOf(t, Rows{Gaugings: []*Gauging{tt.g}}, a)
		lines, _ := b.tankLines()
		if got := lines[0].readingCause(&lines[0].gaugings[0], litreRange{51_500, 51_700}); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
		// What moves it by less than the range is wide explains nothing.
		if got := lines[0].readingCause(&lines[0].gaugings[0], litreRange{0, 80_000}); got != "" {
			t.Errorf("%s, anywhere in the tank: %q", tt.name, got)
		}
	}
}
