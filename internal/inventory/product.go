package inventory

import (
	"maps"
	"slices"

	"overwinter/internal/units"
)

// Product is a fuel grade by its code. A grade is never free text: "diesel" means different fuels to
// different people, and an engine may not run on what another calls diesel.
type Product string

// grade is a product's specification and the density to reckon with where a plant states none.
type grade struct {
	Specification string
	Density15     units.KgPerM3
}

// The densities are typical values from memory, inside the range of the specification; a plant that
// knows its fuel states its own.
var grades = map[Product]grade{
	"diesel-1-s15":  {"ASTM D975 No. 1-D S15", 815},
	"diesel-2-s15":  {"ASTM D975 No. 2-D S15", 845},
	"diesel-en590":  {"EN 590", 835},
	"diesel-arctic": {"EN 590 arctic class or CAN/CGSB-3.517 Type A", 820},
	"jet-a1":        {"ASTM D1655 Jet A-1", 804},
}

// Products lists the known product codes in order.
func Products() []Product { return slices.Sorted(maps.Keys(grades)) }

// Known tells whether the code is one of Products.
func (p Product) Known() bool {
	_, ok := grades[p]
	return ok
}

// Specification names the standard that the grade follows.
func (p Product) Specification() string { return grades[p].Specification }

// Density gives the grade's usual density at 15 °C, 0 for an unknown code.
func (p Product) Density() units.KgPerM3 { return grades[p].Density15 }
