package tanks

import (
	"errors"

	"overwinter/internal/fault"
	"overwinter/internal/units"
)

// Change is what was moved into a tank between two gaugings, in litres at 15 °C: all fuel above the water at the
// closing, in reach of the suction or not, less that at the opening. It is negative where fuel went out.
//
// Its uncertainty knows what both gaugings share (GUM, JCGM 100, section 5.2.2). The error of the table lies on both
// volumes, so it acts on the volume moved and not on each stock; so do those of the density and of the shell, as far
// as the fuel was as warm at both. A temperature that was assumed for both is one temperature, and its error acts in the same way:
// between gaugings of different seasons, where that is too kind, give each a temperature of its own. Readings, and
// temperatures that were read, are independent; a gauge that is off by the same at both is taken to be off by chance,
// which errs on the safe side.
//
// It refuses what [Tank.Measure] refuses, and says at which of the two. The estimate of two gaugings of which either was
// made while filling is so marked and must not be used.
func (t Tank) Change(opening, closing Reading, c Corrector, assumed units.Celsius) (Estimate, error) {
	from, err := t.gauge(&opening, &c, assumed)
	if err != nil {
		return Estimate{}, at(Opening, err)
	}
	to, err := t.gauge(&closing, &c, assumed)
	if err != nil {
		return Estimate{}, at(Closing, err)
	}
	return moved(&from, &to, &c, opening.WhileFilling || closing.WhileFilling), nil
}

// moved is the change of all fuel from one gauging to another.
func moved(from, to *gauged, c *Corrector, filling bool) Estimate {
	_, before := from.effects()
	_, after := to.effects()
	b := builder{parts: make([]Part, 0, 2*sources)}
	b.readings(Opening, from, &before, -1)
	b.readings(Closing, to, &after, 1)
	b.table(after[ofTable] - before[ofTable])
	if from.assumed && to.assumed {
		b.temperature(Closing, to, after[ofTemperature]-before[ofTemperature])
	} else {
		b.temperature(Opening, from, -before[ofTemperature])
		b.temperature(Closing, to, after[ofTemperature])
	}
	b.common(c, after[ofDensity]-before[ofDensity], after[ofShell]-before[ofShell])
	litres := at15(to.usable()+to.below(), to.vcf) - at15(from.usable()+from.below(), from.vcf)
	return Estimate{Litres: litres, Sigma: combined(b.parts), Parts: b.parts, WhileFilling: filling}
}

// Sum is the sum of estimates of several tanks: of their stocks, or of their changes. What is common to the tanks, the same
// density, assumed temperature or expansion, adds up with its sign before it is squared; tables and readings
// are each tank's own, and independent. The estimates are of different tanks: two of the same tank share its
// table, and their sum is not this one.
func Sum(estimates ...Estimate) Estimate {
	var sum Estimate
	for _, e := range estimates {
		sum.Litres += e.Litres
		sum.WhileFilling = sum.WhileFilling || e.WhileFilling
		for _, p := range e.Parts {
			if p.Of == "" && !p.Common {
				p.Of = e.Of
			}
			sum.Parts = include(sum.Parts, p)
		}
	}
	sum.Sigma = combined(sum.Parts)
	return sum
}

// include adds a part to a table, into the line of the same quantity where it is common and one is there.
func include(parts []Part, p Part) []Part {
	for i := range parts {
		if q := &parts[i]; p.Common && p.same(q) {
			q.Sensitivity += p.Sensitivity
			q.Contribution += p.Contribution
			return parts
		}
	}
	return append(parts, p)
}

// same tells whether two parts are of the same common quantity.
func (p *Part) same(q *Part) bool {
	return q.Common && p.Source == q.Source && p.Value == q.Value && p.Sigma == q.Sigma
}

// combined is the root of the sum of the squares of independent contributions.
func combined(parts []Part) units.LitresAt15 {
	contributions := make([]units.LitresAt15, 0, 2*sources)
	for i := range parts {
		contributions = append(contributions, parts[i].Contribution)
	}
	return rootSum(contributions...)
}

// at says at which gauging the fields of an error are.
func at(m Moment, err error) error {
	var wrong *fault.Error
	if !errors.As(err, &wrong) {
		return err
	}
	told := *wrong
	told.Fields = nil
	for _, f := range wrong.Fields {
		told.Fields = append(told.Fields, fault.Field{Where: string(m) + ": " + f.Where, Message: f.Message})
	}
	return &told
}
