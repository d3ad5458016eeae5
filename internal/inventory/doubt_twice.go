package inventory

import (
	"math"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

// doubtTwice names deliveries that were entered twice: the same volume into the same tank, of one document within a month, or
// on one day where a document is missing. The dips around them decide whether one came or two; where they say nothing it is
// one, if both are of one moment, or of one day and the load is large: fuel that is not there is worse than fuel that nobody counts.
func (b *Book) doubtTwice(lines map[string]*tankLine) {
	low := 0 // the first that may be of one document
	for i, d := range b.rows.Deliveries {
		for d.At.Sub(b.rows.Deliveries[low].At) > sameDocument {
			low++
		}
		if b.leftOut[d] || !d.At.Before(b.close()) || !b.brings(d) {
			continue
		}
		for _, first := range b.rows.Deliveries[low:i] {
			if b.leftOut[first] || !sameFuel(first, d) {
				continue
			}
			if again := b.twice(first, d, lines); again != nil {
				of := first
				if again == first {
					of = d
				}
				b.doubtAgain(again, of)
				break
			}
		}
	}
}

// sameFuel tells whether two deliveries may be one: the same volume, into one tank, and no two documents.
func sameFuel(x, y *Delivery) bool {
	oneDocument := x.Document == y.Document || x.Document == "" || y.Document == ""
	return oneDocument && x.Tank == y.Tank && x.Product == y.Product && alike(x.Measure, y.Measure)
}

// twice decides whether the second of two deliveries is the first again, and gives the one that is too many: the one without a
// document, or the later one; nil where both came.
func (b *Book) twice(first, second *Delivery, lines map[string]*tankLine) *Delivery {
	tooMany := second
	if first.Document == "" && second.Document != "" {
		tooMany = first
	}
	if b.isConfirmed(tooMany) {
		return nil
	}
	sameHour := first.At.Equal(second.At)
	sameDay := calendar.DayOf(first.At, b.Zone) == calendar.DayOf(second.At, b.Zone)
	documented := first.Document != "" || second.Document != ""
	switch one, both := b.dipsTell(first, second, lines); {
	case both && !one:
		return nil
	case one && !both && (documented || sameHour):
		return tooMany
	}
	switch {
	case sameHour && !b.byDayAlone(second):
		return tooMany
	case sameDay && (documented || sameHour) && b.largeLoad(second, lines) && !b.severalADay(second):
		return tooMany
	}
	return nil
}

// largeLoad tells whether a delivery fills so much of its tanks that two of it on one day are unlikely: an aeroplane brings the same
// load several times a day.
func (b *Book) largeLoad(d *Delivery, lines map[string]*tankLine) bool {
	return b.litres(d.Measure) > largeShare*capacityOf(b.storageOf(d, lines))
}

// severalADay tells whether a plant is used to loads like a delivery several times a day: on some other days it had two or more that
// differ a little, which no row that was entered twice does.
func (b *Book) severalADay(d *Delivery) bool {
	if b.loadPairs == nil {
		b.loadPairs = b.pairsOfADay()
	}
	v, own, last, days := b.litres(d.Measure), calendar.DayOf(d.At, b.Zone), calendar.Day(0), 0
	for _, p := range b.loadPairs {
		if p.day != own && (days == 0 || p.day != last) && math.Abs(p.first-v) <= likeLoad*v && math.Abs(p.second-v) <= likeLoad*v {
			last = p.day
			if days++; days == usedToDays {
				return true
			}
		}
	}
	return false
}

// loadPair is two loads of one day, one after the other, that are not one load entered twice, in litres at 15 °C.
type loadPair struct {
	day           calendar.Day
	first, second float64
}

func (b *Book) pairsOfADay() []loadPair {
	found := []loadPair{}
	for i, x := range b.rows.Deliveries[1:] {
		before, day := b.rows.Deliveries[i], calendar.DayOf(x.At, b.Zone)
		oneDocument := x.Document != "" && x.Document == before.Document
		if !oneDocument && day == calendar.DayOf(before.At, b.Zone) && !alike(x.Measure, before.Measure) {
			found = append(found, loadPair{day, b.litres(before.Measure), b.litres(x.Measure)})
		}
	}
	return found
}

// On how many other days a plant had several loads, alike within a share, until it is used to that. Common practice, no source.
const (
	usedToDays = 3
	likeLoad   = 0.1
)

// largeShare is the share of its tanks from which on a load is large. Common practice, no source.
const largeShare = 0.05

// dipsTell holds the rise of the tanks from before the first to after the second of two deliveries against one of them and
// against both.
func (b *Book) dipsTell(first, second *Delivery, lines map[string]*tankLine) (one, both bool) {
	into := b.storageOf(first, lines)
	if len(into) == 0 {
		return false, false
	}
	before, ok1 := window(first.At, 0, into)
	after, ok2 := window(second.At, 0, into)
	if !ok1 || !ok2 {
		return false, false
	}
	between := span{before.before, after.after}
	r, ok := b.rose(between, into, first, second)
	if !ok || !into[0].out.settled(between.from()) { // what is usual would be found from these very deliveries
		return false, false
	}
	var ignored notice.List
	v := b.at15(second.Measure, "", &ignored)
	one, both = r.holds(r.given-v), r.holds(r.given)
	if one && both && v > r.tight { // both are possible: the nearer one is right
		both = math.Abs(r.given-r.likely) < math.Abs(r.given-v-r.likely)
		one = !both
	}
	return one, both
}

// doubtAgain names a row that another says already.
func (b *Book) doubtAgain(r, of Record) {
	b.doubt(r, Doubt{
		At: b.momentOf(r), Cause: Duplicate, Subject: "plant " + b.Plant.ID + ", " + plural(r.Kind()),
		Message: "the " + string(r.Kind()) + " of " + b.day(b.momentOf(r)) + " under the key " + r.Base().Key + ": " + causeWords[Duplicate] +
			", " + of.Base().Key + todo(WholeRow, ""),
	})
}
