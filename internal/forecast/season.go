package forecast

import "math"

const (
	harmonics   = 6
	nHarmonic   = 2 * harmonics
	coldAt      = nHarmonic  // place of the effect of cold, and
	firstEvent  = coldAt + 1 // of that of the first yearly event
	nSeason     = firstEvent + mostEvents
	daysPerYear = 365.25
)

// season holds the seasonal coefficients on the log rate: a_1, b_1, … a_6, b_6 of the harmonics, then that of days colder than
// usual, then those of yearly events.
type season [nSeason]float64

// harmonicRow gives sin and cos of the yearly harmonics at noon of a day. The phase runs on with the
// day line rather than with the day of the year: the two differ by less than a day and this one has
// no jump at New Year.
func harmonicRow(day int) season { return harmonicsAt(float64(day) + 0.5) }

func harmonicsAt(moment float64) (row season) {
	sin1, cos1 := math.Sincos(2 * math.Pi * moment / daysPerYear)
	sin, cos := sin1, cos1
	for k := range harmonics {
		row[2*k], row[2*k+1] = sin, cos
		sin, cos = sin*cos1+cos*sin1, cos*cos1-sin*sin1
	}
	return row
}

func (s season) dot(row *season) (sum float64) {
	for i, c := range s {
		sum += c * row[i]
	}
	return sum
}

// along is dot over the first coefficients, which are nHarmonic at least. The harmonics are summed in four strands, as dot of slices has
// them, without a loop.
func (s *season) along(row *season, used int) float64 {
	sum := (s[0]*row[0] + s[4]*row[4] + s[8]*row[8]) + (s[1]*row[1] + s[5]*row[5] + s[9]*row[9]) +
		((s[2]*row[2] + s[6]*row[6] + s[10]*row[10]) + (s[3]*row[3] + s[7]*row[7] + s[11]*row[11]))
	for i := nHarmonic; i < used; i++ {
		sum += s[i] * row[i]
	}
	return sum
}

// harmonicOf gives the number k of the harmonic that a coefficient belongs to.
func harmonicOf(coefficient int) int { return coefficient/2 + 1 }
