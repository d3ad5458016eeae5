package main

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/importer"
	"overwinter/internal/inventory"
	"overwinter/internal/resupply"
)

// windowsCommand fits windows to their past dates.
type windowsCommand struct {
	Past        string   `required:"" placeholder:"FILE" help:"CSV of past windows, as past_windows.csv of a data folder: route,window,year,opens,closes,failed; - is standard input."`
	Year        int      `placeholder:"YEAR" help:"The season to foretell. Default: the one after the last in the file."`
	OpensLag    float64  `placeholder:"DAYS" help:"Days from the dates of the file, such as the break-up, to the opening itself; below 0 before them."`
	OpensLagSD  float64  `name:"opens-lag-sd" placeholder:"DAYS" help:"Standard deviation of that."`
	ClosesLag   float64  `placeholder:"DAYS" help:"Likewise from the dates of the file to the closing."`
	ClosesLagSD float64  `name:"closes-lag-sd" placeholder:"DAYS" help:"Standard deviation of that."`
	FailChance  *float64 `placeholder:"CHANCE" help:"Stated chance that a window fails, 0 to 1; it counts as one year. Default: nothing is known beforehand."`
	JSON        bool     `name:"json" help:"Answer as JSON."`
}

// Help says what is fitted.
func (*windowsCommand) Help() string {
	return `Fits the opening and closing of each window of the file to its past dates, and its chance of failing to the years in which it
failed, and says when it opens and closes in the coming year. Nothing is written anywhere. The same fit serves advice once the file
is in the ledger (forecast load). docs/model.md says how the law is chosen.`
}

// Validate refuses what no file can mend.
func (w *windowsCommand) Validate() error {
	if w.Year != 0 && (w.Year < 1900 || w.Year > 2200) {
		return fmt.Errorf("--year %d: expected 1900 to 2200", w.Year)
	}
	for _, f := range []struct {
		flag      string
		days, low float64
	}{
		{"--opens-lag", w.OpensLag, -180}, {"--opens-lag-sd", w.OpensLagSD, 0},
		{"--closes-lag", w.ClosesLag, -180}, {"--closes-lag-sd", w.ClosesLagSD, 0},
	} {
		if !(f.days >= f.low && f.days <= 180) {
			return fmt.Errorf("%s %v: expected %v to 180 days", f.flag, f.days, f.low)
		}
	}
	if c := w.FailChance; c != nil && !(*c >= 0 && *c <= 1) {
		return fmt.Errorf("--fail-chance %v: expected 0 to 1", *c)
	}
	return nil
}

// fittedWindow is one window with its past and what follows from it.
type fittedWindow struct {
	Route  string           `json:"route"`
	Window string           `json:"window"`
	Year   int              `json:"year"` // that is foretold
	Opens  *fittedDate      `json:"opens"`
	Closes *fittedDate      `json:"closes"`
	Fails  resupply.FailFit `json:"fails"`
}

// fittedDate is an opening or closing that is foretold.
type fittedDate struct {
	Law       resupply.Law        `json:"law"`
	Years     []int               `json:"years"`
	MeanDay   float64             `json:"mean_day_of_year"`
	SDDays    float64             `json:"sd_days"`
	Trend     *resupply.Trend     `json:"trend"`
	P10       calendar.Day        `json:"p10"`
	P50       calendar.Day        `json:"p50"`
	P90       calendar.Day        `json:"p90"`
	LawScores []resupply.LawScore `json:"law_scores"`
	LeftOut   []resupply.LeftOut  `json:"left_out"`
	Odd       []resupply.OddYear  `json:"odd_years"`
}

// Run fits and prints.
func (w *windowsCommand) Run(c *console) error {
	name, in, closeIn, err := input(w.Past)
	if err != nil {
		return err
	}
	defer closeIn()
	rows, notes, err := importer.PastWindows(name, in, time.Now())
	if err != nil {
		return err
	}
	c.notices(c.err, "", notes)
	if len(rows) == 0 {
		return fault.New(fault.Invalid, "%s holds no past window: expected at least one row below the header", name)
	}
	var all []fittedWindow
	for _, group := range byWindow(rows) {
		one, err := w.fit(group)
		if err != nil {
			return fault.Wrap(fault.Invalid, err, "window %s of route %s in %s", group[0].Name, group[0].Route, name)
		}
		all = append(all, one)
	}
	if w.JSON {
		return c.json(struct {
			Windows []fittedWindow `json:"windows"`
		}{all})
	}
	c.windows(all)
	return nil
}

// byWindow gathers the rows of each window, by year, in order of route and window.
func byWindow(rows []*inventory.PastWindow) [][]*inventory.PastWindow {
	slices.SortFunc(rows, func(a, b *inventory.PastWindow) int {
		return cmp.Or(cmp.Compare(a.Route, b.Route), cmp.Compare(a.Name, b.Name), cmp.Compare(a.Year, b.Year))
	})
	var groups [][]*inventory.PastWindow
	for i, p := range rows {
		if i == 0 || p.Route != rows[i-1].Route || p.Name != rows[i-1].Name {
			groups = append(groups, nil)
		}
		last := len(groups) - 1
		groups[last] = append(groups[last], p)
	}
	return groups
}

func (w *windowsCommand) fit(rows []*inventory.PastWindow) (fittedWindow, error) {
	fit, err := resupply.FitWindow(advice.PastSeasons(rows), resupply.Basis{
		OpensLag: resupply.Lag{Days: w.OpensLag, SDDays: w.OpensLagSD}, ClosesLag: resupply.Lag{Days: w.ClosesLag, SDDays: w.ClosesLagSD},
		FailChance: w.FailChance,
	})
	if err != nil {
		return fittedWindow{}, err
	}
	year := w.Year
	if year == 0 {
		year = rows[len(rows)-1].Year + 1
	}
	return fittedWindow{
		Route: rows[0].Route, Window: rows[0].Name, Year: year,
		Opens: fitted(fit.Opens, year), Closes: fitted(fit.Closes, year), Fails: fit.Fail,
	}, nil
}

// fitted makes a date ready to be shown, nil where there are too few past ones.
func fitted(f *resupply.DateFit, year int) *fittedDate {
	if f == nil {
		return nil
	}
	points := f.In(year)
	return &fittedDate{
		Law: f.Law, Years: f.Years, MeanDay: f.Mean(), SDDays: f.SD(), Trend: f.Trend,
		P10: points.P10, P50: points.P50, P90: points.P90,
		LawScores: listed(f.Scores), LeftOut: listed(f.LeftOut), Odd: listed(f.Odd),
	}
}

// listed gives a list that is never null in JSON.
func listed[T any](all []T) []T { return append([]T{}, all...) }
