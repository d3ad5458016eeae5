package main

import (
	"context"
	"errors"
	"fmt"
	"text/tabwriter"

	"overwinter/internal/advice"
	"overwinter/internal/budget"
	"overwinter/internal/fault"
	"overwinter/internal/store"
)

// budgetCommand prints litres and money by plant and fiscal month.
type budgetCommand struct {
	questionFlags
	Price    float64 `default:"1.50" help:"Price of a litre at 15 °C, delivered, in major units of the currency."`
	Currency string  `default:"USD" help:"ISO 4217 code of the currency; it is shown, not converted."`
}

// Run budgets.
func (b *budgetCommand) Run(ctx context.Context, c *console) error {
	if !(b.Price >= 0 && b.Price < budget.MostPerLitre) {
		return fault.New(fault.Invalid, "--price: %v is no price per litre", b.Price)
	}
	currency, ok := budget.CurrencyOf(b.Currency)
	if !ok {
		return fault.New(fault.Invalid, "--currency: %q is no currency: expected the three letters of ISO 4217, such as CAD", b.Currency)
	}
	var answer advice.FleetBudget
	err := b.ask(ctx, c, func(db *store.DB, o advice.Options) (err error) {
		o.Price = advice.Price{PerLitre: b.Price, Currency: currency}
		answer, err = advice.Budget(ctx, db, o)
		return err
	})
	if err != nil && !errors.Is(err, advice.ErrSomePlants) {
		return err
	}
	faults := err // the other plants have their figures
	if b.JSON {
		return errors.Join(c.json(answer), faults)
	}
	c.budget(answer)
	return faults
}

func (c *console) budget(b advice.FleetBudget) {
	total := b.Fleet.Total
	fmt.Fprintf(c.out, "All plants burn %s kL (%s to %s) in %d months: %s %s (%s to %s).\n",
		kilolitres(total.Litres.P50), kilolitres(total.Litres.P10), kilolitres(total.Litres.P90), len(b.Fleet.Months),
		b.Price.Currency, money(total.Money.P50), money(total.Money.P10), money(total.Money.P90))
	fmt.Fprintf(c.out, "As of the close of %s at %s %.2f a litre, seed %d. Litres at 15 °C; ranges are 10 to 90 %%.\n",
		date(b.AsOf), b.Price.Currency, b.Price.PerLitre, b.Seed)
	for _, p := range b.Plants {
		if p.Budget == nil {
			fmt.Fprintf(c.out, "\n%s (%s): no usage to forecast from\n", p.Name, p.Plant)
			continue
		}
		c.budgetTable(fmt.Sprintf("%s (%s)", p.Name, p.Plant), b.Price.Currency, *p.Budget)
	}
	c.budgetTable("All plants", b.Price.Currency, b.Fleet)
	fmt.Fprintln(c.out, `
The range of a year and of a total is that of the sum, narrower than the sum of the months' ranges. All plants together
have the fiscal year of the first. Planning figures, not accounting or credit advice.`)
}

func (c *console) budgetTable(title, currency string, b budget.Budget) {
	fmt.Fprintf(c.out, "\n%s\n", title)
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(w, "month\tfiscal year\tL p10\tL p50\tL p90\t%s p10\t%s p50\t%s p90\t\n", currency, currency, currency)
	for _, m := range b.Months {
		budgetRow(w, m.Month.String(), fmt.Sprint(m.FiscalYear), m.Period)
	}
	for _, y := range b.Years {
		budgetRow(w, yearCell(y), fmt.Sprint(y.FiscalYear), y.Period)
	}
	budgetRow(w, "total", "", b.Total)
	_ = w.Flush() // stdout: an error there has nowhere to go
}

// yearCell says how much of a fiscal year a sum holds.
func yearCell(y budget.YearPeriod) string {
	if y.Whole {
		return "whole year"
	}
	return fmt.Sprintf("%d months", y.Months)
}

func budgetRow(w *tabwriter.Writer, month, year string, p budget.Period) {
	fmt.Fprintf(w, "%s\t%s\t%.0f\t%.0f\t%.0f\t%s\t%s\t%s\t\n", month, year, p.Litres.P10, p.Litres.P50, p.Litres.P90,
		money(p.Money.P10), money(p.Money.P50), money(p.Money.P90))
}

// money writes minor units as major ones, to the whole unit.
func money(minor int64) string { return fmt.Sprintf("%.0f", float64(minor)/100) }
