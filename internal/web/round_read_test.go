package web

import (
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

func TestAFigureIsReadAsPeopleWriteIt(t *testing.T) {
	for text, want := range map[string]float64{
		"1205.5": 1205.5, "1205,5": 1205.5, "1 205,5": 1205.5, "1\u2009205.5": 1205.5, "1\u202f205": 1205, "1\u00a0205": 1205,
		"-12": -12, "−12,5": -12.5, "+3": 3, "0": 0, "0,125": 0.125, "1.250": 1.25, "12345,678": 12345.678, "5,": 5, "1454,25": 1454.25, ".5": 0.5,
	} {
		if got, problem := figure(text); problem != "" || got != want {
			t.Errorf("%q is read as %v (%s), want %v", text, got, problem, want)
		}
	}
}

func TestAFigureThatCanBeReadInTwoWaysIsRefused(t *testing.T) {
	for text, says := range map[string]string{
		"1,234": "two ways", "12,500": "two ways", "999,000": "two ways",
		"1,234.5": "no number", "1.234,5": "no number", "1.234.567": "no number", "twelve": "no number", "1e5": "no number",
		"0x10": "no number", "NaN": "no number", "Inf": "no number", "--1": "no number", ".": "no number", "": "no number",
		strings.Repeat("9", 400): "no number",
	} {
		if _, problem := figure(text); !strings.Contains(problem, says) {
			t.Errorf("%q: %q, want that it is %s", text, problem, says)
		}
	}
}

func TestAFigureIsReadAsItsUnitIsWritten(t *testing.T) {
	in := func(d units.Dimension, name string) units.Scale {
		scale, err := d.Scale(name)
		if err != nil {
			t.Fatal(err)
		}
		return scale
	}
	inches, millimetres := in(units.Length, "in"), in(units.Length, "mm")
	tests := []struct {
		typed string
		scale units.Scale
		want  float64
		says  string // the problem, "" for none
	}{
		{"10 1/4", inches, 10.25, ""}, {"3/8", inches, 0.375, ""}, {"11.625", inches, 11.625, ""},
		{"10 4/1", inches, 0, "no fraction"}, {"10 1/0", inches, 0, "no fraction"},
		{"10 1/4", millimetres, 0, "no number"},
		{"1.330", millimetres, 0, "two ways"}, {"0.375", millimetres, 0.375, ""}, {"1330.5", millimetres, 1330.5, ""},
	}
	for _, tt := range tests {
		q := roundField{Value: tt.typed, scale: tt.scale}
		if got, problem := q.figure(); got != tt.want || (problem == "") != (tt.says == "") || !strings.Contains(problem, tt.says) {
			t.Errorf("%q in %s is read as %v (%s)", tt.typed, tt.scale.Label, got, problem)
		}
	}
}

func FuzzFigure(f *testing.F) {
	for _, text := range []string{"1 205,5", "1,234", "−3.25", "5,", "1e9", "٣"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		value, problem := figure(text)
		if problem == "" && (math.IsNaN(value) || math.IsInf(value, 0)) {
			t.Errorf("%q is read as %v", text, value)
		}
	})
}

// What is shown as typed and read again is the same stored value, in every unit.
func TestAValueShownAsTypedIsReadBackTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]units.Dimension{units.Volume, units.Length, units.Temperature}).Draw(t, "dimension")
		scale := rapid.SampledFrom(d.Scales).Draw(t, "scale")
		written := float64(rapid.IntRange(-400_000, 40_000_000).Draw(t, "thousandths")) / 1000
		stored := toStored(scale, written)
		again, problem := figure(typed(scale, stored))
		if problem != "" || toStored(scale, again) != stored {
			t.Fatalf("%v %s is stored as %v, shown as %q, read as %v (%s)", written, scale.Label, stored, typed(scale, stored), again, problem)
		}
	})
}

func TestAValueIsShownToWhatIsWorthReading(t *testing.T) {
	scale := func(d units.Dimension, name string) units.Scale {
		s, err := d.Scale(name)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	tests := []struct {
		scale  units.Scale
		stored float64
		want   string
	}{
		{scale(units.Length, "mm"), 1234.4, "1 234"},
		{scale(units.Length, "in"), 295.275, "11.625"},
		{scale(units.Volume, "us_gal"), 3785.411784, "1 000"},
		{scale(units.Volume, "m3"), 12_340, "12.34"},
		{scale(units.Temperature, "c"), -0.04, "0"},
		{scale(units.Temperature, "f"), -20, "−4"},
		{units.Scale{Label: counts, Factor: 1}, 1234567.5, "1 234 567.5"},
	}
	for _, tt := range tests {
		if got := strings.ReplaceAll(read(tt.scale, tt.stored), thin, " "); got != tt.want {
			t.Errorf("%v in %s is shown as %q, want %q", tt.stored, tt.scale.Label, got, tt.want)
		}
	}
}

func TestAMomentIsReadByThePlantsClocks(t *testing.T) {
	zone, err := time.LoadLocation("America/Anchorage")
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct{ day, clock, want, problem string }{
		{"2026-03-02", "20:00", "2026-03-03T05:00:00Z", ""},
		{" 2026-07-01 ", "08:30", "2026-07-01T16:30:00Z", ""},
		// IANA time zone database, rule US: clocks go forward at 02:00 on 8 March 2026 and back on 1 November.
		{"2026-03-08", "02:30", "", "never was"},
		{"2026-11-01", "01:30", "", "came twice"},
		{"2026-11-01", "02:00", "2026-11-01T11:00:00Z", ""},
		{"2026-02-30", "08:00", "", "no moment"},
		{"02/03/2026", "08:00", "", "no moment"},
		{"2026-03-02", "", "", "no moment"},
	}
	for _, tt := range tests {
		at, problem := wallMoment(tt.day, tt.clock, zone)
		if tt.problem != "" {
			if !strings.Contains(problem, tt.problem) {
				t.Errorf("%s %s: %q, want that it %s", tt.day, tt.clock, problem, tt.problem)
			}
			continue
		}
		if got := at.UTC().Format(time.RFC3339); got != tt.want || problem != "" {
			t.Errorf("%s %s is %s (%s), want %s", tt.day, tt.clock, got, problem, tt.want)
		}
	}
}
