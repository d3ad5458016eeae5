package inventory

import (
	"math"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// How old what is known may be before the stock counts as unknown; planning conventions, common
// practice without a source. The first lets a plant that reports by month be known all month.
const (
	DefaultStaleDays        = 35  // since the newest reading of any kind
	DefaultStaleGaugingDays = 120 // since all tanks were last gauged together
)

// Stock is the usable stock of a plant at the close of the as-of day: the last gauging of all its
// tanks, rolled forward by what is known since and by the forecast where nothing is.
type Stock struct {
	Known    bool             // false where readings are too old or missing: then only the dates below hold
	Usable   units.LitresAt15 // at the close of the as-of day
	Sigma    units.LitresAt15 // standard uncertainty, growing with each day
	Gauged   time.Time        // when all tanks were last gauged together; zero if never
	Newest   time.Time        // the newest reading of any kind; zero if there is none
	AtGauged units.LitresAt15 // usable stock at Gauged
	Received units.LitresAt15 // since
	Drawn    units.LitresAt15 // since
	Metered  units.LitresAt15 // burned since, as read
	Expected units.LitresAt15 // burned since, by the forecast where nothing was read
}

// Expectation gives the litres at 15 °C that a plant is expected to burn between two points of its day
// line (calendar.Fraction), and their standard deviation.
type Expectation func(start, end float64) (litres, sd units.LitresAt15)

// StockNow reckons the stock at the close of the as-of day. Usages are the intervals to believe (the
// named faults left out); nil expected means that there is no forecast to roll forward by.
func (b *Book) StockNow(usages []Usage, expected Expectation) (Stock, notice.List) {
	var notes notice.List
	s := Stock{Newest: b.newest(usages)}
	count := b.lastCount(&notes)
	if count == nil {
		count = b.countApart(usages, expected, &notes)
	}
	if count == nil {
		why := "there is no gauging of all its tanks to start from" + b.lastGauged()
		if len(b.Tanks) > 0 && !slices.ContainsFunc(b.Tanks, func(t *Tank) bool { return b.inService(t, b.AsOf) }) {
			why = "all its tanks are out of service"
		}
		notes.Add(notice.New(notice.Serious, "stock-unknown", b.Plant.ID, "%s", why))
		return s, notes
	}
	s.Gauged, s.AtGauged = count.at, units.LitresAt15(count.usable)
	if count.assumed {
		notes.Add(b.basisUnknown("gaugings"))
	}
	if n := b.stale(s, &notes); n {
		return s, notes
	}
	if expected == nil && b.close().Sub(s.Gauged) > sameDay*2 {
		notes.Add(notice.New(notice.Serious, "stock-unknown", b.Plant.ID, "there is no usage to roll the gauging of %s forward by", b.day(s.Gauged)))
		return s, notes
	}
	b.roll(&s, count, usages, expected, &notes)
	b.boundByDips(&s, count, usages, expected, &notes)
	b.noteVariance(&notes)
	return s, notes
}

// roll adds what came and went since the gauging.
func (b *Book) roll(s *Stock, count *content, usages []Usage, expected Expectation, notes *notice.List) {
	end := b.close()
	s.Received = units.LitresAt15(b.receivedOwn(count, end, notes))
	s.Drawn = units.LitresAt15(b.drawn(count.at, end, notes) - b.repaid(count.at, end, notes) + b.unreported(count.at, notes))
	variance := count.sigma * count.sigma
	for _, part := range b.since(count.at, usages) {
		switch {
		case part.usage != nil:
			s.Metered += units.LitresAt15(part.share * float64(part.usage.Litres))
			variance += math.Pow(part.share*float64(part.usage.Sigma), 2)
		case expected != nil:
			v, sd := expected(part.from, part.to)
			s.Expected += v
			variance += float64(sd) * float64(sd)
		}
	}
	s.Usable = s.AtGauged + s.Received - s.Drawn - s.Metered - s.Expected
	s.Sigma = units.LitresAt15(math.Sqrt(variance))
	s.Known = true
	if s.Usable < 0 {
		notes.Add(notice.New(notice.Serious, "stock-negative", b.Plant.ID,
			"the books give %.0f L, less than nothing: a delivery or a gauging is missing", float64(s.Usable)))
		s.Usable = 0
	}
}

// part is a stretch of the day line: covered by a share of a usage interval, or not covered.
type part struct {
	from, to float64
	usage    *Usage
	share    float64
}

// since divides the time from a moment to the close of the as-of day into what usage intervals cover
// and what they do not.
func (b *Book) since(at time.Time, usages []Usage) []part {
	now, end := calendar.Fraction(at, b.Zone), calendar.Fraction(b.close(), b.Zone)
	var parts []part
	for i := range usages {
		start, stop := calendar.Fraction(usages[i].Start, b.Zone), calendar.Fraction(usages[i].End, b.Zone)
		from, to := math.Max(start, now), math.Min(stop, end)
		if to <= from {
			continue
		}
		if from > now {
			parts = append(parts, part{from: now, to: from})
		}
		parts = append(parts, part{from, to, &usages[i], (to - from) / (stop - start)})
		now = to
	}
	if now < end {
		parts = append(parts, part{from: now, to: end})
	}
	return parts
}

// stale tells whether what is known is too old, and says so.
func (b *Book) stale(s Stock, notes *notice.List) bool {
	reading := b.AsOf - calendar.DayOf(s.Newest, b.Zone)
	gauging := b.AsOf - calendar.DayOf(s.Gauged, b.Zone)
	switch {
	case reading > DefaultStaleDays:
		notes.Add(notice.New(notice.Serious, "reading-stale", b.Plant.ID,
			"no reading for %d days (%s): the stock is unknown past %d days", reading, b.day(s.Newest), DefaultStaleDays))
	case gauging > DefaultStaleGaugingDays:
		notes.Add(notice.New(notice.Serious, "gauging-stale", b.Plant.ID,
			"the tanks were last gauged together %d days ago (%s): the stock is unknown past %d days", gauging, b.day(s.Gauged), DefaultStaleGaugingDays))
	default:
		return false
	}
	return true
}

// newest is the moment of the last reading of any kind.
func (b *Book) newest(usages []Usage) time.Time {
	var last time.Time
	for _, of := range b.gaugings {
		last = later(last, of[len(of)-1].At)
	}
	for _, of := range b.readings {
		last = later(last, of[len(of)-1].At)
	}
	for _, u := range usages {
		if u.Source == KindTotal {
			last = later(last, u.End.Add(-time.Second)) // the total ends with its last day
		}
	}
	return last
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

// lastCount is the last moment at which every tank in service was gauged. A tank that never was is left
// out and named; a day tank may be missing, since it holds little.
func (b *Book) lastCount(notes *notice.List) *content {
	for _, t := range b.Tanks {
		if b.inService(t, b.AsOf) && b.gaugingsOf(t) == nil {
			severity := notice.Caution
			if t.Role == Storage { // the stock is at least what is said, and nobody knows by how much more
				severity = notice.Serious
			}
			notes.Add(notice.New(severity, codeNotGauged, b.Plant.ID+" tank "+t.ID,
				"was never gauged: neither its fuel nor its room is counted"))
		}
	}
	all := b.counted(b.AsOf)
	bulk := slices.DeleteFunc(slices.Clone(all), func(t *Tank) bool { return t.Role == DayTank })
	if len(bulk) == 0 {
		bulk = all
	}
	gaugings := b.gaugingsOf(b.largest(bulk))
	for i := len(gaugings) - 1; i >= 0; i-- {
		at := gaugings[i].At
		if c := b.contentAround(all, at, sameDay); c != nil {
			return c
		}
		if c := b.contentAround(bulk, at, sameDay); c != nil {
			return c
		}
	}
	return nil
}

// Capacity is the usable fuel at 15 °C that the counted tanks in service on a day hold when each stands
// at safe fill at the temperature to which the fuel may warm. Nobody delivers into a day tank, so one
// counts with what it holds. A tank that comes back into service counts less the fuel in it, which is
// not in the stock.
func (b *Book) Capacity(day calendar.Day) (units.LitresAt15, error) {
	sum := units.LitresAt15(0)
	for _, t := range b.counted(day) {
		gaugings := b.gaugingsOf(t)
		held, share := *gaugings[len(gaugings)-1].content, units.LitresAt15(t.ownShare())
		if t.Role == DayTank {
			sum += share * held.UsableAt15
			continue
		}
		c, err := b.measured[t.ID].UsableCapacity(held, b.Plant.WarmestFuel(), b.fuel)
		if err != nil {
			return 0, err
		}
		if !b.inService(t, b.AsOf) {
			c = max(0, c-held.UsableAt15)
		}
		sum += share * c
	}
	return sum, nil
}

// Tankage is what the plant's storage tanks hold to the top that are in service at the close of the as-of day, its own share of them.
func (b *Book) Tankage() units.Litres {
	sum := 0.0
	for _, t := range b.tanksOf(Storage) {
		if b.inService(t, b.AsOf) {
			sum += t.ownShare() * b.capacityOf([]*Tank{t})
		}
	}
	return units.Litres(sum)
}

// CapacityChanges lists the days after the as-of day on which a tank goes out of service or comes back.
func (b *Book) CapacityChanges() []calendar.Day {
	var days []calendar.Day
	for _, t := range b.Tanks {
		for _, d := range []*calendar.Day{t.OutFrom, t.BackOn} {
			if d != nil && *d > b.AsOf {
				days = append(days, *d)
			}
		}
	}
	return days
}
