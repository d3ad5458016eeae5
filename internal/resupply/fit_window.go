package resupply

import (
	"cmp"
	"fmt"
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
)

// PastSeason is what became of a window in one year.
type PastSeason struct {
	Year   int           // of the season: that in which the window usually opens
	Opens  *calendar.Day // nil: not known
	Closes *calendar.Day // nil: not known
	Failed bool          // it did not open at all
}

// opened tells that the window is known to have opened.
func (p PastSeason) opened() bool { return p.Opens != nil || p.Closes != nil }

// Basis is what a window is fitted with beside its past.
type Basis struct {
	OpensLag, ClosesLag Lag
	FailChance          *float64 // stated; nil where nothing was
}

// WindowFit is what past seasons say of the coming ones. A date is nil where too few past ones are known.
type WindowFit struct {
	Opens  *DateFit
	Closes *DateFit
	Fail   FailFit

	basis Basis
	known map[int]PastSeason // by year
}

// opening is what is known of the opening of a year's season.
func (f *WindowFit) opening(year int) seasonDate {
	if f == nil {
		return seasonDate{}
	}
	return seasonDate{f.known[year].Opens, f.Opens, f.basis.OpensLag}
}

// closing is what is known of the closing of a year's season.
func (f *WindowFit) closing(year int) seasonDate {
	if f == nil {
		return seasonDate{}
	}
	return seasonDate{f.known[year].Closes, f.Closes, f.basis.ClosesLag}
}

// failChance is the chance that the season of a year fails; for one that is known it is sure.
func (f *WindowFit) failChance(year int, stated float64) float64 {
	if f == nil {
		return stated
	}
	switch p, known := f.known[year]; {
	case known && p.Failed:
		return 1
	case known && p.opened():
		return 0
	}
	return f.Fail.Chance
}

// FitWindow fits a window's dates and its chance of failing to its past seasons. The error is
// fault.Invalid where a season stands twice or a date lies half a year from where the others lie.
func FitWindow(past []PastSeason, b Basis) (WindowFit, error) {
	past = slices.SortedFunc(slices.Values(past), func(a, b PastSeason) int { return cmp.Compare(a.Year, b.Year) })
	f := WindowFit{basis: b, known: map[int]PastSeason{}}
	failed, known := 0, 0
	for i, p := range past {
		if i > 0 && past[i-1].Year == p.Year {
			return WindowFit{}, fault.New(fault.Invalid, "the season of %d stands twice: leave one of them out", p.Year)
		}
		if p.Failed {
			failed++
		}
		if p.Failed || p.opened() {
			known++
		}
		f.known[p.Year] = p
	}
	f.Fail = fitFailures(failed, known, b.FailChance)
	var err error
	if f.Opens, err = fitDate("opens", past, func(p PastSeason) *calendar.Day { return p.Opens }, b.OpensLag); err != nil {
		return WindowFit{}, err
	}
	if f.Closes, err = fitDate("closes", past, func(p PastSeason) *calendar.Day { return p.Closes }, b.ClosesLag); err != nil {
		return WindowFit{}, err
	}
	return f, nil
}

// farOff is how many days a date may lie from where the others lie: half a year.
const farOff = 183

// fitDate fits one of the two dates, nil where too few are known in the years that count.
func fitDate(what string, past []PastSeason, of func(PastSeason) *calendar.Day, lag Lag) (*DateFit, error) {
	f := &DateFit{Lag: lag}
	var dates []dateOf
	for _, p := range past {
		switch day := of(p); {
		case p.Failed:
			f.LeftOut = append(f.LeftOut, LeftOut{p.Year, "did not open"})
		case day == nil:
			f.LeftOut = append(f.LeftOut, LeftOut{p.Year, "date not known"})
		default:
			dates = append(dates, dateOf{p.Year, *day})
		}
	}
	if len(dates) == 0 {
		return nil, nil
	}
	f.anchor = anchorOf(dates)
	var p points
	for _, d := range dates {
		off := d.day - f.anchor.in(d.year)
		if off > farOff || off < -farOff {
			return nil, fault.New(fault.Invalid, "the season of %d %s on %s, %d days from where the others lie: is the year that of the season, and the date right?",
				d.year, what, d.day, abs(off))
		}
		p.years, p.days = append(p.years, float64(d.year)), append(p.days, float64(off))
	}
	if len(candidates[0].own(p, p.end()).years) < LeastDates {
		return nil, nil
	}
	f.settle(p)
	return f, nil
}

// settle chooses the law and fits it to its own years.
func (f *DateFit) settle(p points) {
	chosen, told := choose(p)
	own := chosen.own(p, p.end())
	f.Law, f.Scores = chosen.name, told
	for _, year := range p.years {
		if year < own.years[0] {
			f.LeftOut = append(f.LeftOut, LeftOut{int(year), fmt.Sprintf("before the last %d years", chosen.span)})
			continue
		}
		f.Years = append(f.Years, int(year))
	}
	slices.SortFunc(f.LeftOut, func(a, b LeftOut) int { return cmp.Compare(a.Year, b.Year) })
	if long := p.since(p.end() - trendYears); len(long.years) >= leastTrend {
		l := fitLine(long.years, long.days, true)
		f.Trend = &Trend{int(long.years[0]), int(p.end()) - 1, 10 * l.slope, 10 * l.slopeSE()}
	}
	var s shape
	f.line, s = chosen.fit(own)
	f.Odd = oddYears(own, f.line)
	f.unit = scoresOf(s.wider(f.Lag.SDDays / f.line.predictionSD(p.end())))
}
