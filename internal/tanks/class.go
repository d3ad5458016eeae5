package tanks

// Class is a density class of refined products. The class of a fuel follows from its density and not
// from its name: a light diesel belongs to the jet class.
type Class string

// The classes of API MPMS 11.1-2004, heaviest first.
const (
	FuelOil    Class = "fuel oil" // diesel, heating oil, residual fuel
	Jet        Class = "jet"      // jet fuel, kerosene, light diesel
	Transition Class = "transition"
	Gasoline   Class = "gasoline"
)

// band is one class: the densities at 60 °F it begins at, and its coefficients.
type band struct {
	class  Class
	from60 float64
	coefficients
}

// bands of refined products by density at 60 °F, heaviest first; the classes end at heaviest60.
// Source: API MPMS 11.1-2004, coefficients as carried by public implementations of it and by the test
// data of the open library m2b/API11_1VCF.
var bands = [...]band{
	{FuelOil, 838.3127, coefficients{103.8720, 0.2701, 0}},
	{Jet, 787.5195, coefficients{330.3010, 0, 0}},
	{Transition, 770.3520, coefficients{1489.0670, 0, -0.00186840}},
	{Gasoline, lightest60, coefficients{192.4571, 0.2438, 0}},
}

// The densities at 60 °F, in kg/m³, which the standard covers.
const (
	lightest60 = 610.6
	heaviest60 = 1163.5
)

// bandOf gives the class of a density at 60 °F; what lies below the lightest goes with it.
func bandOf(density60 float64) band {
	for _, b := range bands {
		if density60 >= b.from60 {
			return b
		}
	}
	return bands[len(bands)-1]
}
