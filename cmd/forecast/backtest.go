package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"overwinter/internal/backtest"
	"overwinter/internal/fault"
)

// backtestCommand forecasts from past dates.
type backtestCommand struct {
	History    string `required:"" placeholder:"FILE" help:"CSV series_id,start,end,litres and, if you have it, kwh: what was burned; end is exclusive, blank litres are missing."`
	Intervals  string `required:"" placeholder:"FILE" help:"CSV series_id,start,end,counted: what to forecast. The start of a series' first interval is its origin: nothing from then on is used."`
	DegreeDays string `placeholder:"FILE" help:"CSV series_id,start,end,hdd: heating degree days, of any base."`
	Plants     string `placeholder:"FILE" help:"CSV series_id and any of tankage_l, peak_kw, group: what else is known of a plant."`
	Out        string `required:"" placeholder:"FILE" help:"Where the quantiles are written, as CSV."`
	Notices    string `placeholder:"FILE" help:"Where the notices are written, as CSV. Default: --out with -notices before .csv."`
	Seed       uint64 `default:"1" help:"Seed of the simulated futures."`
	Paths      int    `default:"2000" help:"Simulated futures of each series, 100 to 10000."`
}

// Help says what goes in and what comes out.
func (*backtestCommand) Help() string {
	return `Forecasts each series from its origin, from what was known before it, and writes quantiles of each interval's total and of
the cumulative total, to be scored on what followed. Lending between plants is cut at the same origin.

docs/backtest.md lists the columns of all files. Wrong input ends with exit code 3, a list of the places, and nothing written. A series
whose history gives no forecast is named in the notices and on standard error, and has no rows; if no series has a forecast, the files
are written all the same and the exit code is 3.`
}

// Validate refuses what no file can mend, and fills in the default.
func (b *backtestCommand) Validate() error {
	if b.Paths < 100 || b.Paths > 10_000 {
		return fmt.Errorf("--paths %d: expected 100 to 10000", b.Paths)
	}
	if b.Notices == "" {
		b.Notices = strings.TrimSuffix(b.Out, ".csv") + "-notices.csv"
	}
	return ownFiles([]fileFlag{{"--history", b.History}, {"--intervals", b.Intervals}, {"--out", b.Out}},
		fileFlag{"--degree-days", b.DegreeDays}, fileFlag{"--plants", b.Plants}, fileFlag{"--notices", b.Notices})
}

// fileFlag is a flag that names a file.
type fileFlag struct{ flag, path string }

// ownFiles refuses a needed file that is not named, and two flags that name the same: what is written must not take the place of what
// is read.
func ownFiles(needed []fileFlag, more ...fileFlag) error {
	for _, f := range needed {
		if f.path == "" {
			return fmt.Errorf("%s is blank: name a file", f.flag)
		}
	}
	taken := map[string]string{}
	for _, f := range append(needed, more...) {
		path := resolved(f.path)
		if other, twice := taken[path]; twice && f.path != "" {
			return fmt.Errorf("%s and %s are both %s: each needs a file of its own", other, f.flag, f.path)
		}
		taken[path] = f.flag
	}
	return nil
}

// resolved gives the file that a path leads to, through links where it exists.
func resolved(path string) string {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	if absolute, err := filepath.Abs(path); err == nil {
		return absolute
	}
	return path
}

// Run forecasts.
func (b *backtestCommand) Run(ctx context.Context, c *console) error {
	fleet, err := b.read(ctx)
	if err != nil {
		return err
	}
	rows, err := draft(b.Out)
	if err != nil {
		return err
	}
	defer rows.discard()
	notices, err := draft(b.Notices)
	if err != nil {
		return err
	}
	defer notices.discard()
	without, err := b.forecast(ctx, c, fleet, rows, notices)
	if err != nil {
		return err
	}
	if err := keep(notices, rows); err != nil {
		return err
	}
	switch asked := fleet.Asked(); without {
	case 0:
	case asked:
		return fault.New(fault.Invalid, "none of %d series can be forecast: %s says why", asked, b.Notices)
	default:
		fmt.Fprintf(c.err, "%d of %d series cannot be forecast and have no rows: %s says why\n", without, asked, b.Notices)
	}
	return nil
}

// read reads the tables.
func (b *backtestCommand) read(ctx context.Context) (*backtest.Fleet, error) {
	var files backtest.Files
	for _, f := range []struct {
		path string
		to   **backtest.Source
	}{{b.History, &files.History}, {b.Intervals, &files.Intervals}, {b.DegreeDays, &files.DegreeDays}, {b.Plants, &files.Plants}} {
		if f.path == "" {
			continue
		}
		name, in, closeIn, err := input(f.path)
		if err != nil {
			return nil, err
		}
		defer closeIn()
		*f.to = &backtest.Source{Name: name, In: in}
	}
	return backtest.Read(ctx, files)
}

// forecast writes what becomes of every series, and counts those without a forecast.
func (b *backtestCommand) forecast(ctx context.Context, c *console, fleet *backtest.Fleet, rows, notices io.Writer) (without int, err error) {
	tell, wipe := c.progress()
	defer wipe()
	w, err := backtest.NewWriter(rows, notices)
	if err != nil {
		return 0, err
	}
	done := 0
	err = fleet.Run(ctx, backtest.Options{Paths: b.Paths, Seed: b.Seed}, func(r backtest.Result) error {
		if len(r.Rows) == 0 {
			without++
		}
		if done++; tell != nil {
			tell(done, fleet.Asked())
		}
		return w.Result(r)
	})
	return without, errors.Join(err, w.Notices(fleet.Strays()), w.Close())
}
