package web

import (
	"fmt"
	"strings"
	"time"
)

// offer fills the date and the time in.
func (f *roundForm) offer(at time.Time) {
	f.Day, f.Clock = onClocks(at, f.zone)
	f.Offered = at.UTC().Format(time.RFC3339Nano)
}

// wall writes a moment in a sentence, as the plant's clocks show it.
func (f *roundForm) wall(at time.Time) string { return at.In(f.zone).Format("15:04 on 2 January 2006") }

func onClocks(at time.Time, zone *time.Location) (day, clock string) {
	at = at.In(zone)
	return at.Format(time.DateOnly), at.Format("15:04")
}

// momentOf reads the moment of a form. While the date and the time are those that were filled in, it is the
// moment for which they were, with its seconds, and also where the clocks showed that time twice; else it is
// what the clocks say.
func momentOf(day, clock, offered string, zone *time.Location) (at time.Time, problem string) {
	day, clock = strings.TrimSpace(day), strings.TrimSpace(clock)
	if at, err := time.Parse(time.RFC3339Nano, offered); err == nil {
		if d, c := onClocks(at, zone); d == day && c == clock {
			return at, ""
		}
	}
	return wallMoment(day, clock, zone)
}

// wallMoment reads a date and a time as a plant's clocks show them. What the clocks never show, or show
// twice, is a problem to say.
func wallMoment(day, clock string, zone *time.Location) (at time.Time, problem string) {
	wall, err := time.Parse("2006-01-02 15:04", strings.TrimSpace(day)+" "+strings.TrimSpace(clock))
	if err != nil {
		return at, fmt.Sprintf("“%s %s” is no moment: write the date as 2026-03-02 and the time as 20:00", shortened(day), shortened(clock))
	}
	switch found := instants(wall, zone); len(found) {
	case 0:
		return at, fmt.Sprintf("%s never was on %s: the clocks were put forward over it. Write the time after that", wall.Format("15:04"), wall.Format("2 January"))
	case 1:
		return found[0], ""
	default:
		return at, fmt.Sprintf("%s came twice on %s, when the clocks were put back. Write a time just before or after that hour", wall.Format("15:04"), wall.Format("2 January"))
	}
}

// instants gives the moments at which the clocks of a zone show a time; wall is that time, taken as UTC.
// A day before and a day after tell all the offsets that can be in use: no zone moves its clocks twice
// in two days.
func instants(wall time.Time, zone *time.Location) []time.Time {
	var found []time.Time
	for _, near := range []time.Duration{-24 * time.Hour, 24 * time.Hour} {
		_, offset := wall.Add(near).In(zone).Zone()
		at := wall.Add(-time.Duration(offset) * time.Second)
		if _, there := at.In(zone).Zone(); there == offset && (found == nil || !found[0].Equal(at)) {
			found = append(found, at)
		}
	}
	return found
}
