package web

import (
	"math"
	"regexp"
	"testing"
	"time"

	"pgregory.net/rapid"

	"overwinter/internal/fault"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

func inches() scales { return scalesOf(bay().Plants[0].Display) }

func TestRefusalsSpeakInThePlantsOwnUnits(t *testing.T) {
	// 1 in = 25.4 mm and 1 US gal = 3.785411784 L, exactly; t °F = 1.8 t °C + 32.
	tests := []struct{ says, want string }{
		{"12 700 mm is above the tank's 3 048 mm: check the dip", "500 in is above the tank's 120 in: check the dip"},
		{"200 °C is out of range: expected -60 to 150 °C", "392 °F is out of range: expected −76 to 302 °F"},
		{"the tanks together hold 37\u202f854 L less", "the tanks together hold 10 000 US gal less"},
		{"2.54e+15 mm is above the tank's 2540 mm", "100 000 000 000 000 in is above the tank's 100 in"},
		{"-2.54e-05 mm: expected 0 or more", "0 in: expected 0 or more"},
		{"tank a1 254 mm", "tank a1 10 in"},
		{"37.85411784 L of water are more than the 37.85411784\u00a0L of all liquid", "10 US gal of water are more than the 10 US gal of all liquid"},
		{"NaN mm: expected 0 to 5080 mm", "NaN in: expected 0 to 200 in"},
		{"+Inf mm: expected 0 to 5080 mm", "+Inf in: expected 0 to 200 in"},
		{"the year 1800 cannot be meant", "the year 1800 cannot be meant"},
		{"not a number is above the tank's 2 540 mm", "not a number is above the tank's 100 in"},
		{"2 Labels and 3 mmx stay", "2 Labels and 3 mmx stay"},
	}
	for _, tt := range tests {
		if got := spaced(inches().inUnits(tt.says)); got != tt.want {
			t.Errorf("%q becomes %q, want %q", tt.says, got, tt.want)
		}
		if got := scalesOf(inventory.Display{}).inUnits(tt.says); got != tt.says {
			t.Errorf("in stored units %q becomes %q", tt.says, got)
		}
	}
}

// storedUnit is the label of a stored unit, wherever it stands.
var storedUnit = regexp.MustCompile(`(^|[^\pL\pN])(mm|L|litres?|°C)($|[^\pL\pN])`)

// inTheirUnits checks what becomes of a message for people who read inches, gallons and °F, and tells
// whether it held a stored unit.
func inTheirUnits(t interface{ Errorf(string, ...any) }, message string) bool {
	if shown := inches().inUnits(message); storedUnit.MatchString(shown) {
		t.Errorf("%q is shown as %q", message, shown)
	}
	return storedUnit.MatchString(message)
}

// everyTank is a tank of every shape that a round may be about.
func everyTank() []*inventory.Tank {
	mm := func(v float64) *units.Millimetres { return pointer(units.Millimetres(v)) }
	tank := inventory.Tank{Plant: "bay", Role: inventory.Storage, Product: "diesel-1-s15"}
	standing, lying, box, table, volume := tank, tank, tank, tank, tank
	standing.Shape, standing.Diameter, standing.Height = inventory.ShapeVertical, mm(6000), mm(5080)
	lying.Shape, lying.Diameter, lying.Length = inventory.ShapeHorizontal, mm(2540), mm(8000)
	box.Shape, box.Length, box.Width, box.Height = inventory.ShapeRectangular, mm(1000), mm(2000), mm(1500)
	table.Shape, table.Table = inventory.ShapeTable, []tanks.Point{{Depth: 0, Volume: 0}, {Depth: 1000, Volume: 9000}, {Depth: 2000, Volume: 20_000}}
	volume.Shape, volume.Capacity = inventory.ShapeVolume, pointer(units.Litres(400))
	all := []*inventory.Tank{&standing, &lying, &box, &table, &volume}
	for i, one := range all {
		one.ID = string(rune('a' + i))
	}
	return all
}

// anyAmount is a value that somebody may have typed, sound or not.
func anyAmount(t *rapid.T, name string) *float64 {
	v := rapid.OneOf(
		rapid.SampledFrom([]float64{0, 1, -1, 0.0001, 55, -55, 160, -70, 4000, 999_999.9, 1e6, 1e9, 1e15, 2.5e29, math.Inf(1), math.NaN()}),
		rapid.Float64Range(-100, 30_000),
	).Draw(t, name)
	if rapid.Bool().Draw(t, name+" is left empty") {
		return nil
	}
	return &v
}

// All that the ledger's checks and doubts say of the rows of a round is said in the units of the plant.
func TestNothingThatIsSaidOfARoundsRowsShowsAStoredUnit(t *testing.T) {
	rows := bay()
	rows.Tanks = everyTank()
	rows.Meters[0].Compensated = false
	rows.Meters = append(rows.Meters, &inventory.Meter{Plant: "bay", ID: "endless", LitresPerCount: 1})
	dir := inventory.NewDirectory(rows)
	withUnits := 0
	rapid.Check(t, func(t *rapid.T) {
		at := bayNow.Add(time.Duration(rapid.IntRange(-1000, 10).Draw(t, "hours")) * time.Hour)
		g := &inventory.Gauging{Entry: inventory.Entry{Key: "k"}, Plant: "bay", At: at,
			Tank:  rapid.SampledFrom([]string{"a", "b", "c", "d", "e", "nowhere"}).Draw(t, "tank"),
			Depth: as[units.Millimetres](anyAmount(t, "depth")), Water: as[units.Millimetres](anyAmount(t, "water")),
			Volume: as[units.Litres](anyAmount(t, "volume")), Temperature: as[units.Celsius](anyAmount(t, "temperature")),
		}
		r := &inventory.MeterReading{Entry: inventory.Entry{Key: "k"}, Plant: "bay", At: at, Register: 5,
			Meter:       rapid.SampledFrom([]string{"fuel", "endless", "nowhere"}).Draw(t, "meter"),
			Temperature: as[units.Celsius](anyAmount(t, "temperature at the meter")),
		}
		if register := anyAmount(t, "register"); register != nil {
			r.Register = *register
		}
		var messages []string
		for _, row := range []interface {
			Check(*inventory.Directory, time.Time) []fault.Field
			Doubts(*inventory.Directory) []notice.Notice
		}{g, r} {
			for _, f := range row.Check(dir, bayNow) {
				messages = append(messages, f.Message)
			}
			for _, n := range row.Doubts(dir) {
				messages = append(messages, n.Message)
			}
		}
		for _, m := range messages {
			if inTheirUnits(t, m) {
				withUnits++
			}
		}
	})
	if withUnits < 50 {
		t.Errorf("%d messages with a stored unit are too few to tell", withUnits)
	}
}

// Likewise what a report's own doubts say, each of which is raised here.
func TestNothingThatIsDoubtfulAboutARoundShowsAStoredUnit(t *testing.T) {
	s := newRoundSite(t, nil)
	depth := func(mm float64) *units.Millimetres { return pointer(units.Millimetres(mm)) }
	cold := pointer(units.Celsius(-10))
	round := func(key string, at time.Time, more func(*intake.Round)) intake.Round {
		r := intake.Round{Report: intake.Report{Key: key, Plant: "bay"}, At: at}
		more(&r)
		return r
	}
	evening := bayNow.Add(-2 * time.Hour)
	if _, err := s.desk.Round(t.Context(), round("first", evening, func(r *intake.Round) {
		r.Meters = []intake.MeterEntry{{Meter: "fuel", Register: 999_901}}
		r.Tanks = []intake.TankEntry{{Tank: "a", Depth: depth(2520), Temperature: cold}, {Tank: "day", Volume: pointer(units.Litres(300)), Temperature: cold}}
	})); err != nil {
		t.Fatal(err)
	}
	other := intake.Correction{Replaces: intake.RoundRow(intake.Report{Key: "first", Plant: "bay"}, "a")}
	raised := map[string]bool{}
	for _, r := range []intake.Round{
		round("again", evening, func(r *intake.Round) {
			r.Meters = []intake.MeterEntry{{Meter: "fuel", Register: 999_902}}
			r.Tanks = []intake.TankEntry{{Tank: "a", Depth: depth(2500)}, {Tank: "day", Volume: pointer(units.Litres(200)), Temperature: pointer(units.Celsius(60))}}
		}),
		round("rose", bayNow, func(r *intake.Round) {
			r.Tanks = []intake.TankEntry{{Tank: "a", Depth: depth(4000), Temperature: cold}}
		}),
		round("fell", bayNow, func(r *intake.Round) {
			r.Tanks = []intake.TankEntry{{Tank: "a", Depth: depth(1000), Temperature: cold}}
		}),
		round("much", bayNow, func(r *intake.Round) { r.Meters = []intake.MeterEntry{{Meter: "fuel", Register: 400}} }),
		round("back", bayNow, func(r *intake.Round) { r.Meters = []intake.MeterEntry{{Meter: "fuel", Register: 990_000}} }),
		round("other", evening, func(r *intake.Round) {
			r.Tanks = []intake.TankEntry{{Correction: other, Tank: "day", Volume: pointer(units.Litres(200)), Temperature: cold}}
		}),
		round("old", bayNow.AddDate(-3, 0, 0), func(r *intake.Round) { r.Meters = []intake.MeterEntry{{Meter: "fuel", Register: 400}} }),
	} {
		c, err := s.desk.RehearseRound(t.Context(), r)
		if err != nil {
			t.Fatalf("%s: %v", r.Key, err)
		}
		for _, n := range c.Notices {
			raised[n.Code] = true
			if shown := inches().doubtText(n); storedUnit.MatchString(shown) {
				t.Errorf("%s: %q is shown as %q", n.Code, n.Message, shown)
			}
		}
	}
	for _, code := range []string{
		inventory.CodeTemperatureOdd, inventory.CodeBasisUnknown, inventory.CodeMeterBackward, intake.CodeReadAgain, intake.CodeOtherReplaced,
		intake.CodeLongAgo, intake.CodeBurnUnusual, intake.CodeStockRose, intake.CodeStockFell,
	} {
		if !raised[code] {
			t.Errorf("no round here raises %q", code)
		}
	}
}
