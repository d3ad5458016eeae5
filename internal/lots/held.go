package lots

import "math"

// HoldKind names what keeps a lot from being larger or smaller.
type HoldKind string

// The kinds of hold.
const (
	SmallestLot HoldKind = "smallest-lot"
	LargestLot  HoldKind = "largest-lot"
	RoomIsFull  HoldKind = "room"  // at the arrival in a window
	LimitIsMet  HoldKind = "limit" // one of several windows together
)

// Hold is what keeps a lot from being another.
type Hold struct {
	Kind HoldKind
	At   int // the window where the tanks are full, or the limit's place; else the lot's own window
}

// held finds, for each lot, every bound that one step more, or less, would break.
func (p *Plant) held(l *line, plan *Plan) [][]Hold {
	slack := p.slacks(plan)
	held := make([][]Hold, l.n)
	for w, x := range plan.Lots {
		if x == 0 {
			continue
		}
		v := &p.Windows[w]
		more := max(float64(v.Step)*(1-whole), 2*l.tiny)
		if float64(x-v.Min) < more && v.Min > 0 {
			held[w] = append(held[w], Hold{SmallestLot, w})
		}
		if float64(v.Max-x) < more {
			held[w] = append(held[w], Hold{LargestLot, w})
		}
		for k := w; k < l.n; k++ {
			if slack[k] < more {
				held[w] = append(held[w], Hold{RoomIsFull, k})
				break
			}
		}
		for i := range l.rows {
			if r := &l.rows[i]; r.litre[w]*more > r.leaves(l, plan)-precision*math.Abs(r.most) && r.litre[w] > 0 {
				held[w] = append(held[w], Hold{LimitIsMet, r.limit})
			}
		}
	}
	return held
}

// slacks gives the litres of room that each arrival leaves.
func (p *Plant) slacks(plan *Plan) []float64 {
	free := make([]float64, len(p.Windows))
	delivered := 0.0
	for w := range p.Windows {
		delivered += float64(plan.Lots[w])
		free[w] = float64(p.Windows[w].Room) - delivered
		delivered += float64(plan.Fallback[w])
	}
	return free
}

// leaves is what a plan leaves of a limit.
func (r *row) leaves(l *line, plan *Plan) float64 {
	left := r.most
	for w := range l.n {
		if x := float64(plan.Lots[w]); x > 0 {
			left -= r.litre[w]*x + r.use[w]
		}
	}
	return left
}
