package advice

import (
	"cmp"
	"math"

	"overwinter/internal/calendar"
	"overwinter/internal/forecast"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

// planDays is how far every plan looks at least: past eighteen months, so that a plant with one window
// a year sees the window after next.
const planDays = 540

// problem puts one plant's case to resupply, with the seed's draws of everything uncertain.
func (r *run) problem(book *inventory.Book, m forecast.Model, s inventory.Stock, open []inventory.OpenOrder, seed uint64, notes *notice.List) (*resupply.Problem, error) {
	capacity, err := capacities(book)
	if err != nil {
		return nil, err
	}
	n, asOf := r.opts.paths(), book.AsOf
	seasons, horizon := horizonOf(r.routes(book.Plant.ID, asOf), asOf)
	reserve := reserveOf(book.Plant)
	fallback := fallbackAt(book.Plant)
	days := horizon + max(reserve.Days, fallback.Days)
	p := &resupply.Problem{
		AsOf: asOf, Horizon: horizon, Risk: book.Plant.Risk(), Reserve: reserve,
		Burn:      m.Simulate(asOf, days, n, seed),
		Draws:     draws(book, days, notes),
		Stock:     make([]float64, n),
		Capacity:  capacity,
		Receipts:  receipts(book, open, n, seed, notes),
		Fallbacks: r.fallbacks(book.Plant.ID), FallbackAt: fallback,
		Spending: r.spending(book, notes),
	}
	if c := book.Plant.Carrying; c != nil {
		p.Carrying = *c
	}
	for path := range p.Stock {
		z := resupply.NewDraws(seed, "stock/"+book.Plant.ID, path).NormFloat64()
		p.Stock[path] = math.Max(0, float64(s.Usable)+z*float64(s.Sigma))
	}
	for _, season := range seasons {
		p.Windows = append(p.Windows, season.Draw(asOf, n, seed))
	}
	return p, nil
}

// horizonOf gives the windows to look at and the last day: the late end, with slip, of the window after
// next, and at least of the first that opens after planDays, to which a lot from the one before it can
// carry. Ways open all year need no more than planDays.
func horizonOf(routes []resupply.Route, asOf calendar.Day) ([]resupply.Season, int) {
	end, windows := asOf+planDays, 0
	var seen []resupply.Season
	for _, s := range resupply.Seasons(routes, asOf, asOf+4*366) {
		seen = append(seen, s)
		if s.AllYear() {
			continue
		}
		windows++
		end = max(end, s.LateEnd())
		if windows > 1 && s.Opens > asOf+planDays {
			break
		}
	}
	return seen, int(end - asOf)
}

// receipts draws the arrivals of the open orders. One so long overdue that its dates say nothing any
// more is not counted on, and named.
func receipts(book *inventory.Book, open []inventory.OpenOrder, n int, seed uint64, notes *notice.List) []resupply.Receipt {
	var all []resupply.Receipt
	for _, o := range open {
		r := resupply.Receipt{Order: o.ID, Litres: float64(o.Litres), Day: make([]int, n)}
		early, likely, late := int(o.Early-book.AsOf), int(o.Likely-book.AsOf), int(o.Late-book.AsOf)
		due := true
		for path := range r.Day {
			r.Day[path], due = resupply.NewDraws(seed, "order/"+book.Plant.ID+"/"+o.ID, path).Between(early, likely, late, 0)
			if !due {
				break
			}
		}
		if due {
			all = append(all, r)
		} else {
			notes.Add(notice.New(notice.Serious, "order-overdue", "order "+o.ID,
				"was expected by %s and is not counted on any more: ask the supplier, or enter its delivery", o.Late))
		}
	}
	return all
}

// draws cumulates the coming draws, day by day.
func draws(book *inventory.Book, days int, notes *notice.List) []float64 {
	profile := book.DrawProfile(notes)
	sum := make([]float64, days+1)
	for t := 1; t <= days; t++ {
		sum[t] = sum[t-1] + float64(profile.On(book.AsOf+calendar.Day(t)))
	}
	return sum
}

// routes gives the plant's routes with windows or open all year, fallbacks left out, as far as their past
// was known at the close of a day.
func (r *run) routes(plant string, asOf calendar.Day) []resupply.Route {
	var all []resupply.Route
	for _, route := range r.dir.RoutesOf(plant) {
		if !route.Fallback {
			all = append(all, r.routeOf(route, asOf))
		}
	}
	return all
}

func (r *run) routeOf(route *inventory.Route, asOf calendar.Day) resupply.Route {
	out := resupply.Route{
		ID: route.ID, LeadDays: route.LeadDays, LeadSDDays: route.LeadSDDays, SlipDays: route.SlipDays, SlipSDDays: route.SlipSDDays,
		Lot: lotOf(route), Terms: termsOf(route),
	}
	for _, w := range r.dir.WindowsOf(route.ID) {
		recurring := resupply.Recurring{
			Name: w.Name, Year: w.Year, Opens: resupply.YearDate(w.Opens), OpensSDDays: w.OpensSDDays,
			Closes: resupply.YearDate(w.Closes), ClosesSDDays: w.ClosesSDDays, FailChance: w.FailChance,
			OrderBy: yearDate(w.OrderBy), CutOff: yearDate(w.CutOff), Limits: lotLimits(r.dir.LimitsOf(route.ID, w.Name)),
		}
		recurring.Past, _ = r.pastOf(w, asOf) // what keeps it from counting is told by pastNotices
		out.Recurring = append(out.Recurring, recurring)
	}
	return out
}

func (r *run) fallbacks(plant string) []resupply.Fallback {
	var all []resupply.Fallback
	for _, route := range r.dir.RoutesOf(plant) {
		if route.Fallback {
			all = append(all, fallbackOf(route))
		}
	}
	return all
}

func fallbackOf(route *inventory.Route) resupply.Fallback {
	f := resupply.Fallback{
		Route: route.ID, Mode: string(route.Mode), Load: float64(cmp.Or(route.Load, route.LotMax)), LeadDays: int(math.Ceil(route.LeadDays)),
		Price: route.PricePerLitre, Fixed: route.StopCost, Currency: route.Currency,
	}
	if f.Price > 0 { // freight alone is no price
		f.Price += route.FreightPerLitre
	}
	return f
}
