package web

import (
	"sync"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/chart"
	"overwinter/internal/resupply"
)

// zones keeps the zones of plants, which are slow to load.
var zones sync.Map

// zoneOf gives a plant's zone; the ledger has checked its name.
func zoneOf(p advice.Plant) *time.Location {
	if zone, ok := zones.Load(p.Zone); ok {
		return zone.(*time.Location)
	}
	zone, err := time.LoadLocation(p.Zone)
	if err != nil {
		return time.UTC
	}
	zones.Store(p.Zone, zone)
	return zone
}

// ribbonDays is how far the ribbons of the Fleet page look at most: the year's windows, and the next
// year's.
const ribbonDays = 560

// sharedAxis is the axis of the ribbons of several plants.
func sharedAxis(plants []advice.Plant) chart.Axis {
	var a chart.Axis
	for i, p := range plants {
		if i == 0 || p.AsOf < a.From {
			a.From = p.AsOf
		}
	}
	a.Until = a.From + 365
	for _, p := range plants {
		if end, ok := lastDay(p); ok {
			a.Until = max(a.Until, min(end, a.From+ribbonDays))
		}
	}
	return a
}

// stockChart puts a plant's advice to a chart.
func stockChart(p advice.Plant, id, title string, axis chart.Axis) chart.Stock {
	s := chart.Stock{
		ID: id, Title: title, Axis: axis, Unknown: p.Projection == nil,
		Reached: chart.Reached(p.ReserveDate),
	}
	if pr := p.Projection; pr != nil {
		curve := func(v []int64) chart.Curve { return chart.Curve{From: pr.From, Step: pr.Step, Values: v} }
		s.Low, s.Mid, s.High, s.Reserve = curve(pr.P10), curve(pr.P50), curve(pr.P90), curve(pr.Reserve)
	}
	for _, w := range p.Windows {
		if !w.AllYear {
			s.Windows = append(s.Windows, chart.Window{Opening: w.Opens.P10, Open: w.Opens.P90, Closing: w.Closes.P10, Closed: w.Closes.P90})
		}
	}
	for _, o := range p.OpenOrders {
		s.Orders = append(s.Orders, chart.Order{Day: o.Likely, Label: "+" + kilolitres(o.Litres)})
	}
	if p.Order != nil && p.Status != resupply.Unknown {
		by := p.Order.OrderBy
		s.OrderBy = &by
	}
	return s
}

// plantAxis is the axis of one plant's own chart: to the end of its projection.
func plantAxis(p advice.Plant) chart.Axis {
	a := chart.Axis{From: p.AsOf, Until: p.AsOf + 365}
	if end, ok := lastDay(p); ok && end > p.AsOf {
		a.Until = end
	}
	return a
}

// staleDays is how many days behind its plant's today the advice is; 0 where it is not.
func (s *Site) staleDays(p advice.Plant) int {
	return max(0, int(s.today(zoneOf(p))-p.AsOf))
}
