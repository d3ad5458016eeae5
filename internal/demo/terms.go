package demo

import (
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// terms is what a delivery by a route costs beside the price, in the route's currency, and how it is paid.
type terms struct {
	stop, freight           float64
	growth, sd              float64
	deliveries, daysBetween int
	payFrom                 inventory.PayFrom
	payDays                 int
	load                    units.LitresAt15
}

// routeTerms are invented, of the size that is common practice; no source.
var routeTerms = map[string]terms{
	"kestrel-barge":   {stop: 6500, freight: 0.05, growth: 0.02, sd: 0.22, payFrom: inventory.PayFromDelivery, payDays: 30},
	"slough-barge":    {stop: 9000, freight: 0.07, growth: 0.02, sd: 0.22, payFrom: inventory.PayFromDelivery, payDays: 30},
	"harbor-tanker":   {stop: 42000, freight: 0.03, growth: 0.02, sd: 0.22, deliveries: 2, daysBetween: 45, payFrom: inventory.PayFromOrder, payDays: 15},
	"kestrel-air":     {stop: 850, growth: 0.03, sd: 0.2},
	"strip-air":       {stop: 600, growth: 0.03, sd: 0.2},
	"lakes-road":      {stop: 1200, freight: 0.11, growth: 0.025, sd: 0.2, deliveries: 2, daysBetween: 10, payFrom: inventory.PayFromDelivery, payDays: 45, load: truckL15},
	"lakes-air":       {stop: 900, growth: 0.03, sd: 0.2},
	"meridian-tanker": {stop: 14000, freight: 0.06, growth: 0.02, sd: 0.25, payFrom: inventory.PayFromOrder, payDays: 30},
	"coral-coaster":   {stop: 5200, freight: 0.14, growth: 0.02, sd: 0.25, deliveries: 3, daysBetween: 40, payFrom: inventory.PayFromDelivery},
	"meridian-boat":   {stop: 300, sd: 0.2},
}

// setTerms states a route's terms.
func setTerms(r *inventory.Route) {
	t := routeTerms[r.ID]
	r.StopCost, r.FreightPerLitre, r.PriceGrowth, r.PriceSD = t.stop, t.freight, t.growth, t.sd
	r.Deliveries, r.DaysBetween, r.PayFrom, r.PayDays, r.Load = t.deliveries, t.daysBetween, t.payFrom, t.payDays, t.load
}

// Shares of its worth that a year of holding fuel costs at the plants of each utility: interest and upkeep of tanks.
// Common practice, no source.
const (
	coastCarrying = 0.08
	lakesCarrying = 0.065
	atollCarrying = 0.07
)

// windowLimits are the days on which less than a full cargo comes.
func windowLimits() []*inventory.WindowLimit {
	limit := func(route, window string, from, until inventory.MonthDay, lotMax units.LitresAt15, cause inventory.LimitCause, note string) *inventory.WindowLimit {
		return &inventory.WindowLimit{
			Entry: inventory.Entry{Key: route + "/" + window + "/" + from.String() + "/" + string(cause)},
			Route: route, Name: window, From: from, Until: until, LotMax: lotMax, Cause: cause, Note: note,
		}
	}
	return []*inventory.WindowLimit{
		limit("slough-barge", "autumn", on(time.August, 25), on(time.October, 10), 26000*gal, inventory.LimitDraft, "the slough falls in autumn"),
		limit("lakes-road", "winter", on(time.March, 18), on(time.April, 20), 12*truckL15, inventory.LimitWeight, "half loads in convoys by night once the ice softens"),
		limit("meridian-tanker", "first", on(time.January, 20), on(time.January, 24), 450000, inventory.LimitTide, ""),
	}
}

// spendingLimits are what the plants may order in the coming season.
func spendingLimits() []*inventory.SpendingLimit {
	limit := func(plant, name string, kind inventory.SpendingKind, from, until calendar.Day) *inventory.SpendingLimit {
		return &inventory.SpendingLimit{
			Entry: inventory.Entry{Key: plant + "/" + name + "/" + from.String()}, Plant: plant, Name: name, Of: kind, From: from, Until: until,
		}
	}
	loan := limit("tern-landing", "season-loan", inventory.SpendingLoan, date(2026, time.March, 1), date(2026, time.September, 30))
	loan.Amount, loan.Currency = new(320000.0), "USD"
	credit := limit("heron-point", "haulier-credit", inventory.SpendingCredit, date(2026, time.October, 1), date(2027, time.April, 30))
	credit.Amount, credit.Currency = new(900000.0), "CAD"
	allotment := limit("coral-step", "depot-allotment", inventory.SpendingSupplier, date(2026, time.January, 1), date(2026, time.December, 31))
	allotment.Volume = new(units.LitresAt15(520000))
	return []*inventory.SpendingLimit{loan, credit, allotment}
}
