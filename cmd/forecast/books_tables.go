package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// months prints the table in three parts, so that each fits a printed page: the lines, the variances, the running sum.
func (c *console) months(b bookOfPlant) {
	all := b.table.Months
	if len(all) == 0 {
		return
	}
	c.section("By month, from count to count")
	c.monthLines(b)
	known := 0
	for _, m := range all {
		if m.Known {
			known++
		}
	}
	if known > 0 {
		c.section("Variance by month: physical - book, and its uncertainty by source")
		c.variances(b)
		c.section("Running sum of the variance, and the monthly screen of underground tanks (no leak test)")
		c.runningSums(b)
	}
	for i, m := range all {
		if !m.Known {
			c.flow("  ", b.Months[i].Month.String()+": no variance: "+m.Why+".")
		}
	}
}

// column is a line of the balance as a column of the table.
type column struct {
	name  string
	of    func(inventory.Balance) units.LitresAt15
	spare bool // it is left out where it is nothing in every month
}

var balanceColumns = []column{
	{"opening", func(b inventory.Balance) units.LitresAt15 { return b.Opening }, false},
	{"received", func(b inventory.Balance) units.LitresAt15 { return b.Received }, false},
	{"consumed", func(b inventory.Balance) units.LitresAt15 { return b.Consumed }, false},
	{"drawn", func(b inventory.Balance) units.LitresAt15 { return b.Drawn }, true},
	{"repaid", func(b inventory.Balance) units.LitresAt15 { return b.Repaid }, true},
	{"changed", func(b inventory.Balance) units.LitresAt15 { return b.Changed }, true},
	{"moved", func(b inventory.Balance) units.LitresAt15 { return b.Moved }, true},
	{"out", func(b inventory.Balance) units.LitresAt15 { return b.OutOfService }, true},
	{"book", func(b inventory.Balance) units.LitresAt15 { return b.Book }, false},
	{"physical", func(b inventory.Balance) units.LitresAt15 { return b.Physical }, false},
}

func (c *console) monthLines(b bookOfPlant) {
	var shown []column
	for _, col := range balanceColumns {
		for _, m := range b.table.Months {
			if !col.spare || litres(col.of(m.Balance)) != "0" {
				shown = append(shown, col)
				break
			}
		}
	}
	head := []string{"month"}
	for _, col := range shown {
		head = append(head, col.name)
	}
	w := c.columns(head)
	for i, m := range b.table.Months {
		row := []string{b.Months[i].Month.String()}
		for _, col := range shown {
			row = append(row, litres(col.of(m.Balance)))
		}
		rowOf(w, row)
	}
	_ = w.Flush()
	if len(shown) < len(balanceColumns) {
		c.flow("  ", "Lines that are nothing in every month are left out.")
	}
}

func (c *console) variances(b bookOfPlant) {
	w := c.columns([]string{"month", "variance", "±", "z", "meter", "dips", "table", "temperature", "density", "movements"})
	for i, m := range b.table.Months {
		if s := m.Sources; m.Known {
			rowOf(w, []string{b.Months[i].Month.String(), litres(m.Variance), litres(m.Sigma), fmt.Sprintf("%+.1f", m.Z), litres(s.Meter),
				litres(s.Dips), litres(s.Table), litres(s.Temperature), litres(s.Density), litres(s.Movements)})
		}
	}
	_ = w.Flush()
}

func (c *console) runningSums(b bookOfPlant) {
	w := c.columns([]string{"month", "sum", "±", "z", "since", "throughput", "limit", "screen"})
	for i, m := range b.table.Months {
		if !m.Known {
			continue
		}
		row := []string{b.Months[i].Month.String(), litres(m.Sum), litres(m.SumSigma), fmt.Sprintf("%+.1f", m.SumZ),
			m.Since.In(b.zone).Format("2 Jan 2006"), litres(m.Screen.Throughput), litres(m.Screen.Limit), screenWord(m.Screen)}
		rowOf(w, row)
	}
	_ = w.Flush()
}

func screenWord(s inventory.Screen) string {
	switch {
	case !s.Applies:
		return "not a month"
	case s.Beyond:
		return "beyond"
	}
	return "within"
}

func (c *console) columns(head []string) *tabwriter.Writer {
	gap := 2
	if len(head) > 9 { // so that a row of large figures still fits the page
		gap = 1
	}
	w := tabwriter.NewWriter(c.out, 0, 0, gap, ' ', tabwriter.AlignRight)
	rowOf(w, head)
	return w
}

func rowOf(w *tabwriter.Writer, cells []string) { fmt.Fprintln(w, strings.Join(cells, "\t")+"\t") }

// receipts prints each delivery's figures against each other.
func (c *console) receipts(b bookOfPlant) {
	if len(b.receipts) == 0 {
		return
	}
	c.section("Deliveries: document, meter and dips at 15 °C")
	for _, r := range b.receipts {
		document := r.Document
		if document == "" {
			document = "without a document"
		}
		c.flow("  ", fmt.Sprintf("%s  %s, %s, agreed %s", clock(r.First, b.zone), document, counted(len(r.Keys), "row"), figureWords(r.Agreed)))
		c.flow("      ", fmt.Sprintf("document %s; meter %s; dips %s", figureWords(r.ByDocument), figureWords(r.ByMeter), figureWords(r.ByDips)))
		if r.Refused != 0 {
			c.flow("      ", fmt.Sprintf("sent back: %.0f L as stated", float64(r.Refused)))
		}
		for _, d := range r.Differences {
			c.flow("      ", differenceWords(d, r.Tolerance))
		}
	}
}

func figureWords(f inventory.Figure) string {
	if !f.Known {
		return "not known (" + f.Why + ")"
	}
	return litres(f.Litres) + " ± " + litres(f.Sigma)
}

// differenceWords says whether two figures agree, by the tolerance and by their own errors.
func differenceWords(d inventory.Difference, tolerance float64) string {
	text := fmt.Sprintf("%s less %s: %s ± %s, %+.2f %% of what was agreed, ", d.Of, d.Less, litres(d.Litres), litres(d.Sigma), 100*d.Share)
	if d.Within {
		text += "within"
	} else {
		text += "beyond"
	}
	text += fmt.Sprintf(" the tolerance of %.3g %%", 100*tolerance)
	if d.Certain {
		return text + "; more than the figures' own errors make"
	}
	return text + "; no more than the figures' own errors make"
}

func (c *console) usages(b bookOfPlant) {
	if b.Usages == nil {
		return
	}
	c.section("Usage intervals")
	w := c.columns([]string{"from", "to", "L at 15 °C", "±", "found from", "quality", "kWh"})
	for _, u := range b.Usages {
		energy := none
		if u.Energy != nil {
			energy = fmt.Sprintf("%.0f", *u.Energy)
		}
		rowOf(w, []string{clock(u.Start, b.zone), clock(u.End, b.zone), litres(u.Litres), litres(u.Sigma), string(u.Source), string(u.Quality), energy})
	}
	_ = w.Flush()
}
