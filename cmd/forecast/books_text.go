package main

import (
	"fmt"
	"math"
	"strings"
	"text/tabwriter"
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// pageWidth is the width that the books are set to, so that they can be printed.
const pageWidth = 100

// book prints one book: the answer, what looks wrong, the balances, the deliveries.
func (c *console) book(b bookOfPlant) {
	c.flow("", fmt.Sprintf("%s (%s), %s: %s.", b.Name, b.Plant, b.Product, findingWords(b.table.Finding, b.zone)))
	known := ""
	if b.KnownAt != nil {
		known = ", as known at " + clock(*b.KnownAt, b.zone)
	}
	c.flow("", fmt.Sprintf("From %s to %s%s. Litres at 15 °C, rounded to whole litres; ± is one standard uncertainty.",
		clock(b.From, b.zone), clock(b.To, b.zone), known))
	c.doubts(b)
	c.wholeBalance(b.table.Whole, b.zone)
	c.months(b)
	c.receipts(b)
	c.usages(b)
	if len(b.Notices)+len(b.OpenTransfers) > 0 {
		c.section("Notices")
		for _, n := range append(b.OpenTransfers, b.Notices...) {
			c.flow("  ", fmt.Sprintf("%s: %s: %s", n.Severity, n.Subject, n.Message))
		}
	}
	fmt.Fprintln(c.out)
}

// findingWords is what the balances come to, in words.
func findingWords(f inventory.Finding, zone *time.Location) string {
	day := func(t time.Time) string { return t.In(zone).Format("2 Jan 2006") }
	size := fmt.Sprintf("%s L", litres(units.LitresAt15(math.Abs(float64(f.Variance)))))
	times := fmt.Sprintf("%.1f times its uncertainty", math.Abs(f.Z))
	text := "balances: nothing is missing that the instruments could show, to " + day(f.Until)
	since := "since " + day(f.Since)
	if f.OneMonth {
		since = "between " + day(f.Since) + " and " + day(f.Until)
	}
	switch f.Verdict {
	case inventory.NoVariance:
		return "no variance: " + f.Why
	case inventory.FuelMissing:
		text = size + " missing " + since + ", " + times
	case inventory.FuelOver:
		text = size + " more than the records say " + since + ", " + times
	}
	if f.Why != "" {
		text += "; no variance after " + day(f.Until) + ": " + f.Why
	}
	return text
}

func (c *console) doubts(b bookOfPlant) {
	if b.EarlierDoubts > 0 {
		defer c.flow("  ", fmt.Sprintf("Before this stretch %d more look wrong: an earlier --from shows them.", b.EarlierDoubts))
	}
	if len(b.Doubts) == 0 {
		c.section("Nothing looks wrong beside its neighbours")
		return
	}
	c.section("Looks wrong: not counted until somebody corrects or confirms it")
	for _, d := range b.Doubts {
		c.flow("  ", fmt.Sprintf("%s  %s  %s  (%s)", clock(d.At, b.zone), d.Kind, d.Key, d.Cause))
		c.flow("    ", d.Subject+": "+d.Message)
	}
}

// wholeBalance prints a balance line by line.
func (c *console) wholeBalance(b inventory.Balance, zone *time.Location) {
	if b.From.IsZero() {
		c.section("No balance: " + b.Why)
		return
	}
	c.section("Balance from the count of " + clock(b.From, zone) + " to that of " + clock(b.To, zone))
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	consumed := "- consumed, metered"
	if !b.Metered {
		consumed = "- consumed, derived from the stock"
	}
	for _, l := range []struct {
		name  string
		value units.LitresAt15
	}{
		{"  opening", b.Opening}, {"+ received", b.Received}, {consumed, b.Consumed}, {"- drawn", b.Drawn}, {"+ repaid", b.Repaid},
		{"+ changed", b.Changed}, {"+ moved", b.Moved}, {"- out of service", b.OutOfService},
		{"= book", b.Book}, {"  physical", b.Physical},
	} {
		fmt.Fprintf(w, "  %-36s\t%s\t\n", l.name, litres(l.value))
	}
	if b.Known {
		fmt.Fprintf(w, "  %-36s\t%s\t\n", "  variance: physical - book", litres(b.Variance))
	}
	if b.Known && b.Corrected != 0 {
		fmt.Fprintf(w, "  %-36s\t%s\t\n", "  written off by count corrections", litres(b.Corrected))
		fmt.Fprintf(w, "  %-36s\t%s\t\n", "  remaining variance", litres(b.Remaining))
	}
	_ = w.Flush() // stdout: an error there has nowhere to go
	c.sources(b)
}

// sources says how sure a variance is, or why there is none.
func (c *console) sources(b inventory.Balance) {
	if !b.Known {
		c.flow("  ", "No variance: "+b.Why+".")
	} else {
		s := b.Sources
		c.flow("  ", fmt.Sprintf("± %s (z %+.1f): meter %s, dips %s, table %s, temperature %s, density %s, movements %s.", litres(b.Sigma), b.Z,
			litres(s.Meter), litres(s.Dips), litres(s.Table), litres(s.Temperature), litres(s.Density), litres(s.Movements)))
	}
	if b.LeftOut > 0 {
		c.flow("  ", fmt.Sprintf("Left out because they look wrong: %s.", counted(b.LeftOut, "movement")))
	}
}

func (c *console) section(title string) {
	fmt.Fprintln(c.out)
	c.flow("", title)
}

// flow prints a text in lines that fit the page, each behind an indent.
func (c *console) flow(indent, text string) {
	line := indent
	for _, word := range strings.Fields(text) {
		if len([]rune(line))+1+len([]rune(word)) > pageWidth && strings.TrimSpace(line) != "" {
			fmt.Fprintln(c.out, line)
			line = indent
		}
		if strings.TrimSpace(line) != "" {
			line += " "
		}
		line += word
	}
	fmt.Fprintln(c.out, line)
}

// counted writes a number of things.
func counted(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// litres writes whole litres; what rounds to nothing has no sign.
func litres(v units.LitresAt15) string {
	if math.Abs(float64(v)) < 0.5 {
		return "0"
	}
	return fmt.Sprintf("%.0f", float64(v))
}

// clock writes a moment by the plant's clocks.
func clock(t time.Time, zone *time.Location) string { return t.In(zone).Format("2 Jan 2006 15:04") }

// booksCautions stand at the foot of the books.
func (c *console) booksCautions() {
	c.flow("", "Not a leak detector, not a custody-transfer meter and no legal record of a spill. A spill, or what looks like one, is reported "+
		"by the local rule at once, whatever the books say. The monthly screen: "+inventory.ScreenScope+
		" Local codes, the plant's own procedures and the authority having jurisdiction come first.")
}
