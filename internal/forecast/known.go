package forecast

import (
	"math"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

// known is what is known of a day's use beside level and season: how cold it was, its weekday, and changes that
// somebody declared.
type known struct {
	weather weather
	week    week
	changes []Change
	winter  []float64 // weights of the observed years in the year after the origin, where that is supposed; else nil
}

// knownOf takes what is known beside the intervals of a series; its week is found by the fit.
func knownOf(s Series, origin float64) known {
	return known{weather: newWeather(s.Cold, origin), changes: usable(s.Changes)}
}

// A change beyond these is a slip.
const (
	mostRatio    = 1000.0
	mostChangeSD = 3.0
)

// usable gives the changes that can be reckoned with.
func usable(changes []Change) (kept []Change) {
	for _, c := range changes {
		if c.usable() {
			kept = append(kept, c)
		}
	}
	return kept
}

func (c Change) usable() bool {
	return (c.Ratio == 0 || c.Ratio >= 1/mostRatio && c.Ratio <= mostRatio) && c.SD >= 0 && c.SD <= mostChangeSD && (c.Until == 0 || c.Until > c.From)
}

// reportChanges names the declared changes that cannot be reckoned with, and a standby in which the plant burned.
func (m *Model) reportChanges(s Series) {
	for _, c := range s.Changes {
		if !c.usable() {
			m.notices.Add(notice.New(notice.Caution, "change-ignored", m.plant,
				"the change of use declared from %s is left out: its ratio must be 0 or 1/%[2]g to %[2]g, the deviation of its log 0 to %[3]g, and it must end after it begins",
				c.From, mostRatio, mostChangeSD))
		}
	}
	burned := 0.0
	for _, i := range s.Intervals {
		if i.Litres > 0 && i.defect() == "" && i.End <= m.origin+1e-9 && m.known.standsBy(i) {
			burned += i.Days()
		}
	}
	if burned > 0 {
		m.notices.Add(notice.New(notice.Caution, "burned-in-standby", m.plant,
			"fuel was burned on %.0f days on which the plant was declared to stand by: not fitted; correct the days of the standby", burned))
	}
}

// on says whether the change is in force on a day.
func (c Change) on(day calendar.Day) bool { return day >= c.From && (c.Until == 0 || day < c.Until) }

// times gives by what a day's use is multiplied; 0 on days on which the plant stands by.
func (k *known) times(day int) float64 {
	return k.week.times(day) * k.changed(day)
}

// changed gives the part of it that was declared.
func (k *known) changed(day int) float64 {
	times := 1.0
	for _, c := range k.changes {
		if c.on(calendar.Day(day)) {
			times *= c.Ratio
		}
	}
	return times
}

// plain says that nothing is known of any day.
func (k *known) plain() bool { return len(k.changes) == 0 && k.week == week{} }

// mean gives the mean over the days of a stretch, each by the part of it that lies inside.
func (k *known) mean(start, end float64) float64 {
	if k.plain() {
		return 1
	}
	sum := 0.0
	for day := math.Floor(start); day < end; day++ {
		sum += (min(end, day+1) - max(start, day)) * k.times(int(day))
	}
	return sum / (end - start)
}

// standsBy says whether a declared standby takes more than nine tenths of an interval.
func (k *known) standsBy(i Interval) bool {
	if len(k.changes) == 0 {
		return false
	}
	running := 0.0
	for day := math.Floor(i.Start); day < i.End; day++ {
		if k.times(int(day)) > 0 {
			running += min(i.End, day+1) - max(i.Start, day)
		}
	}
	return running < 0.1*i.Days()
}

// doubt is a declared change that comes or goes after the origin and whose size is not sure: on its days
// the log rate is off by sd times one number.
type doubt struct {
	from, until int // days; until is the first one without it
	sd          float64
}

// doubts gives those of days from the first on.
func (k *known) doubts(first int) (all []doubt) {
	const never = math.MaxInt32
	for _, c := range k.changes {
		from, until := int(c.From), int(c.Until)
		if until == 0 {
			until = never
		}
		switch {
		case c.SD == 0 || c.Ratio == 0 || until <= first:
		case from >= first:
			all = append(all, doubt{from, until, c.SD})
		case until < never: // in force at the origin: the fitted level holds it, and what ends is as unsure
			all = append(all, doubt{until, never, c.SD})
		}
	}
	return all
}
