package inventory

import (
	"slices"
	"testing"
	"time"
)

// A meter of five digits is read daily at 8:00 and swapped on 3 March at 8:00 sharp, at 86 990 for one that stands at 15.
func TestAReadingAtTheMomentOfASwapIsThatOfTheMeterItFits(t *testing.T) {
	march := func(day int, register float64) *MeterReading { return reading(at(time.March, day, 8), register) }
	keyed := func(key string, r *MeterReading) *MeterReading { r.Key = key; return r }
	swap := func(closing, opening *float64) []*MeterSwap {
		return []*MeterSwap{{Plant: "P", Meter: "M", At: at(time.March, 3, 8), Closing: closing, Opening: opening}}
	}
	before, after := []*MeterReading{march(1, 86_500), march(2, 86_750)}, []*MeterReading{march(4, 275), march(5, 515)}
	both := swap(ptr(86_990.0), ptr(15.0))
	tests := []struct {
		name  string
		then  []*MeterReading
		swaps []*MeterSwap
		want  []float64
		notes []string
	}{
		// 86 750 − 86 500; 86 990 − 86 750; 275 − 15; 515 − 275.
		{"the old meter", []*MeterReading{march(3, 86_990)}, both, []float64{250, 240, 260, 240}, nil},
		// The old meter ran 2 L more while it was taken out: they count after the reading. 86 988 − 86 750; 2 + 260.
		{"the old meter a little before", []*MeterReading{march(3, 86_988)}, both, []float64{250, 238, 262, 240}, nil},
		{"the new meter", []*MeterReading{march(3, 15)}, both, []float64{250, 240, 260, 240}, nil},
		{"the old meter and the new one", []*MeterReading{keyed("2", march(3, 86_990)), keyed("1", march(3, 15))}, both, []float64{250, 240, 260, 240}, nil},
		{"the new meter and the old one", []*MeterReading{keyed("1", march(3, 86_990)), keyed("2", march(3, 15))}, both, []float64{250, 240, 260, 240}, nil},
		// What ran from the old meter's last reading on is known: it is its closing, and 275 − 15 = 260 ran since.
		{"the old meter, whose closing nobody wrote down", []*MeterReading{march(3, 86_990)}, swap(nil, ptr(15.0)), []float64{250, 240, 260, 240}, nil},
		{"the new meter, and no closing", []*MeterReading{march(3, 15)}, swap(nil, ptr(15.0)), []float64{250, 260, 240}, []string{"meter-gap"}},
		{"the new meter, whose opening nobody wrote down", []*MeterReading{march(3, 15)}, swap(ptr(86_990.0), nil), []float64{250, 240, 260, 240}, nil},
		{"the old meter, and no register of the new one", []*MeterReading{march(3, 86_990)}, swap(ptr(86_990.0), nil), []float64{250, 240, 240}, []string{"meter-gap"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, notes := used(t, Rows{Readings: slices.Concat(before, tt.then, after), Swaps: tt.swaps}, volumeTank("bulk", Storage, 50_000))
			if !slices.EqualFunc(got, tt.want, near) || !slices.Equal(notes, tt.notes) {
				t.Errorf("got %v %v, want %v %v", got, notes, tt.want, tt.notes)
			}
		})
	}
}

// The meter is taken out at 8:00, in its last round, and none is put in: it ran 86 990 − 86 500 L.
func TestTheLastRoundOfAMeterThatIsTakenOutCounts(t *testing.T) {
	rows := Rows{Readings: []*MeterReading{reading(at(time.March, 1, 8), 86_500), reading(at(time.March, 2, 8), 86_750), reading(at(time.March, 3, 8), 86_990)},
		Swaps: []*MeterSwap{{Plant: "P", Meter: "M", At: at(time.March, 3, 8), Closing: ptr(86_990.0)}}}
	got, notes := used(t, rows, volumeTank("bulk", Storage, 50_000))
	if !slices.EqualFunc(got, []float64{250, 240}, near) || notes != nil {
		t.Errorf("got %v %v", got, notes)
	}
}
