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

// Verdict says what the balances of a stretch come to.
type Verdict string

// The verdicts.
const (
	NothingMissing Verdict = "nothing" // no more than the instruments' own errors make
	FuelMissing    Verdict = "missing" // the dips find less than the records say
	FuelOver       Verdict = "over"    // the dips find more
	NoVariance     Verdict = "no variance"
)

// Finding is what the balances of a stretch come to, and the balance that says so: that of the running sum, from where it
// lies farthest out, or a month that stands out where the sum does not.
type Finding struct {
	Verdict      Verdict
	Since, Until time.Time
	Variance     units.LitresAt15
	Sigma        units.LitresAt15
	Z            float64
	OneMonth     bool
	Why          string // why there is no variance, or none of the time after Until
}

// BalanceTable is the table of a stretch by months, a balance over all of it, and what they come to.
type BalanceTable struct {
	Whole   Balance
	Months  []BalanceLine
	Finding Finding
	Notices notice.List
}

// Table reckons the balances of the stretch. The one over all of it runs between the first and the last count of the
// table, so that their lines add up to it.
func (s *Stretch) Table() BalanceTable {
	var all BalanceTable
	all.Months, all.Notices = s.Balances(s.From, s.To, ByMonth)
	from, to := s.From, s.To
	if n := len(all.Months); n > 0 {
		from, to = all.Months[0].From, all.Months[n-1].To
	}
	var notes notice.List
	all.Whole, notes = s.Balance(from, to)
	all.Whole.Asked = [2]time.Time{s.From, s.To}
	if len(all.Months) == 0 { // the table has named what there is to name
		all.Notices = notes
	}
	all.Notices = slices.DeleteFunc(all.Notices, func(n notice.Notice) bool { return n.Code == "transfer-open" }) // see OpenTransfers
	all.Finding = findingOf(all.Whole, all.Months)
	if f := all.Finding; f.Verdict == FuelMissing || f.Verdict == FuelOver {
		all.Finding = s.dated(f, all.Months)
	}
	return all
}

// dated says since when a running sum has been beyond: of the balances that end where it ends, from the beginning of each
// month, the one that lies farthest out. Fuel that ran through the meters before it was missing makes the sum no surer.
func (s *Stretch) dated(f Finding, months []BalanceLine) Finding {
	if f.OneMonth {
		return f
	}
	l := s.ledger()
	first, last := f.Since, l.same(&stockCount{at: f.Until})
	for _, m := range months {
		if !m.Known || m.From.Before(first) || !m.From.Before(f.Until) {
			continue
		}
		b := l.balance(l.same(&stockCount{at: m.From}), last)
		if z := zOf(b.Remaining, b.Sigma); b.Known && verdictOf(z) == f.Verdict && math.Abs(z) > math.Abs(f.Z) {
			f.Since, f.Variance, f.Sigma, f.Z = b.From, b.Remaining, b.Sigma, z
		}
	}
	return f
}

// findingOf judges the newest running sum first, less what count corrections wrote off of it, by [SumBeyond]; then the month that lies farthest out, at 95 % for all months
// together (Bonferroni's inequality: each at 1 − 0.05/n).
func findingOf(whole Balance, months []BalanceLine) Finding {
	known := slices.DeleteFunc(slices.Clone(months), func(m BalanceLine) bool { return !m.Known })
	if len(known) == 0 {
		if !whole.Known {
			return Finding{Verdict: NoVariance, Why: whole.Why}
		}
		known = []BalanceLine{{Balance: whole, Since: whole.From, Sum: whole.Variance, SumRemaining: whole.Remaining, SumSigma: whole.Sigma, SumZ: whole.Z}}
	}
	last := known[len(known)-1]
	found := Finding{Verdict: NothingMissing, Since: last.Since, Until: last.To, Variance: last.SumRemaining, Sigma: last.SumSigma,
		Z: zOf(last.SumRemaining, last.SumSigma)}
	if n := len(months); n > 0 {
		found.Why = months[n-1].Why
	}
	if SumBeyond(found.Z) {
		found.Verdict = verdictOf(found.Z)
		return found
	}
	far := slices.MaxFunc(known, func(x, y BalanceLine) int { return cmp.Compare(math.Abs(x.Z), math.Abs(y.Z)) })
	if math.Abs(far.Z) > outOf(len(known)) {
		return Finding{Verdict: verdictOf(far.Z), Since: far.From, Until: far.To, Variance: far.Variance, Sigma: far.Sigma, Z: far.Z, OneMonth: true, Why: found.Why}
	}
	return found
}

func zOf(variance, sigma units.LitresAt15) float64 {
	if sigma == 0 {
		return 0
	}
	return float64(variance / sigma)
}

func verdictOf(z float64) Verdict {
	if z < 0 {
		return FuelMissing
	}
	return FuelOver
}

// outOf is how far out one of n variances must lie to be one that chance brings into the table in 5 of 100 cases.
func outOf(n int) float64 { return math.Sqrt2 * math.Erfinv(1-0.05/float64(n)) }

// Inside gives what looks wrong in the stretch and is not confirmed, and counts what does in the time before it.
func (s *Stretch) Inside() (doubts []Doubt, before int) {
	for _, d := range s.Doubtful() {
		switch {
		case d.At.Before(s.From):
			before++
		case d.At.Before(s.To):
			doubts = append(doubts, d)
		}
	}
	return doubts, before
}

// Delivered gives the receipts of the stretch: see Receipts.
func (s *Stretch) Delivered(tolerance float64) ([]Receipt, notice.List) {
	all, notes := s.Receipts(tolerance)
	return slices.DeleteFunc(all, func(r Receipt) bool { return r.Last.Before(s.From) || !r.First.Before(s.To) }), notes
}

// Used gives the usage intervals that lie at least in part in the stretch.
func (s *Stretch) Used() ([]Usage, notice.List) {
	all, notes := s.Usages()
	return slices.DeleteFunc(all, func(u Usage) bool { return !u.End.After(s.From) || !u.Start.Before(s.To) }), notes
}

// SetAside names the rows that could not be measured; those that look wrong are among the doubts.
func (s *Stretch) SetAside() notice.List {
	return slices.DeleteFunc(slices.Clone(s.Doubts()), func(n notice.Notice) bool { return strings.HasPrefix(n.Code, "doubtful-") })
}

// Words say what the cause is, for people.
func (c Cause) Words() string { return causeWords[c] }
