package score

import (
	"cmp"
	"fmt"
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/forecast"
	"overwinter/internal/notice"
)

// Lengths are the spans that forecasts are scored over, in months.
var Lengths = []int{1, 3, 6, 12}

const (
	shown = 3 // of each length, the newest, so that the arithmetic can be followed
	few   = 5 // spans apart from each other, below which a share says little. Common practice, no source
)

// Scores is how good a plant's own forecasts were.
type Scores struct {
	Issued  int           `json:"issued"`       // forecasts kept
	First   *calendar.Day `json:"first_origin"` // of the earliest; nil where there is none
	NextDue *calendar.Day `json:"next_due"`     // the last day of the first span still to pass; nil where there is none
	Lengths []Length      `json:"lengths"`      // those of which a span has passed, the shortest first
	Notices notice.List   `json:"notices"`
}

// Length is the forecasts of one length.
type Length struct {
	Months        int        `json:"months"`
	Due           int        `json:"due"` // spans that have passed
	Scored        int        `json:"scored"`
	Unscored      []Unscored `json:"unscored"`
	ModelVersions []string   `json:"model_versions"` // that the scored forecasts were made by
	Summary       *Summary   `json:"summary"`        // nil where none is scored
	Newest        []Outcome  `json:"newest"`         // scored, the newest first
}

// Unscored counts the spans that have passed and are not scored, for one reason.
type Unscored struct {
	Reason Reason `json:"reason"`
	Count  int    `json:"count"`
}

// Score holds a plant's forecasts against its believed usage, as known at the close of the as-of day. Neither has to
// be in order; intervals do not overlap.
func Score(forecasts []Forecast, usages []forecast.Interval, asOf calendar.Day) Scores {
	forecasts, usages = slices.Clone(forecasts), slices.Clone(usages)
	slices.SortFunc(forecasts, func(a, b Forecast) int { return cmp.Compare(a.Origin, b.Origin) })
	slices.SortFunc(usages, func(a, b forecast.Interval) int {
		return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(a.End, b.End))
	})
	s := Scores{Issued: len(forecasts), Lengths: []Length{}, Notices: notice.List{}}
	if len(forecasts) > 0 {
		s.First = &forecasts[0].Origin
	}
	for _, months := range Lengths {
		passed, next := divide(forecasts, months, asOf)
		if next != nil && (s.NextDue == nil || *next < *s.NextDue) {
			s.NextDue = next
		}
		if len(passed) > 0 {
			s.add(lengthOf(passed, months, usages))
		}
	}
	return s
}

// divide gives the forecasts whose first months have passed at the close of a day, and the last day of the first that
// has not. They are in order of origin.
func divide(all []Forecast, months int, asOf calendar.Day) (passed []Forecast, next *calendar.Day) {
	for i, f := range all {
		if last := later(f.Origin+1, months) - 1; last > asOf {
			return all[:i], &last
		}
	}
	return all, nil
}

// lengthOf scores forecasts whose first months have passed.
func lengthOf(passed []Forecast, months int, usages []forecast.Interval) Length {
	l := Length{Months: months, Due: len(passed), Unscored: []Unscored{}, ModelVersions: []string{}, Newest: []Outcome{}}
	var scored []Outcome
	for _, f := range passed {
		o, why := outcome(f, months, usages)
		if why != "" {
			l.leaveOut(why)
			continue
		}
		scored = append(scored, o)
		if !slices.Contains(l.ModelVersions, f.ModelVersion) {
			l.ModelVersions = append(l.ModelVersions, f.ModelVersion)
		}
	}
	if l.Scored = len(scored); l.Scored > 0 {
		l.Summary = summarise(scored)
	}
	for i := len(scored) - 1; i >= max(0, len(scored)-shown); i-- {
		l.Newest = append(l.Newest, scored[i])
	}
	return l
}

func (l *Length) leaveOut(why Reason) {
	for i := range l.Unscored {
		if l.Unscored[i].Reason == why {
			l.Unscored[i].Count++
			return
		}
	}
	l.Unscored = append(l.Unscored, Unscored{why, 1})
}

// add takes a length in and says what weakens it.
func (s *Scores) add(l Length) {
	s.Lengths = append(s.Lengths, l)
	if l.Summary == nil {
		return
	}
	apart, subject := l.Summary.Apart, fmt.Sprintf("forecasts of %d months", l.Months)
	if apart < few {
		s.Notices.Add(notice.New(notice.Caution, "few-scores", subject, "no more than %d of the scored spans are apart from each other: too few for a share to say much", apart))
	}
	if apart < l.Scored {
		s.Notices.Add(notice.New(notice.Info, "spans-overlap", subject,
			"the %d scored spans overlap and are not independent: the range of a share counts them as %d", l.Scored, apart))
	}
}
