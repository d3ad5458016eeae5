package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"

	"overwinter/internal/fault"
	"overwinter/internal/lots"
)

// lotsCommand plans which windows to use and how much to take from each.
type lotsCommand struct {
	File string `arg:"" optional:"" default:"-" help:"A planning problem in JSON; - or nothing is standard input."`
	JSON bool   `name:"json" help:"Answer as JSON."`
}

// Help says what goes in and what comes out.
func (*lotsCommand) Help() string {
	return `Reads the windows of one or more plants, with what must have been delivered by each and what fits, and writes the cheapest lots, the fallback where
nothing else holds or it is cheaper, the cost by parts and a lower bound that no plan can beat. Each plant is planned by itself.

docs/lots.md lists the fields, with an example. Where a plant has no plan the message names the first window at which one fails and by how many
litres; the other plants have theirs, and the exit code is 3.`
}

// Run plans.
func (k *lotsCommand) Run(ctx context.Context, c *console) error {
	name, in, closeIn, err := input(k.File)
	if err != nil {
		return err
	}
	defer closeIn()
	problem, err := lots.Read(name, in)
	if err != nil {
		return err
	}
	answer, err := problem.Solve(ctx)
	if err != nil && fault.KindOf(err) != fault.Invalid {
		return err
	}
	if k.JSON {
		return errors.Join(c.json(answer), err)
	}
	c.lots(answer)
	return err
}

// lots prints each plant's plan.
func (c *console) lots(a lots.Answer) {
	for _, p := range a.Plants {
		if p.Cost == nil {
			fmt.Fprintf(c.out, "%s: no plan.\n\n", p.Plant)
			continue
		}
		fmt.Fprintf(c.out, "%s: %s %s, %s.\n", p.Plant, cents(p.Cost.Total), a.Currency, proof(p, a.Currency))
		fmt.Fprintf(c.out, "Fixed %s, fuel %s, fallback %s, carrying %s. Litres at 15 °C.\n\n",
			cents(p.Cost.Fixed), cents(p.Cost.Fuel), cents(p.Cost.Fallback), cents(p.Cost.Carrying))
		w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', 0)
		fmt.Fprintln(w, "window\tlot\troom left\tfallback\tabove need\tlot held by")
		for _, v := range p.Windows {
			room := "no bound"
			if v.RoomLeft != nil {
				room = amount(float64(*v.RoomLeft))
			}
			fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\n", v.Window, amount(float64(v.Lot)), room, amount(float64(v.Fallback)), amount(float64(v.Above)), held(v))
		}
		_ = w.Flush() // stdout: an error there has nowhere to go
		fmt.Fprintln(c.out)
	}
	fmt.Fprintln(c.out, `Room left: at the arrival. Above need: at the end of the interval that the window begins.
A planning aid: orders, safe fill, local codes and transfers are for those who answer for them. Planning figures, not accounting or credit advice.`)
}

// proof says how good a plan is known to be.
func proof(p lots.PlantAnswer, currency string) string {
	if p.Proved {
		return "the least possible"
	}
	gap := p.Cost.Total - *p.LowerBound
	return fmt.Sprintf("at most %s %s (%.2g %%) above the least possible", cents(gap), currency, 100*float64(gap/p.Cost.Total))
}

// held names the bounds that keep a lot from being another.
func held(w lots.WindowAnswer) string {
	var parts []string
	for _, h := range w.HeldBy {
		switch h.Kind {
		case lots.SmallestLot:
			parts = append(parts, "smallest lot")
		case lots.LargestLot:
			parts = append(parts, "largest lot")
		case lots.RoomIsFull:
			parts = append(parts, "room at "+h.Name)
		case lots.LimitIsMet:
			parts = append(parts, "limit "+h.Name)
		}
	}
	return strings.Join(parts, ", ")
}

// amount writes litres with no more than two decimals.
func amount(litres float64) string {
	return strconv.FormatFloat(math.Round(litres*100)/100, 'f', -1, 64)
}

// cents writes money with two decimals.
func cents(m lots.Money) string { return strconv.FormatFloat(float64(m), 'f', 2, 64) }
