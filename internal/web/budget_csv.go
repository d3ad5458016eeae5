package web

import (
	"bytes"
	"encoding/csv"
	"net/http"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"overwinter/internal/budget"
	"overwinter/internal/fault"
)

// budgetCSV is the table by plant and month for other programs: no thousands are set apart in it.
func (s *Site) budgetCSV(c echo.Context) error {
	now, err := s.deps.Desk.InForce(c.Request().Context())
	if err != nil {
		return err
	}
	if now.Budget == nil {
		return fault.New(fault.NotFound, "no budget has been worked out yet: it comes with the first forecast of all plants")
	}
	q, err := s.ask(c, now.Budget)
	if err != nil {
		return err
	}
	if q.priceWrong != "" || q.currencyWrong != "" {
		e := fault.New(fault.Invalid, "the price cannot be used")
		if q.priceWrong != "" {
			e = e.With(fault.Field{Where: "price", Message: q.priceWrong})
		}
		if q.currencyWrong != "" {
			e = e.With(fault.Field{Where: "currency", Message: q.currencyWrong})
		}
		return e
	}
	body, err := q.table()
	if err != nil {
		return fault.Wrap(fault.Internal, err, "the table could not be written")
	}
	h := c.Response().Header()
	guard(h)
	h.Set(echo.HeaderContentDisposition, `attachment; filename="budget-`+q.AsOf.String()+`.csv"`)
	return c.Blob(http.StatusOK, "text/csv; charset=utf-8", body)
}

// table writes the months of every plant and of all together, or of one plant.
func (q priced) table() ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	_ = w.Write([]string{ // a buffer does not fail
		"as_of", "level", "plant", "name", "period", "month", "fiscal_year", "litres_l15_p10", "litres_l15_p50", "litres_l15_p90",
		"money_p10", "money_p50", "money_p90", "currency", "price_per_l15",
	})
	for _, p := range q.Plants {
		if p.Budget != nil && (q.plant == "" || q.plant == p.Plant) {
			q.rows(w, "plant", p.Plant, p.Name, *p.Budget)
		}
	}
	if q.plant == "" {
		q.rows(w, "all plants", "", "all plants", q.Fleet)
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// rows writes the months and the fiscal years of one budget. Their level and period tell them apart: a sum
// over both counts twice.
func (q priced) rows(w *csv.Writer, level, plant, name string, b budget.Budget) {
	for _, m := range b.Months {
		q.record(w, []string{level, cell(plant), cell(name), "month", m.Month.String(), strconv.Itoa(m.FiscalYear)}, m.Period)
	}
	for _, y := range b.Years {
		period := "fiscal year"
		if !y.Whole {
			period = "part of a fiscal year"
		}
		q.record(w, []string{level, cell(plant), cell(name), period, y.First.String(), strconv.Itoa(y.FiscalYear)}, y.Period)
	}
}

func (q priced) record(w *csv.Writer, head []string, p budget.Period) {
	litres := func(v float64) string { return strconv.FormatFloat(v, 'f', 0, 64) }
	money := func(minor int64) string { return strconv.FormatFloat(float64(minor)/100, 'f', 2, 64) }
	row := append([]string{q.AsOf.String()}, head...)
	row = append(row, litres(p.Litres.P10), litres(p.Litres.P50), litres(p.Litres.P90))
	if q.hasMoney() {
		row = append(row, money(p.Money.P10), money(p.Money.P50), money(p.Money.P90),
			q.FleetBudget.Price.Currency, strconv.FormatFloat(q.FleetBudget.Price.PerLitre, 'f', -1, 64))
	} else {
		row = append(row, "", "", "", "", "")
	}
	_ = w.Write(row) // a buffer does not fail
}

// cell keeps a spreadsheet from taking a name for a formula.
func cell(text string) string {
	if strings.ContainsAny(text[:min(1, len(text))], "=+-@\t\r") {
		return "'" + text
	}
	return text
}
