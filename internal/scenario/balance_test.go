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
	"moved":     func(b inventory.Balance) units.LitresAt15 { return b.Moved },
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
	product, when := l.product(), l.span()
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

// product reads "of PRODUCT" where it stands there.
func (l *line) product() inventory.Product {
	if l.next("of") {
		return inventory.Product(l.word())
	}
	return ""
}

// book is that of the plant's own product where none is named.
func (b *books) book(product inventory.Product) (*inventory.Book, error) {
	if product == "" {
		return b.Book, nil
	}
	return b.another(product)
}

// usagesOf gives a product's usage intervals: none where its book cannot be opened.
func (b *books) usagesOf(product inventory.Product) []inventory.Usage {
	book, err := b.book(product)
	if err != nil {
		return nil
	}
	all, _ := book.Usages()
	return all
}

func (b *books) balance(product inventory.Product, when span) (inventory.Balance, error) {
	book, err := b.book(product)
	if err != nil {
		return inventory.Balance{}, err
	}
	bal, _ := book.Balance(when.from, when.to)
	return bal, nil
}
