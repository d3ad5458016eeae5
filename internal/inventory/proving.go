package inventory

import (
	"cmp"
	"slices"
	"strings"
	"time"
)

// factor is a meter's factor between two readings: by the last proving, from its moment until the meter is swapped;
// else that of the meter's row. Where it changed in between each counts by its share of the time.
func (b *Book) factor(m *Meter, from, to time.Time) float64 {
	usual := cmp.Or(m.Factor, 1)
	turns := b.factors(m, usual)
	if len(turns) == 0 {
		return usual
	}
	if !to.After(from) {
		return factorAt(turns, usual, to)
	}
	sum, at := 0.0, from
	for _, t := range turns {
		if t.at.After(from) && t.at.Before(to) {
			sum += factorAt(turns, usual, at) * t.at.Sub(at).Hours()
			at = t.at
		}
	}
	return (sum + factorAt(turns, usual, at)*to.Sub(at).Hours()) / to.Sub(from).Hours()
}

type factorFrom struct {
	at     time.Time
	factor float64
}

// factors are the moments from which a meter has another factor, in order.
func (b *Book) factors(m *Meter, usual float64) []factorFrom {
	var proved []*Proving
	for _, p := range b.rows.Provings {
		if p.Meter == m.ID {
			proved = append(proved, p)
		}
	}
	if proved == nil {
		return nil
	}
	slices.SortFunc(proved, func(x, y *Proving) int { return cmp.Or(x.At.Compare(y.At), strings.Compare(x.Key, y.Key)) })
	var turns []factorFrom
	for _, s := range b.swaps[m.ID] {
		turns = append(turns, factorFrom{s.At, usual})
	}
	for _, p := range proved {
		turns = append(turns, factorFrom{p.At, p.Factor})
	}
	slices.SortStableFunc(turns, func(x, y factorFrom) int { return x.at.Compare(y.at) })
	return turns
}

func factorAt(turns []factorFrom, usual float64, at time.Time) float64 {
	for _, t := range turns {
		if t.at.After(at) {
			break
		}
		usual = t.factor
	}
	return usual
}
