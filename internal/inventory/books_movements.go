package inventory

import (
	"time"

	"overwinter/internal/units"
)

// BooksReceipt is a Receipt as machines read it.
type BooksReceipt struct {
	Document    *string           `json:"document"`
	Keys        []string          `json:"keys"`
	First       time.Time         `json:"first_at"`
	Last        time.Time         `json:"last_at"`
	Product     Product           `json:"product"`
	Agreed      BooksFigure       `json:"agreed"`
	ByDocument  BooksFigure       `json:"by_document"`
	ByMeter     BooksFigure       `json:"by_meter"`
	ByDips      BooksFigure       `json:"by_dips"`
	Refused     units.Litres      `json:"refused_l"`
	Tolerance   float64           `json:"tolerance"`
	Differences []BooksDifference `json:"differences"`
}

// BooksFigure is a Figure as machines read it.
type BooksFigure struct {
	Litres *units.LitresAt15 `json:"volume_l15"`
	Sigma  *units.LitresAt15 `json:"sigma_l15"`
	Why    *string           `json:"why"`
}

// BooksDifference is a Difference as machines read it.
type BooksDifference struct {
	Of      string           `json:"of"`
	Less    string           `json:"less"`
	Litres  units.LitresAt15 `json:"difference_l15"`
	Sigma   units.LitresAt15 `json:"sigma_l15"`
	Share   float64          `json:"share_of_agreed"`
	Within  bool             `json:"within_tolerance"`
	Certain bool             `json:"certain"`
}

// BooksUsage is a Usage as machines read it.
type BooksUsage struct {
	Start   time.Time        `json:"start_at"`
	End     time.Time        `json:"end_at"`
	Litres  units.LitresAt15 `json:"used_l15"`
	Sigma   units.LitresAt15 `json:"sigma_l15"`
	Source  Kind             `json:"source"`
	Quality Quality          `json:"quality"`
	Energy  *float64         `json:"energy_kwh"`
}

// ReceiptStatements states receipts.
func ReceiptStatements(all []Receipt) []BooksReceipt {
	said := []BooksReceipt{}
	for _, r := range all {
		one := BooksReceipt{Document: stated(r.Document), Keys: r.Keys, First: r.First.UTC(), Last: r.Last.UTC(), Product: r.Product,
			Agreed: figureFor(r.Agreed), ByDocument: figureFor(r.ByDocument), ByMeter: figureFor(r.ByMeter), ByDips: figureFor(r.ByDips),
			Refused: r.Refused, Tolerance: r.Tolerance, Differences: []BooksDifference{}}
		for _, d := range r.Differences {
			one.Differences = append(one.Differences, BooksDifference(d))
		}
		said = append(said, one)
	}
	return said
}

func figureFor(f Figure) BooksFigure {
	if !f.Known {
		return BooksFigure{Why: stated(f.Why)}
	}
	return BooksFigure{Litres: &f.Litres, Sigma: &f.Sigma}
}

// UsageStatements states usage intervals.
func UsageStatements(all []Usage) []BooksUsage {
	said := []BooksUsage{}
	for _, u := range all {
		one := BooksUsage(u)
		one.Start, one.End = u.Start.UTC(), u.End.UTC()
		said = append(said, one)
	}
	return said
}
