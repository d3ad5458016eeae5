package scenario

import (
	"fmt"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// balanceLines are the lines of a balance by the words of the scripts.
var balanceLines = map[string]func(inventory.Balance) units.LitresAt15{
	"opening":   func(b inventory.Balance) units.LitresAt15 { return b.Opening },
	"received":  func(b inventory.Balance) units.LitresAt15 { return b.Received },
	"burned":    func(b inventory.Balance) units.LitresAt15 { return b.Consumed },
	"drawn":     func(b inventory.Balance) units.LitresAt15 { return b.Drawn },
	"corrected": func(b inventory.Balance) units.LitresAt15 { return b.Corrected },
	"changed":   func(b inventory.Balance) units.LitresAt15 { return b.Changed },
	"idle":      func(b inventory.Balance) units.LitresAt15 { return b.OutOfService },
	"book":      func(b inventory.Balance) units.LitresAt15 { return b.Book },
	"physical":  func(b inventory.Balance) units.LitresAt15 { return b.Physical },
	"variance":  func(b inventory.Balance) units.LitresAt15 { return b.Variance },
	"remaining": func(b inventory.Balance) units.LitresAt15 { return b.Remaining },
}

// balance reads "variance of jet-a1 MOMENT to MOMENT: FIGURE", or "unknown", of a line of the balance between two counts;
// nothing where the line is about no balance.
func (l *line) balance(about string) []expectation {
	of, known := balanceLines[l.head[0]]
	if !known {
		return nil
	}
	name := l.word()
	product := inventory.Product("")
	if l.next("of") {
		product = inventory.Product(l.word())
	}
	when := l.span()
	reckon := func(b *books) (inventory.Balance, string) {
		bal, err := b.balance(product, when)
		switch {
		case err != nil:
			return bal, err.Error()
		case !bal.From.Equal(when.from) || !bal.To.Equal(when.to):
			return bal, fmt.Sprintf("there is no count at one of these moments: %v to %v (%s)", bal.From, bal.To, bal.Why)
		}
		return bal, ""
	}
	if name == "variance" && l.flag("unknown") {
		return []expectation{{l.number, about, nil, func(b *books) string {
			bal, amiss := reckon(b)
			return amiss + unless(!bal.Known, "the variance is known: %.3f L", bal.Variance)
		}}}
	}
	return l.pair(about, func(b *books) (v, sigma float64, amiss string) {
		bal, amiss := reckon(b)
		if amiss == "" && name == "variance" && !bal.Known {
			amiss = "there is no variance: " + bal.Why
		}
		return float64(of(bal)), float64(bal.Sigma), amiss
	})
}

// balance is that of the plant's own product where none is named.
func (b *books) balance(product inventory.Product, when span) (inventory.Balance, error) {
	book, err := b.Book, error(nil)
	if product != "" {
		book, err = b.another(product)
	}
	if err != nil {
		return inventory.Balance{}, err
	}
	bal, _ := book.Balance(when.from, when.to)
	return bal, nil
}
