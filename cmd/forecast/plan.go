package main

import (
	"context"
	"fmt"
	"strings"
	"text/tabwriter"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
	"overwinter/internal/store"
)

// planCommand shows the plan of a plant, and what else could be done or happen.
type planCommand struct {
	questionFlags
	Plant string `arg:"" help:"The plant's id."`
}

// Run plans.
func (p *planCommand) Run(ctx context.Context, c *console) error {
	var answer advice.PlanOptions
	err := p.ask(ctx, c, func(db *store.DB, o advice.Options) (err error) {
		answer, err = advice.NewAdviser(db, o, calendar.At(o.Now)).Options(ctx, p.Plant)
		return err
	})
	if err != nil {
		return err
	}
	if p.JSON {
		return c.json(answer)
	}
	c.plan(answer)
	c.cautions()
	return nil
}

// plan prints a plan and the options beside it.
func (c *console) plan(a advice.PlanOptions) {
	plan := a.Planned
	fmt.Fprintf(c.out, "%s (%s), as of the close of %s: the cheapest plan until the %s %s.\n", a.Name, a.Plant, date(a.AsOf), plan.Until.Route, plan.Until.Window)
	fmt.Fprintf(c.out, "Kilolitres at 15 °C, money in %s. Ranges are 10 to 90 %%. Nothing is saved.\n\n", plan.Currency)
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "delivery\torder by\tarrives\tcall below\tfill up to\tlot\ta kL costs\tcalled for\tfails")
	for _, l := range plan.Lots {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s to %s\t%s\t%.0f %%\t%.1f %%\n", lotName(l), date(l.OrderBy), spanCell(l.Arrives), kilolitres(l.CallBelow), kilolitres(l.UpTo),
			kilolitres(l.LotP10), kilolitres(l.LotP90), money(l.PriceMinor), 100*l.Called, 100*l.FailChance)
	}
	_ = w.Flush() // stdout: an error there has nowhere to go
	cost, risk := plan.Cost, plan.Risk
	fmt.Fprintf(c.out, "\nCosts %s ± %s (%s to %s): stops %s, fuel %s, fallback %s, carrying %s, less %s left at the end.\n", money(cost.Mean), money(cost.Error), money(cost.P10), money(cost.P90),
		money(cost.Fixed), money(cost.Fuel), money(cost.Fallback), money(cost.Carrying), money(cost.Left))
	fmt.Fprintf(c.out, "Below the reserve before a fallback on %.1f %% of %d paths that it was not made from; fallback %s on average.\n\n", 100*risk.Below, risk.Paths, kilolitres(risk.Fallback))
	c.levels(plan)
	c.options(a)
	c.notices(c.out, "  ", a.Notices)
	fmt.Fprintf(c.out, "  assumed: %s\n", strings.Join(a.Assumptions, "; "))
}

// levels says how each level adds up.
func (c *console) levels(plan *advice.Planned) {
	for _, l := range plan.Lots {
		w := l.Why
		fmt.Fprintf(c.out, "%s fills up to %d L: out %d from %s to %s, less %d brought by orders, and a reserve of %d make %d; %+d because that is cheaper, or for want of room.\n",
			lotName(l), w.Asked+w.Raised, w.Outflow, date(w.From), date(w.Tightest), w.Brought, w.Reserve, w.Asked, w.Raised)
	}
	fmt.Fprintln(c.out)
}

// options prints what else could be done or happen.
func (c *console) options(a advice.PlanOptions) {
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "otherwise\tcosts more\tbelow reserve\tmore often by\tfallback\tshort at the risk target")
	for _, o := range a.Options {
		short := none
		if o.Short != nil {
			short = kilolitres(o.Short.Litres) + " from " + date(o.Short.From)
			for _, l := range o.Short.Loads {
				short += fmt.Sprintf("; %s: %d loads, %s", l.Mode, l.Loads, money(l.CostMinor))
			}
		}
		fmt.Fprintf(w, "%s\t%s ± %s\t%.1f %%\t%+.1f ± %.1f\t%s\t%s\n", optionName(a, o), money(o.More), money(o.MoreError), 100*o.Below, 100*o.BelowMore, 100*o.BelowError,
			kilolitres(o.Fallback+o.Missing), short)
	}
	_ = w.Flush()
	fmt.Fprintln(c.out)
}

// optionName says what is done otherwise.
func optionName(a advice.PlanOptions, o advice.PlanOption) string {
	switch {
	case o.Lot != nil:
		return optionWords[o.Kind] + " " + lotName(a.Planned.Lots[*o.Lot])
	case o.Share != nil:
		return fmt.Sprintf("burn %.0f %% less", 100**o.Share)
	case o.Opens != nil:
		return optionWords[o.Kind] + " " + o.Route + " " + o.Window + ", " + date(*o.Opens)
	}
	return optionWords[o.Kind] + " " + o.Route + " " + o.Window
}

var optionWords = map[resupply.OptionKind]string{
	resupply.SkipDelivery: "skip", resupply.FillUp: "fill the tanks at", resupply.LitresOrdered: "fix the litres when ordering", resupply.WindowFails: "fails:",
}

func lotName(l advice.PlannedLot) string {
	name := l.Route + " " + l.Window
	if l.Opens != nil {
		name += " " + fmt.Sprint(yearOf(*l.Opens))
	}
	switch {
	case l.Late:
		name += ", late"
	case l.Delivery > 1:
		name += fmt.Sprintf(", delivery %d", l.Delivery)
	}
	return name
}

func yearOf(d calendar.Day) int {
	year, _, _ := d.Civil()
	return year
}

func spanCell(d resupply.Dates) string {
	switch {
	case d.P10 == nil:
		return "beyond"
	case d.P90 == nil:
		return "after " + date(*d.P10)
	}
	return date(*d.P10) + " to " + date(*d.P90)
}
