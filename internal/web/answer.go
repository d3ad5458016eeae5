package web

import (
	"strings"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
)

// fleetAnswer puts all plants, most urgent first, in a heading and in one or a few sentences.
func fleetAnswer(all []advice.Plant) (title, lead string) {
	n := map[resupply.Status]int{}
	for _, p := range all {
		n[p.Status]++
	}
	said := append(urgentSentences(all), overfullSentences(all)...)
	return fleetHeading(n, len(all)), strings.Join(append(said, quietSentences(all, n)...), " ")
}

func fleetHeading(n map[resupply.Status]int, all int) string {
	var urgent []string
	if short := n[resupply.Short]; short > 0 {
		urgent = append(urgent, count(short, "plant is short", "plants are short"))
	}
	if now := n[resupply.OrderNow]; now > 0 {
		noun := count(now, "plant needs an order now", "plants need an order now")
		if urgent != nil {
			noun = strings.Replace(strings.Replace(noun, "plants ", "", 1), "plant ", "", 1)
		}
		urgent = append(urgent, noun)
	}
	switch soon, unknown := n[resupply.OrderSoon], n[resupply.Unknown]; {
	case urgent != nil:
		return capital(list(urgent))
	case unknown == all:
		return "No plant’s stock is known"
	case soon > 0:
		return "No plant needs an order now; " + number(soon) + " will soon"
	case unknown > 0:
		return capital(count(unknown, "plant is unknown", "plants are unknown")) + "; the others are in hand"
	case all == 1:
		return "The plant is in hand"
	}
	return "All " + number(all) + " plants are in hand"
}

// most is how many cases a lead names before it counts the rest.
const most = 3

// urgentSentences say what is short, and what must be ordered now: plants with one window and one day
// together.
func urgentSentences(all []advice.Plant) []string {
	var said []string
	cases := map[string]bool{}
	for i, p := range all {
		if p.Status == resupply.Short && p.Short != nil {
			text := "No window keeps " + p.Name + " above its reserve: " + shortage("are", p.Short, p.AsOf)
			if l := quickest(p.Short.Loads); l != nil && l.OrderBy != nil {
				text += "; " + loads(*l) + " would close the gap if the first is ordered by " + longDay(*l.OrderBy, p.AsOf)
			}
			said = append(said, text+".")
		}
		if p.Status != resupply.OrderNow || p.Order == nil || cases[orderCase(p)] {
			continue
		}
		cases[orderCase(p)] = true
		var names []string
		for _, other := range all[i:] {
			if other.Status == resupply.OrderNow && other.Order != nil && orderCase(other) == orderCase(p) {
				names = append(names, other.Name)
			}
		}
		said = append(said, several(names)+" must order by "+longDay(p.Order.OrderBy, p.AsOf)+" for the "+delivery(p, p.Order.Route, p.Order.Window)+".")
	}
	if len(said) > most {
		said = append(said[:most], "The table holds the rest.")
	}
	return said
}

// overfullSentences name the plants to which more is on its way than there is room for.
func overfullSentences(all []advice.Plant) []string {
	var names []string
	for _, p := range all {
		if overfull(p) > 0 {
			names = append(names, p.Name)
		}
	}
	if names == nil {
		return nil
	}
	return []string{"More is on its way to " + several(names) + " than there is likely to be room for."}
}

// orderCase is what plants that order together share.
func orderCase(p advice.Plant) string {
	return p.Order.Route + "\x00" + p.Order.Window + "\x00" + p.Order.OrderBy.String()
}

// several names a few plants and counts the rest.
func several(names []string) string {
	if len(names) > most+1 {
		names = append(append([]string{}, names[:most]...), number(len(names)-most)+" others")
	}
	return list(names)
}

// shortage says how much is missing, or may be, and when.
func shortage(verb string, s *advice.Shortage, asOf calendar.Day) string {
	text := kL(s.Litres) + " " + verb + " missing "
	if s.Until == nil {
		return text + "from " + longDay(s.From, asOf) + " on"
	}
	return text + between(s.From, *s.Until, asOf)
}

// quietSentences speak of what is unknown, and of the next order where none is urgent.
func quietSentences(all []advice.Plant, n map[resupply.Status]int) []string {
	var said, unknown []string
	var next *advice.Plant
	for i, p := range all {
		switch {
		case p.Status == resupply.Unknown:
			unknown = append(unknown, p.Name)
		case p.Order != nil && (next == nil || p.Order.OrderBy < next.Order.OrderBy):
			next = &all[i]
		}
	}
	if n[resupply.Short]+n[resupply.OrderNow] == 0 && next != nil {
		said = append(said, "The next order is due by "+longDay(next.Order.OrderBy, next.AsOf)+": "+next.Name+", for the "+delivery(*next, next.Order.Route, next.Order.Window)+".")
	}
	switch len(unknown) {
	case 0:
	case len(all):
		said = append(said, "The newest readings are too old, or too few, to forecast from: enter a round for each plant.")
	case 1:
		said = append(said, "The stock of "+unknown[0]+" is unknown: enter a round for it"+beforeDeadline(all, unknown[0])+".")
	default:
		said = append(said, "The stocks of "+several(unknown)+" are unknown: enter a round for each.")
	}
	return said
}

// beforeDeadline says by when an unknown plant's stock should be known.
func beforeDeadline(all []advice.Plant, name string) string {
	for _, p := range all {
		if w := nextDeadline(p); p.Name == name && w != nil {
			return ", before the deadline of " + longDay(*w.Deadline, p.AsOf) + " for the " + delivery(p, w.Route, w.Window)
		}
	}
	return ""
}

// asOfLine says of which day a page is.
func asOfLine(plants []advice.Plant) string {
	first, last := plants[0].AsOf, plants[0].AsOf
	for _, p := range plants {
		first, last = min(first, p.AsOf), max(last, p.AsOf)
	}
	text := "at the close of " + fullDay(last)
	if first != last {
		text = "at the close of " + longDay(first, last) + " to " + fullDay(last)
	}
	return text + " · kilolitres at 15" + joint + "°C"
}

// staleFleet says how old the advice is, "" where it is today's at every plant.
func (s *Site) staleFleet(all []advice.Plant) string {
	behind, plants := 0, 0
	for _, p := range all {
		if d := s.staleDays(p); d > 0 {
			behind, plants = max(behind, d), plants+1
		}
	}
	switch {
	case plants == 0:
		return ""
	case plants == len(all):
		return "These answers are up to " + days(behind) + " old. Today’s forecast has not been made yet; if it is late, the log of the service says why."
	}
	return "The answers for " + count(plants, "plant", "plants") + " are up to " + days(behind) + " old; today’s forecast has not been made for them yet."
}
