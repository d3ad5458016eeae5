// Package lots plans the deliveries of a plant at the least cost: which windows to use and how many litres to take
// from each, so that fuel lasts until the next window, fits into the tanks on arrival, and comes by the dear fallback only where that
// is cheaper or nothing else holds. The plan is optimal, and says by how much it may not be where lots come in steps.
// docs/lots.md has the problem in words and symbols.
package lots

import "overwinter/internal/units"

// MostWindows is the most windows that one plant may have: every set of them may have to be looked at.
const MostWindows = 14

// Money is an amount in major units of the problem's currency.
type Money float64

// Price is money per litre at 15 °C.
type Price float64

// Problem is what is to be planned.
type Problem struct {
	Currency string // ISO 4217
	Plants   []Plant
}

// Plant is one plant with its windows in the order of their dates.
type Plant struct {
	Name    string
	Windows []Window
	Limits  []Limit
}

// Window is one opportunity of delivery, and the interval from its arrival to that of the next one. Need and Room are cumulative:
// they bound what has been delivered since the start, over all windows up to this one.
type Window struct {
	Name string
	// Need is what must have been delivered by the end of the interval: the quantile of use up to there, the reserve added, the opening
	// stock taken off; below 0 where the stock lasts.
	Need units.LitresAt15
	// Room is the most that may have been delivered once this window's lot is in the tanks; +Inf where there is no bound.
	Room units.LitresAt15
	// A lot is nothing, or from Min to Max, and a multiple of Step if that is above 0. Max is +Inf where there is no bound, and 0
	// where the window is shut.
	Min, Max, Step units.LitresAt15
	Fixed          Money // for a lot of any size
	Price          Price
	Carrying       Price     // of each litre above the need at the end of the interval
	Fallback       *Fallback // nil where there is none
}

// Fallback is a dearer mode that can bring fuel at any time within the interval, as it is burned: it needs room only when the next
// window's lot arrives.
type Fallback struct {
	Price Price
	Load  units.LitresAt15 // whole loads only, if above 0
}

// Limit bounds the lots of some windows together, in litres or in money: what a supplier can give, or a credit. The fallback is not
// counted.
type Limit struct {
	Name    string
	Windows []int // places in the plant's list, from 0
	Litres  *units.LitresAt15
	Money   *Money // fixed costs and price of the lots
}

// Plan is the answer for one plant.
type Plan struct {
	Lots     []units.LitresAt15 // one a window
	Fallback []units.LitresAt15 // one an interval
	Cost     Cost
	// Bound is a lower bound of the cost of any plan. It is the cost itself where the plan is proved to be the best.
	Bound  Money
	Proved bool
	// Held names, for each window with a lot, what keeps it from being another: Held[w] is empty where nothing does.
	Held [][]Hold
}

// Gap is how much dearer than the best plan this one may be.
func (p *Plan) Gap() Money { return p.Cost.Total - p.Bound }

// Cost is what a plan costs, by parts.
type Cost struct {
	Total    Money `json:"total"`
	Fixed    Money `json:"fixed"`
	Fuel     Money `json:"fuel"`
	Fallback Money `json:"fallback"`
	Carrying Money `json:"carrying"`
}

// CostOf reckons what lots and fallback cost at a plant.
func (p *Plant) CostOf(lots, fallback []units.LitresAt15) Cost {
	var c Cost
	delivered := units.LitresAt15(0)
	for i, w := range p.Windows {
		if lots[i] > 0 {
			c.Fixed += w.Fixed
			c.Fuel += Money(w.Price) * Money(lots[i])
		}
		if fallback[i] > 0 {
			c.Fallback += Money(w.Fallback.Price) * Money(fallback[i])
		}
		delivered += lots[i] + fallback[i]
		c.Carrying += Money(w.Carrying) * Money(max(0, delivered-w.Need))
	}
	c.Total = c.Fixed + c.Fuel + c.Fallback + c.Carrying
	return c
}
