// Package resupply turns simulated futures of one plant into dates and lots: when its stock reaches
// the reserve and when it ends, by when an order must be placed and with which window, how much to
// order, and what is short where no window can help.
//
// Time is counted in whole days after the as-of day: index 0 is the close of that day. Every future
// is a path with its own consumption, stock error, window dates, lead times and arrivals, so that all
// uncertainty meets in one place: the order statistics over paths. All volumes are litres at 15 °C.
package resupply

import (
	"math"

	"overwinter/internal/calendar"
)

// Never marks a day that does not come within the horizon.
const Never = math.MaxInt32

// Outflow gives simulated cumulative consumption; forecast.Paths is one.
type Outflow interface {
	Count() int                       // number of paths
	Cumulative(path, day int) float64 // litres burned by the close of the day
}

// Problem is one plant's question.
type Problem struct {
	AsOf    calendar.Day
	Horizon int     // last day index that is looked at
	Burn    Outflow // must reach to Horizon plus the days of the reserve and of FallbackAt
	// Draws is what leaves for anything but generation, cumulative by day index, as far as Burn; nil
	// means none.
	Draws []float64
	// Stock is the usable stock at the close of the as-of day, one value a path.
	Stock []float64
	// Reserve is the stock that planning must not touch.
	Reserve Reserve
	// Risk is the accepted probability of going below reserve before the next delivery.
	Risk float64
	// Capacity is what the available tanks hold, in order of FromDay; the first is in force from the start.
	Capacity []Capacity
	// Receipts are the orders that are placed and still to arrive.
	Receipts []Receipt
	// Windows are the opportunities to deliver, in order of their median opening.
	Windows []Window
	// Fallbacks are the dearer ways open at any time.
	Fallbacks []Fallback
	// FallbackAt is the stock at which fuel is bought by a fallback.
	FallbackAt Reserve
	// Carrying is the cost of holding fuel, as a share of its worth a year; 0 means that none is stated.
	Carrying float64
	// Spending bounds what is ordered.
	Spending []Spending
}

// Reserve is a volume, days at the coming outflow when Days is not 0, or a share of what the available tanks
// hold when Share is not 0.
type Reserve struct {
	Litres float64
	Days   int
	Share  float64 // 0 to 1; it follows Capacity
}

// Capacity is the usable volume that all available tanks hold from a day on.
type Capacity struct {
	FromDay int
	Litres  float64
}

// Receipt is an order on its way; it arrives on a day of its own on every path.
type Receipt struct {
	Order  string
	Litres float64
	Day    []int // Never where it does not arrive within the horizon
	taken  []float64
}

// Lot limits one delivery, in litres; 0 means no limit.
type Lot struct{ Min, Max, Step float64 }

// Window is one opportunity to deliver, with its dates drawn for every path.
type Window struct {
	Route, Name string
	Opening     calendar.Day // median
	AllYear     bool         // always open: it neither opens nor closes, and is there again for the next order
	LossChance  float64      // probability that it never opens
	Opens       []int        // day index on each path; Never where it does not open
	Closes      []int        // last day index on which fuel can still arrive, the cut-off counted; Never where it does not close
	Lead        []int        // order to arrival, days
	Slip        []int        // delay after that, or after the opening, days
	OrderBy     *int         // day index of the supplier's own order deadline
	Lot         Lot
	Limits      []DayLimit // what bounds the lots of certain days further
	Terms       Terms
}

// Arrival gives the day on which fuel ordered on a day arrives on a path, Never where the window
// fails or closes first.
func (w *Window) Arrival(path, ordered int) int {
	if w.Opens[path] == Never {
		return Never
	}
	day := max(w.Opens[path], ordered+w.Lead[path]) + w.Slip[path]
	if day > w.Closes[path] {
		return Never
	}
	return day
}

// Fallback is a dearer way open at any time, in loads.
type Fallback struct {
	Route, Mode string
	Load        float64 // litres of one load
	LeadDays    int
	Price       float64 // a litre, freight included, in major units of Currency; 0 means not known
	Fixed       float64 // of each load, whatever it brings
	Currency    string
}
