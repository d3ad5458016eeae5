package web

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// scales are the units in which the plant's people read and write.
type scales struct{ volume, depth, temperature units.Scale }

// scalesOf gives the units that a plant asks for, the stored ones where it asks for none.
func scalesOf(d inventory.Display) scales {
	in := func(d units.Dimension, name string) units.Scale {
		if scale, err := d.Scale(name); err == nil {
			return scale
		}
		return d.Scales[0]
	}
	return scales{in(units.Volume, d.Volume), in(units.Length, d.Depth), in(units.Temperature, d.Temperature)}
}

// amountForm is a number, or two as the ends of a range, with a stored unit behind, as the ledger's
// checks and the doubts of a report write it: thousands set apart or not, very large ones by their power
// of ten.
var amountForm = regexp.MustCompile(`(?:(` + numberForm + `) to )?(` + numberForm + `)[ \x{00a0}\x{202f}](` +
	units.Length.Scales[0].Label + `|` + units.Volume.Scales[0].Label + `|` + units.Temperature.Scales[0].Label + `)\b`)

const numberForm = `\bNaN|[-+]?\bInf|[-−]?\b\d+(?:[ \x{202f}]\d{3})*(?:\.\d+)?(?:e[-+]?\d+)?`

// inUnits puts the amounts of a message into the units that the plant's people write: who types inches is
// told inches.
func (s scales) inUnits(message string) string {
	return amountForm.ReplaceAllStringFunc(message, func(found string) string {
		part := amountForm.FindStringSubmatch(found)
		scale := s.of(part[3])
		if scale.Label == part[3] {
			return found
		}
		text := converted(scale, part[2]) + joint + scale.Label
		if part[1] != "" {
			text = converted(scale, part[1]) + " to " + text
		}
		return text
	})
}

// of gives the unit that stands for a stored one.
func (s scales) of(stored string) units.Scale {
	switch stored {
	case units.Length.Scales[0].Label:
		return s.depth
	case units.Volume.Scales[0].Label:
		return s.volume
	}
	return s.temperature
}

func converted(scale units.Scale, amount string) string {
	plain := strings.NewReplacer(" ", "", thin, "", "−", "-").Replace(amount)
	stored, err := strconv.ParseFloat(plain, 64)
	if err != nil || math.IsNaN(stored) || math.IsInf(stored, 0) {
		return amount
	}
	return read(scale, stored)
}
