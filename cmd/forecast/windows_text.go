package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
)

// windows prints each window with what it was fitted to.
func (c *console) windows(all []fittedWindow) {
	for i, w := range all {
		if i > 0 {
			fmt.Fprintln(c.out)
		}
		fmt.Fprintf(c.out, "%s, window %s: the season of %d, foretold from %s\n\n", w.Route, w.Window, w.Year, plural(w.Fails.Years, "past season"))
		t := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', 0)
		fmt.Fprintln(t, "\t10 %\t50 %\t90 %\tlaw\tyears used\tmean\tsd, days\ttrend, days a decade")
		fmt.Fprintf(t, "opens\t%s\ncloses\t%s\n", fittedCells(w.Opens), fittedCells(w.Closes))
		_ = t.Flush() // stdout: an error there has nowhere to go
		fmt.Fprintf(c.out, "\n  fails: %s in %s known; chance in one year %.1f %%, by the record alone %.1f to %.1f %% (90 %% interval)\n",
			plural(w.Fails.Failed, "time"), plural(w.Fails.Years, "year"), 100*w.Fails.Chance, 100*w.Fails.Low, 100*w.Fails.High)
		c.fitNotes("opens", w.Opens)
		c.fitNotes("closes", w.Closes)
	}
	fmt.Fprint(c.out, "\nMean: of the dates as recorded, no lag counted, as the day of a common year. The points count how unsure mean, trend and spread are themselves.\n"+
		"A planning aid: ice and road are opened by those responsible for them, not by a record.\n")
}

// fittedCells is what the table says of one date.
func fittedCells(f *fittedDate) string {
	if f == nil {
		return strings.Join([]string{none, none, none, "too few past dates", none, none, none, none}, "\t")
	}
	trend := none
	if f.Trend != nil {
		trend = fmt.Sprintf("%+.1f ± %.1f (%d–%d)", f.Trend.DaysPerDecade, f.Trend.StandardError, f.Trend.First, f.Trend.Last)
	}
	years := fmt.Sprintf("%d (%d–%d)", len(f.Years), f.Years[0], f.Years[len(f.Years)-1])
	return strings.Join([]string{
		date(f.P10), date(f.P50), date(f.P90), string(f.Law), years, meanCell(f.MeanDay), fmt.Sprintf("%.1f", f.SDDays), trend,
	}, "\t")
}

// meanCell is a day of a common year with its fraction.
func meanCell(day float64) string {
	const common = 2001
	return fmt.Sprintf("%.1f, %s", day, format(calendar.Date(common, 1, 1)+calendar.Day(day+0.5)-1, "2 Jan"))
}

// fitNotes prints how the law was chosen and which years were left out.
func (c *console) fitNotes(what string, f *fittedDate) {
	if f == nil {
		return
	}
	var scores []string
	for _, s := range f.LawScores {
		scores = append(scores, fmt.Sprintf("%s %.2f", s.Law, s.Score))
	}
	if scores == nil {
		scores = []string{"too few years to choose from"}
	}
	fmt.Fprintf(c.out, "  %s: mean log score of each of the last years, foretold from those before it: %s\n", what, strings.Join(scores, ", "))
	for _, o := range f.Odd {
		fmt.Fprintf(c.out, "  %s: %d lies %+d days from where the law expects it: a slip of the pen, or a year like no other? It counts.\n", what, o.Year, o.Off)
	}
	if len(f.LeftOut) > 0 {
		fmt.Fprintf(c.out, "  %s: left out %s\n", what, leftOut(f.LeftOut))
	}
}

// leftOut lists years by reason, runs of years drawn together.
func leftOut(all []resupply.LeftOut) string {
	var parts []string
	for i := 0; i < len(all); {
		j := i + 1
		for j < len(all) && all[j].Why == all[i].Why && all[j].Year == all[j-1].Year+1 {
			j++
		}
		years := fmt.Sprint(all[i].Year)
		if j > i+1 {
			years += fmt.Sprintf("–%d", all[j-1].Year)
		}
		parts = append(parts, years+" ("+all[i].Why+")")
		i = j
	}
	return strings.Join(parts, ", ")
}

// plural counts things.
func plural(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}
