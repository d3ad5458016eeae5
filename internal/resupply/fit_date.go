package resupply

import (
	"math"
	"slices"
	"time"

	"overwinter/internal/calendar"
)

// Law names how a date is foretold from past dates.
type Law string

// The laws, the simplest first.
const (
	LawMean      Law = "mean"      // about the mean of the last years, normal
	LawTrend     Law = "trend"     // about a line through the last years, normal
	LawEmpirical Law = "empirical" // about the mean of the last years, spread as they were
)

// Which past years count; see docs/model.md.
const (
	NormalYears = 30 // the mean's: a climate normal
	LeastDates  = 5  // in them; below, past dates say less than what people state
	trendYears  = 60 // of the other laws
	leastTrend  = 15 // for a trend to be shown
)

// Lag is what lies between the event whose past dates are known, such as the break-up of the ice, and
// the opening or closing itself, with its own standard deviation; days, below 0 before the event.
type Lag struct{ Days, SDDays float64 }

// DateFit is an opening or closing foretold from past dates.
type DateFit struct {
	Law     Law
	Years   []int // used by the law, in order
	LeftOut []LeftOut
	Odd     []OddYear  // of those used
	Trend   *Trend     // nil where there are too few years for one
	Scores  []LawScore // none where too few years are known for a choice
	Lag     Lag

	anchor anchor
	line   line
	unit   *scores
}

// LeftOut is a year that the law did not use.
type LeftOut struct {
	Year int    `json:"year"`
	Why  string `json:"why"`
}

// Trend is the slope of the least-squares line with its standard error, whether or not the law uses it.
type Trend struct {
	First         int     `json:"first_year"`
	Last          int     `json:"last_year"`
	DaysPerDecade float64 `json:"days_per_decade"`
	StandardError float64 `json:"standard_error_days_per_decade"`
}

// LawScore is how well a law foretold each of the last years from those before it.
type LawScore struct {
	Law   Law     `json:"law"`
	Score float64 `json:"mean_log_score"` // mean logarithm of the probability of the day that it was
}

// Mean is the mean of the past dates used, the lag not counted, as the day of a common year with its
// fraction: 1.0 is 1 January.
func (f *DateFit) Mean() float64 { return f.anchor.yearDay() + f.line.mean }

// SD is the standard deviation of the years about the law, the lag's not counted.
func (f *DateFit) SD() float64 { return f.line.sd }

// In gives the points of the date in the season of a year.
func (f *DateFit) In(year int) Span { return f.uncertain(year).span() }

// Apart is how many days a day of the year, the lag included, lies outside the 10 and 90 % points of the
// season of a year: below 0 before them, 0 inside.
func (f *DateFit) Apart(stated YearDate, year int) int {
	s := f.In(year)
	day := nearest(stated, s.P50)
	return int(min(day-s.P10, 0) + max(day-s.P90, 0))
}

// nearest is the day of the year nearest to a day.
func nearest(d YearDate, to calendar.Day) calendar.Day {
	year, _, _ := to.Civil()
	best := d.in(year)
	for _, other := range []calendar.Day{d.in(year - 1), d.in(year + 1)} {
		if abs(other-to) < abs(best-to) {
			best = other
		}
	}
	return best
}

func abs(d calendar.Day) calendar.Day { return max(d, -d) }

func (f *DateFit) uncertain(year int) uncertain {
	y := float64(year)
	return uncertain{
		mid:   float64(f.anchor.in(year)) + f.line.at(y) + f.Lag.Days,
		scale: math.Hypot(f.line.predictionSD(y), f.Lag.SDDays),
		unit:  f.unit,
	}
}

// anchor is a day of the year amid the past dates, from which they are counted: so a leap day shifts no
// date that lies on the same side of it, and a season may run over New Year.
type anchor struct {
	date  YearDate
	later int // years after that of the season
}

func (a anchor) in(year int) calendar.Day { return a.date.in(year + a.later) }

func (a anchor) yearDay() float64 { return float64(a.date.in(commonYear).YearDay()) }

// commonYear is any year that has no leap day, nor have the years beside it.
const commonYear = 2001

// anchorOf finds the anchor of dates by season: their median, which one wrong date does not move.
func anchorOf(past []dateOf) anchor {
	after := make([]calendar.Day, len(past))
	for i, p := range past {
		after[i] = p.day - calendar.Date(p.year, time.March, 1)
	}
	slices.Sort(after)
	year, month, day := (calendar.Date(commonYear, time.March, 1) + after[len(after)/2]).Civil()
	return anchor{YearDate{month, day}, year - commonYear}
}

// dateOf is the date of one season.
type dateOf struct {
	year int
	day  calendar.Day
}
