package tanks

// Class is the density class whose coefficients are used. For refined products it follows from the
// density and not from the name: a light diesel belongs to the jet class.
type Class string

// The classes of refined products, heaviest first, and the groups that are a class of their own. In the
// edition of 2004 the bounds lie at 838.3127, 787.5195 and 770.3520 kg/m³ at 60 °F, which is 838.7068,
// 787.9390 and 770.8457 kg/m³ at 15 °C (computed).
const (
	FuelOil    Class = "fuel oil" // diesel, heating oil, residual fuel
	Jet        Class = "jet"      // jet fuel, kerosene, light diesel
	Transition Class = "transition"
	Gasoline   Class = "gasoline"

	crudeClass     Class = "crude"
	lubricantClass Class = "lubricant"
	specialClass   Class = "special"
)

// band is one class: the densities at the own base of the equations it begins at, and its coefficients.
type band struct {
	class Class
	from  float64
	coefficients
}

// law is what an edition says of one group at the base of its own equations.
type law struct {
	scale    scale
	bands    []band // heaviest first
	heaviest float64
}

// lightest is the density that the law begins at.
func (l *law) lightest() float64 { return l.bands[len(l.bands)-1].from }

// bandOf gives the class of a density at the own base; what lies below the lightest goes with it.
func (l *law) bandOf(density float64) *band {
	for i := range l.bands {
		if density >= l.bands[i].from {
			return &l.bands[i]
		}
	}
	return &l.bands[len(l.bands)-1]
}

// The laws of API MPMS 11.1-2004: densities in kg/m³ at 60 °F, expansion per °F. Source of bounds and
// coefficients: public implementations of the standard, which agree, and the test data of the open library
// m2b/API11_1VCF.
var (
	refined2004 = &law{scale: scale68F, heaviest: heaviest60, bands: []band{
		{FuelOil, 838.3127, coefficients{103.8720, 0.2701, 0}},
		{Jet, 787.5195, coefficients{330.3010, 0, 0}},
		{Transition, 770.3520, coefficients{1489.0670, 0, -0.00186840}},
		{Gasoline, lightest60, coefficients{192.4571, 0.2438, 0}},
	}}
	crude2004     = &law{scale: scale68F, heaviest: heaviest60, bands: []band{{crudeClass, lightest60, coefficients{341.0957, 0, 0}}}}
	lubricant2004 = &law{scale: scale68F, heaviest: heaviest60, bands: []band{{lubricantClass, 800.9, coefficients{0, 0.34878, 0}}}}
)

// The densities at 60 °F, in kg/m³, which the edition of 2004 covers.
const (
	lightest60 = 610.6
	heaviest60 = 1163.5
)

// law chooses the equations of a procedure that has passed its check.
func (p *Procedure) law() *law {
	switch {
	case p.Group == Special:
		return p.specialLaw()
	case p.Edition == Edition1980 && p.Base == Base60F:
		return byGroup(p.Group, refined1980F, crude1980F, lubricant1980F)
	case p.Edition == Edition1980:
		return byGroup(p.Group, refined1980C, crude1980C, lubricant1980C)
	}
	return byGroup(p.Group, refined2004, crude2004, lubricant2004)
}

func byGroup(g Group, refined, crude, lubricant *law) *law {
	switch g {
	case Crude:
		return crude
	case Lubricant:
		return lubricant
	}
	return refined
}

// specialLaw has one class, of the same expansion at every density: the equations for the other groups
// become those for special applications once K0 and K1 are zero.
func (p *Procedure) specialLaw() *law {
	l := &law{scale: scale68F, heaviest: heaviest60, bands: []band{{specialClass, lightest60, coefficients{0, 0, p.Alpha60}}}}
	if p.Edition == Edition1980 {
		l.scale = scaleF
	}
	return l
}
