package main

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"

	"overwinter/internal/replay"
	"overwinter/internal/sheet"
)

// replayCommand supplies plants over past years.
type replayCommand struct {
	History     string   `required:"" placeholder:"FILE" help:"CSV series_id,start,end,litres: what was burned; end is exclusive. The days of the replay must all be there."`
	Plants      string   `required:"" placeholder:"FILE" help:"CSV series_id,usable_l,route: the plants to replay, the litres that their tanks hold, the route that serves them."`
	PastWindows string   `required:"" placeholder:"FILE" help:"CSV route,year,opens,closes: the dates of past seasons of each route."`
	Scenario    string   `required:"" placeholder:"FILE" help:"JSON: dates, prices, lots, lead times, reserve and risk target, as docs/replay.md describes."`
	Policy      []string `placeholder:"NAME" help:"ours, fill, upto or mean; may be repeated. The first is what the others are held against. Default: all, in this order."`
	Seeds       int      `default:"10" help:"How many times the windows and lead times are drawn anew, 1 to 1000."`
	Paths       int      `default:"300" help:"Simulated futures of a plan, 60 to 5000."`
	Out         string   `required:"" placeholder:"FILE" help:"Where the scores are written, as CSV: a line a plant, policy and seed."`
}

// Help says what is compared.
func (*replayCommand) Help() string {
	return `Supplies each plant through past years, on what it really burned, under several policies of ordering: the plan of this program, made
each month with what was known then, beside simple rules. Says what each would have cost, what the fallback would have brought, and on how many days the
stock would have been below the reserve or gone. docs/replay.md lists the columns and says what the figures mean.`
}

// Validate refuses what no file can mend, and fills in the default.
func (r *replayCommand) Validate() error {
	if r.Seeds < 1 || r.Seeds > 1000 {
		return fmt.Errorf("--seeds %d: expected 1 to 1000", r.Seeds)
	}
	if r.Paths < 60 || r.Paths > 5000 {
		return fmt.Errorf("--paths %d: expected 60 to 5000", r.Paths)
	}
	for i, name := range r.Policy {
		if !slices.Contains(replay.Policies(), name) {
			return fmt.Errorf("--policy %s: expected one of %s", name, strings.Join(replay.Policies(), ", "))
		}
		if slices.Contains(r.Policy[:i], name) {
			return fmt.Errorf("--policy %s stands twice: keep one", name)
		}
	}
	if r.Policy == nil {
		r.Policy = replay.Policies()
	}
	return ownFiles([]fileFlag{{"--history", r.History}, {"--plants", r.Plants}, {"--past-windows", r.PastWindows}, {"--scenario", r.Scenario}, {"--out", r.Out}})
}

// Run replays.
func (r *replayCommand) Run(ctx context.Context, c *console) error {
	one, err := r.read(ctx)
	if err != nil {
		return err
	}
	rows, err := draft(r.Out)
	if err != nil {
		return err
	}
	defer rows.discard()
	scores, err := one.Run(ctx, replay.Options{Policies: r.Policy, Worlds: r.Seeds, Paths: r.Paths})
	if err != nil {
		return err
	}
	if err := replay.Write(rows, scores); err != nil {
		return err
	}
	if err := keep(rows); err != nil {
		return err
	}
	r.print(c, one, replay.Summarise(scores, r.Seeds))
	return nil
}

// read reads the tables and the scenario.
func (r *replayCommand) read(ctx context.Context) (*replay.Case, error) {
	var files replay.Files
	for _, f := range []struct {
		path string
		to   *sheet.Source
	}{{r.History, &files.History}, {r.Plants, &files.Plants}, {r.PastWindows, &files.PastWindows}, {r.Scenario, &files.Scenario}} {
		name, in, closeIn, err := input(f.path)
		if err != nil {
			return nil, err
		}
		defer closeIn()
		*f.to = sheet.Source{Name: name, In: in}
	}
	return replay.Read(ctx, files)
}

// print prints a line a policy.
func (r *replayCommand) print(c *console, one *replay.Case, all []replay.Summary) {
	s := &one.Scenario
	fmt.Fprintf(c.out, "%d plants from %s to %s, seasons and lead times drawn %d times. Money in thousands of %s.\n\n", len(one.Plants), s.Start, s.End, r.Seeds, s.Currency)
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "policy\tcost\tsd\tover %s\t±\t%%\tfuel\tstops\tfallback\tcarrying\tleft\tkL flown\tdays below\tof them after a failure\tdays dry\tdeliveries\n", all[0].Policy)
	for _, p := range all {
		k := func(x float64) string { return fmt.Sprintf("%.0f", x/1000) }
		fmt.Fprintln(w, strings.Join([]string{
			p.Policy, k(p.Cost.Mean), k(p.Cost.SD), k(p.Excess.Mean), k(p.Excess.Error), share(p.Excess.Mean, all[0].Cost.Mean),
			k(p.Parts.Fuel), k(p.Parts.Stops), k(p.Parts.Flown), k(p.Parts.Carrying), k(p.Parts.Left),
			k(p.Fallback.Mean), fmt.Sprintf("%.0f ± %.0f", p.Below.Mean, p.Below.Error), fmt.Sprintf("%.0f", p.Failed.Mean), fmt.Sprintf("%.1f", p.Dry.Mean), fmt.Sprintf("%.0f", p.Visits),
		}, "\t"))
	}
	_ = w.Flush() // stdout: an error there has nowhere to go
	fmt.Fprintln(c.out, `
Means over the draws, of all plants together; ± is the standard error of what stands before it, sd the standard deviation of the cost from draw to draw.
A planning aid: orders, safe fill, local codes and transfers are for those who answer for them. Planning figures, not accounting advice.`)
}

// share gives an amount in per cent of another; a dash where that is no cost.
func share(amount, of float64) string {
	if of <= 0 {
		return "–"
	}
	return fmt.Sprintf("%+.2f", 100*amount/of)
}
