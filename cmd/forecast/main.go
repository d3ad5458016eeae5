// Command forecast answers on a command line when each plant must order fuel, how much and by which
// route.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/alecthomas/kong"

	"overwinter/internal/fault"
)

// commands is the command line: each command is a field.
type commands struct {
	Load     loadCommand     `cmd:"" help:"Load a data folder of CSV files into the ledger: all of it or none."`
	Advise   adviseCommand   `cmd:"" help:"Say for every plant when to order, how much, from which window, and why."`
	Budget   budgetCommand   `cmd:"" help:"Litres and money by plant and fiscal month for eighteen months."`
	Books    booksCommand    `cmd:"" help:"What the records say against what the dips say: what looks wrong, balances by month, deliveries, usage."`
	Scores   scoresCommand   `cmd:"" help:"How good the forecasts were that were kept as issued, against what was burned since."`
	Plan     planCommand     `cmd:"" help:"The cheapest plan of a plant over the deliveries to come, and what else could be done or happen. Nothing is saved."`
	Suppose  supposeCommand  `cmd:"" help:"What would follow at a plant from a colder winter, another load, a standby or better engines. Nothing is saved."`
	Changes  changesCommand  `cmd:"" name:"sensitivities" help:"What would change a plant's answer most: lead time, room, risk, reserve, burn, an earlier window. Nothing is saved."`
	Backtest backtestCommand `cmd:"" help:"Forecast from past dates, with what was known then: CSV in, quantiles out."`
	Windows  windowsCommand  `cmd:"" help:"When supply windows open and close, from their past dates: CSV in, the fit and its dates out."`
	Correct  correctCommand  `cmd:"" help:"Bring observed volumes and densities to 15 °C and 60 °F: CSV in, CSV out."`
	Strap    strapCommand    `cmd:"" help:"Write the capacity table of a tank from its description: JSON in, CSV out."`
	Lots     lotsCommand     `cmd:"" help:"Plan which windows to use and how many litres to take from each at the least cost: JSON in, text or JSON out."`
	Replay   replayCommand   `cmd:"" help:"What the plan would have cost and risked on past years, beside simple rules: CSV and JSON in, scores out."`
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// run is the whole command; it gives the exit code.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	var c commands
	exit := -1
	parser, err := kong.New(&c,
		kong.Name("forecast"),
		kong.Description("Fuel supply of remote diesel plants: from readings to a reorder date for every plant."),
		kong.UsageOnError(),
		kong.Writers(stdout, stderr),
		kong.Exit(func(code int) { exit = code }),
		kong.Bind(&console{out: stdout, err: stderr}),
		kong.BindTo(ctx, (*context.Context)(nil)),
	)
	if err != nil {
		fmt.Fprintln(stderr, "forecast:", err)
		return fault.ExitInternal
	}
	parsed, err := parser.Parse(args)
	if exit >= 0 { // help was asked for
		return exit
	}
	if err != nil {
		fmt.Fprintf(stderr, "forecast: %v\nforecast --help shows the commands and their flags.\n", err)
		return fault.ExitUsage
	}
	if err := parsed.Run(); err != nil {
		fmt.Fprintln(stderr, "forecast:", err)
		if errors.Is(err, context.Canceled) {
			return fault.ExitInternal
		}
		return fault.KindOf(err).ExitCode()
	}
	return fault.ExitDone
}
