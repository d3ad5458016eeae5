package web

import (
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
)

// orderFacts is the order, fact by fact.
func orderFacts(p advice.Plant) []fact {
	o := p.Order
	if o == nil {
		return nil
	}
	facts := []fact{
		{"from", capital(delivery(p, o.Route, o.Window)) + ", route " + o.Route + ", likely open from " + longDay(o.Opens, p.AsOf)},
		{"order by", longDay(o.OrderBy, p.AsOf) + ": " + guardName(o.Guard)},
	}
	facts = append(facts, guardFacts(p)...)
	facts = append(facts, lotFacts(p)...)
	if p.MustLastUntil != nil {
		facts = append(facts, fact{"next fuel", "ordered today it would be here by " + longDay(*p.MustLastUntil, p.AsOf) + ", at all but the accepted risk: until then the stock must last"})
	}
	if r := o.Risk; r.Paths > 0 && p.Short == nil { // of a short plant the reserve is lost in any case
		facts = append(facts, fact{"tried on other paths", "ordered on the last day, the fuel comes too late on " + percent(r.TooLate) +
			" of " + whole(float64(r.Paths)) + " paths that the answer was not made from; with the lot, the stock goes below its reserve before the delivery after it on " + percent(r.BelowReserve)})
	}
	return facts
}

func guardName(g resupply.Guard) string {
	switch g {
	case resupply.ReserveGuard:
		return "later, it could come after the reserve is reached"
	case resupply.WindowGuard:
		return "later, the window could close first"
	case resupply.DeadlineGuard:
		return "the supplier’s own deadline"
	case resupply.SoonestGuard:
		return "later, it would come after the fuel of an order placed today"
	}
	return string(g)
}

// limitName says what sets the most that a lot can be.
func limitName(l resupply.Limit) string {
	switch l {
	case resupply.RoomLimit:
		return "room on arrival"
	case resupply.RouteLimit:
		return "the route’s largest lot"
	case resupply.DraftLimit:
		return "the draft on the days on which it may arrive"
	case resupply.WeightLimit:
		return "the weight that its way bears on the days on which it may arrive"
	case resupply.TideLimit:
		return "the tide on the days on which it may arrive"
	case resupply.DayOther:
		return "a limit on the days on which it may arrive"
	case resupply.LeastLimit:
		return "the route’s smallest lot or step, for which there is no room"
	}
	return "nothing limits it"
}

// guardFacts gives the days that the one to order by is the earliest of.
func guardFacts(p advice.Plant) []fact {
	reserve, window := "any day would do", "it does not close"
	if p.Short != nil {
		reserve = "none: the reserve is lost before the fuel can come"
	}
	facts := []fact{
		{"last day for the reserve", dayOr(p.Order.ReserveGuard, p.AsOf, reserve)},
		{"last day for the window", dayOr(p.Order.WindowGuard, p.AsOf, window)},
	}
	if p.Order.Deadline != nil {
		facts = append(facts, fact{"supplier’s deadline", longDay(*p.Order.Deadline, p.AsOf)})
	}
	return facts
}

// dayOr writes a day, or what stands for none.
func dayOr(d *calendar.Day, asOf calendar.Day, otherwise string) string {
	if d == nil {
		return otherwise
	}
	return longDay(*d, asOf)
}

func lotFacts(p advice.Plant) []fact {
	o := p.Order
	facts := []fact{
		{"lot", kL(o.Lot)},
		{"least", kL(o.Least) + ", to carry the plant to the delivery after it"},
		{"most", kL(o.Most) + ": " + limitName(o.Limit)},
	}
	if o.After != nil {
		facts = append(facts, fact{"still missing", capital(shortage("are", o.After, p.AsOf))})
	}
	return facts
}

// shortageView is a shortage with the ways to close it.
type shortageView struct {
	Text  string
	Loads []loadRow
}

type loadRow struct{ Route, Mode, Loads, Notice, InTime, Cost string }

func shortageOf(p advice.Plant) *shortageView {
	if p.Short == nil {
		return nil
	}
	v := &shortageView{Text: capital(shortage("are", p.Short, p.AsOf)) + ", at the accepted risk."}
	for _, l := range p.Short.Loads {
		v.Loads = append(v.Loads, loadRowOf(p, l))
	}
	return v
}

// loadRowOf is one fallback's row.
func loadRowOf(p advice.Plant, l advice.FallbackLoad) loadRow {
	r := loadRow{
		Route: l.Route, Mode: plain(l.Mode), Loads: whole(float64(l.Loads)) + " of " + kL(l.Load), Notice: days(l.LeadDays),
		InTime: "no", Cost: none,
	}
	if l.OrderBy != nil {
		r.InTime = "if ordered by " + longDay(*l.OrderBy, p.AsOf)
	}
	if l.CostMinor > 0 {
		r.Cost = whole(float64(l.CostMinor)/100) + joint + l.Currency
	}
	return r
}

// windowRow is a stretch of time in which fuel can come.
type windowRow struct{ Name, Route, Opens, Closes, Lost, Deadline string }

func windowRows(p advice.Plant) []windowRow {
	var rows []windowRow
	for _, w := range p.Windows {
		r := windowRow{Name: capital(delivery(p, w.Route, w.Window)), Route: w.Route, Opens: "open all year", Closes: none, Lost: none, Deadline: none}
		if !w.AllYear {
			r.Opens, r.Closes = shortSpan(w.Opens.P10, w.Opens.P90, p.AsOf), shortSpan(w.Closes.P10, w.Closes.P90, p.AsOf)
		}
		if w.LossChance > 0 {
			r.Lost = percent(w.LossChance)
		}
		if w.Deadline != nil {
			r.Deadline = shortDay(*w.Deadline, p.AsOf)
		}
		rows = append(rows, r)
	}
	return rows
}

// setAsideRow is a usage interval that was not fitted.
type setAsideRow struct{ When, Litres, Expected, Reason string }

func setAsideRows(p advice.Plant) []setAsideRow {
	zone := zoneOf(p)
	var rows []setAsideRow
	for _, f := range p.Faults {
		last := f.End.Add(-time.Second) // an interval of whole days ends with the day before
		rows = append(rows, setAsideRow{
			shortSpan(calendar.DayOf(f.Start, zone), calendar.DayOf(last, zone), p.AsOf), whole(f.Litres), whole(f.Expected), f.Reason,
		})
	}
	return rows
}
