package inventory

import (
	"math"

	"overwinter/internal/units"
)

// Screen is the public monthly screen of inventory control: a variance of more than 1.0 % of the month's throughput
// and 130 US gallons in a month is to be looked into (40 CFR 280.43(a)). It is a rule for underground tanks of
// filling stations; for a plant's tanks above ground it is a yardstick beside the variance's own uncertainty, and no
// leak test.
type Screen struct {
	// Applies tells whether the balance is one of about a month and has a variance.
	Applies    bool
	Throughput units.LitresAt15 // consumed and drawn
	Limit      units.LitresAt15
	Beyond     bool
}

// The screen's figures, and how long a month between two counts may be. The last are common practice, no source.
const (
	ScreenShare                   = 0.01
	ScreenFixed  units.LitresAt15 = 130 * units.LitresPerUSGallon
	shortestDays                  = 24
	longestDays                   = 38
)

// screened holds a balance against the screen.
func (bal *Balance) screened() {
	days := bal.To.Sub(bal.From).Hours() / 24
	s := Screen{Throughput: bal.Consumed + bal.Drawn}
	s.Limit = ScreenShare*s.Throughput + ScreenFixed
	s.Applies = bal.Known && days >= shortestDays && days <= longestDays
	s.Beyond = s.Applies && math.Abs(float64(bal.Variance)) > float64(s.Limit)
	bal.Screen = s
}
