package inventory

import (
	"math"
	"time"

	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// Balance holds what the records of one product say against what the dips say, from one count of stock to another.
// All volumes are litres at 15 °C, of whole tanks, whoever owns the fuel in them:
//
//	Book = Opening + Received − Consumed − Drawn + Repaid + Changed + Moved − OutOfService
//
// and the variance is Physical − Book.
type Balance struct {
	Product  Product
	Asked    [2]time.Time // the moments that were asked for; From and To are the nearest counts of stock
	From, To time.Time

	Opening  units.LitresAt15
	Received units.LitresAt15
	Consumed units.LitresAt15 // burned for generation
	Drawn    units.LitresAt15 // heat, vehicles, sale, loan
	Repaid   units.LitresAt15 // loans that were given back in kind
	// Corrected is the sum of the count corrections, each on its own day. They are no movement of fuel: they write a variance
	// off that may have grown for long, so that they stand beside it.
	Corrected units.LitresAt15
	// Changed is what tanks held when they were changed to the product, and what was moved in from tanks of another, less
	// what went over to another.
	Changed units.LitresAt15
	// Moved is nothing, save where a transfer lies between the dips of the tank it left and of the one it reached.
	Moved units.LitresAt15
	// OutOfService is what tanks held that went out of service, less what those held that came back.
	OutOfService units.LitresAt15
	Book         units.LitresAt15
	Physical     units.LitresAt15 // by the closing count

	// Metered tells whether Consumed was metered. Where it was not it is derived from the stock: then Book is Physical, and
	// there is no variance to show. Known tells whether there is one, and Why says why not.
	Metered bool
	Known   bool
	Why     string

	Variance units.LitresAt15
	Sigma    units.LitresAt15 // standard uncertainty of the variance
	Sources  Sources
	Z        float64 // Variance / Sigma
	// Remaining is the variance less what the count corrections wrote off of it.
	Remaining units.LitresAt15

	// LeftOut counts the movements inside that are left out because they look wrong: until somebody corrects or confirms
	// them the variance has them in it.
	LeftOut int

	Screen Screen
}

// Sources are the standard uncertainties that make up that of a variance, in litres at 15 °C.
type Sources struct {
	Meter       units.LitresAt15 // one error for all that ran through a meter, and what ran between its reading and the dips
	Dips        units.LitresAt15 // of both ends, tank by tank
	Table       units.LitresAt15 // one error for a tank's whole table: it acts on what the tank rose or fell
	Temperature units.LitresAt15
	Density     units.LitresAt15 // one error for all volumes that were corrected with it
	Movements   units.LitresAt15 // of what was received, drawn and moved, as stated
}

func (s Sources) sum() units.LitresAt15 {
	parts := []units.LitresAt15{s.Meter, s.Dips, s.Table, s.Temperature, s.Density, s.Movements}
	squares := 0.0
	for _, p := range parts {
		squares += float64(p * p)
	}
	return units.LitresAt15(math.Sqrt(squares))
}

// Balance reckons the balance between the counts of stock nearest to two moments. The zero moment stands for the
// first count, or the last. It is not known where there are no two counts, and says why.
func (b *Book) Balance(from, to time.Time) (Balance, notice.List) {
	l := b.ledger()
	all := l.found
	bal := Balance{Product: b.Product, Asked: [2]time.Time{from, to}}
	if len(all) < 2 {
		bal.Why = "there are no two counts of stock"
		return bal, l.notes
	}
	open, shut := 0, len(all)-1
	of := func(c *stockCount) time.Time { return c.at }
	if !from.IsZero() {
		open = nearestTo(all, from, of)
	}
	if !to.IsZero() {
		shut = nearestTo(all, to, of)
	}
	if open >= shut {
		bal.Why = "both moments are nearest to one count of stock, that of " + b.day(all[open].at)
		return bal, l.notes
	}
	bal = l.balance(all[open], all[shut])
	bal.Asked = [2]time.Time{from, to}
	return bal, l.notes
}

// balance reckons from one count to a later one.
func (l *ledger) balance(from, to *stockCount) Balance {
	bal := l.lines(from, to)
	if !bal.Known {
		bal.screened()
		return bal
	}
	if thick := l.denser; thick != nil {
		if other := thick.lines(thick.same(from), thick.same(to)); other.Known {
			bal.Sources.Density = units.LitresAt15(math.Abs(float64(other.Variance - bal.Variance)))
		}
	}
	bal.Sigma = bal.Sources.sum()
	if bal.Sigma > 0 {
		bal.Z = float64(bal.Variance / bal.Sigma)
	}
	bal.screened()
	return bal
}

// lines reckons every line of a balance, and all sources of its uncertainty but the density.
func (l *ledger) lines(from, to *stockCount) Balance {
	b := l.book
	bal, stays, f, why := l.movements(from, to)
	run, metered := l.metered(from.at, to.at)
	bal.Metered = metered == ""
	switch {
	case bal.Metered:
		bal.Consumed = units.LitresAt15(run.litres + f.intoDay - stays.rise(DayTank))
	case b.untoldBetween(from.at, to.at) == 0:
		bal.Consumed = bal.withoutBurn() - bal.Physical
	}
	bal.Book = bal.withoutBurn() - bal.Consumed
	switch {
	case why != "":
		bal.Why = why
	case b.untoldBetween(from.at, to.at) > 0:
		bal.Why = "a delivery, a transfer or a draw in between looks wrong and is left out: correct or confirm it first"
	case bal.Metered && !stays.bulk():
		bal.Why = "no tank but day tanks: there is no stock to hold against the meter"
	case !bal.Metered:
		bal.Why = metered
	default:
		bal.Known = true
		bal.Variance = bal.Physical - bal.Book
		bal.Remaining = bal.Variance - bal.Corrected
		bal.Sources = l.sources(stays, run, f, &bal)
	}
	return bal
}

// withoutBurn is book stock but for what was burned.
func (bal *Balance) withoutBurn() units.LitresAt15 {
	return bal.Opening + bal.Received - bal.Drawn + bal.Repaid + bal.Changed + bal.Moved - bal.OutOfService
}

// movements reckons the lines of a balance but for what was burned. Why says what was not gauged when it had to be.
func (l *ledger) movements(from, to *stockCount) (bal Balance, in stays, f flows, why string) {
	b := l.book
	bal = Balance{Product: b.Product, From: from.at, To: to.at, Asked: [2]time.Time{from.at, to.at}}
	bal.LeftOut = b.leftOutBetween(from.at, to.at)
	l.nameOpen(from.at, to.at)
	in, why = l.stays(from, to, &bal)
	f = l.flows(in, from.at, to.at)
	bal.Drawn = units.LitresAt15(b.drawn(from.at, to.at, &l.notes))
	bal.Repaid = units.LitresAt15(b.repaid(from.at, to.at, &l.notes))
	bal.Corrected = units.LitresAt15(b.corrected(from.at, to.at, &l.notes))
	bal.Received, bal.Moved = units.LitresAt15(f.received), units.LitresAt15(f.moved)
	bal.Changed += units.LitresAt15(f.changed)
	return bal, in, f, why
}

// untoldBetween counts the movements between two moments of which nothing is known as long as they look wrong. A
// duplicate is none: the row that it repeats tells of the fuel.
func (b *Book) untoldBetween(after, until time.Time) (n int) {
	for _, d := range b.doubtful {
		if d.Cause != Duplicate && b.isMovement(&d) && d.At.After(after) && !d.At.After(until) {
			n++
		}
	}
	return n
}

// isMovement tells that the whole of a delivery of the book's product, a transfer or a draw is left out.
func (b *Book) isMovement(d *Doubt) bool {
	if of, ok := d.row.(*Delivery); ok && !b.brings(of) {
		return false
	}
	return d.Scope == WholeRow && (d.Kind == KindDelivery || d.Kind == KindTransfer || d.Kind == KindDraw)
}

// leftOutBetween counts the movements between two moments that are left out because they look wrong.
func (b *Book) leftOutBetween(after, until time.Time) (n int) {
	for _, d := range b.doubtful {
		if b.isMovement(&d) && d.At.After(after) && !d.At.After(until) {
			n++
		}
	}
	return n
}
