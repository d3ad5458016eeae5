// Package budget turns simulated consumption into litres and money by fiscal month.
package budget

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/forecast"
)

// How far a budget looks, in months.
const (
	Months        = 18 // two fiscal years are in sight from any month of the first
	TwoYearMonths = 24 // the fiscal year after the current one is held whole, from any day of the current one
)

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
	// Cumulative is everything from the first month of the budget to the end of this one.
	Cumulative Period `json:"cumulative"`
}

// YearPeriod is the period of those months of a fiscal year that a budget counts.
type YearPeriod struct {
	FiscalYear int            `json:"fiscal_year"`
	First      calendar.Month `json:"first_month"`
	Last       calendar.Month `json:"last_month"`
	Months     int            `json:"months"`
	Whole      bool           `json:"whole"` // all twelve months are counted
	Period
}

// MostPerLitre is where a price of a litre is taken for a slip, in major units: in some currencies a litre costs tens
// of thousands. Common practice, no source.
const MostPerLitre = 1e6

// Budget is the consumption of one plant or of a fleet. What holds several months together is the
// quantile of their sum, not the sum of their quantiles.
type Budget struct {
	Months []MonthPeriod `json:"months"`
	Years  []YearPeriod  `json:"years"`
	Total  Period        `json:"total"`
}

// Sheet is consumption by month and path, before it is summed up; sheets of plants add.
type Sheet struct {
	first  calendar.Month
	litres [][]float64 // by month, by path
}

// NewSheet lays consumption out over so many whole months after the as-of day. Burn must reach
// DaysNeeded days.
func NewSheet(asOf calendar.Day, burn Outflow, months int) Sheet {
	s := Sheet{first: calendar.MonthOf(asOf + 1)}
	if s.first.First() != asOf+1 {
		s.first = s.first.Next()
	}
	for i := range months {
		m := s.first.Plus(i)
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

// DaysNeeded is how many days after the as-of day a sheet of so many months reaches.
func DaysNeeded(asOf calendar.Day, months int) int {
	return int(calendar.MonthOf(asOf+1).Plus(months+1).First() - asOf)
}

// Add gives both consumptions together, path by path, so that weather common to both stays common.
// The sheets must begin with the same month and have the same number of months and paths; an empty
// sheet adds nothing.
func (s Sheet) Add(o Sheet) Sheet {
	switch {
	case s.Empty():
		return o
	case o.Empty():
		return s
	}
	sum := Sheet{first: s.first}
	for i := range s.litres {
		month := slices.Clone(s.litres[i])
		add(month, o.litres[i])
		sum.litres = append(sum.litres, month)
	}
	return sum
}

func add(to, litres []float64) {
	for p := range to {
		to[p] += litres[p]
	}
}

// Budget sums the sheet up at a price per litre in major units, for fiscal years that begin in a month.
func (s Sheet) Budget(price float64, begins time.Month) Budget {
	b := Budget{Months: []MonthPeriod{}, Years: []YearPeriod{}}
	if s.Empty() {
		return b
	}
	total := make([]float64, len(s.litres[0]))
	for i, month := range s.litres {
		add(total, month)
		m := s.first.Plus(i)
		b.Months = append(b.Months, MonthPeriod{m, m.FiscalYear(begins), period(month, price), period(total, price)})
	}
	for i := 0; i < len(s.litres); {
		year, months := s.year(i, begins)
		year.Period = period(months, price)
		b.Years = append(b.Years, year)
		i += year.Months
	}
	b.Total = period(total, price)
	return b
}

// year gathers the months of one fiscal year from a month of the sheet on: which they are, and their
// litres together on each path.
func (s Sheet) year(from int, begins time.Month) (y YearPeriod, litres []float64) {
	y.First = s.first.Plus(from)
	y.FiscalYear = y.First.FiscalYear(begins)
	litres = make([]float64, len(s.litres[from]))
	for i := from; i < len(s.litres) && s.first.Plus(i).FiscalYear(begins) == y.FiscalYear; i++ {
		add(litres, s.litres[i])
		y.Last = s.first.Plus(i)
		y.Months++
	}
	y.Whole = y.Months == 12
	return y, litres
}

func period(litres []float64, price float64) Period {
	q := forecast.Quantiles(litres, 0.1, 0.5, 0.9)
	return Range{q[0], q[1], q[2]}.at(price)
}

// at prices litres. The quantile of money is the money of the quantile, since no price is negative.
func (r Range) at(price float64) Period {
	return Period{r, MoneyRange{minor(r.P10, price), minor(r.P50, price), minor(r.P90, price)}}
}

// minor prices litres in hundredths of the currency, half a hundredth away from zero.
func minor(litres, price float64) int64 { return int64(math.Round(100 * litres * price)) }

// At gives the budget at another price per litre in major units: the litres stay, the money follows.
func (b Budget) At(price float64) Budget {
	out := Budget{Months: slices.Clone(b.Months), Years: slices.Clone(b.Years), Total: b.Total.Litres.at(price)}
	for i := range out.Months {
		m := &out.Months[i]
		m.Period, m.Cumulative = m.Litres.at(price), m.Cumulative.Litres.at(price)
	}
	for i := range out.Years {
		out.Years[i].Period = out.Years[i].Litres.at(price)
	}
	return out
}

// CurrencyOf reads the code of a currency by the form of ISO 4217: three letters, given in capitals.
func CurrencyOf(text string) (code string, ok bool) {
	return strings.ToUpper(text), currencyForm.MatchString(text)
}

// currencyForm is of Latin letters alone: others have these for capitals, too.
var currencyForm = regexp.MustCompile(`^[A-Za-z]{3}$`)
