package web

import (
	"html/template"
	"strconv"
	"strings"

	"overwinter/internal/budget"
	"overwinter/internal/calendar"
	"overwinter/internal/chart"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

var plainScale = units.Scale{Factor: 1}

// page sets the budget.
func (q priced) page() budgetPage {
	p := budgetPage{
		Price: q.price, Currency: q.currency, PriceWrong: q.priceWrong, CurrencyWrong: q.currencyWrong,
		Source: q.source(), Plant: q.plant, CSV: "/budget.csv" + q.query(q.plant),
	}
	for _, one := range q.Plants {
		p.Choice = append(p.Choice, budgetChoice{one.Plant, one.Name, one.Plant == q.plant})
	}
	if q.hasMoney() {
		p.Money = q.FleetBudget.Price.Currency
	}
	p.Title, p.Lead = q.answer()
	for _, y := range q.shown.Years {
		p.Years = append(p.Years, q.row(yearName(y), yearMonths(y), y.Period))
	}
	for _, m := range q.shown.Months {
		row := q.row(monthName(m.Month), "", m.Period)
		row.Sum = q.sum(m.Cumulative)
		p.Months = append(p.Months, row)
	}
	if q.plant == "" {
		p.Plants, p.Next, p.Mixed = q.plants(), strings.ToLower(nextName(q.shown)), q.mixed()
	}
	p.Chart = q.chart()
	p.Notes = q.notes()
	return p
}

// mixed says that not all plants have one fiscal year.
func (q priced) mixed() string {
	all, _, ok := nextYear(q.Fleet)
	for _, p := range q.Plants {
		if p.Budget == nil || !ok {
			continue
		}
		if y, _, has := nextYear(*p.Budget); has && (y.First != all.First || y.Last != all.Last) {
			return "Each plant by its own fiscal year, as written under its name; the heading takes " + yearMonths(all) + " for all. So this table does not add up to the heading."
		}
	}
	return ""
}

// restOfMonth says which days no figure counts: budgets are of whole months.
func (q priced) restOfMonth(first calendar.Month) string {
	if left := int(first.First()-q.AsOf) - 1; left > 0 {
		return "The last " + days(left) + " of " + calendar.MonthOf(q.AsOf).Month.String() + " are in no figure."
	}
	return ""
}

func (q priced) hasMoney() bool { return q.FleetBudget.Price.PerLitre > 0 }

// nextYear gives the first fiscal year that is held whole, or else the last one; rest is what comes
// before it. ok is false where there is no budget.
func nextYear(b budget.Budget) (next budget.YearPeriod, rest []budget.YearPeriod, ok bool) {
	for i, y := range b.Years {
		if y.Whole || i == len(b.Years)-1 {
			return y, b.Years[:i], true
		}
	}
	return next, nil, false
}

func yearName(y budget.YearPeriod) string { return "Fiscal year " + strconv.Itoa(y.FiscalYear) }

func nextName(b budget.Budget) string {
	y, _, ok := nextYear(b)
	if !ok {
		return ""
	}
	return yearName(y)
}

// yearMonths says which months of a fiscal year are counted.
func yearMonths(y budget.YearPeriod) string {
	months := monthName(y.First) + " to " + monthName(y.Last)
	if y.First == y.Last {
		months = monthName(y.First)
	}
	if y.Whole {
		return months
	}
	return months + ", " + count(y.Months, "month", "months") + " of it"
}

func monthName(m calendar.Month) string { return m.Month.String()[:3] + joint + strconv.Itoa(m.Year) }

// answer puts the next fiscal year in the heading, its range and what is left of the current year in the
// lead.
func (q priced) answer() (title string, lead []string) {
	y, rest, ok := nextYear(q.shown)
	who := ""
	if q.name != "" {
		who = q.name + ", "
	}
	if !ok {
		title = "There is nothing to budget from yet"
		if q.name != "" {
			title = "There is nothing to budget " + q.name + " from yet"
		}
		return title, []string{"The consumption is not known. Enter meter readings, gaugings or monthly totals; the next forecast of all plants makes the budget."}
	}
	title = who + strings.ToLower(yearName(y)) + ": " + q.amount(y.Period)
	if who == "" {
		title = capital(title)
	}
	lead = append(lead, "Eight times in ten it is between "+q.span(y.Period)+" ("+yearMonths(y)+").")
	for _, r := range rest {
		lead = append(lead, "What is left of fiscal year "+strconv.Itoa(r.FiscalYear)+", "+yearMonthsShort(r)+": "+q.amount(r.Period)+", between "+q.span(r.Period)+".")
	}
	if text := q.restOfMonth(q.shown.Months[0].Month); text != "" {
		lead[len(lead)-1] += " " + text
	}
	return title, lead
}

func yearMonthsShort(y budget.YearPeriod) string {
	if y.First == y.Last {
		return monthName(y.First)
	}
	return monthName(y.First) + " to " + monthName(y.Last)
}

// amount writes the median of a period, in money where there is a price.
func (q priced) amount(p budget.Period) string {
	if !q.hasMoney() {
		return kL(p.Litres.P50)
	}
	return kL(p.Litres.P50) + ", " + q.FleetBudget.Price.Currency + joint + money(p.Money.P50)
}

func (q priced) span(p budget.Period) string {
	text := kilolitres(p.Litres.P10) + " and " + kL(p.Litres.P90)
	if q.hasMoney() {
		text += ", " + q.FleetBudget.Price.Currency + joint + money(p.Money.P10) + " and " + money(p.Money.P90)
	}
	return text
}

// money writes minor units as whole major ones.
func money(minor int64) string { return whole(float64(minor) / 100) }

func (q priced) row(name, note string, p budget.Period) budgetRow {
	r := budgetRow{Name: name, Note: note, Litres: rangeCells{whole(p.Litres.P50), whole(p.Litres.P10) + " to " + whole(p.Litres.P90)}}
	if q.hasMoney() {
		r.Money = rangeCells{money(p.Money.P50), money(p.Money.P10) + " to " + money(p.Money.P90)}
	}
	return r
}

func (q priced) sum(p budget.Period) string {
	if q.hasMoney() {
		return money(p.Money.P50)
	}
	return whole(p.Litres.P50)
}

// plants sets each plant's own next fiscal year, which may begin in another month than the fleet's.
func (q priced) plants() []plantRow {
	var rows []plantRow
	for _, p := range q.Plants {
		row := plantRow{Name: p.Name, Path: "/budget" + q.query(p.Plant)}
		if p.Budget != nil {
			if y, rest, ok := nextYear(*p.Budget); ok {
				row.Next = q.row("", strconv.Itoa(y.FiscalYear)+": "+yearMonths(y), y.Period)
				if len(rest) > 0 {
					row.Rest = q.row("", yearMonthsShort(rest[0]), rest[0].Period)
				}
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// chart draws the sum since the first month with its range.
func (q priced) chart() template.HTML {
	if len(q.shown.Months) == 0 {
		return ""
	}
	m := chart.Monthly{ID: "sum", Title: "Cumulative cost", Unit: q.FleetBudget.Price.Currency + joint + "thousand", Per: 1000, Ends: true}
	if !q.hasMoney() {
		m.Title, m.Unit = "Cumulative litres", "kL"
	}
	last := q.shown.Months[len(q.shown.Months)-1]
	m.Desc = "From " + monthName(q.shown.Months[0].Month) + " on; at the end of " + monthName(last.Month) + " " +
		q.amount(last.Cumulative) + ", between " + q.span(last.Cumulative) + ". The table by month holds the same."
	for _, one := range q.shown.Months {
		at := func(litres float64, minor int64) float64 {
			if q.hasMoney() {
				return float64(minor) / 100
			}
			return litres
		}
		c := one.Cumulative
		m.Months = append(m.Months, chart.Month{
			Label: monthLabel(one.Month), Low: at(c.Litres.P10, c.Money.P10), Expected: at(c.Litres.P50, c.Money.P50), High: at(c.Litres.P90, c.Money.P90),
		})
	}
	return m.Draw()
}

// notes says what the plants' budgets lack.
func (q priced) notes() []string {
	var notes []string
	for _, p := range q.Plants {
		if q.plant != "" && p.Plant != q.plant {
			continue
		}
		if p.Budget == nil {
			notes = append(notes, p.Name+" is not in the sum: its consumption is not known.")
		}
		for _, n := range p.Notices {
			if n.Severity == notice.Serious || (q.plant != "" && n.Severity == notice.Caution) {
				notes = append(notes, p.Name+": "+sentence(n.Message))
			}
		}
	}
	return notes
}
