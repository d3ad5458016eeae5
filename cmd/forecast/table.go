package main

import (
	"fmt"
	"strings"
	"text/tabwriter"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
)

// fleet prints the answer as a sentence, then the table that proves it.
func (c *console) fleet(f advice.Fleet) {
	fmt.Fprintf(c.out, "%s\n", headline(f))
	fmt.Fprintf(c.out, "As of %s, in kilolitres at 15 °C, seed %d. Ranges are 10 to 90 %%.\n\n", asOf(f), f.Seed)
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "plant\tstatus\tstock\tdays to reserve\treserve reached\tdry\torder by\tlot\twindow")
	for _, p := range f.Plants {
		fmt.Fprintln(w, strings.Join([]string{
			p.Name, string(p.Status), stockCell(p), daysCell(p.DaysToReserve), rangeCell(p, p.ReserveDate), rangeCell(p, p.DryDate),
			orderCell(p), lotCell(p), windowCell(p),
		}, "\t"))
	}
	_ = w.Flush() // stdout: an error there has nowhere to go
	fmt.Fprintf(c.out, "\nOrder now: within %d days; order soon: within %d. Days to reserve count the stock in hand alone; the dates count orders on their way.\n",
		resupply.OrderNowDays, resupply.OrderSoonDays)
	for _, p := range f.Plants {
		c.reasons(p)
	}
}

// headline is the answer in one sentence.
func headline(f advice.Fleet) string {
	count := map[resupply.Status]int{}
	for _, p := range f.Plants {
		count[p.Status]++
	}
	var parts []string
	for _, s := range []struct {
		status    resupply.Status
		one, many string
	}{
		{resupply.Short, "is short", "are short"},
		{resupply.OrderNow, "must order now", "must order now"},
		{resupply.OrderSoon, "must order soon", "must order soon"},
		{resupply.Unknown, "is unknown", "are unknown"},
	} {
		switch n := count[s.status]; n {
		case 0:
		case 1:
			parts = append(parts, "1 "+s.one)
		default:
			parts = append(parts, fmt.Sprintf("%d %s", n, s.many))
		}
	}
	if parts == nil {
		return fmt.Sprintf("All %d plants are in hand.", len(f.Plants))
	}
	return fmt.Sprintf("Of %d plants %s.", len(f.Plants), strings.Join(parts, ", "))
}

func asOf(f advice.Fleet) string {
	if f.AsOf == nil {
		return "today at each plant"
	}
	return "the close of " + date(*f.AsOf)
}

// date writes a day for people.
func date(d calendar.Day) string {
	y, m, day := d.Civil()
	return time.Date(y, m, day, 0, 0, 0, 0, time.UTC).Format("2 Jan 2006")
}

// kilolitres writes litres for people: whole kilolitres from a hundred up.
func kilolitres(litres float64) string {
	if litres >= 100_000 {
		return fmt.Sprintf("%.0f", litres/1000)
	}
	return fmt.Sprintf("%.1f", litres/1000)
}

const none = "—"

func stockCell(p advice.Plant) string {
	if p.Stock.Usable == nil {
		return none
	}
	return fmt.Sprintf("%s ± %s", kilolitres(*p.Stock.Usable), kilolitres(*p.Stock.Sigma))
}

func daysCell(days *int) string {
	if days == nil {
		return none
	}
	return fmt.Sprint(*days)
}

func rangeCell(p advice.Plant, d resupply.Dates) string {
	switch {
	case p.Status == resupply.Unknown:
		return none
	case d.P10 == nil:
		return "beyond the horizon"
	case d.P90 == nil:
		return date(*d.P10) + " or later"
	}
	return date(*d.P10) + " to " + date(*d.P90)
}

func orderCell(p advice.Plant) string {
	if p.Order == nil {
		return none
	}
	return date(p.Order.OrderBy)
}

func lotCell(p advice.Plant) string {
	if p.Order == nil {
		return none
	}
	return fmt.Sprintf("%s (least %s, most %s)", kilolitres(p.Order.Lot), kilolitres(p.Order.Least), kilolitres(p.Order.Most))
}

func windowCell(p advice.Plant) string {
	if p.Order == nil {
		return none
	}
	return fmt.Sprintf("%s %s, opens %s", p.Order.Route, p.Order.Window, date(p.Order.Opens))
}

// reasons prints what a plant's row has no room for: shortages and notices.
func (c *console) reasons(p advice.Plant) {
	if p.Short == nil && len(p.Notices) == 0 && len(p.Faults) == 0 {
		return
	}
	fmt.Fprintf(c.out, "\n%s (%s)\n", p.Name, p.Plant)
	if p.Short != nil {
		c.shortage("  no window can keep the reserve: ", p.Short)
	}
	c.notices(c.out, "  ", p.Notices)
	for _, f := range p.Faults {
		fmt.Fprintf(c.out, "  not fitted: %s to %s, %.0f L where %.0f L were expected: %s\n",
			f.Start.Format("2006-01-02"), f.End.Format("2006-01-02"), f.Litres, f.Expected, f.Reason)
	}
}

func (c *console) shortage(intro string, s *advice.Shortage) {
	until := "to the end of the horizon"
	if s.Until != nil {
		until = "to " + date(*s.Until)
	}
	fmt.Fprintf(c.out, "%s%s kL short from %s %s\n", intro, kilolitres(s.Litres), date(s.From), until)
	for _, l := range s.Loads {
		inTime := "in time if ordered today"
		if !l.InTime {
			inTime = "the first comes too late even if ordered today"
		}
		fmt.Fprintf(c.out, "    by %s (%s): %d loads, %d days' notice, %s\n", l.Route, l.Mode, l.Loads, l.LeadDays, inTime)
	}
}

// explanation prints the deciding path of a plant, so that its numbers add up to the date.
func (c *console) explanation(p advice.Plant) {
	if p.Explanation == nil {
		fmt.Fprintf(c.out, "\nWhy %s is %s: see its notices above.\n", p.Name, p.Status)
		return
	}
	fmt.Fprintf(c.out, "\nWhy, for %s: path %d of the simulated futures decides. Litres at 15 °C at the close of each day.\n", p.Name, p.Explanation.Path)
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "day\tburn\tdraws\treceived\tstock\treserve\t ")
	for _, l := range p.Explanation.Lines {
		fmt.Fprintf(w, "%s\t%d\t%d\t%d\t%d\t%d\t  %s\n", l.Day, l.Burn, l.Draws, l.Received, l.Stock, l.Reserve, l.Event)
	}
	_ = w.Flush()
	for _, s := range p.Explanation.Steps {
		fmt.Fprintln(c.out, "  "+s)
	}
	if o := p.Order; o != nil {
		c.guards(o)
	}
	fmt.Fprintf(c.out, "  assumed: %s\n", strings.Join(p.Assumptions, "; "))
}

func (c *console) guards(o *advice.Order) {
	fmt.Fprintf(c.out, "  last order day for the reserve: %s; for the window: %s", optional(o.ReserveGuard), optional(o.WindowGuard))
	if o.Deadline != nil {
		fmt.Fprintf(c.out, "; the supplier's deadline: %s", date(*o.Deadline))
	}
	fmt.Fprintf(c.out, "\n  on %d fresh paths an order on the last day comes too late on %.1f %%; with the lot, stock falls below reserve before the following window on %.1f %%\n",
		o.Risk.Paths, 100*o.Risk.TooLate, 100*o.Risk.BelowReserve)
}

func optional(d *calendar.Day) string {
	if d == nil {
		return "none would do"
	}
	return date(*d)
}

// cautions stand at the foot of every answer.
func (c *console) cautions() {
	fmt.Fprintln(c.out, `
A planning aid, not a gauge, a leak detector or a custody record. Signs on the tank, local codes, the plant's own
procedures and the authority having jurisdiction come first. In a shortage call the utility's manager and the supplier.`)
}
