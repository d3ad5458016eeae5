package tanks

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

// Surveyors' handbooks, online.flippingbook.com/view/520915846, pp. 80-81, and 230683251/64: liquid at 135 °F in air of 80 °F
// gives a shell of 128 °F, in air of 88 °F one of 129 °F, for which the printed table has 1.00086.
func TestTheShellIsAsWarmAsTheHandbookSays(t *testing.T) {
	steel := Shell{Material: MildSteel, Reference: Base60F}
	for _, tt := range []struct{ liquid, air, shell, factor, digits float64 }{
		{135, 80, 128, 1.0008434, 5e-8}, // the factor is computed
		{135, 88, 129, 1.00086, 5e-6},
	} {
		liquid, air := units.Fahrenheit(tt.liquid), units.Fahrenheit(tt.air)
		got, err := steel.Temperature(liquid, &air)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "shell in °F", scaleF.degrees(float64(got)), tt.shell, 1e-9)
		near(t, "factor", figure(t)(steel.Factor(liquid, &air)), tt.factor, tt.digits)
	}
}

// Computed with a separate implementation, in °C, mild steel, reference 15 °C.
func TestAColdShellHoldsALittleLess(t *testing.T) {
	steel := Shell{Material: MildSteel}
	for _, tt := range []struct{ liquid, air, shell, factor float64 }{
		{-20, -40, -23, 0.999152}, // −22.5 rounds away from zero
		{5, -30, 1, 0.999688},
		{25, 30, 26, 1.000246},
		{15, 15, 15, 1},
	} {
		liquid, air := units.Celsius(tt.liquid), units.Celsius(tt.air)
		got, err := steel.Temperature(liquid, &air)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "shell in °C", float64(got), tt.shell, 0)
		near(t, "factor", figure(t)(steel.Factor(liquid, &air)), tt.factor, 5e-7)
	}
}

func TestAnInsulatedShellIsAsWarmAsItsLiquid(t *testing.T) {
	s := Shell{Material: Stainless304, Insulated: true}
	got, err := s.Temperature(37.3, nil)
	if err != nil || got != 37.3 {
		t.Errorf("%v °C, %v", got, err)
	}
	near(t, "factor", figure(t)(s.Factor(37.3, nil)), math.Pow(1+17.3e-6*22.3, 2), 1e-15)
	near(t, "no shell", figure(t)(Shell{}.Factor(37.3, nil)), 1, 0)
}

// The coefficients per °F and per °C of one material are one, as far as they are printed.
func TestAMaterialExpandsAlikeInBothUnits(t *testing.T) {
	for _, m := range []Material{MildSteel, Stainless304, Stainless316, Aluminium} {
		perF, _ := m.expansion(true)
		perC, _ := m.expansion(false)
		near(t, string(m), perC, 1.8*perF, 0.05e-6)
	}
}

func TestTheShellCorrectionChangesTheGrossObservedAlone(t *testing.T) {
	tank := Tank{Shape: shape(t)(StandingCylinder(Standing{Diameter: 10000, Height: 8000})), SafeFill: 500e3}
	r := Reading{
		Depth: new(units.Millimetres(5000)), Water: new(units.Millimetres(100)), Temperature: new(units.Celsius(-20)), Air: new(units.Celsius(-40)),
	}
	by := accounting(t, Procedure{}, 840)
	bare := quantity(t, tank, r, by)
	by.Shell = Shell{Material: MildSteel}
	cold := quantity(t, tank, r, by)
	near(t, "gross observed", float64(cold.GrossObserved/bare.GrossObserved), 0.999152, 5e-7)
	near(t, "gross standard", float64(cold.GrossStandard/bare.GrossStandard), 0.999152, 5e-7)
	near(t, "water", float64(cold.FreeWater), float64(bare.FreeWater), 0)
	near(t, "shell", float64(*cold.Basis.ShellTemperature), -23, 0)
	near(t, "factor", cold.Basis.ShellFactor, 0.999152, 5e-7)
}

func TestAShellThatCannotBeIsRefused(t *testing.T) {
	air := func(t float64) *units.Celsius { return new(units.Celsius(t)) }
	for _, tt := range []struct {
		shell  Shell
		liquid units.Celsius
		air    *units.Celsius
		says   string
	}{
		{Shell{Insulated: true}, 5, nil, `material: "" is not known`},
		{Shell{Material: "wood"}, 5, air(5), `material: "wood" is not known: expected mild steel`},
		{Shell{Material: MildSteel, Reference: "70F"}, 5, air(5), `reference: "70F"`},
		{Shell{Material: MildSteel}, 5, nil, "air: no temperature was given"},
		{Shell{Material: MildSteel}, 5, air(61), "air: 61 °C: expected -90 to 60 °C"},
		{Shell{Material: MildSteel}, 5, air(math.NaN()), "air: NaN °C"},
		{Shell{Material: MildSteel}, 151, air(5), "temperature: 151 °C"},
	} {
		_, err := tt.shell.Factor(tt.liquid, tt.air)
		wantInvalid(t, err, tt.says)
	}
}

func TestOnlyUprightCylindersAreCorrectedForTheirShell(t *testing.T) {
	rows := []Point{{100, 1000}, {2000, 20000}}
	standing := shape(t)(StandingCylinder(Standing{Diameter: 2000, Height: 2000}))
	withWood := shape(t)(WithDeadwood(standing, Deadwood{From: 0, To: 100, Adds: -5}))
	for name, s := range map[string]Shape{
		"standing": standing, "plain": shape(t)(VerticalCylinder(2000, 2000)), "deadwood": withWood, "table": shape(t)(CapacityTable(rows)),
		"table with a cone": shape(t)(CapacityTableRising(rows, RiseCone)),
	} {
		if err := checkUpright(s); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, s := range map[string]Shape{
		"lying": shape(t)(HorizontalCylinder(2000, 5000)), "box": shape(t)(Rectangular(2000, 1000, 1000)),
		"capacity only": shape(t)(VolumeOnly(1000)), "table of a lying tank": shape(t)(CapacityTableRising(rows, RiseLying)),
		"sloping with heads": shape(t)(LyingCylinder(Lying{Diameter: 2000, Length: 5000, Left: TwoToOneHead(), Right: TwoToOneHead()})),
	} {
		if checkUpright(s) == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

func TestAWarmerShellIsWider(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Shell{
			Material:  rapid.SampledFrom([]Material{MildSteel, Stainless304, Stainless316, Aluminium}).Draw(t, "material"),
			Reference: rapid.SampledFrom([]Base{"", Base15C, Base20C, Base60F}).Draw(t, "reference"),
			Insulated: rapid.Bool().Draw(t, "insulated"),
		}
		liquid := units.Celsius(rapid.Float64Range(-50, 140).Draw(t, "liquid"))
		air := units.Celsius(rapid.Float64Range(-90, 60).Draw(t, "air"))
		cool, err1 := s.Factor(liquid, &air)
		warm, err2 := s.Factor(liquid+10, &air)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if !(warm > cool && math.Abs(cool-1) < 0.008) {
			t.Fatalf("%v, 10 °C warmer %v", cool, warm)
		}
	})
}
