package main

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"text/tabwriter"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/store"
)

// supposeCommand says what would follow at a plant from a supposition.
type supposeCommand struct {
	questionFlags
	Plant              string        `arg:"" help:"The plant's id."`
	Winter             *float64      `placeholder:"SHARE" help:"The share of the observed years, 0 to 1, that the year to come is colder than. Needs three whole years of degree days."`
	LoadKW             *float64      `name:"load-kw" placeholder:"KW" help:"A mean load that comes on top; below 0 one that goes."`
	LoadPercent        *float64      `placeholder:"PERCENT" help:"The same in per cent of the plant's use; not with --load-kw."`
	LoadFrom           *calendar.Day `placeholder:"DATE" help:"Its first day. Default: the first day to come."`
	StandbyFrom        *calendar.Day `placeholder:"DATE" help:"The first day on which the plant stands by and burns nothing."`
	StandbyUntil       *calendar.Day `placeholder:"DATE" help:"The first day on which it runs again. Default: it never does."`
	EnginesLessPercent *float64      `placeholder:"PERCENT" help:"How much less fuel the engines need for the same energy."`
	EnginesFrom        *calendar.Day `placeholder:"DATE" help:"The first day of that. Default: the first day to come."`
}

// Run supposes.
func (s *supposeCommand) Run(ctx context.Context, c *console) error {
	supposition := advice.Supposition{
		Winter: s.Winter, LoadKW: s.LoadKW, LoadPercent: s.LoadPercent, LoadFrom: s.LoadFrom,
		StandbyFrom: s.StandbyFrom, StandbyUntil: s.StandbyUntil, EnginesPercent: s.EnginesLessPercent, EnginesFrom: s.EnginesFrom,
	}
	var answer advice.Supposed
	err := s.ask(ctx, c, func(db *store.DB, o advice.Options) (err error) {
		answer, err = advice.NewAdviser(db, o, calendar.At(o.Now)).Suppose(ctx, s.Plant, supposition)
		return err
	})
	if err != nil {
		return inFlags(err)
	}
	if s.JSON {
		return c.json(answer)
	}
	c.supposed(answer)
	c.cautions()
	return nil
}

// inFlags names what is wrong with a supposition as the flags do.
func inFlags(err error) error {
	var f *fault.Error
	if errors.As(err, &f) {
		for i := range f.Fields {
			f.Fields[i].Where = "--" + strings.ReplaceAll(f.Fields[i].Where, "_", "-")
		}
	}
	return err
}

// supposed prints what is supposed, and both cases side by side.
func (c *console) supposed(s advice.Supposed) {
	fmt.Fprintf(c.out, "%s (%s), supposed: %s.\n", s.Name, s.Plant, strings.Join(supposedWords(s), "; "))
	fmt.Fprintf(c.out, "As of the close of %s, in kilolitres at 15 °C. Ranges are 10 to 90 %%. Nothing is saved.\n\n", date(s.AsOf))
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "\twithout\twith\tdifference")
	for _, u := range s.Uses {
		fmt.Fprintf(w, "use of the next %d days\t%s\t%s\t%s\n", u.Days, useCell(u.Without), useCell(u.With), differenceCell(u))
	}
	without, with := caseOf(s, s.Without), caseOf(s, s.With)
	for _, line := range []struct {
		name string
		cell func(advice.Plant) string
	}{
		{"status", func(p advice.Plant) string { return string(p.Status) }},
		{"reserve reached", func(p advice.Plant) string { return rangeCell(p, p.ReserveDate) }},
		{"runs dry", func(p advice.Plant) string { return rangeCell(p, p.DryDate) }},
		{"order by", orderCell},
		{"lot (least to most)", lotCell},
		{"window", windowCell},
		{"short", shortCell},
	} {
		fmt.Fprintf(w, "%s\t%s\t%s\t\n", line.name, line.cell(without), line.cell(with))
	}
	_ = w.Flush() // stdout: an error there has nowhere to go
	fmt.Fprintln(c.out)
	c.notices(c.out, "  ", s.Notices)
	c.notices(c.out, "  without, ", s.Without.Notices)
	c.notices(c.out, "  with, ", s.With.Notices)
	fmt.Fprintf(c.out, "  assumed: %s\n", strings.Join(s.Assumptions, "; "))
	fmt.Fprintln(c.out, "\nA supposition is a planning aid, not a forecast of what will happen.")
}

// supposedWords says what is supposed.
func supposedWords(of advice.Supposed) []string {
	var all []string
	s := of.Supposition
	if s.Winter != nil {
		all = append(all, fmt.Sprintf("a year to come that is colder than %.3g %% of those observed", 100**s.Winter))
	}
	switch {
	case s.LoadKW != nil:
		all = append(all, fmt.Sprintf("a load of %+.4g kW, %.3g times the use, from %s on", *s.LoadKW, of.Load.Ratio, date(*s.LoadFrom)))
	case s.LoadPercent != nil:
		all = append(all, fmt.Sprintf("a load of %+.4g %% from %s on", *s.LoadPercent, date(*s.LoadFrom)))
	}
	if s.StandbyFrom != nil {
		until := "on"
		if s.StandbyUntil != nil {
			until = "until it runs again on " + date(*s.StandbyUntil)
		}
		all = append(all, "standing by from "+date(*s.StandbyFrom)+" "+until)
	}
	if s.EnginesPercent != nil {
		all = append(all, fmt.Sprintf("engines that need %.3g %% less fuel from %s on", *s.EnginesPercent, date(*s.EnginesFrom)))
	}
	return all
}

// caseOf is one of the two cases as advice, to be written as advice is.
func caseOf(s advice.Supposed, o advice.SupposedOutcome) advice.Plant {
	return advice.Plant{AsOf: s.AsOf, Status: o.Status, ReserveDate: o.ReserveDate, DryDate: o.DryDate, Order: o.Order, Short: o.Short}
}

func useCell(u advice.UseRange) string {
	return fmt.Sprintf("%s (%s to %s)", kilolitres(u.P50), kilolitres(u.P10), kilolitres(u.P90))
}

func differenceCell(u advice.SupposedUse) string {
	text := fmt.Sprintf("%+.1f", u.Difference/1000)
	if u.Percent != nil {
		text += fmt.Sprintf(" (%+.1f %%)", *u.Percent)
	}
	return text
}

func shortCell(p advice.Plant) string {
	if p.Short == nil {
		return none
	}
	return kilolitres(p.Short.Litres) + " from " + near(p.Short.From, p.AsOf)
}
