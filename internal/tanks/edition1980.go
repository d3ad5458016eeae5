package tanks

// The laws of the tables of 1980 (API Standard 2540, ASTM D1250-80, IP 200/80), on the temperature scale
// of 1968 as if it were that of today. Tables 53 and 54 work from 15 °C per °C, tables 5, 6, 23 and 24
// from 60 °F per °F; tables 59 and 60, to 20 °C, go through 15 °C (from memory).
//
// The equations and the coefficients of the B tables are those that many unrelated public programs carry. They
// are proved by every printed value there is to hold them against: the volume correction tables of
// Measurement Canada (392 values), the look-ups of the US Army, and those in worked examples. Where programs
// carry K1 as 0.43884 and 0.48618 instead, Measurement Canada's tables tell: 0.4388 is right. The A
// and D coefficients are those that Russia's R 50.2.076-2010 and public programs carry, the D ones without a
// printed value to prove them.
//
// The printed tables to 15 °C are entered in steps of 0.5 kg/m³, and their classes end at 770.0, 787.5 and 838.5
// (from memory; to 60 °F as in 2004). For densities between two steps the bounds lie where the
// coefficients meet or come nearest. Ranges of density are from memory, drawn so that what a table to 15 °C takes
// the one to 60 °F takes too.
var (
	refined1980C = &law{scale: scaleC, heaviest: 1075.5, bands: []band{
		{FuelOil, 838.51, coefficients{186.9696, 0.4862, 0}},
		{Jet, 787.52, coefficients{594.5418, 0, 0}},
		{Transition, 770.36, coefficients{2680.3206, 0, -0.00336312}},
		{Gasoline, 653, coefficients{346.4228, 0.4388, 0}},
	}}
	crude1980C     = &law{scale: scaleC, heaviest: 1075.5, bands: []band{{crudeClass, 610.5, coefficients{613.9723, 0, 0}}}}
	lubricant1980C = &law{scale: scaleC, heaviest: 1164, bands: []band{{lubricantClass, 800, coefficients{0, 0.6278, 0}}}}

	refined1980F = &law{scale: scaleF, heaviest: 1075.1, bands: []band{
		{FuelOil, 838.3127, coefficients{103.8720, 0.2701, 0}},
		{Jet, 787.5195, coefficients{330.3010, 0, 0}},
		{Transition, 770.3520, coefficients{1489.0670, 0, -0.00186840}},
		{Gasoline, 652.4, coefficients{192.4571, 0.2438, 0}},
	}}
	crude1980F     = &law{scale: scaleF, heaviest: 1075.1, bands: []band{{crudeClass, 609.9, coefficients{341.0957, 0, 0}}}}
	lubricant1980F = &law{scale: scaleF, heaviest: heaviest60, bands: []band{{lubricantClass, 799.6, coefficients{0, 0.34878, 0}}}}
)
