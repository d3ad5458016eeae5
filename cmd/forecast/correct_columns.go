package main

import (
	"slices"
	"strings"

	"overwinter/internal/fault"
)

// The columns that are read, and those that are added.
var (
	columnsRead  = []string{"product_class", "density_kgm3", "density_basis", "temperature_c", "temperature_f", "pressure_kpa", "edition"}
	columnsAdded = []string{"vcf15", "density15_kgm3", "ctl60", "cpl", "class"}
)

// absent is the position of a column that the file lacks.
const absent = -1

// columns says where the columns stand in the file.
type columns struct {
	product, density, basis, celsius, fahrenheit, pressure, edition int
	width                                                           int
}

// findColumns resolves the header line; what is wrong with it is given by column.
func findColumns(names []string) (columns, []fault.Field) {
	at := map[string]int{}
	var found []fault.Field
	problem := func(where, message string) {
		found = append(found, fault.Field{Where: where, Message: message})
	}
	for i, name := range names {
		known := slices.Contains(columnsRead, name)
		if _, twice := at[name]; twice && known {
			problem(name, "the column stands twice: keep one")
		}
		if slices.Contains(columnsAdded, name) {
			problem(name, "the command writes a column of this name: rename this one or take it out")
		}
		at[name] = i
	}
	for _, name := range names {
		if meant := resembled(name, at); meant != "" {
			problem(name, "no column of this command: did you mean "+meant+"? If it is a column of your own, rename it")
		}
	}
	position := func(name string) int {
		if i, ok := at[name]; ok {
			return i
		}
		return absent
	}
	c := columns{
		product: position("product_class"), density: position("density_kgm3"), basis: position("density_basis"),
		celsius: position("temperature_c"), fahrenheit: position("temperature_f"),
		pressure: position("pressure_kpa"), edition: position("edition"), width: len(names),
	}
	if c.density == absent {
		problem("density_kgm3", "the column is missing: every row needs a density in kg/m³")
	}
	if c.basis == absent {
		problem("density_basis", "the column is missing: every row says where its density holds, observed, 15C, 20C or 60F")
	}
	switch {
	case c.celsius == absent && c.fahrenheit == absent:
		problem("temperature_c", "the column is missing: every row needs the temperature of the volume in temperature_c or temperature_f")
	case c.celsius != absent && c.fahrenheit != absent:
		problem("temperature_f", "the temperature stands in two columns, temperature_c and temperature_f: keep one")
	}
	return c, found
}

// resembled gives the optional column that a strange one looks like, where the file lacks it: pressure_psi
// would otherwise be passed over, and the pressure with it.
func resembled(name string, at map[string]int) string {
	if slices.Contains(columnsRead, name) {
		return ""
	}
	for _, optional := range []string{"product_class", "pressure_kpa", "edition"} {
		if _, there := at[optional]; !there && len(name) >= 4 && strings.EqualFold(name[:4], optional[:4]) {
			return optional
		}
	}
	return ""
}
