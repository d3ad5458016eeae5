package advice

import (
	"cmp"
	"fmt"
	"math"

	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

// lotOf gives a route's limits on one lot. Where what one truck or aircraft carries is stated, lots are whole
// loads of it.
func lotOf(r *inventory.Route) resupply.Lot {
	return resupply.Lot{Min: float64(r.LotMin), Max: float64(r.LotMax), Step: float64(cmp.Or(r.LotStep, r.Load))}
}

func termsOf(r *inventory.Route) resupply.Terms {
	return resupply.Terms{
		Fixed: r.StopCost, Price: r.PricePerLitre, Freight: r.FreightPerLitre, Growth: r.PriceGrowth, SD: r.PriceSD,
		Deliveries: max(r.Deliveries, 1), Apart: r.DaysBetween,
		PayFromOrder: r.PayFrom == inventory.PayFromOrder, PayDays: r.PayDays, Currency: r.Currency,
	}
}

// dayLimits names what keeps the lots of certain days small.
var dayLimits = map[inventory.LimitCause]resupply.Limit{
	inventory.LimitDraft: resupply.DraftLimit, inventory.LimitWeight: resupply.WeightLimit, inventory.LimitTide: resupply.TideLimit,
	inventory.LimitOther: resupply.DayOther,
}

func lotLimits(rows []*inventory.WindowLimit) []resupply.LotLimit {
	var all []resupply.LotLimit
	for _, l := range rows {
		all = append(all, resupply.LotLimit{
			From: resupply.YearDate(l.From), Until: resupply.YearDate(l.Until), Litres: float64(l.LotMax), Why: dayLimits[l.Cause],
		})
	}
	return all
}

// yearDate gives a day of any year that may not be stated.
func yearDate(d *inventory.MonthDay) *resupply.YearDate {
	if d == nil {
		return nil
	}
	day := resupply.YearDate(*d)
	return &day
}

// CodeSpendingUsed is the notice about a spending limit that is used up, or of which nobody can say how far it is.
const CodeSpendingUsed = "spending-limit-used"

// spending gives what a plant's spending limits leave on the as-of day: what was ordered under them is taken off.
func (r *run) spending(book *inventory.Book, notes *notice.List) []resupply.Spending {
	var all []resupply.Spending
	for _, l := range r.dir.SpendingOf(book.Plant.ID) {
		if l.Until < book.AsOf {
			continue
		}
		litres, money := r.spent(book, l, notes)
		s := resupply.Spending{
			Name: l.Name, Kind: string(l.Of), FromDay: int(l.From - book.AsOf), UntilDay: int(l.Until - book.AsOf), Currency: l.Currency,
		}
		if l.Volume != nil {
			s.Litres = left(float64(*l.Volume), litres)
		}
		if l.Amount != nil {
			s.Money = left(*l.Amount, money)
		}
		if s.Litres != nil && *s.Litres == 0 || s.Money != nil && *s.Money == 0 {
			notes.Add(notice.New(notice.Caution, CodeSpendingUsed, "spending limit "+l.Name, "nothing is left of it until %s", l.Until))
		}
		all = append(all, s)
	}
	return all
}

func left(of, used float64) *float64 {
	rest := math.Max(0, of-used)
	return &rest
}

// spent gives what was ordered under a limit by the close of the as-of day: litres, and what they cost at the present
// terms of their routes, since orders carry no price.
func (r *run) spent(book *inventory.Book, l *inventory.SpendingLimit, notes *notice.List) (litres, money float64) {
	for _, o := range book.OrderedBetween(l.From, l.Until, notes) {
		litres += float64(o.Litres)
		route := r.dir.Route(o.Route)
		if l.Amount == nil {
			continue
		}
		if route == nil || route.PricePerLitre == 0 || route.Currency != l.Currency {
			notes.Add(notice.New(notice.Caution, CodeSpendingUsed, "spending limit "+l.Name,
				"what order %s costs is not known in %s, so nothing is taken off for it: state its route, and the route's price", o.ID, l.Currency))
			continue
		}
		money += route.StopCost + float64(o.Litres)*(route.PricePerLitre+route.FreightPerLitre)
	}
	return litres, money
}

// supplyAssumptions says by what a plant's lots and windows are bounded beside what the window itself shows.
func (r *run) supplyAssumptions(plant string) []string {
	var all []string
	for _, route := range r.dir.RoutesOf(plant) {
		if route.Load > 0 && !route.Fallback {
			all = append(all, fmt.Sprintf("lots of route %s are whole loads of %.1f kL", route.ID, float64(route.Load)/1000))
		}
		for _, w := range r.dir.WindowsOf(route.ID) {
			if w.CutOff != nil {
				all = append(all, fmt.Sprintf("nothing is delivered by %s after %s, the cut-off", windowOfYear(w), w.CutOff))
			}
		}
		for _, l := range r.dir.LimitsOfRoute(route.ID) {
			all = append(all, fmt.Sprintf("window %s of %s: at most %.1f kL a lot from %s to %s, by %s", l.Name, l.Route, float64(l.LotMax)/1000, l.From, l.Until, dayLimits[l.Cause]))
		}
	}
	return all
}

func windowOfYear(w *inventory.Window) string {
	if w.Year != 0 {
		return fmt.Sprintf("%s in %d", windowName(w), w.Year)
	}
	return windowName(w)
}
