package main

import (
	"context"
	"fmt"
	"strconv"
	"text/tabwriter"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
	"overwinter/internal/store"
)

// changesCommand says what one change at a time would do to a plant's answer.
type changesCommand struct {
	questionFlags
	Plant string `arg:"" help:"The plant's id."`
}

// Run works the plant out with one thing changed at a time.
func (s *changesCommand) Run(ctx context.Context, c *console) error {
	var answer advice.Sensitive
	err := s.ask(ctx, c, func(db *store.DB, o advice.Options) (err error) {
		answer, err = advice.NewAdviser(db, o, calendar.At(o.Now)).Sensitivities(ctx, s.Plant)
		return err
	})
	if err != nil {
		return err
	}
	if s.JSON {
		return c.json(answer)
	}
	c.sensitivities(answer)
	c.cautions()
	return nil
}

// sensitivities prints the answer, and each change with what it does.
func (c *console) sensitivities(s advice.Sensitive) {
	p := advice.Plant{Plant: s.Plant, Name: s.Name, AsOf: s.AsOf, Status: s.Status, Order: s.Order, Short: s.Short}
	fmt.Fprintf(c.out, "%s (%s), as of the close of %s: %s, order by %s, lot %s kL, %s, short %s.\n",
		s.Name, s.Plant, date(s.AsOf), s.Status, orderCell(p), lotCell(p), windowCell(p), shortCell(p))
	if len(s.Sensitivities) == 0 {
		fmt.Fprintln(c.out, "Without a known stock and consumption there is nothing to work out: see its notices.")
		c.notices(c.out, "  ", s.Notices)
		return
	}
	fmt.Fprintln(c.out, "One thing changed at a time, the greatest effect first; litres at 15 °C. Nothing is saved.")
	fmt.Fprintln(c.out)
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "change\torder by\tlot\tmissing\tthen")
	for _, x := range s.Sensitivities {
		fmt.Fprintf(w, "%s\t%s\t%+d\t%+d\t%s\n", changeText(x), laterText(x), x.Lot, x.Short, thenText(x, s))
	}
	_ = w.Flush()
	fmt.Fprintln(c.out)
	c.notices(c.out, "  ", s.Notices)
	fmt.Fprintln(c.out, "A planning aid: what is changed here may not be in anybody's hands.")
}

// changeText says what is changed.
func changeText(x resupply.Sensitivity) string {
	by := strconv.FormatFloat(x.By, 'f', -1, 64)
	if x.By > 0 {
		by = "+" + by
	}
	switch x.What {
	case resupply.ChangedLead:
		return "lead time " + by + " d"
	case resupply.ChangedRoom:
		return "room in the tanks " + by + " L"
	case resupply.ChangedRisk:
		return "risk target " + by + " percentage points"
	case resupply.ChangedReserve:
		return "reserve " + by + " d"
	case resupply.ChangedReserveL:
		return "reserve " + by + " L, a mean day's use"
	case resupply.ChangedBurn:
		return "burn " + by + " %"
	case resupply.ChangedOpening:
		return "opening of the window " + by + " d"
	}
	return string(x.What) + " " + by
}

// laterText says how the last day to order moves.
func laterText(x resupply.Sensitivity) string {
	switch {
	case x.OrderByDays != nil:
		return fmt.Sprintf("%+d d", *x.OrderByDays)
	case x.Route != "":
		return "an order"
	}
	return "no order"
}

// thenText says what else is otherwise.
func thenText(x resupply.Sensitivity, s advice.Sensitive) string {
	text := ""
	if x.Status != s.Status {
		text = string(x.Status)
	}
	if x.Route != "" && (s.Order == nil || x.Route != s.Order.Route || x.Window != s.Order.Window) {
		text += " from " + x.Route + " " + x.Window
	}
	return text
}
