package main

import (
	"bytes"
	"errors"
	"fmt"

	"overwinter/internal/fault"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// observed is the basis of a density that was measured in the row's own conditions.
const observed = "observed"

// fuel is what a row says of a fuel, and its correction to both bases.
type fuel struct {
	density                 float64
	product, basis, edition string
	to15, to60              tanks.Corrector
}

// figures are what is added to a row.
type figures struct {
	edition                      tanks.Edition
	vcf15, density15, ctl60, cpl float64
	class                        tanks.Class
}

// correct gives the figures of a row, or the column that is wrong.
func (k *correction) correct(fields [][]byte) (figures, *fault.Field) {
	t, problem := k.temperature(fields)
	if problem != nil {
		return figures{}, problem
	}
	gauge := 0.0
	if text := field(fields, k.columns.pressure); len(text) > 0 {
		if gauge, problem = number("pressure_kpa", text); problem != nil {
			return figures{}, problem
		}
	}
	if problem := k.prepare(fields, t, units.KiloPascals(gauge)); problem != nil {
		return figures{}, problem
	}
	f := &k.fuel
	vcf15, err1 := f.to15.VCF(t)
	ctl60, err2 := f.to60.VCF(t)
	cpl, err3 := f.to15.CPL(t, units.KiloPascals(gauge))
	if err := errors.Join(err1, err2, err3); err != nil {
		return figures{}, k.blame(err, fields)
	}
	return figures{
		edition: f.to15.Procedure().Edition, vcf15: vcf15, density15: float64(f.to15.Density15()),
		ctl60: ctl60, cpl: cpl, class: f.to15.Class(),
	}, nil
}

// prepare makes the correction of the row's fuel, unless the row before had the same at a base.
func (k *correction) prepare(fields [][]byte, t units.Celsius, gauge units.KiloPascals) *fault.Field {
	density, problem := number("density_kgm3", field(fields, k.columns.density))
	if problem != nil {
		return problem
	}
	product, basis, edition := field(fields, k.columns.product), field(fields, k.columns.basis), field(fields, k.columns.edition)
	f := &k.fuel
	if density == f.density && string(basis) == f.basis && f.basis != observed && f.basis != "" && string(product) == f.product && string(edition) == f.edition {
		return nil
	}
	f.density, f.product, f.basis, f.edition = density, again(product, f.product), again(basis, f.basis), again(edition, f.edition)
	p, problem := k.procedure(f)
	if problem != nil {
		return problem
	}
	var err error
	if f.basis == observed {
		f.to15, err = p.Observed(units.KgPerM3(density), t, gauge)
	} else {
		f.to15, err = p.AtBase(units.KgPerM3(density))
	}
	if err == nil {
		f.to60, err = f.to15.At(tanks.Base60F)
	}
	if err == nil && p.Base != tanks.Base15C {
		f.to15, err = f.to15.At(tanks.Base15C)
	}
	if err != nil {
		return k.blame(err, fields)
	}
	return nil
}

// procedure gives the rules that a row asks for.
func (k *correction) procedure(f *fuel) (tanks.Procedure, *fault.Field) {
	p := tanks.Procedure{Edition: tanks.Edition(f.edition), Group: tanks.Group(f.product), Rounded: k.round}
	switch p.Group {
	case "", tanks.Refined, tanks.Crude, tanks.Lubricant:
	default:
		return p, unlike("product_class", f.product, "crude, refined or lubricant, or a blank for refined")
	}
	switch p.Edition {
	case "", tanks.Edition2004, tanks.Edition1980:
	default:
		return p, unlike("edition", f.edition, "2004 or 1980, or a blank for 2004")
	}
	switch f.basis {
	case observed:
		p.Base = tanks.Base15C
		p.Hydrometer = p.Edition == tanks.Edition1980 && !k.densitometer
	case "15C", "20C", "60F":
		p.Base = tanks.Base(f.basis)
	default:
		return p, unlike("density_basis", f.basis, "observed, 15C, 20C or 60F")
	}
	return p, nil
}

// temperature reads the temperature of a row.
func (k *correction) temperature(fields [][]byte) (units.Celsius, *fault.Field) {
	if k.columns.celsius != absent {
		c, problem := number("temperature_c", field(fields, k.columns.celsius))
		return units.Celsius(c), problem
	}
	text := field(fields, k.columns.fahrenheit)
	f, problem := number("temperature_f", text)
	if problem == nil && !(f >= -58 && f <= 302) {
		return 0, &fault.Field{Where: "temperature_f", Message: fmt.Sprintf(
			"%s °F is outside the range of the volume correction: expected -58 to 302 °F", quote(text))}
	}
	return units.Fahrenheit(f), problem
}

// blame turns a refusal of the volume correction into one of a column.
func (k *correction) blame(err error, fields [][]byte) *fault.Field {
	var refused *fault.Error
	if !errors.As(err, &refused) || len(refused.Fields) == 0 {
		return &fault.Field{Message: "the row cannot be corrected: " + err.Error()}
	}
	first := refused.Fields[0]
	column := map[string]string{"density": "density_kgm3", "pressure": "pressure_kpa", "temperature": "temperature_c"}[first.Where]
	message := first.Message
	if first.Where == "density" {
		if p := field(fields, k.columns.product); len(p) > 0 {
			message += " for " + string(p)
		}
	}
	return &fault.Field{Where: column, Message: message}
}

// again gives the text of a field, without a new copy where the row before had the same.
func again(field []byte, before string) string {
	if string(field) == before {
		return before
	}
	return string(field)
}

// field gives a field without the blanks around it, empty where the file lacks its column.
func field(fields [][]byte, position int) []byte {
	if position == absent {
		return nil
	}
	return bytes.TrimSpace(fields[position])
}

// unlike is the problem of a field that is none of what it may be.
func unlike(column, found, what string) *fault.Field {
	if found == "" {
		return &fault.Field{Where: column, Message: "blank: expected " + what}
	}
	return &fault.Field{Where: column, Message: quote([]byte(found)) + ": expected " + what}
}
