package forecast

import "math"

const (
	harmonics   = 3
	nSeason     = 2 * harmonics
	daysPerYear = 365.25
)

// season holds the seasonal coefficients a_1, b_1, a_2, b_2, a_3, b_3 on the log rate.
type season [nSeason]float64

// harmonicRow gives sin and cos of the yearly harmonics at noon of a day. The phase runs on with the
// day line rather than with the day of the year: the two differ by less than a day and this one has
// no jump at New Year.
func harmonicRow(day int) (row season) {
	sin1, cos1 := math.Sincos(2 * math.Pi * (float64(day) + 0.5) / daysPerYear)
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

func (s season) at(day int) float64 {
	row := harmonicRow(day)
	return s.dot(&row)
}

// harmonicOf gives the number k of the harmonic that a coefficient belongs to.
func harmonicOf(coefficient int) int { return coefficient/2 + 1 }
