package resupply

import (
	"math"
	"math/rand/v2"

	"overwinter/internal/calendar"
)

// seasonal burns more in one half of the year than in the other, at a rate of its own on every path and in no
// whole litres.
type seasonal struct{ rates, curve []float64 }

func (s seasonal) Count() int                       { return len(s.rates) }
func (s seasonal) Cumulative(path, day int) float64 { return s.rates[path] * s.curve[day] }

// season is the days of mean burn that have gone by at the close of each day.
func season(days int, swing, phase float64) []float64 {
	angle := func(day int) float64 { return 2*math.Pi*float64(day)/365.25 + phase }
	return perPath(days, func(day int) float64 {
		return float64(day) + swing*365.25/(2*math.Pi)*(math.Cos(angle(0))-math.Cos(angle(day)))
	})
}

// draw is a source of what a random plant is made of.
type draw struct{ *rand.Rand }

func newDraw(seed uint64) draw { return draw{rand.New(rand.NewPCG(seed, 7))} }

func (r draw) between(low, high float64) float64 { return low + (high-low)*r.Float64() }
func (r draw) day(low, high int) int             { return low + r.IntN(high-low+1) }
func (r draw) chance(p float64) bool             { return r.Float64() < p }

// days draws a day for every path around a middle.
func (r draw) days(n, middle, spread int) []int {
	return perPath(n, func(int) int { return middle + r.IntN(2*spread+1) - spread })
}

// plant is one of any kind: windows of several routes, which may fail, be open all year or have a deadline,
// lots with limits, orders on their way, tanks that come and go, draws, a reserve in litres or days.
func (r draw) plant() *Problem {
	n := r.day(40, 90)
	rate := r.between(40, 400)
	p := &Problem{
		AsOf: asOf + calendar.Day(r.IntN(365)), Horizon: r.day(380, 560), Risk: []float64{0.05, 0.1, 0.2}[r.IntN(3)],
	}
	p.Burn = seasonal{perPath(n, func(int) float64 { return rate * r.between(0.7, 1.3) }), season(p.Horizon+90, r.between(0, 0.6), r.between(0, 6.3))}
	held := rate * r.between(5, 600)
	p.Stock = perPath(n, func(int) float64 { return held * r.between(0.97, 1.03) })
	if p.Reserve = (Reserve{Days: r.day(1, 60)}); r.chance(0.4) {
		p.Reserve = Reserve{Litres: rate * r.between(3, 60)}
	} else if r.chance(0.2) {
		p.Reserve = Reserve{Share: r.between(0.02, 0.3)}
	}
	if r.chance(0.5) {
		p.Draws = perPath(p.Horizon+90, func(day int) float64 { return rate * 0.137 * float64(day) })
	}
	for from := 0; from < 300; from += r.day(40, 500) {
		p.Capacity = append(p.Capacity, Capacity{from, rate * r.between(80, 600)})
	}
	for i := range r.IntN(3) {
		p.Receipts = append(p.Receipts, Receipt{Order: string(rune('A' + i)), Litres: rate * r.between(5, 90), Day: r.days(n, r.day(12, 200), 11)})
	}
	for _, route := range []string{"barge", "road", "small"}[:min(r.day(0, 9), 3)] {
		p.Windows = append(p.Windows, r.windows(p, route, rate)...)
	}
	p.Fallbacks = []Fallback{{Route: "flights", Mode: "air", Load: rate * 3, LeadDays: 9}}
	return p
}

// windows are those of a route.
func (r draw) windows(p *Problem, route string, rate float64) []Window {
	n, lead := p.Burn.Count(), r.day(3, 70)
	w := Window{Route: route, Name: "season", Lead: r.days(n, lead, min(lead, 9)), Slip: r.days(n, 4, 4), Lot: r.lot(rate)}
	if r.chance(0.15) {
		w.AllYear, w.Opening, w.Opens, w.Closes = true, p.AsOf, same(n, 0), same(n, Never)
		return []Window{w}
	}
	var all []Window
	opens, open := r.day(-60, 200), r.day(15, 120)
	deadline := r.chance(0.3)
	for year := range 2 {
		w, first := w, opens+365*year
		w.Opening, w.Opens, w.Closes = p.AsOf+calendar.Day(first), r.days(n, first, 9), r.days(n, first+open, 6)
		if r.chance(0.25) {
			w.LossChance = []float64{r.between(0, 0.03), r.between(0, 0.15), 1}[r.IntN(3)]
			for s := range w.Opens {
				if r.chance(w.LossChance) {
					w.Opens[s] = Never
				}
			}
		}
		if by := first - r.day(0, 90); deadline {
			w.OrderBy = &by
		}
		if r.chance(0.3) {
			w.Limits = []DayLimit{{From: first - 20, Until: first + r.day(0, open), Litres: rate * r.between(5, 120), Why: DraftLimit}}
		}
		all = append(all, w)
	}
	return all
}

func (r draw) lot(rate float64) Lot {
	var l Lot
	if r.chance(0.4) {
		l.Min = rate * r.between(5, 120)
	}
	if r.chance(0.4) {
		l.Step = rate * r.between(0.5, 30)
	}
	if r.chance(0.4) {
		l.Max = l.Min + rate*r.between(20, 200)
	}
	return l
}
