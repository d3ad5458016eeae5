package web

import (
	"strconv"
	"strings"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
)

// supposedWords says what is supposed.
func supposedWords(got advice.Supposed, asOf calendar.Day) []string {
	var all []string
	s := got.Supposition
	if s.Winter != nil {
		all = append(all, "a year to come that is colder than "+percent(*s.Winter)+" of those observed")
	}
	switch {
	case s.LoadKW != nil:
		all = append(all, "a load of "+changed(read(plainScale, *s.LoadKW))+joint+"kW, "+strconv.FormatFloat(got.Load.Ratio, 'f', 2, 64)+" times the use, from "+longDay(*s.LoadFrom, asOf)+" on")
	case s.LoadPercent != nil:
		all = append(all, "a load of "+changed(read(plainScale, *s.LoadPercent))+joint+"% from "+longDay(*s.LoadFrom, asOf)+" on")
	}
	if s.StandbyFrom != nil {
		text := "standing by from " + longDay(*s.StandbyFrom, asOf) + " on"
		if s.StandbyUntil != nil {
			text = "standing by from " + longDay(*s.StandbyFrom, asOf) + " until it runs again on " + longDay(*s.StandbyUntil, asOf)
		}
		all = append(all, text)
	}
	if s.EnginesPercent != nil {
		all = append(all, "engines that need "+read(plainScale, *s.EnginesPercent)+joint+"% less fuel from "+longDay(*s.EnginesFrom, asOf)+" on")
	}
	return all
}

// changed gives a number that adds its sign.
func changed(number string) string {
	if strings.HasPrefix(number, "−") || number == "0" {
		return number
	}
	return "+" + number
}

// drySpan says when the tanks run dry, p10 to p90.
func drySpan(p advice.Plant) string {
	p.ReserveDate = p.DryDate
	return reachedSpan(p)
}

func orderDay(p advice.Plant) string {
	if p.Order == nil {
		return none
	}
	return longDay(p.Order.OrderBy, p.AsOf)
}

func lotOrNone(p advice.Plant) string {
	switch {
	case p.Status == resupply.Unknown || p.Order == nil:
		return none
	case p.Order.Lot <= 0 && p.Order.Least > 0:
		return "none fits: " + kL(p.Order.Least) + " needed"
	case p.Order.Least > p.Order.Most:
		return kilolitres(p.Order.Lot) + " of " + kL(p.Order.Least) + " needed"
	case p.Order.Least <= 0 || kilolitres(p.Order.Least) == kilolitres(p.Order.Most):
		return kL(p.Order.Lot)
	}
	return kL(p.Order.Lot) + " (" + kilolitres(p.Order.Least) + " to " + kilolitres(p.Order.Most) + ")"
}

func windowOrNone(p advice.Plant) string {
	if p.Order == nil {
		return none
	}
	return delivery(p, p.Order.Route, p.Order.Window) + ", " + longDay(p.Order.Opens, p.AsOf)
}

func shortOrNone(p advice.Plant) string {
	if p.Short == nil {
		return none
	}
	return kL(p.Short.Litres) + " from " + longDay(p.Short.From, p.AsOf)
}
