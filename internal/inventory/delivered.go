package inventory

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"time"

	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// AgreedTolerance is how far two figures of a delivery may lie apart, as a share of what was agreed on, where
// nobody says otherwise. Common practice, no source.
const AgreedTolerance = 0.005

// The least and the most that can be agreed on. Common practice, no source.
const (
	LeastTolerance = 0.0001
	MostTolerance  = 0.5
)

// sameDocument is how long a document's rows may lie apart and still be one delivery: numbers come again in other
// years. Common practice, no source.
const sameDocument = 31 * 24 * time.Hour

// Receipt holds the figures of one delivery against each other: all rows of one document, split over tanks and days.
type Receipt struct {
	Document    string // blank where the one row has none
	Keys        []string
	First, Last time.Time
	Product     Product
	Agreed      Figure // what the rows themselves say, and the books count
	ByDocument  Figure
	ByMeter     Figure
	ByDips      Figure // by the tanks' gaugings before and after
	Refused     units.Litres
	Tolerance   float64
	Differences []Difference
	Doubts      []Doubt // of its rows: what they say is not in the books
}

// Figure is one statement of what was delivered, at 15 °C. Known is false where there is none, and Why says why not.
type Figure struct {
	Known  bool
	Why    string
	Litres units.LitresAt15
	Sigma  units.LitresAt15
}

// Names of the figures of a receipt.
const (
	FigureDocument = "document"
	FigureMeter    = "meter"
	FigureDips     = "dips"
	FigureAgreed   = "agreed"
)

// Difference is one figure less another.
type Difference struct {
	Of, Less string
	Litres   units.LitresAt15
	Sigma    units.LitresAt15 // standard uncertainty
	Share    float64          // of what was agreed on
	// Within tells whether it keeps to the agreed tolerance; Certain whether it is more than the figures' own errors
	// make in 95 of 100 cases.
	Within, Certain bool
}

// Receipts holds the deliveries of the book's product against each other in order of time. Tolerance is a share of
// what was agreed on; 0 means AgreedTolerance.
func (b *Book) Receipts(tolerance float64) ([]Receipt, notice.List) {
	l := b.ledger()
	var all []Receipt
	for _, rows := range b.documents() {
		all = append(all, l.receipt(rows, cmp.Or(tolerance, AgreedTolerance)))
	}
	slices.SortStableFunc(all, func(x, y Receipt) int {
		return cmp.Or(x.First.Compare(y.First), strings.Compare(x.Document, y.Document), cmp.Compare(x.Agreed.Litres, y.Agreed.Litres))
	})
	return all, l.notes
}

// documents gathers the deliveries by document.
func (b *Book) documents() [][]*Delivery {
	var all [][]*Delivery
	last := map[string]int{}
	for _, d := range b.bills {
		if !b.brings(d) || !d.At.Before(b.close()) || b.isDuplicate(d) {
			continue
		}
		i, known := last[d.Document]
		if d.Document == "" || !known || gap(all[i][len(all[i])-1].At, d.At) > sameDocument {
			i = len(all)
			all = append(all, nil)
			last[d.Document] = i
		}
		all[i] = append(all[i], d)
	}
	return all
}

// doubtsOf gives what looks wrong of a row.
func (b *Book) doubtsOf(r Record) (found []Doubt) {
	for _, d := range b.doubtful {
		if d.row == r {
			found = append(found, d)
		}
	}
	return found
}

func (b *Book) isDuplicate(d *Delivery) bool { return b.duplicates[d] }

func (l *ledger) receipt(rows []*Delivery, tolerance float64) Receipt {
	r := Receipt{Document: rows[0].Document, Product: l.book.Product, First: rows[0].At, Last: rows[len(rows)-1].At, Tolerance: tolerance}
	for _, d := range rows {
		r.Keys = append(r.Keys, d.Key)
		r.Refused += orElse(d.Refused, 0)
		r.Doubts = append(r.Doubts, l.book.doubtsOf(d)...)
	}
	slices.SortFunc(r.Keys, strings.Compare)
	r.Agreed = l.stated(rows, func(d *Delivery) (Measure, bool) { return d.Measure, true })
	r.ByDocument = l.stated(rows, func(d *Delivery) (Measure, bool) { return d.ByDocument.Measure() })
	r.ByMeter = l.stated(rows, func(d *Delivery) (Measure, bool) { return d.ByMeter.Measure() })
	r.ByDips = l.dipped(rows)
	r.compare()
	return r
}

// stated sums what the rows say of one kind of figure. Where one row alone says it, or all rows repeat the same and
// together hold about as much, it is that of the whole document.
func (l *ledger) stated(rows []*Delivery, of func(*Delivery) (Measure, bool)) Figure {
	var said []Measure
	agreed := 0.0
	for _, d := range rows {
		agreed += float64(d.Volume)
		if m, ok := of(d); ok {
			said = append(said, m)
		}
	}
	switch {
	case len(said) == 0:
		return Figure{Why: "it was not stated"}
	case len(said) != 1 && len(said) < len(rows):
		return Figure{Why: "it was stated for some of the rows only"}
	case repeated(said, agreed):
		said = said[:1]
	}
	f := Figure{Known: true}
	warmth := 0.0
	for _, m := range said {
		f.Litres += units.LitresAt15(l.book.at15(m, "deliveries", &l.notes))
		warmth += square(l.book.warmth(m))
	}
	f.Sigma = units.LitresAt15(math.Sqrt(square(MovementPrecision*float64(f.Litres)) + warmth))
	return f
}

// repeated tells whether rows repeat one figure of the whole: it then lies nearer to what they hold together than
// its sum does.
func repeated(said []Measure, together float64) bool {
	one := float64(said[0].Volume)
	for _, m := range said {
		if m.Volume != said[0].Volume || m.Basis != said[0].Basis || orElse(m.Temperature, -273) != orElse(said[0].Temperature, -273) {
			return false
		}
	}
	return len(said) > 1 && math.Abs(one-together) < math.Abs(one*float64(len(said))-together)
}

// compare takes each figure from those after it. What was agreed on stands in for a document that says nothing.
func (r *Receipt) compare() {
	first, name := r.ByDocument, FigureDocument
	if !first.Known {
		first, name = r.Agreed, FigureAgreed
	}
	r.difference(r.ByMeter, FigureMeter, first, name)
	r.difference(r.ByDips, FigureDips, first, name)
	r.difference(r.ByDips, FigureDips, r.ByMeter, FigureMeter)
}

func (r *Receipt) difference(of Figure, ofName string, less Figure, lessName string) {
	if !of.Known || !less.Known {
		return
	}
	d := Difference{Of: ofName, Less: lessName, Litres: of.Litres - less.Litres,
		Sigma: units.LitresAt15(math.Hypot(float64(of.Sigma), float64(less.Sigma)))}
	if r.Agreed.Litres != 0 {
		d.Share = float64(d.Litres / r.Agreed.Litres)
	}
	d.Within = math.Abs(d.Share) <= r.Tolerance
	d.Certain = math.Abs(float64(d.Litres)) > twoSided95*float64(d.Sigma)
	r.Differences = append(r.Differences, d)
}
