package importer

import (
	"fmt"
	"strings"
	"time"
)

// moment reads a moment, by the clocks of a zone or with its own offset, and gives it in UTC. A bare
// day means noon. times is 2 where the clocks show that time twice, as they go back; the first is
// given. A time that the clocks skip is an error.
func moment(text string, zone *time.Location) (at time.Time, times int, err error) {
	const day = len("2006-01-02")
	if len(text) == day {
		text += "T12:00"
	}
	if len(text) > day && text[day] == ' ' {
		text = text[:day] + "T" + text[day+1:]
	}
	clock, offset := splitOffset(text)
	layout := "2006-01-02T15:04"
	if len(clock) != len(layout) {
		layout += ":05"
	}
	// Parse would take a lone hour digit and fractions of a second, too.
	wall, err := time.Parse(layout, clock)
	if err != nil || len(clock) != len(layout) {
		return time.Time{}, 0, noMoment(text)
	}
	if offset != "" {
		at, err = time.Parse(layout+"Z07:00", text)
		if err != nil {
			return time.Time{}, 0, noMoment(text)
		}
		return at.UTC(), 1, nil
	}
	at, times = atWall(wall, zone)
	if times == 0 {
		return time.Time{}, 0, fmt.Errorf("%s does not exist in %s, where the clocks skip it as they go forward: check the time, or write its offset", clock, zone)
	}
	return at, times, nil
}

func noMoment(text string) error {
	return fmt.Errorf("%s is no moment: expected YYYY-MM-DD, YYYY-MM-DDTHH:MM or the like with an offset, such as 2026-03-02T08:00 or 2026-03-02T08:00-09:00", quote(text))
}

// splitOffset takes Z, +HH:MM or -HH:MM off the end of a moment.
func splitOffset(text string) (clock, offset string) {
	start := strings.IndexByte(text, 'T') + 1
	if i := strings.IndexAny(text[start:], "Z+-"); i >= 0 {
		return text[:start+i], text[start+i:]
	}
	return text, ""
}

// atWall gives the first instant at which the clocks of a zone show a time, in UTC, and how many such
// instants there are. wall is that time, taken as UTC.
func atWall(wall time.Time, zone *time.Location) (first time.Time, times int) {
	// The offsets in use a day before and a day after are all that can be in use here: no zone moves its
	// clocks twice in two days.
	const reach = 24 * time.Hour
	seen := 0 // the offset found before
	for _, near := range []time.Time{wall.Add(-reach), wall.Add(reach)} {
		_, offset := near.In(zone).Zone()
		if times > 0 && offset == seen {
			continue
		}
		at := wall.Add(-time.Duration(offset) * time.Second)
		if _, there := at.In(zone).Zone(); there != offset {
			continue
		}
		if times == 0 || at.Before(first) {
			first, seen = at, offset
		}
		times++
	}
	return first, times
}

// zone gives the zone of a plant; UTC where the plant or its zone is unknown, which is a problem of
// its own.
func (r *run) zone(plant string) *time.Location {
	if zone, ok := r.zones[plant]; ok {
		return zone
	}
	p := r.dir.Plant(plant)
	if p == nil {
		return time.UTC
	}
	zone, err := p.Location()
	if err != nil {
		zone = time.UTC
	}
	r.zones[plant] = zone
	return zone
}
