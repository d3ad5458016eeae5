package inventory

import (
	"math"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// outflow says what leaves a plant's tanks in a day: what is usual and what is far beyond it. Meters say it, or
// period totals where no meter does, or else the fall of stock.
type outflow struct {
	*Book
	others *usualRates // where no meter says it
	drawn  float64     // litres at 15 °C a day for anything but generation, in the whole ledger's mean
}

func (b *Book) outflow() *outflow { return &outflow{Book: b, drawn: b.meanDraw()} }

// unmetered gives the rates that totals or gaugings say, found once and only where meters do not say them.
func (o *outflow) unmetered() *usualRates {
	if o.others != nil {
		return o.others
	}
	rates := o.totalRates
	if len(rates) < fewestRates {
		var ignored notice.List
		rates = gaugedRates(o.gaugedUsages(&ignored))
	}
	o.others = newUsualRates(rates)
	return o.others
}

// meanDraw is what draws take in a day, over the days from the first to the last of them.
func (b *Book) meanDraw() float64 {
	var ignored notice.List
	draws := b.rows.Draws
	if len(draws) == 0 {
		return 0
	}
	sum, first, last := 0.0, draws[0].FirstDay, draws[0].LastDay
	for _, d := range draws {
		if d.LastDay > b.AsOf || d.Purpose == Repayment {
			continue
		}
		sum += b.at15(d.Measure, "", &ignored)
		first, last = min(first, d.FirstDay), max(last, d.LastDay)
	}
	return sum / math.Max(float64(last-first+1), 30)
}

// between gives the litres at 15 °C that usually leave between two moments, and how many are far beyond that;
// ok is false where nothing is usual.
func (o *outflow) between(from, to time.Time) (usual, far float64, ok bool) {
	mid, days := midway(from, to), daysBetween(from, to)
	perDay, most, ok := o.meteredPerDay(mid)
	if !ok {
		u := o.unmetered().at(mid)
		if !u.known {
			u.far = thinTimes * u.middle
		}
		perDay, most, ok = units.LitresAt15(u.middle), units.LitresAt15(u.far), u.middle > 0
	}
	drawn := o.drawnWithin(from, to)
	usual = float64(perDay)*days + math.Max(o.drawn*days, drawn)
	far = float64(most)*days + math.Max(beyondTimes*o.drawn*days, drawn)
	return usual, far, ok
}

// settled tells whether enough intervals say what is usual around a moment for one of them to be held against the others.
func (o *outflow) settled(at time.Time) bool {
	for _, m := range o.meters {
		if o.burning.at(at) && o.usualRuns[m.ID].at(at).known {
			return true
		}
	}
	return o.unmetered().at(at).known
}

// drawnWithin is what draws may have taken between two moments: all of any that has a day in between.
func (b *Book) drawnWithin(from, to time.Time) float64 {
	if len(b.rows.Draws) == 0 {
		return 0
	}
	var ignored notice.List
	first, last, sum := calendar.DayOf(from, b.Zone), calendar.DayOf(to, b.Zone), 0.0
	for _, d := range b.drawsOn(first, last) {
		if d.Purpose != Repayment && !b.leftOut[d] {
			sum += b.at15(d.Measure, "", &ignored)
		}
	}
	return sum
}

// inflows are the moments at which fuel came into a tank, or may have.
func (b *Book) inflows(tank string) []time.Time {
	var found []time.Time
	for _, d := range b.rows.Deliveries {
		if (d.Tank == tank || d.Tank == "") && b.brings(d) && d.At.Before(b.close()) {
			found = append(found, b.moments(d)...)
		}
	}
	for _, t := range b.rows.Transfers {
		if t.To == tank && t.At.Before(b.close()) {
			found = append(found, t.At)
		}
	}
	for _, d := range b.rows.Draws {
		if d.Purpose == Repayment {
			for day := d.FirstDay; day <= min(d.LastDay, b.AsOf); day++ {
				found = append(found, b.hoursOf(day)...)
			}
		}
	}
	slices.SortFunc(found, time.Time.Compare)
	return found
}

// moments are those at which a delivery may have come: all over its day where it names neither its tank nor its hour.
func (b *Book) moments(d *Delivery) []time.Time {
	if d.Tank == "" && b.byDayAlone(d) {
		return b.hoursOf(calendar.DayOf(d.At, b.Zone))
	}
	return []time.Time{d.At}
}

// hoursOf gives moments all over a day, for what came on it at an hour that nobody knows.
func (b *Book) hoursOf(day calendar.Day) (all []time.Time) {
	for hour := sameRound; hour < 24*time.Hour; hour += 2 * sameRound {
		all = append(all, b.start(day).Add(hour))
	}
	return all
}

// resets are the moments at which what a tank holds may have changed in any way: it was taken out of service or
// brought back, or another product came in.
func (b *Book) resets(t *Tank) []time.Time {
	var found []time.Time
	for _, day := range []*calendar.Day{t.OutFrom, t.BackOn} {
		if day != nil {
			found = append(found, b.start(*day))
		}
	}
	for _, c := range b.rows.ProductChanges {
		if c.Tank == t.ID {
			found = append(found, c.At)
		}
	}
	slices.SortFunc(found, time.Time.Compare)
	return found
}

// anyWithin tells whether a moment lies in a stretch of time, with what may be entered a little late or early.
func anyWithin(moments []time.Time, after, until time.Time) bool {
	i, _ := slices.BinarySearchFunc(moments, after.Add(-sameRound), time.Time.Compare)
	return i < len(moments) && !moments[i].After(until.Add(sameRound))
}

// movedOut sums what was moved out of a tank into others in a stretch of time.
func (b *Book) movedOut(tank string, after, until time.Time) float64 {
	var ignored notice.List
	sum := 0.0
	for _, t := range b.transfersWithin(after.Add(-sameRound), until.Add(sameRound)) {
		if t.From == tank {
			sum += b.at15(t.Measure, "", &ignored)
		}
	}
	return sum
}
