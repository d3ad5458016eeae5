package resupply

import (
	"cmp"
	"math"
	"slices"
)

// leg is the time from one delivery to the next on a path. All its litres but the sum are positions: what has
// been put into the tanks since the as-of day, the stock of that day included. A position less what has gone
// out is the stock, so that whether a position holds does not depend on how it came about.
type leg struct {
	occasion int     // that begins it; −1 for the first
	day      int     // first day whose close belongs to it
	days     int     // how many
	gone     float64 // out by the arrival, before the outflow of its day
	end      float64 // out by the close of the last day
	reserve  float64 // least position that keeps the reserve
	fallback float64 // least position for which no fallback is bought
	dry      float64 // least position that is never dry
	room     float64 // greatest position that the tanks hold
	sum      float64 // of what has gone out by the close of each day: for the litre-days in the tanks
}

// scanner reads paths day by day, in one sweep each.
type scanner struct {
	p       *Problem
	out     []float64 // burn and draws by the close of each day of the path at hand
	brought []float64 // by orders on their way, likewise
	breaks  breaks
}

func (p *Problem) scanner() *scanner {
	reach := p.Horizon + max(p.Reserve.Days, p.FallbackAt.Days)
	return &scanner{p: p, out: make([]float64, reach+1), brought: make([]float64, p.Horizon+1)}
}

// read takes up a path.
func (sc *scanner) read(path int) {
	p := sc.p
	if burn, ok := p.Burn.(daily); ok {
		sc.out[0] = 0
		copy(sc.out[1:], burn.Path(path))
	} else {
		for t := range sc.out {
			sc.out[t] = p.Burn.Cumulative(path, t)
		}
	}
	for t := range p.Draws[:min(len(p.Draws), len(sc.out))] {
		sc.out[t] += p.Draws[t]
	}
	sc.breaks = p.breaks(path, 0, p.Horizon)
	sc.receive(path)
}

// daily is an outflow that has its paths day by day: the litres by the close of day 1 and of each after it.
type daily interface{ Path(path int) []float64 }

func (sc *scanner) receive(path int) {
	if len(sc.p.Receipts) == 0 {
		return
	}
	clear(sc.brought)
	for i := range sc.p.Receipts {
		if r := &sc.p.Receipts[i]; r.Day[path] <= sc.p.Horizon {
			sc.brought[r.Day[path]] += r.on(path)
		}
	}
	for t := 1; t < len(sc.brought); t++ {
		sc.brought[t] += sc.brought[t-1]
	}
}

// kept gives a reserve's litres at the close of a day.
func (sc *scanner) kept(r Reserve, day int) float64 {
	switch {
	case r.Days > 0:
		return sc.out[day+r.Days] - sc.out[day]
	case r.Share > 0:
		return r.Share * sc.p.capacity(day)
	}
	return r.Litres
}

// legs cuts a path into legs: what comes between two deliveries of which no plan makes use does not
// matter, so one scan of the days serves every plan.
func (sc *scanner) legs(path int, all []*occasion) []leg {
	sc.read(path)
	cut := make([]leg, 1, len(all)+1)
	cut[0].occasion = -1
	for i, o := range all {
		if o.arrival[path] != Never {
			cut = append(cut, leg{occasion: i, day: o.arrival[path]})
		}
	}
	slices.SortStableFunc(cut[1:], func(a, b leg) int { return cmp.Compare(a.day, b.day) })
	for i := range cut {
		end := sc.p.Horizon + 1
		if i+1 < len(cut) {
			end = cut[i+1].day
		}
		sc.scan(&cut[i], end)
	}
	return cut
}

// scan fills in a leg that lasts to the day before the end.
func (sc *scanner) scan(l *leg, end int) {
	reserve, at := sc.p.Reserve, sc.p.FallbackAt
	if at == (Reserve{}) {
		at = reserve
	}
	l.days = end - l.day
	l.gone = sc.before(l.day)
	l.end, l.reserve, l.fallback, l.dry, l.room = l.gone, math.Inf(-1), math.Inf(-1), math.Inf(-1), math.Inf(1)
	if l.days == 0 {
		return
	}
	l.sum = total(sc.out[l.day:end])
	if len(sc.p.Receipts) > 0 {
		l.sum -= total(sc.brought[l.day:end])
	}
	l.end = sc.gone(end - 1)
	for from := l.day; from < end; {
		next := min(sc.breaks.after(from), end)
		last := next - 1 // what is asked for grows up to it, and the room from the first day on
		gone := sc.gone(last)
		l.reserve = max(l.reserve, gone+sc.kept(reserve, last))
		l.fallback = max(l.fallback, gone+sc.kept(at, last))
		l.dry = max(l.dry, gone)
		if sc.p.Capacity != nil {
			l.room = min(l.room, sc.before(from)+sc.p.capacity(from))
		}
		from = next
	}
}

// total adds up, four by four, since each addition waits for the one before it.
func total(values []float64) float64 {
	var a, b, c, d float64
	for ; len(values) >= 4; values = values[4:] {
		a, b, c, d = a+values[0], b+values[1], c+values[2], d+values[3]
	}
	for _, v := range values {
		a += v
	}
	return a + b + c + d
}

// gone gives what has gone out by the close of a day, less what orders on their way have brought.
func (sc *scanner) gone(day int) float64 { return sc.out[day] - sc.brought[day] }

// before gives what has gone out by a day before its own outflow, less what orders on their way have brought
// on it.
func (sc *scanner) before(day int) float64 { return sc.out[max(day-1, 0)] - sc.brought[day] }
