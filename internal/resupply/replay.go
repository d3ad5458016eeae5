package resupply

// Replayed is how an order fares on paths that the decision has not seen.
type Replayed struct {
	Paths int `json:"paths"`
	// TooLate is the share of paths on which stock reaches the reserve before the fuel arrives, or the
	// window closes first: the joint risk of both guards, which may reach their sum.
	TooLate float64 `json:"too_late"`
	// BelowReserve is the share on which stock is below reserve on any day until the following window
	// delivers, with the lot as advised, or as much of it as may come on the day.
	BelowReserve float64 `json:"below_reserve"`
}

// Replay puts an order on the paths of a fresh problem: the same plant and windows, other draws. The
// order day is the last day, so that the figures are those of the worst order that keeps the advice.
func Replay(fresh *Problem, o *Order, ordered int) Replayed {
	fresh.hold()
	w := &fresh.Windows[o.index]
	n := fresh.Burn.Count()
	late, below := 0, 0
	for s := range n {
		arrival := w.Arrival(s, ordered)
		if arrival == Never || fresh.firstBelow(s, 0, min(arrival-1, fresh.Horizon)) != Never {
			late++
		}
		until := min(fresh.followingArrival(&Order{Window: w, index: o.index}, s, ordered)-1, fresh.Horizon)
		if fresh.firstBelow(s, 0, until, w.brought(o.Lot.Lot, arrival)) != Never {
			below++
		}
	}
	return Replayed{Paths: n, TooLate: float64(late) / float64(n), BelowReserve: float64(below) / float64(n)}
}
