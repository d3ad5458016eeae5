package web

import (
	"regexp"
	"strconv"
	"strings"

	"overwinter/internal/units"
)

// amountForm is a number, or two as the ends of a range, with a stored unit behind, as the ledger's
// checks write it.
var amountForm = regexp.MustCompile(`(?:([-−]?` + digitsForm + `) to )?([-−]?` + digitsForm + `)[ \x{00a0}](mm|L|°C)`)

const digitsForm = `\d+(?:[ \x{202f}]\d{3})*(?:\.\d+)?`

// inUnits puts the amounts of a message into the units that the plant's people write: who types inches is
// told inches.
func (s scales) inUnits(message string) string {
	by := map[string]units.Scale{"mm": s.depth, "L": s.volume, "°C": s.temperature}
	return amountForm.ReplaceAllStringFunc(message, func(found string) string {
		part := amountForm.FindStringSubmatch(found)
		scale := by[part[3]]
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

func converted(scale units.Scale, amount string) string {
	plain := strings.NewReplacer(" ", "", "\u202f", "", "−", "-").Replace(amount)
	stored, err := strconv.ParseFloat(plain, 64)
	if err != nil {
		return amount
	}
	return read(scale, stored)
}
