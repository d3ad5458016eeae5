package inventory

import (
	"math"

	"overwinter/internal/notice"
)

// clearVariance is the z-score from which on the newest variance is told of with the stock, if it is beyond the fixed part of the
// monthly screen as well. Common practice, no source.
const clearVariance = 4

// noteVariance tells of a variance between the newest two counts that no error of the instruments makes. Less than the books say is
// serious while it is the newest that is known.
func (b *Book) noteVariance(notes *notice.List) {
	l := b.ledgerOf()
	if len(l.found) < 2 {
		return
	}
	bal := l.balance(l.found[len(l.found)-2], l.found[len(l.found)-1])
	if !bal.Known || math.Abs(bal.Z) < clearVariance || math.Abs(float64(bal.Variance)) < float64(ScreenFixed) {
		return
	}
	severity, word := notice.Serious, "less"
	if bal.Variance > 0 {
		severity, word = notice.Caution, "more"
	}
	notes.Add(notice.New(severity, "variance-large", b.Plant.ID,
		"from %s to %s the tanks show %.0f L %s than the meters and the movements leave, %.1f times what the instruments may be off: look into it",
		b.day(bal.From), b.day(bal.To), math.Abs(float64(bal.Variance)), word, math.Abs(bal.Z)))
}
