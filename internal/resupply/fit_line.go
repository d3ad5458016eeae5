package resupply

import "math"

// line is a least-squares line through days by year, or their mean where it has no slope.
type line struct {
	n       int
	sloped  bool
	midYear float64
	mean    float64 // at midYear, days
	slope   float64 // days a year
	sxx     float64 // Σ(year − midYear)²
	sd      float64 // residual standard deviation, days
}

// wholeDay is the least standard deviation of dates that are recorded by whole days: that of a number
// anywhere within one, 1/√12.
const wholeDay = 0.28867513459481287

// fitLine fits days to years; it needs more points than it has parameters. Formulas: any textbook of
// regression, such as Draper & Smith, Applied Regression Analysis, chapter 1.
func fitLine(years, days []float64, sloped bool) line {
	l := line{n: len(years), sloped: sloped}
	for i := range years {
		l.midYear += years[i] / float64(l.n)
		l.mean += days[i] / float64(l.n)
	}
	sxy := 0.0
	for i := range years {
		l.sxx += (years[i] - l.midYear) * (years[i] - l.midYear)
		sxy += (years[i] - l.midYear) * (days[i] - l.mean)
	}
	if sloped {
		l.slope = sxy / l.sxx
	}
	rest := 0.0
	for i := range years {
		rest += square(days[i] - l.at(years[i]))
	}
	l.sd = math.Max(wholeDay, math.Sqrt(rest/l.df()))
	return l
}

func square(x float64) float64 { return x * x }

// df is the number of degrees of freedom of the residuals.
func (l line) df() float64 {
	if l.sloped {
		return float64(l.n - 2)
	}
	return float64(l.n - 1)
}

// at is the expected day in a year.
func (l line) at(year float64) float64 { return l.mean + l.slope*(year-l.midYear) }

// slopeSE is the standard error of the slope, days a year.
func (l line) slopeSE() float64 { return l.sd / math.Sqrt(l.sxx) }

// predictionSD is the standard deviation of the error with which the line foretells one year's day: that
// of the year itself, of the mean and of the slope. Over it, the error has Student's distribution.
func (l line) predictionSD(year float64) float64 {
	u := 1 + 1/float64(l.n)
	if l.sloped {
		u += square(year-l.midYear) / l.sxx
	}
	return l.sd * math.Sqrt(u)
}
