package forecast

import "math"

// Calibration is what the plants of a fleet have in common beside their seasons, learned from how they
// behaved and from how forecasts of them would have fared: see Calibrate.
type Calibration struct {
	// Scales multiply the spread of the model, each with the same probability: errors are not normal, and
	// every model believes too much in itself.
	Scales []float64
	// Laws is how probable each law is for a plant of the fleet before its own readings are seen.
	Laws []float64
	// Tankage and Peak tell the level of a plant that has no readings from its storage and its highest load.
	Tankage, Peak Size
}

// Spread and freedom of a fleet that has no past to learn from: a twentieth wider than the model says, which takes its noise
// and its laws as known (p10 to p90 held 75 to 80 % of simulated plants without that, computed), with the tail of Student's
// distribution. Its freedom stands for the handful of years that a history holds: plants share
// their weather and their prices, so that the years count and not the plants.
const (
	usualScale   = 1.05
	usualFreedom = 5.0
)

// Standard is the calibration of a fleet that is too small or too young to have its own.
func Standard() Calibration {
	return Calibration{Scales: tailScales(usualScale, usualFreedom), Laws: standardLaws(), Tankage: usualTankage, Peak: usualPeak}
}

const (
	commonDrift   = 0.07 // of the level in a year, in logs: whole-year totals of village plants miss by 4 to 5 %
	driftOctaves  = 1.4  // standard deviation of its logarithm to base 2
	strangeFactor = 3.0  // a season three times as strange is so many times as rare
)

// standardLaws are log-normal in the drift. The constants are computed from the monthly Power Cost
// Equalization reports of the Alaska Energy Authority, years before 2019.
func standardLaws() []float64 {
	weights := make([]float64, len(laws))
	for i, l := range laws {
		octaves := math.Log2(l.drift/commonDrift) / driftOctaves
		weights[i] = math.Exp(-octaves*octaves/2) * math.Pow(l.strange, -math.Log(strangeFactor)/math.Log(3))
	}
	return normalised(weights)
}

func normalised(weights []float64) []float64 {
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	for i := range weights {
		weights[i] /= sum
	}
	return weights
}
