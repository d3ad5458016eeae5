package advice

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/forecast"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// asOf is the last day of the year that the plant of these tests is told of.
var asOf = calendar.Date(2025, 12, 31)

func ptr[T any](v T) *T { return &v }

// told is the series of a plant, of the totals and of what else is told of it.
func told(t *testing.T, rows inventory.Rows) (forecast.Series, []string) {
	t.Helper()
	tank := func(id string, role inventory.Role, litres units.Litres) *inventory.Tank {
		return &inventory.Tank{Plant: "P", ID: id, Role: role, Product: "diesel-2-s15", Shape: inventory.ShapeVolume, Capacity: &litres}
	}
	out := tank("out", inventory.Storage, 70_000)
	out.OutFrom = ptr(asOf)
	shared := tank("shared", inventory.Storage, 50_000)
	shared.OwnShare = ptr(0.4)
	d := inventory.NewDirectory(inventory.Rows{
		Plants: []*inventory.Plant{{ID: "P", Zone: "UTC", Product: "diesel-2-s15"}},
		Tanks:  []*inventory.Tank{tank("a", inventory.Storage, 30_000), shared, out, tank("d", inventory.DayTank, 900)},
	})
	book, err := inventory.NewBook(d, "P", rows, asOf)
	if err != nil {
		t.Fatal(err)
	}
	usages, _ := book.PlantUsages()
	var s forecast.Series
	tell(&s, book, usages)
	_, notes := changes(book, usages)
	var codes []string
	for _, n := range notes {
		codes = append(codes, n.Code)
	}
	return s, codes
}

func total(first, last calendar.Day, litres units.Litres, kWh *float64) *inventory.PeriodTotal {
	return &inventory.PeriodTotal{Entry: inventory.Entry{Key: first.String()}, Plant: "P", FirstDay: first, LastDay: last,
		Measure: inventory.Measure{Volume: litres, Basis: inventory.Basis15}, Energy: kWh}
}

func load(from calendar.Day, kW units.Kilowatts) *inventory.LoadChange {
	return &inventory.LoadChange{Entry: inventory.Entry{Key: from.String()}, Plant: "P", From: from, Added: &kW, Cause: inventory.LoadOther}
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9*max(1, math.Abs(want)) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

func TestAForecastIsToldWhatTheBookKnows(t *testing.T) {
	rows := inventory.Rows{
		Totals: []*inventory.PeriodTotal{total(asOf-364, asOf-1, 72_800, ptr(291_200.0)), total(asOf, asOf, 200, nil)},
		DegreeDays: []*inventory.DegreeDays{ // the last is not over yet
			{Entry: inventory.Entry{Key: "2"}, FirstDay: asOf, LastDay: asOf, Sum: 31, Under: 18},
			{Entry: inventory.Entry{Key: "1"}, FirstDay: asOf - 30, LastDay: asOf - 1, Sum: 840, Under: 18},
			{Entry: inventory.Entry{Key: "3"}, FirstDay: asOf + 1, LastDay: asOf + 1, Sum: 30, Under: 18},
		},
		LoadChanges: []*inventory.LoadChange{
			{Plant: "P", From: asOf + 90, Until: ptr(asOf + 120), Times: ptr(0.85), Uncertainty: ptr(10.0), Cause: inventory.LoadWind},
			{Plant: "P", From: asOf + 60, Times: ptr(0.0), Cause: inventory.LoadStandby},
		},
	}
	got, notes := told(t, rows)
	day := float64(asOf)
	want := forecast.Series{
		Intervals: got.Intervals,
		Energy:    []forecast.Energy{{Start: day - 364, End: day, KWh: 291_200}},
		Cold:      []forecast.Cold{{Start: day - 30, End: day, DegreeDays: 840}, {Start: day, End: day + 1, DegreeDays: 31}},
		Changes: []forecast.Change{
			{From: asOf + 60}, // standing by for good is sure
			// 15 % less, give or take a tenth of that: twice it above is 0.88, and ln(0.88/0.85)/2 = 0.017343.
			{From: asOf + 90, Until: asOf + 120, Ratio: 0.85, SD: math.Log(0.88/0.85) / 2},
		},
		Facts: forecast.Facts{Tankage: 50_000}, // 30 000 L and 40 % of 50 000 L
	}
	approx := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-12*max(1, math.Abs(a)) })
	if diff := cmp.Diff(want, got, approx); diff != "" || notes != nil {
		t.Error(diff, notes)
	}
}

// A plant that burns 200 L a day makes 800 kWh of them at 4 kWh/L, 33.33 kW, or 720 kWh at the usual 3.6 kWh/L, 30 kW.
func TestALoadIsAShareOfThePlantsMeanLoad(t *testing.T) {
	whole := func(kWh *float64) []*inventory.PeriodTotal {
		return []*inventory.PeriodTotal{total(asOf-364, asOf, 73_000, kWh)}
	}
	for name, tt := range map[string]struct {
		totals []*inventory.PeriodTotal
		change *inventory.LoadChange
		ratio  float64 // 0 with a nil unknown is standing by
		left   string  // it is left out, with this notice
	}{
		"at its own yield":                 {whole(ptr(292_000.0)), load(asOf+60, 10), 1.3, ""},
		"at the usual yield":               {whole(nil), load(asOf+60, 15), 1.5, ""},
		"at the usual, its own is wrong":   {whole(ptr(29_200.0)), load(asOf+60, 15), 1.5, ""}, // 0.4 kWh/L
		"less":                             {whole(nil), load(asOf+60, -12), 0.6, ""},
		"more than it makes is displaced":  {whole(nil), load(asOf+60, -45), 0, "load-change-beyond-load"},
		"of the year before a past change": {[]*inventory.PeriodTotal{total(asOf-400, asOf-36, 73_000, nil), total(asOf-35, asOf, 9_000, nil)}, load(asOf-35, 15), 1.5, ""},
		"known since the change alone":     {[]*inventory.PeriodTotal{total(asOf-99, asOf, 20_000, nil)}, load(asOf-99, 10), 1.5, ""}, // 30 kW with it, 20 without
		"all that is burned, and more":     {[]*inventory.PeriodTotal{total(asOf-99, asOf, 20_000, nil)}, load(asOf-99, 30), 0, "load-change-unused"},
		"far more than it makes":           {whole(nil), load(asOf+60, 3000), 0, "load-change-beyond-load"},
		"of a plant that nobody knows":     {nil, load(asOf+60, 15), 0, "load-change-unused"},
		"of a plant that three weeks know": {[]*inventory.PeriodTotal{total(asOf-20, asOf, 4_200, nil)}, load(asOf+60, 15), 0, "load-change-unused"},
	} {
		t.Run(name, func(t *testing.T) {
			s, notes := told(t, inventory.Rows{Totals: tt.totals, LoadChanges: []*inventory.LoadChange{tt.change}})
			if tt.left != "" {
				if s.Changes != nil || len(notes) != 1 || notes[0] != tt.left {
					t.Errorf("%+v, notices %v", s.Changes, notes)
				}
				return
			}
			if len(s.Changes) != 1 || notes != nil {
				t.Fatalf("%+v, notices %v", s.Changes, notes)
			}
			c := s.Changes[0]
			near(t, "the ratio", c.Ratio, tt.ratio)
			sd := 0.0
			if tt.ratio > 0 { // 30 % of the change where nothing is stated
				sd = math.Log(1+0.6*math.Abs(tt.ratio-1)/tt.ratio) / 2
			}
			near(t, "its spread", c.SD, sd)
		})
	}
}

// Half of the year the plant stood by: it ran at 30 kW, not at 15.
func TestAPlantsMeanLoadIsThatWhileItRuns(t *testing.T) {
	standby := &inventory.LoadChange{Entry: inventory.Entry{Key: "standby"}, Plant: "P", From: asOf - 364, Until: ptr(asOf - 181), Times: ptr(0.0), Cause: inventory.LoadStandby}
	s, notes := told(t, inventory.Rows{
		Totals:      []*inventory.PeriodTotal{total(asOf-364, asOf-182, 0, nil), total(asOf-181, asOf, 36_400, nil)},
		LoadChanges: []*inventory.LoadChange{standby, load(asOf+60, 15)},
	})
	if len(s.Changes) != 2 || notes != nil {
		t.Fatalf("%+v, notices %v", s.Changes, notes)
	}
	near(t, "the ratio", s.Changes[1].Ratio, 1.5)
}

func TestWhatIsToldIdentifiesASeries(t *testing.T) {
	whole := func() forecast.Series {
		return forecast.Series{
			Intervals: []forecast.Interval{{Start: 1, End: 2, Litres: 3, Sigma: 4}}, Energy: []forecast.Energy{{Start: 1, End: 2, KWh: 3}},
			Cold: []forecast.Cold{{Start: 1, End: 2, DegreeDays: 3}}, Changes: []forecast.Change{{From: 1, Until: 2, Ratio: 3, SD: 4}},
			Facts: forecast.Facts{Tankage: 1, PeakKW: 2},
		}
	}
	version := usageVersion(whole())
	if again := usageVersion(whole()); again != version {
		t.Error("the same series has two versions")
	}
	for name, change := range map[string]func(s *forecast.Series){
		"an interval's litres":   func(s *forecast.Series) { s.Intervals[0].Litres++ },
		"energy":                 func(s *forecast.Series) { s.Energy[0].KWh++ },
		"degree days":            func(s *forecast.Series) { s.Cold[0].DegreeDays++ },
		"the end of a change":    func(s *forecast.Series) { s.Changes[0].Until = 0 },
		"the spread of a change": func(s *forecast.Series) { s.Changes[0].SD = 0 },
		"tanks":                  func(s *forecast.Series) { s.Facts.Tankage++ },
		"cold for energy":        func(s *forecast.Series) { s.Energy, s.Cold = nil, append(s.Cold, s.Cold...) },
	} {
		s := whole()
		if change(&s); usageVersion(s) == version {
			t.Errorf("%s leaves the version as it was", name)
		}
	}
}
