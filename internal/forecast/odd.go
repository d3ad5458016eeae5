package forecast

import "math"

const (
	contradictsBeyond = 3.5  // standard deviations of the specific consumption,
	contradictsRatio  = 1.20 // and this factor: what contradicts its energy
	vouchesWithin     = 2.5  // standard deviations: what agrees with it
	vouchesSD         = 0.15 // above this standard deviation the energy vouches for nothing
	correctionMost    = 1.67 // times what its energy takes that a count correction makes of a month, or so many times less
	besidePairs       = 2    // either way, of which the median is what is usual at the time
	seasonMates       = 2    // years in which the same time was measured, from which on it has a season
	seasonNoise       = 0.05 // least standard deviation of what one year says of it, in logs (computed from monthly reports)
	seasonDays        = 20.0 // no farther apart in the year
)

// judgeByEnergy gives the verdict on each account that has fuel and energy.
func judgeByEnergy(accounts []account) {
	var r *rates
	for i := range accounts {
		a := &accounts[i]
		if math.IsNaN(a.specific) {
			continue
		}
		sd := a.deviation()
		switch off := math.Abs(a.off()); {
		case off > contradictsBeyond*sd && off > math.Log(contradictsRatio):
			if r == nil {
				r = ratesOf(accounts)
			}
			a.verdict = oddEnergy
			if r.fuelIsOdd(i) {
				a.verdict = faultyFuel
			}
		case off <= vouchesWithin*sd && sd <= vouchesSD:
			a.verdict = agreeing
		}
	}
}

// rates are the logs of fuel and energy a day, each against the median of those beside it.
type rates struct {
	at, fuel, energy []float64
	index            []int // of each account, -1 for one without both
}

func ratesOf(accounts []account) *rates {
	r := &rates{index: make([]int, len(accounts))}
	var fuel, energy []float64
	for i := range accounts {
		a := &accounts[i]
		r.index[i] = -1
		if math.IsNaN(a.specific) {
			continue
		}
		r.index[i] = len(fuel)
		r.at = append(r.at, (a.Start+a.End)/2)
		fuel = append(fuel, math.Log(float64(a.Litres)/a.Days()))
		energy = append(energy, math.Log(a.kWh/a.Days()))
	}
	r.fuel, r.energy = againstThoseBeside(fuel), againstThoseBeside(energy)
	return r
}

func againstThoseBeside(logs []float64) []float64 {
	out, room := make([]float64, len(logs)), make([]float64, 0, 2*besidePairs)
	for i, x := range logs {
		near := room
		for j := max(i-besidePairs, 0); j < min(i+besidePairs+1, len(logs)); j++ {
			if j != i {
				near = append(near, logs[j])
			}
		}
		out[i] = x - middleOf(near)
	}
	return out
}

// fuelIsOdd decides which of fuel and energy is wrong where they contradict each other: the one that lies farther from what is
// usual at the time and season, which both tell.
func (r *rates) fuelIsOdd(account int) bool {
	i := r.index[account]
	var same []float64
	for j, at := range r.at {
		years := (at - r.at[i]) / daysPerYear
		if whole := math.Round(years); whole != 0 && math.Abs(years-whole)*daysPerYear <= seasonDays {
			same = append(same, r.fuel[j], r.energy[j])
		}
	}
	season := 0.0
	if len(same) >= 2*seasonMates {
		season = shrunk(same)
	}
	return math.Abs(r.fuel[i]-season) >= math.Abs(r.energy[i]-season)
}

// shrunk gives the median of what some years say, drawn to nothing the more they differ: by m²/(m² + v), v their variance.
func shrunk(values []float64) float64 {
	middle := median(values)
	offs := make([]float64, len(values))
	for i, v := range values {
		offs[i] = math.Abs(v - middle)
	}
	sd := max(madToSD*median(offs), seasonNoise)
	return middle * middle * middle / (middle*middle + sd*sd)
}

// isCorrection says whether litres that contradict their energy look like a count correction booked in one interval: not so far off that digits
// slipped or a part was not reported. What such a correction adds was burned, though not at that time.
func (a *account) isCorrection() bool {
	return a.Litres > 0 && math.Abs(a.off()) < math.Log(correctionMost)
}
