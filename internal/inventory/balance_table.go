package inventory

import (
	"math"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// Step says how a table of balances is divided.
type Step string

// The steps.
const (
	ByCount Step = "count" // from each count of stock to the next
	ByMonth Step = "month" // between the counts nearest to the beginnings of local months
)

// BalanceLine is one line of a table of balances.
type BalanceLine struct {
	Balance
	// Sum is the running sum of the variances since the table's beginning, or since the last line without a variance:
	// what a single balance over all of that time says. Its dips are only the first and the last, so it is surer than the
	// sum of the lines' own uncertainties would have it.
	Since    time.Time
	Sum      units.LitresAt15
	SumSigma units.LitresAt15
	SumZ     float64
	// SumRemaining is the running sum less what count corrections wrote off of it.
	SumRemaining units.LitresAt15
}

// Balances gives the table of balances between two moments; the zero moment stands for the first count, or the last.
func (b *Book) Balances(from, to time.Time, step Step) ([]BalanceLine, notice.List) {
	l := b.ledger()
	var lines []BalanceLine
	var since *stockCount
	counts, asked := l.along(from, to, step)
	for i := 1; i < len(counts); i++ {
		if since == nil {
			since = counts[i-1]
		}
		line := BalanceLine{Balance: l.balance(counts[i-1], counts[i])}
		line.Asked = [2]time.Time{asked[i-1], asked[i]}
		whole := line.Balance
		if line.Known && since != counts[i-1] {
			told := slices.Clone(l.notes)
			whole = l.balance(since, counts[i])
			told.AddOnce(l.notes...) // of most of these rows the lines have told
			l.notes = told
		}
		if !line.Known || !whole.Known {
			lines, since = append(lines, line), nil
			continue
		}
		line.Since, line.Sum, line.SumSigma, line.SumZ = since.at, whole.Variance, whole.Sigma, whole.Z
		line.SumRemaining = whole.Remaining
		lines = append(lines, line)
	}
	return lines, l.notes
}

// along gives the counts of a table, and the moments that they stand for.
func (l *ledger) along(from, to time.Time, step Step) (counts []*stockCount, asked []time.Time) {
	all := slices.DeleteFunc(slices.Clone(l.found), func(c *stockCount) bool {
		return !from.IsZero() && c.at.Before(from.Add(-sameDay)) || !to.IsZero() && c.at.After(to.Add(sameDay))
	})
	if step != ByMonth || len(all) == 0 {
		for _, c := range all {
			asked = append(asked, c.at)
		}
		return all, asked
	}
	zone := l.book.Zone
	last := all[len(all)-1].at
	for month := calendar.MonthOf(calendar.DayOf(all[0].at, zone)); ; month = month.Next() {
		start, _ := month.First().Bounds(zone)
		c := all[nearestTo(all, start, func(c *stockCount) time.Time { return c.at })]
		if len(counts) == 0 || c.at.After(counts[len(counts)-1].at) {
			counts, asked = append(counts, c), append(asked, start)
		}
		if start.After(last) {
			return counts, asked
		}
	}
}

// Beyond tells whether a variance lies outside its interval of 95 %.
func Beyond(z float64) bool { return math.Abs(z) > twoSided95 }

// SumBeyond tells whether a running sum says more than chance. It is looked at line after line, so that 1.96 is crossed sooner or
// later by many a sound plant: of 2 000 simulated ones with weekly dips 44 % crossed it within two years, 12 % crossed 2.6 and
// 4.5 % crossed 3 (TestARunningSumOfASoundPlantSeldomCrossesItsAlarm).
func SumBeyond(z float64) bool { return math.Abs(z) > sumAlarm }

const sumAlarm = 3

// twoSided95 is the point of the normal distribution that leaves 2.5 % on either side.
const twoSided95 = 1.959964
