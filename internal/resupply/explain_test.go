package resupply

import (
	"testing"

	"pgregory.net/rapid"
)

// randomProblem is a plant with windows, open orders and draws of any size, its paths all different.
func randomProblem(t *rapid.T) *Problem {
	const n = 200
	rate := rapid.Float64Range(50, 500).Draw(t, "burn")
	spread := rapid.Float64Range(0, 0.3).Draw(t, "spread")
	p := &Problem{
		AsOf: asOf, Horizon: 600, Risk: rapid.SampledFrom([]float64{0.02, 0.05, 0.1}).Draw(t, "risk"),
		Burn:     steady{perPath(n, func(s int) float64 { return rate * (1 + spread*float64(s-n/2)/n) }), 700},
		Stock:    perPath(n, func(s int) float64 { return rate*200 + float64((s*37)%n) }),
		Reserve:  Reserve{Days: rapid.IntRange(1, 60).Draw(t, "reserve days")},
		Capacity: []Capacity{{0, rate * rapid.Float64Range(250, 600).Draw(t, "capacity in days")}},
		Draws:    perPath(701, func(day int) float64 { return float64(day) * 3.3 }),
	}
	opens := rapid.IntRange(-20, 260).Draw(t, "opens")
	for _, first := range []int{opens, opens + 120, opens + 365} {
		w := window(first, first+rapid.IntRange(10, 90).Draw(t, "open for"))
		w.Opens = perPath(n, func(s int) int { return first + (s*13)%17 })
		w.Closes = perPath(n, func(s int) int { return w.Closes[0] + (s*29)%23 })
		w.Lead = perPath(n, func(s int) int { return 20 + (s*31)%40 })
		w.Slip = perPath(n, func(s int) int { return (s * 7) % 9 })
		if rapid.Bool().Draw(t, "small lots at first") {
			w.Limits = []DayLimit{{From: first - 30, Until: first + rapid.IntRange(0, 60).Draw(t, "for"), Litres: rate * 100, Why: DraftLimit}}
		}
		p.Windows = append(p.Windows, w)
	}
	if rapid.Bool().Draw(t, "order on its way") {
		p.Receipts = []Receipt{{Order: "A1", Litres: rate * 40, Day: perPath(n, func(s int) int { return 30 + s%25 })}}
	}
	return p
}

func TestMoreRiskNeverMeansAnEarlierOrderAndMoreReserveNeverALaterOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := randomProblem(t)
		p.Windows = p.Windows[:1]
		reserveDay := func(q *Problem) []int {
			return perPath(q.Burn.Count(), func(s int) int { return q.firstBelow(s, 0, q.Horizon) })
		}
		base := p.orderFrom(0, reserveDay(p))
		bolder := *p
		bolder.Risk = p.Risk * 2
		if got := bolder.orderFrom(0, reserveDay(&bolder)); got.By.Day < base.By.Day {
			t.Fatalf("risk %v orders by %d, risk %v by %d", p.Risk, base.By.Day, bolder.Risk, got.By.Day)
		}
		safer := *p
		safer.Reserve.Days += 5
		if got := safer.orderFrom(0, reserveDay(&safer)); got.By.Day > base.By.Day {
			t.Fatalf("reserve of %d days orders by %d, of %d by %d", p.Reserve.Days, base.By.Day, safer.Reserve.Days, got.By.Day)
		}
	})
}

// On the very paths that it was made from, an order placed on its last day comes too late on no more
// paths than the two guards together allow.
func TestTheJointRiskStaysUnderTheSumOfTheGuards(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := randomProblem(t)
		d := Decide(p)
		if d.Order == nil || d.Status == Short {
			return
		}
		limit := 2 * float64(max(Allowed(p.Burn.Count(), p.Risk), 0)) / float64(p.Burn.Count())
		if r := Replay(p, d.Order, d.Order.By.Day); r.TooLate > limit {
			t.Fatalf("joint risk %v, the guards allow %v", r.TooLate, limit)
		}
	})
}
