package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"text/tabwriter"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/score"
	"overwinter/internal/store"
)

// scoresCommand shows how good the forecasts were that were kept as issued.
type scoresCommand struct {
	ledgerFlags
	Seed   uint64   `default:"1" help:"Seed of the advice whose scores are shown."`
	JSON   bool     `name:"json" help:"Answer as JSON."`
	Plants []string `arg:"" optional:"" name:"plant" help:"Only these plants. Default: all that have advice."`
}

// scoresOfPlant is one plant's scores as its advice in force has them.
type scoresOfPlant struct {
	Plant  string        `json:"plant"`
	Name   string        `json:"name"`
	AsOf   calendar.Day  `json:"as_of"`
	Scores *score.Scores `json:"scores"`
}

// Run shows the scores in the saved advice: nothing is reckoned.
func (s *scoresCommand) Run(ctx context.Context, c *console) error {
	if !store.Exists(ctx, s.DB) {
		return fault.New(fault.NotFound, "there is no ledger at %s: load a data folder first", store.Redacted(s.DB))
	}
	db, done, err := openLedger(ctx, s.DB)
	if err != nil {
		return err
	}
	defer done()
	now, err := advice.NewDesk(db, s.Seed).InForce(ctx)
	if err != nil {
		return err
	}
	all, err := s.chosen(now)
	if err != nil {
		return err
	}
	if s.JSON {
		return c.json(struct {
			Plants []scoresOfPlant `json:"plants"`
		}{all})
	}
	c.scores(all)
	return nil
}

// chosen gives the plants that were asked for, in their order; all by id where none was.
func (s *scoresCommand) chosen(now *advice.InForce) ([]scoresOfPlant, error) {
	ids := s.Plants
	if len(ids) == 0 {
		for _, p := range now.Plants {
			ids = append(ids, p.Plant)
		}
		slices.Sort(ids)
	}
	if len(ids) == 0 {
		return nil, fault.New(fault.NotFound, "there is no advice yet: run forecast advise, or the service, first")
	}
	var all []scoresOfPlant
	for _, id := range ids {
		p, err := now.Plant(id)
		if err != nil {
			return nil, err
		}
		all = append(all, scoresOfPlant{p.Plant, p.Name, p.AsOf, p.Scores})
	}
	return all, nil
}

// scores prints a line for each plant and length.
func (c *console) scores(all []scoresOfPlant) {
	fmt.Fprint(c.out, "How good the forecasts of consumption were that were kept as issued, the first of each month, in per cent of what was burned.\n\n")
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "plant\tas of\tmonths\tscored\tinside 80 %\tchance between\tinside 95 %\tmissed by\ttoo high by\tyear before\tpinball")
	for _, p := range all {
		if p.Scores == nil || len(p.Scores.Lengths) == 0 {
			fmt.Fprintf(w, "%s\t%s\t%s\tnone due yet%s\n", shortened(p.Name), date(p.AsOf), none, noCells)
			continue
		}
		for _, l := range p.Scores.Lengths {
			fmt.Fprintf(w, "%s\t%s\t%d\t%d of %d\t%s\n", shortened(p.Name), date(p.AsOf), l.Months, l.Scored, l.Due, scoreCells(l.Summary))
		}
	}
	_ = w.Flush() // stdout: an error there has nowhere to go
	fmt.Fprint(c.out, "\nChance between: where the chance to lie inside the range of 80 % lies, with 95 % confidence, spans that overlap counted once. Missed by, too high by: medians. Year before: what the burn\n"+
		"of the same months a year earlier would have missed by. Scored with what the ledger held when the advice was made, corrections included.\n")
}

// noCells keeps the columns of the lines about one that has no figures.
const noCells = "\t\t\t\t\t\t\t"

func scoreCells(s *score.Summary) string {
	if s == nil {
		return none + noCells[1:]
	}
	before := none
	if s.Against != nil {
		before = fmt.Sprintf("%.1f", s.Against.YearBeforeMiss)
	}
	return fmt.Sprintf("%.0f\t%.0f to %.0f\t%.0f\t%.1f\t%+.1f\t%s\t%.2f", s.Inside80.Percent, math.Round(s.Inside80.Low), math.Round(s.Inside80.High),
		s.Inside95.Percent, s.MedianMiss, s.MedianError, before, s.Pinball)
}
