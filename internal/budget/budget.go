// Package budget turns simulated consumption into litres and money by fiscal month.
package budget

import (
	"math"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/forecast"
)

// Months is how far a budget looks: two fiscal years are in sight from any month of the first.
const Months = 18

// Outflow gives simulated cumulative consumption in litres at 15 °C; forecast.Paths is one.
type Outflow interface {
	Count() int
	Cumulative(path, day int) float64
}

// Range is a quantity as the 10, 50 and 90 % points over paths.
type Range struct {
	P10 float64 `json:"p10"`
	P50 float64 `json:"p50"`
	P90 float64 `json:"p90"`
}

// Period is the consumption of one month, or of several together.
type Period struct {
	Litres Range `json:"litres_l15"`
	// Money is Litres at the stated price, in integer minor units of the currency.
	Money MoneyRange `json:"money_minor"`
}

// MoneyRange is an amount of money in minor units as the 10, 50 and 90 % points.
type MoneyRange struct {
	P10 int64 `json:"p10"`
	P50 int64 `json:"p50"`
	P90 int64 `json:"p90"`
}

// MonthPeriod is the period of one calendar month with the fiscal year that it falls in.
type MonthPeriod struct {
	Month      calendar.Month `json:"month"`
	FiscalYear int            `json:"fiscal_year"` // named by the calendar year in which it ends
	Period
}

// Budget is the consumption of one plant or of a fleet.
type Budget struct {
	Months []MonthPeriod `json:"months"`
	// Total is all months together. It is a quantile of the sum, not the sum of the months' quantiles.
	Total Period `json:"total"`
}

// Sheet is consumption by month and path, before it is summed up; sheets of plants add.
type Sheet struct {
	first  calendar.Month
	litres [][]float64 // by month, by path
}

// NewSheet lays consumption out over the Months whole months after the as-of day. Burn must reach
// DaysNeeded days.
func NewSheet(asOf calendar.Day, burn Outflow) Sheet {
	s := Sheet{first: calendar.MonthOf(asOf + 1)}
	if s.first.First() != asOf+1 {
		s.first = s.first.Next()
	}
	for i, m := 0, s.first; i < Months; i, m = i+1, m.Next() {
		from, to := int(m.First()-asOf)-1, int(m.Next().First()-asOf)-1
		month := make([]float64, burn.Count())
		for p := range month {
			month[p] = burn.Cumulative(p, to) - burn.Cumulative(p, from)
		}
		s.litres = append(s.litres, month)
	}
	return s
}

// Empty tells whether nothing was laid out.
func (s Sheet) Empty() bool { return s.litres == nil }

// DaysNeeded is how many days after the as-of day a sheet reaches.
func DaysNeeded(asOf calendar.Day) int {
	m := calendar.MonthOf(asOf + 1).Next()
	for range Months {
		m = m.Next()
	}
	return int(m.First() - asOf)
}

// Add gives both consumptions together, path by path, so that weather common to both stays common.
// The sheets must begin with the same month and have the same number of paths; an empty sheet adds
// nothing.
func (s Sheet) Add(o Sheet) Sheet {
	if s.Empty() {
		return o
	}
	sum := Sheet{first: s.first}
	for i := range s.litres {
		month := slices.Clone(s.litres[i])
		for p := range month {
			month[p] += o.litres[i][p]
		}
		sum.litres = append(sum.litres, month)
	}
	return sum
}

// Budget sums the sheet up at a price per litre in major units, for fiscal years that begin in a month.
func (s Sheet) Budget(price float64, begins time.Month) Budget {
	var b Budget
	if s.Empty() {
		return b
	}
	total := make([]float64, len(s.litres[0]))
	m := s.first
	for _, month := range s.litres {
		b.Months = append(b.Months, MonthPeriod{m, m.FiscalYear(begins), period(month, price)})
		for p := range total {
			total[p] += month[p]
		}
		m = m.Next()
	}
	b.Total = period(total, price)
	return b
}

func period(litres []float64, price float64) Period {
	r := Range{forecast.Quantile(litres, 0.1), forecast.Quantile(litres, 0.5), forecast.Quantile(litres, 0.9)}
	return Period{r, MoneyRange{minor(r.P10, price), minor(r.P50, price), minor(r.P90, price)}}
}

// minor prices litres in hundredths of the currency, half a hundredth away from zero.
func minor(litres, price float64) int64 { return int64(math.Round(100 * litres * price)) }
