package forecast

import (
	"fmt"
	"math"
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

const (
	mostPieces  = 3   // adjoining intervals that may be right only together
	pieceBeyond = 2.0 // standard deviations by which each of them must be off alone
	sumWithin   = 2.0 // and within which their sum must be right,
	sumShare    = 0.5 // and at most this share of what the least of them is off

	suspectSteps = 2 // of the fit without what is suspected
)

// piece is an interval beside what it should be. Pieces may be right only together: a correction that is taken back in the next month,
// two months in one, a register read a week late.
type piece struct {
	Interval           // its litres are 0 if they were not reported
	fuel       bool    // they were reported
	expected   float64 // litres
	own        float64 // variance of ln(litres/expected) that is its own
	shared     float64 // and that which its neighbours share
	named      bool    // faulty
	unsuitable bool    // of no use for a sum
}

// off is ln(litres/expected): infinitely little for none.
func (p *piece) off() float64 { return math.Log(max(float64(p.Litres)/p.expected, 0)) }

// stray says whether a piece is off alone.
func (p *piece) stray() bool {
	return !p.unsuitable && p.Litres >= 0 && (p.named || math.Abs(p.off()) >= pieceBeyond*math.Sqrt(p.own+p.shared))
}

// rightTogether says whether adjoining pieces, all of them off alone and at least one faulty, are as expected in sum.
func rightTogether(pieces []piece) bool {
	var litres, expected, squares, shared float64
	var named, above, below bool
	least := math.Inf(1)
	for i := range pieces {
		p := &pieces[i]
		if !p.stray() || i > 0 && math.Abs(p.Start-pieces[i-1].End) > sameMoment {
			return false
		}
		off := p.off()
		named, above, below, least = named || p.named, above || off > 0, below || off < 0, min(least, math.Abs(off))
		litres, expected = litres+float64(p.Litres), expected+p.expected
		squares, shared = squares+p.expected*p.expected*p.own, max(shared, p.shared)
	}
	sd := math.Sqrt(squares/(expected*expected) + shared)
	return named && above && below && math.Abs(math.Log(litres/expected)) <= min(sumWithin*sd, sumShare*least)
}

// whole is an observation that was reported in parts: intervals of which none is right alone.
type whole struct{ parts []Fault }

// sumOf gives pieces as one observation. Proof says what shows that they are right together.
func sumOf(pieces []piece, proof string) observation {
	o := observation{Interval: Interval{Start: pieces[0].Start, End: pieces[len(pieces)-1].End}}
	squares := 0.0
	var parts []Fault
	for _, p := range pieces {
		if p.fuel {
			o.Litres += p.Litres
			squares += float64(p.Sigma * p.Sigma)
			parts = append(parts, Fault{Interval: p.Interval, Expected: units.LitresAt15(p.expected)})
		}
	}
	o.Sigma = units.LitresAt15(math.Sqrt(squares))
	o.madeOf(parts, proof)
	return o
}

// madeOf says of what parts an observation is the sum, and gives each its reason.
func (o *observation) madeOf(parts []Fault, proof string) {
	first, last := calendar.Day(math.Round(o.Start)), calendar.Day(math.Round(o.End))-1
	for i := range parts {
		p := &parts[i]
		p.Reason = fmt.Sprintf("%.2f times the usual alone, but right %s for all from %s to %s: used as one interval",
			float64(p.Interval.Litres/p.Expected), proof, first, last)
	}
	o.whole = &whole{parts}
}

// sumByEnergy gives how many accounts from the first on agree with their energy only together; 0 for none.
func sumByEnergy(accounts []account) int {
	for n := 2; n <= min(mostPieces, len(accounts)); n++ {
		pieces := piecesOf(accounts[:n])
		if !pieces[0].stray() {
			return 0
		}
		if rightTogether(pieces) {
			return n
		}
	}
	return 0
}

// piecesOf sets accounts against what their energy takes. Fuel that was not reported is as odd as any, but is no fault of itself.
func piecesOf(accounts []account) []piece {
	pieces := make([]piece, len(accounts))
	for i := range accounts {
		a := &accounts[i]
		pieces[i] = piece{
			Interval: a.Interval, fuel: a.fuel, expected: a.byEnergy(), own: a.deviation() * a.deviation(), named: a.verdict == faultyFuel,
			unsuitable: a.verdict != missing && math.IsNaN(a.specific),
		}
	}
	return pieces
}

// withSums gives the observations with those joined that are right only together, by the fit as it stands, and with those longer that
// hold the fuel of absent neighbours. It gives nil if there are none.
func (f *fit) withSums(suspects []bool) (joined []observation) {
	for i := 0; i < len(f.observations); {
		o, n := f.sumFrom(i, suspects)
		found := n > 0
		if !found {
			o, found = f.withAbsent(i)
			n = 1
		}
		switch {
		case found && joined == nil: // the first
			joined = append(slices.Clone(f.observations[:i:i]), o)
		case found:
			joined = append(joined, o)
		case joined != nil:
			joined = append(joined, f.observations[i])
		}
		i += n
	}
	return joined
}

// suspect names for the time being what is off beside a faulty interval, to the other side, and fits without it: it draws the level to
// itself, and then the two do not look right together.
func (f *fit) suspect() (suspects []bool, found bool) {
	suspects = make([]bool, len(f.observations))
	for i := range f.observations {
		if !f.observations[i].named {
			continue
		}
		faulty := f.piece(i, suspects)
		for _, j := range []int{i - 1, i + 1} {
			if j < 0 || j == len(f.observations) || f.observations[j].named {
				continue
			}
			if beside := f.piece(j, suspects); beside.stray() && beside.off()*faulty.off() < 0 {
				suspects[j], found = true, true
			}
		}
	}
	if !found {
		return suspects, false
	}
	for i, s := range suspects {
		f.observations[i].named = f.observations[i].named || s
	}
	for range suspectSteps {
		if factor, ok := f.step(); ok {
			f.spreadParameters(factor)
		}
	}
	return suspects, true
}

// piece sets an observation against the fit. A suspect is off, but not faulty.
func (f *fit) piece(i int, suspects []bool) piece {
	o, r := &f.observations[i], &f.rows[i]
	return piece{
		Interval: o.Interval, fuel: true, expected: r.expected, own: r.own(), shared: r.parameter,
		named: o.named && !suspects[i], unsuitable: o.vouched || o.reckoned(),
	}
}

// sumFrom looks for observations from number i on that are right only together, and gives how many; 0 for none.
func (f *fit) sumFrom(i int, suspects []bool) (o observation, n int) {
	if !f.observations[i].named {
		return o, 0
	}
	pieces := make([]piece, 0, mostPieces)
	for n := 1; n <= mostPieces && i+n <= len(f.observations); n++ {
		pieces = append(pieces, f.piece(i+n-1, suspects))
		if n > 1 && rightTogether(pieces) {
			return sumOf(pieces, "together"), n
		}
	}
	return o, 0
}

// reckoned says that an observation is not simply what was reported.
func (o *observation) reckoned() bool { return o.standIn || o.idle || o.told || o.whole != nil }
