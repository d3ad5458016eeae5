package resupply

import "gonum.org/v1/gonum/stat/distuv"

// FailFit is the chance that a window does not open at all, from the years in which it did or did not.
type FailFit struct {
	Failed int     `json:"failed_years"`
	Years  int     `json:"years"`  // in which it is known whether it opened
	Chance float64 `json:"chance"` // of failing in one year
	Low    float64 `json:"low"`    // of 90 % probability with the record alone
	High   float64 `json:"high"`
}

// jeffreys is the prior's weight on either side where nothing is known beforehand.
const jeffreys = 0.5

// fitFailures gives the mean of the chance after the record. Before it the chance is Beta(a, 1 − a): what
// was stated, a, counts as one year. With nothing stated a is ½, Jeffreys' prior, and the interval is
// Jeffreys' in any case: Brown, Cai & DasGupta, Statistical Science 16 (2001), section 3.1.
func fitFailures(failed, years int, stated *float64) FailFit {
	a := jeffreys
	if stated != nil {
		a = *stated
	}
	f := FailFit{Failed: failed, Years: years, Chance: (float64(failed) + a) / float64(years+1), Low: 0, High: 1}
	alone := distuv.Beta{Alpha: float64(failed) + jeffreys, Beta: float64(years-failed) + jeffreys}
	if failed > 0 {
		f.Low = alone.Quantile(0.05)
	}
	if failed < years {
		f.High = alone.Quantile(0.95)
	}
	return f
}
