package tanks

import (
	"math"

	"overwinter/internal/units"
)

// Material is what the shell of a tank is made of.
type Material string

// The materials whose expansion is known. Per °F and per °C: mild steel 6.20e-6 and 11.16e-6 (surveyors' handbooks,
// online.flippingbook.com/view/520915846, pp. 80-81); stainless steel 304 9.60e-6 and 17.3e-6, 316 8.83e-6 and 15.9e-6,
// aluminium 13.0e-6 and 23.4e-6 (API MPMS 12.1.1, from memory).
const (
	MildSteel    Material = "mild steel"
	Stainless304 Material = "stainless steel 304"
	Stainless316 Material = "stainless steel 316"
	Aluminium    Material = "aluminium"
)

// expansion gives the linear expansion of a material per degree.
func (m Material) expansion(fahrenheit bool) (perDegree float64, known bool) {
	var perF, perC float64
	switch m {
	case MildSteel:
		perF, perC = 6.20e-6, 11.16e-6
	case Stainless304:
		perF, perC = 9.60e-6, 17.3e-6
	case Stainless316:
		perF, perC = 8.83e-6, 15.9e-6
	case Aluminium:
		perF, perC = 13.0e-6, 23.4e-6
	default:
		return 0, false
	}
	if fahrenheit {
		return perF, true
	}
	return perC, true
}

// Shell says of an upright cylindrical metal tank how its shell widens as it warms above the temperature for which
// its table holds. The zero Shell asks for no correction, which is the default: a bare steel tank in the cold
// holds less than 0.1 % less than its table says (computed).
type Shell struct {
	Material  Material `json:"material"`  // blank: no correction
	Insulated bool     `json:"insulated"` // then the shell is as warm as the liquid
	// Reference is the temperature for which the table of the tank holds; blank is 15 °C. At 60 °F the correction is
	// made in °F, with the coefficient per °F.
	Reference Base `json:"reference"`
}

// Temperature is that of the shell: (7·liquid + air)/8 to the nearest whole degree, halves away from zero; of an
// insulated tank that of the liquid as it is. Source: API MPMS 12.1.1, as quoted in surveyors' handbooks
// (online.flippingbook.com/view/230683251/64). It refuses a liquid outside −50 to 150 °C, and for a bare
// tank an air temperature that is missing or outside −90 to 60 °C.
func (s Shell) Temperature(liquid units.Celsius, air *units.Celsius) (units.Celsius, error) {
	if err := checkTemperature(liquid); err != nil {
		return 0, err
	}
	if s.Insulated {
		return liquid, nil
	}
	if air == nil {
		return 0, invalid(noShell, "air", "no temperature was given: the bare shell of a tank is warmed by the air round it too; give that, or leave the correction out")
	}
	if !(*air >= -90 && *air <= 60) {
		return 0, invalid(noShell, "air", "%s °C: expected -90 to 60 °C", plain(*air))
	}
	mean := nearest(s.degrees((7*liquid+*air)/8), 1e6) // without the dust that a change of unit leaves on a half
	return s.celsius(math.Round(mean)), nil
}

// Factor is the correction for the temperature of the shell: true over tabled volume, 1 + 2·α·ΔT + α²·ΔT². Source and
// refusals as for [Shell.Temperature]; it refuses a material and a reference that there is not. The zero Shell has 1.
func (s Shell) Factor(liquid units.Celsius, air *units.Celsius) (float64, error) {
	if s == (Shell{}) {
		return 1, nil
	}
	if err := s.check(); err != nil {
		return 0, err
	}
	t, err := s.Temperature(liquid, air)
	if err != nil {
		return 0, err
	}
	alpha, _ := s.Material.expansion(s.fahrenheit())
	widening := alpha * (s.degrees(t) - s.degrees(s.Reference.Temperature()))
	return 1 + widening*(2+widening), nil
}

const noShell = "the shell cannot be corrected for"

func (s Shell) check() error {
	if _, known := s.Material.expansion(false); !known {
		return invalid(noShell, "material", "%q is not known: expected %s, %s, %s or %s", string(s.Material),
			MildSteel, Stainless304, Stainless316, Aluminium)
	}
	if s.Reference != "" && s.Reference != Base15C && s.Reference != Base20C && s.Reference != Base60F {
		return invalid(noShell, "reference", "%q is no temperature of a table: expected 15C, 20C or 60F", string(s.Reference))
	}
	return nil
}

func (s Shell) fahrenheit() bool { return s.Reference == Base60F }

// degrees and celsius turn a temperature into the unit of the table and back.
func (s Shell) degrees(t units.Celsius) float64 {
	if s.fahrenheit() {
		return scaleF.degrees(float64(t))
	}
	return float64(t)
}

func (s Shell) celsius(degrees float64) units.Celsius {
	if s.fahrenheit() {
		return units.Fahrenheit(degrees)
	}
	return units.Celsius(degrees)
}

// checkUpright refuses the correction where it does not hold: API MPMS 12.1.1 leaves lying, spherical and square tanks
// out, as surveyors' handbooks quote it. Of a table nothing shows how the tank stands; who asks for the correction
// says that it is upright.
func checkUpright(s Shape) error {
	if upright(s) {
		return nil
	}
	return invalid(noShell, "shell", "this is not known to be an upright cylinder, for which alone the correction holds: "+
		"give the tank as a standing cylinder or by its capacity table, or leave the shell out")
}

func upright(s Shape) bool {
	switch s := s.(type) {
	case fitted:
		return upright(s.bare)
	case risingTable:
		return Rise(s.power) != RiseLying
	case prism:
		return s.round
	case standing, table:
		return true
	}
	return false
}
