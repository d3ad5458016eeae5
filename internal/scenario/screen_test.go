package scenario

import (
	"slices"

	"overwinter/internal/inventory"
)

// judged reads what is made of a balance or a delivery; nothing where the line is about neither:
//
//	z MOMENT to MOMENT: -3.2 sigma within 0.1
//	screen MOMENT to MOMENT: beyond          (or: kept)
//	difference of DOCUMENT dips less document: -304 L within 5, beyond tolerance
func (l *line) judged() []expectation {
	switch {
	case l.next("z"):
		return l.zScore(l.span())
	case l.next("screen"):
		return l.screen(l.span())
	case l.next("difference", "of"):
		return l.difference(l.word())
	}
	return nil
}

func (l *line) zScore(when span) []expectation {
	value, ok := l.figure("", "sigma")
	if !ok {
		l.fault("a figure is missing")
	}
	return []expectation{{l.number, "z", &value, func(b *books) string {
		bal, _ := b.Balance(when.from, when.to)
		return unless(bal.Known && value.met(bal.Z), "z is %.3f (%s)", bal.Z, bal.Why)
	}}}
}

func (l *line) screen(when span) []expectation {
	beyond, kept := l.flag("beyond"), l.flag("kept")
	if beyond == kept {
		l.fault("expected beyond or kept")
	}
	return []expectation{{l.number, "screen", nil, func(b *books) string {
		bal, _ := b.Balance(when.from, when.to)
		return unless(bal.Screen.Applies && bal.Screen.Beyond == beyond, "the screen: %+v", bal.Screen)
	}}}
}

func (l *line) difference(document string) []expectation {
	of := l.word()
	l.next("less")
	less := l.word()
	beyond := l.flag("beyond tolerance")
	value, ok := l.figure("", "L")
	if !ok {
		l.fault("a figure is missing")
	}
	return []expectation{{l.number, "difference", &value, func(b *books) string {
		receipts, _ := b.Receipts(0)
		for _, r := range receipts {
			i := slices.IndexFunc(r.Differences, func(d inventory.Difference) bool { return d.Of == of && d.Less == less })
			if r.Document == document && i >= 0 {
				d := r.Differences[i]
				return unless(value.met(float64(d.Litres)) && d.Within != beyond, "%s less %s: %+v", of, less, d)
			}
		}
		return "there is no such difference: " + document
	}}}
}
