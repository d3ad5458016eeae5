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
	fmt.Fprintf(c.out, "%s\n%s", headline(f), clipped(f))
	fmt.Fprintf(c.out, "As of %s, in kilolitres at 15 °C, seed %d. Ranges are 10 to 90 %%.\n\n", asOf(f), f.Seed)
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "plant\tstatus\tstock\tdays of cover\treserve reached\torder by\tlot (least to most)\twindow")
	for _, p := range f.Plants {
		fmt.Fprintln(w, strings.Join([]string{
			shortened(p.Name), string(p.Status), stockCell(p), coverCell(p), rangeCell(p, p.ReserveDate), orderCell(p), lotCell(p), windowCell(p),
		}, "\t"))
	}
	_ = w.Flush() // stdout: an error there has nowhere to go
	fmt.Fprintf(c.out, "\nDays of cover: to the reserve / to empty, of the stock in hand alone; dates count orders on their way. Order now: within %d days; soon: within %d.\n",
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

// clipped says how many lots cannot carry their plant to the following window, nothing if all can.
func clipped(f advice.Fleet) string {
	n := 0
	for _, p := range f.Plants {
		if p.Order != nil && p.Order.After != nil {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("At %d of them the next lot cannot last until the following window: see below.\n", n)
}

func asOf(f advice.Fleet) string {
	if f.AsOf == nil {
		return "today at each plant"
	}
	return "the close of " + date(*f.AsOf)
}

// date writes a day for people.
func date(d calendar.Day) string { return format(d, "2 Jan 2006") }

// near writes a day without its year where that is the year of another day.
func near(d, to calendar.Day) string {
	year, _, _ := d.Civil()
	if same, _, _ := to.Civil(); year == same {
		return format(d, "2 Jan")
	}
	return date(d)
}

func format(d calendar.Day, layout string) string {
	y, m, day := d.Civil()
	return time.Date(y, m, day, 0, 0, 0, 0, time.UTC).Format(layout)
}

// kilolitres writes litres for people: whole kilolitres from a hundred up.
func kilolitres(litres float64) string {
	if litres >= 100_000 {
		return fmt.Sprintf("%.0f", litres/1000)
	}
	return fmt.Sprintf("%.1f", litres/1000)
}

const none = "—"

// shortened keeps a name to its column.
func shortened(name string) string {
	const most = 24
	if runes := []rune(name); len(runes) > most {
		return string(runes[:most-1]) + "…"
	}
	return name
}

func stockCell(p advice.Plant) string {
	if p.Stock.Usable == nil {
		return none
	}
	return fmt.Sprintf("%s ± %s", kilolitres(*p.Stock.Usable), kilolitres(*p.Stock.Sigma))
}

func coverCell(p advice.Plant) string {
	if p.Status == resupply.Unknown {
		return none
	}
	return days(p.DaysToReserve) + " / " + days(p.DaysToEmpty)
}

// days writes a count of days, nil for one beyond the horizon.
func days(n *int) string {
	if n == nil {
		return "over"
	}
	return fmt.Sprint(*n)
}

func rangeCell(p advice.Plant, d resupply.Dates) string {
	switch {
	case p.Status == resupply.Unknown:
		return none
	case d.P10 == nil:
		return "beyond the horizon"
	case d.P90 == nil:
		return near(*d.P10, p.AsOf) + " or later"
	}
	return near(*d.P10, p.AsOf) + " to " + near(*d.P90, p.AsOf)
}

func orderCell(p advice.Plant) string {
	if p.Order == nil {
		return none
	}
	return near(p.Order.OrderBy, p.AsOf)
}

func lotCell(p advice.Plant) string {
	if p.Order == nil {
		return none
	}
	o := p.Order
	if o.Least > o.Most {
		return fmt.Sprintf("%s (%s needed)", kilolitres(o.Lot), kilolitres(o.Least))
	}
	return fmt.Sprintf("%s (%s to %s)", kilolitres(o.Lot), kilolitres(o.Least), kilolitres(o.Most))
}

func windowCell(p advice.Plant) string {
	if p.Order == nil {
		return none
	}
	return fmt.Sprintf("%s %s, %s", p.Order.Route, p.Order.Window, near(p.Order.Opens, p.AsOf))
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
		last := f.End.Add(-time.Second) // an interval of whole days ends with the day before
		fmt.Fprintf(c.out, "  not fitted: %s to %s, %.0f L where %.0f L were expected: %s\n",
			f.Start.Format(time.DateOnly), last.Format(time.DateOnly), f.Litres, f.Expected, f.Reason)
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
	fmt.Fprintf(c.out, "\nWhy, for %s: 10, 50 and 90 %% of the simulated futures reach the reserve by %s and run dry by %s.\n",
		p.Name, points(p.ReserveDate), points(p.DryDate))
	if p.MustLastUntil != nil {
		fmt.Fprintf(c.out, "An order placed today comes from the next window by %s at all but the accepted risk: the stock must last until then.\n", date(*p.MustLastUntil))
	}
	x := p.Explanation
	c.deciding("decides", resupply.Deciding{Path: x.Path, Lines: x.Lines, Steps: x.Steps})
	if x.Need != nil && x.Room != nil {
		c.deciding("decides what is needed of the lot", *x.Need)
		c.deciding("decides the room for the lot", *x.Room)
	}
	if o := p.Order; o != nil {
		c.guards(o)
	}
	fmt.Fprintf(c.out, "  assumed: %s\n", strings.Join(p.Assumptions, "; "))
}

// deciding prints a path that decides something, and the steps to that.
func (c *console) deciding(what string, d resupply.Deciding) {
	fmt.Fprintf(c.out, "Path %d %s. Litres at 15 °C at the close of each day:\n", d.Path, what)
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "day\tburn\tdraws\treceived\tstock\treserve\t ")
	for _, l := range d.Lines {
		fmt.Fprintf(w, "%s\t%d\t%d\t%d\t%d\t%d\t  %s\n", l.Day, l.Burn, l.Draws, l.Received, l.Stock, l.Reserve, l.Text())
	}
	_ = w.Flush()
	for _, s := range d.Steps {
		fmt.Fprintln(c.out, "  "+s.Text())
	}
}

// points writes the three points of a day.
func points(d resupply.Dates) string {
	return optional(d.P10, "later") + ", " + optional(d.P50, "later") + " and " + optional(d.P90, "later")
}

func (c *console) guards(o *advice.Order) {
	fmt.Fprintf(c.out, "  last order day for the reserve: %s; for the window: %s", optional(o.ReserveGuard, noDay), optional(o.WindowGuard, noDay))
	if o.Deadline != nil {
		fmt.Fprintf(c.out, "; the supplier's deadline: %s", date(*o.Deadline))
	}
	fmt.Fprintf(c.out, "\n  on %d fresh paths an order on the last day comes too late on %.1f %%; with the lot, stock falls below reserve before the following window on %.1f %%\n",
		o.Risk.Paths, 100*o.Risk.TooLate, 100*o.Risk.BelowReserve)
}

// noDay stands for a guard that no order day, or any, would meet.
const noDay = "none"

// optional writes a day, or what stands for none.
func optional(d *calendar.Day, otherwise string) string {
	if d == nil {
		return otherwise
	}
	return date(*d)
}

// cautions stand at the foot of every answer.
func (c *console) cautions() {
	fmt.Fprintln(c.out, `
A planning aid, not a gauge, a leak detector or a custody record. Signs on the tank, local codes, the plant's own
procedures and the authority having jurisdiction come first. In a shortage call the utility's manager and the supplier.`)
}
