package tanks

import (
	"fmt"

	"overwinter/internal/units"
)

// Edition is an edition of the petroleum measurement tables (API MPMS 11.1, ASTM D1250, IP 200).
type Edition string

// The editions. The one of 2004 is a procedure for any base, under pressure too; that of 1980 is a set
// of tables, which some local rules still name: the Canadian Weights and Measures Regulations (C.R.C.
// c. 1605, s. 270) name Tables 54A, 54B and 54D. For diesel between −40 and 50 °C the two differ by
// at most 1.7e-5 of the volume (computed).
const (
	Edition2004 Edition = "2004"
	Edition1980 Edition = "1980"
)

// Group is the kind of liquid, which chooses the equations.
type Group string

// The groups of both editions.
const (
	Refined   Group = "refined"   // fuels; their [Class] follows from the density
	Crude     Group = "crude"     // crude oil: the A tables of 1980
	Lubricant Group = "lubricant" // lubricating oil: the D tables of 1980
	Special   Group = "special"   // any liquid whose expansion at 60 °F was measured: the C tables of 1980
)

// Base is the temperature that standard volumes refer to; the pressure is always that of the air.
type Base string

// The bases. 15 °C is exactly 59 °F, 20 °C exactly 68 °F.
const (
	Base15C Base = "15C"
	Base20C Base = "20C"
	Base60F Base = "60F"
)

// Temperature is the base in °C.
func (b Base) Temperature() units.Celsius {
	switch b {
	case Base20C:
		return 20
	case Base60F:
		return units.Fahrenheit(60)
	}
	return 15
}

// Procedure says by which rules volumes are corrected, and so stands as the record beside every figure
// that follows from them. The zero Procedure is what the ledger uses: the edition of 2004, refined
// products, 15 °C, a digital densitometer, no rounding.
//
// Rounded rounds what goes in and what comes out to the steps of the printed tables, halves away from zero:
//
//	                       2004              1980, 15 and 20 °C   1980, 60 °F
//	density observed       0.1 kg/m³         0.5 kg/m³            0.1 °API
//	density for a factor   0.1 kg/m³         0.5 kg/m³            0.5 °API
//	temperature            0.05 °C, 0.1 °F   0.25 °C              0.5 °F
//	gauge pressure         5 kPa, 1 psi      5 kPa                1 psi
//	expansion              –                 1e-7 per °C          1e-7 per °F
//	density at a base      0.1 kg/m³         0.1 kg/m³            0.1 kg/m³
//	factor                 0.00001           0.0001               0.0001
//
// In the edition of 2004 °F and psi hold where the base is 60 °F. Sources: 0.5 °API and 0.5 °F, US Army
// subcourse QM5097; the expansion per °C, tables of Measurement Canada, which come out to the last digit
// with it and not without; 0.25 °C, the publisher's note on the tables of GB/T 1885-1998 (ISO 91-2); four decimals,
// both; all else from memory.
type Procedure struct {
	Edition Edition `json:"edition"` // blank is 2004
	Group   Group   `json:"group"`   // blank is refined
	Base    Base    `json:"base"`    // blank is 15 °C
	// Alpha60 is the expansion per °F at 60 °F, 230e-6 to 930e-6: for [Special], and for nothing else.
	Alpha60 float64 `json:"alpha60,omitzero"`
	// Hydrometer takes off how a soda-lime glass hydrometer itself expands, where a density is observed
	// ([HydrometerFactor]). Tables 53, 5 and 23 of 1980 have it in them; the edition of 2004 has no such
	// correction.
	Hydrometer bool `json:"hydrometer"`
	// Rounded asks for the rounding of the printed tables.
	Rounded bool `json:"rounded"`
}

// String names the rules: "API MPMS 11.1-2004, refined, to 15 °C, unrounded".
func (p Procedure) String() string {
	edition, rounding, glass := "API MPMS 11.1-2004", "unrounded", ""
	if p.Edition == Edition1980 {
		edition = "ASTM D1250-80 Table " + p.table()
	}
	if p.Rounded {
		rounding = "rounded as tables are"
	}
	if p.Hydrometer {
		glass = ", glass hydrometer"
	}
	p = p.filled()
	return fmt.Sprintf("%s, %s, to %s, %s%s", edition, p.Group, p.Base.label(), rounding, glass)
}

// label writes the base as people read it.
func (b Base) label() string {
	switch b {
	case Base20C:
		return "20 °C"
	case Base60F:
		return "60 °F"
	}
	return "15 °C"
}

// table names the factor table of 1980 that a procedure stands for.
func (p Procedure) table() string {
	p = p.filled()
	number := map[Base]string{Base15C: "54", Base20C: "60", Base60F: "6"}[p.Base]
	letter := map[Group]string{Crude: "A", Refined: "B", Special: "C", Lubricant: "D"}[p.Group]
	return number + letter
}

// filled writes out what was left blank.
func (p Procedure) filled() Procedure {
	if p.Edition == "" {
		p.Edition = Edition2004
	}
	if p.Group == "" {
		p.Group = Refined
	}
	if p.Base == "" {
		p.Base = Base15C
	}
	return p
}

// check refuses names that there are not and rules that do not go together.
func (p *Procedure) check() error {
	const what = "the volume correction cannot be made"
	switch {
	case p.Edition != Edition2004 && p.Edition != Edition1980:
		return invalid(what, "edition", "%q is no edition known here: expected 2004 or 1980", p.Edition)
	case p.Group != Refined && p.Group != Crude && p.Group != Lubricant && p.Group != Special:
		return invalid(what, "group", "%q is no group of liquids: expected refined, crude, lubricant or special", p.Group)
	case p.Base != Base15C && p.Base != Base20C && p.Base != Base60F:
		return invalid(what, "base", "%q is no base: expected 15C, 20C or 60F", p.Base)
	case p.Group == Special && !(p.Alpha60 >= leastAlpha60 && p.Alpha60 <= mostAlpha60):
		return invalid(what, "alpha60", "%g per °F is outside the range of the standard: expected %g to %g",
			p.Alpha60, leastAlpha60, mostAlpha60)
	case p.Group != Special && p.Alpha60 != 0:
		return invalid(what, "alpha60", "the expansion of %s follows from the density: leave it out, or choose the group special", p.Group)
	case p.Edition == Edition1980 && p.Group == Special && p.Base != Base60F:
		return invalid(what, "base", "Tables 6C and 24C of 1980 go to 60 °F, and an expansion at 60 °F does not serve for Table 54C: choose the base 60F or the edition 2004")
	case p.Edition == Edition2004 && p.Hydrometer:
		return invalid(what, "hydrometer", "the edition of 2004 has no correction for glass: multiply the reading by the hydrometer factor first, or choose the edition 1980")
	}
	return nil
}

// The expansions per °F at 60 °F that the standard covers for special applications.
const (
	leastAlpha60 = 230e-6
	mostAlpha60  = 930e-6
)
