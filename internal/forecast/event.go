package forecast

import (
	"math"
	"math/bits"

	"overwinter/internal/calendar"
)

const (
	mostEvents = 3   // a year that the fit looks for
	eventYears = 2   // years in which it must have been named,
	eventShare = 0.6 // and of the years in which it was measured
	eventDays  = 7   // a shorter one moves no total that matters
	eventLeast = 1.5 // times the usual that an event must be where its intervals are not named,
	eventNoise = 2.5 // and standard deviations of their noise
	eventLogSD = 1.0 // prior standard deviation of its effect on the log rate
	eventMost  = 5.0 // times the usual that an event can be: a slip of ten times in two years is still one
)

// event is a part of the year in which a plant burns otherwise than harmonics can follow: a fish plant's
// weeks, a school's holidays. It lies between two places of the year, in days from 0 to 365.25; one over New Year
// ends beyond 365.25.
type event struct{ from, to float64 }

func (e event) length() float64 { return e.to - e.from }

// dayOfYear gives the place of a moment in the year of the harmonics.
func dayOfYear(moment float64) float64 {
	return moment - daysPerYear*math.Floor(moment/daysPerYear)
}

// share gives how much of a stretch of at most a year lies inside the event.
func (e event) share(start, end float64) float64 {
	at := dayOfYear(start)
	inside := 0.0
	for _, year := range []float64{-daysPerYear, 0, daysPerYear} {
		inside += max(0, min(at+end-start, e.to+year)-max(at, e.from+year))
	}
	return inside / (end - start)
}

// events are those of one plant.
type events []event

// row gives the seasonal row of a stretch of few days.
func (all events) row(start, end float64) season {
	row := harmonicsAt((start + end) / 2)
	for i, e := range all {
		row[firstEvent+i] = e.share(start, end)
	}
	return row
}

// coefficients gives how many of the seasonal coefficients row may have other than zero.
func (all events) coefficients() int {
	if len(all) == 0 {
		return nHarmonic
	}
	return firstEvent + len(all)
}

func (all events) ofDay(day int) season { return all.row(float64(day), float64(day)+1) }

// admitEvent looks for a part of the year whose intervals are named year after year in the same direction: that is
// no fault but a season that harmonics cannot follow. It gives the event its own coefficient and takes its
// intervals back.
func (f *fit) admitEvent() {
	if len(f.events) == mostEvents {
		return
	}
	for _, up := range []bool{true, false} {
		if e, found := f.recurring(up); found {
			f.events = append(f.events, e)
			f.prior.sd[firstEvent+len(f.events)-1] = eventLogSD
			f.layOutDays()
			for i := range f.observations {
				if o := &f.observations[i]; o.named && o.Litres > 0 && o.Days() < daysPerYear && e.share(o.Start, o.End) > 0.5 {
					o.named = false
				}
			}
			f.linearise()
			return
		}
	}
}

// yearDays are the days of the year that recurring counts by; the last takes the quarter of a day that is left.
const yearDays = 365

// years are years of a history, each a bit, the first one the lowest: oldestDays keeps them few.
type years uint32

func (y years) count() int { return bits.OnesCount32(uint32(y)) }

// calendarOf counts in which years something was the case, by day of the year.
type calendarOf [yearDays]years

// mark adds the days that a stretch covers for the better part, or the day of its start. Year 0 is that of firstDay.
func (c *calendarOf) mark(start, end float64, firstDay int) {
	before := math.Floor(float64(firstDay) / daysPerYear)
	for day := math.Floor(start + 0.5); day < end-0.5 || day < start+0.5; day++ {
		noon := day + 0.5
		c[min(int(dayOfYear(noon)), yearDays-1)] |= 1 << uint(math.Floor(noon/daysPerYear)-before)
	}
}

// recurring finds the longest part of the year that is named, as too much or as too little, in enough years. The
// part may run over New Year.
func (f *fit) recurring(up bool) (e event, found bool) {
	var seen, named calendarOf
	for i := range f.observations {
		if f.outOfLine(i) && (f.rows[i].residual > 0) == up && f.placed(i) {
			named.mark(f.observations[i].Start, f.observations[i].End, f.firstDay)
		}
	}
	if named == (calendarOf{}) { // as mostly: the rest is spared
		return e, false
	}
	for i := range f.observations {
		if f.placed(i) {
			seen.mark(f.observations[i].Start, f.observations[i].End, f.firstDay)
		}
	}
	from := 0
	for at := 0; at < 2*yearDays && at < from+yearDays; at++ { // twice round, so that a part over New Year is whole
		day := at % yearDays
		if n := named[day].count(); n < eventYears || float64(n) < eventShare*float64(seen[day].count()) {
			from = at + 1
		} else if part := (event{placeOf(from), placeOf(at + 1)}); at+1-from >= eventDays && part.length() > e.length() {
			e, found = part, true
		}
	}
	return e, found
}

// placed says whether an interval tells of a part of the year.
func (f *fit) placed(i int) bool {
	o := &f.observations[i]
	return o.Litres > 0 && !f.rows[i].coarse && o.Days() <= daysPerYear/4
}

var eventLeastLog, eventMostLog = math.Log(eventLeast), math.Log(eventMost)

// outOfLine says whether an interval may belong to an event: it is named, or so far off that noise does not make
// it. Readings of days have so much noise where an event is not known yet that few of them are named.
func (f *fit) outOfLine(i int) bool {
	r := &f.rows[i]
	off := math.Abs(r.residual)
	return off < eventMostLog && (f.observations[i].named || off > eventLeastLog && off > eventNoise*math.Sqrt(r.own()))
}

// placeOf gives where a day of recurring's count begins in the year of the harmonics, beyond 365.25 in the next.
func placeOf(day int) float64 { return float64(day) + (daysPerYear-yearDays)*float64(day/yearDays) }

// describe names the days of the last event that was over by the origin.
func (e event) describe(origin float64) (first, last calendar.Day) {
	year := daysPerYear * math.Floor((origin-e.to)/daysPerYear)
	return calendar.Day(math.Round(year + e.from)), calendar.Day(math.Round(year+e.to)) - 1
}
