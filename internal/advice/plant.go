package advice

import (
	"context"
	"fmt"
	"math"
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/forecast"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

// advise works out one plant: stock, futures, decision.
func (r *run) advise(ctx context.Context, i int, book *inventory.Book) (Plant, error) {
	model := r.models[i]
	a := r.blank(i)
	issued, err := r.issuedBefore(ctx, book)
	if err != nil {
		return Plant{}, err
	}
	a.InputsVersion, a.Assumptions = r.inputs(book, issued), r.assumptions(book)
	a.Notices.Add(book.Doubts()...)
	usages, notes := book.PlantUsages()
	a.Notices.Add(notes...)
	_, notes = changes(book, usages)
	a.Notices.Add(notes...)
	a.Notices.Add(model.Notices()...)
	if err := model.Err(); err != nil {
		a.Notices.Add(notice.New(notice.Serious, "no-forecast", book.Plant.ID, "%v", err))
	}
	good, faulty := believed(book, usages, model)
	a.Faults = append(a.Faults, faulty...)

	stock, notes := book.StockNow(good, expectation(model))
	a.Notices.Add(notes...)
	if a.Stock, err = stockOf(book, stock); err != nil {
		return Plant{}, err
	}
	if share := reserveOf(book.Plant).Share; share > 0 {
		a.Reserve.Litres = share * a.Stock.Capacity
	}
	open := book.OpenOrders(&a.Notices)
	a.OpenOrders = append(a.OpenOrders, expected(open)...)
	a.Stock.InTransit = float64(inventory.FuelInTransit(open))
	a.Proposed = append(a.Proposed, expected(book.PlannedOrders(&a.Notices))...)
	a.Clearances = append(a.Clearances, clearances(book.Clearances(r.dir, &a.Notices))...)
	told, by := r.pastNotices(book.Plant.ID, book.AsOf)
	a.Notices.Add(told...)
	a.Assumptions = append(append(a.Assumptions, by...), r.supplyAssumptions(book.Plant.ID)...)
	seasons, horizon := horizonOf(r.routes(book.Plant.ID, book.AsOf), book.AsOf)
	a.Windows = r.windows(seasons, book.AsOf, book.AsOf+calendar.Day(horizon))
	a.BurnByMonth = burnByMonth(book, good, model)
	a.Scores = scoresOf(book, good, issued)
	if model.Err() == nil {
		a.Burn, a.TakesWinter = burnOf(model, book.AsOf), takesWinter(model)
		if r.toKeep[i], err = r.forecastToKeep(a, model, issued); err != nil {
			return Plant{}, err
		}
	}
	if stock.Known && model.Err() == nil {
		if err := r.decide(&a, book, model, stock, open); err != nil {
			return Plant{}, err
		}
	}
	a.Quality = quality(a.Status != resupply.Unknown, a.Notices)
	return a, nil
}

// blank is the advice for a plant of which no more is known than its row says.
func (r *run) blank(i int) Plant {
	p, a := r.plants[i], unknown(r.plants[i].ID)
	a.Name, a.Group, a.AsOf, a.Zone = p.Name, p.Group, r.asOf[i], p.Zone
	a.ModelVersion, a.Seed = ModelVersion, r.opts.Seed
	a.Reserve = Reserve{Days: reserveOf(p).Days, Litres: reserveOf(p).Litres}
	if share := reserveOf(p).Share; share > 0 {
		a.Reserve.Percent = p.ReservePercent
	}
	return a
}

// unknown is the advice for a plant of which nothing is known. Lists are never null in JSON.
func unknown(id string) Plant {
	return Plant{
		Plant: id, Status: resupply.Unknown, Quality: NoAnswer, Stock: Stock{Tanks: []Tank{}},
		OpenOrders: []Expected{}, Proposed: []Expected{}, Clearances: []inventory.OrderClearanceState{}, Overfull: []Overfull{}, Windows: []Window{}, BurnByMonth: []MonthBurn{}, Faults: []Fault{},
		Assumptions: []string{}, Notices: notice.List{},
	}
}

func (r *run) assumptions(book *inventory.Book) []string {
	p := book.Plant
	all := []string{
		"reserve: " + reserveText(p),
		fmt.Sprintf("risk target %.3g %%", 100*p.Risk()),
		fmt.Sprintf("fuel of %.0f kg/m³ at 15 °C", float64(p.Density())),
		fmt.Sprintf("room reckoned for fuel warming to %.0f °C", float64(p.WarmestFuel())),
		fmt.Sprintf("stock unknown %d days after the newest reading or %d days after the last gauging of all tanks",
			inventory.DefaultStaleDays, inventory.DefaultStaleGaugingDays),
		fmt.Sprintf("%d simulated paths", r.opts.paths()),
	}
	for _, c := range book.LoadChanges() {
		if c.Added != nil {
			return append(all, fmt.Sprintf("added kW are a share of the plant's mean load, at %.1f kWh/L where its own yield is not known", kWhPerLitre))
		}
	}
	return all
}

// quality grades an answer by its notices.
func quality(known bool, notes notice.List) Quality {
	if !known {
		return NoAnswer
	}
	for _, n := range notes {
		if n.Severity != notice.Info {
			return Weak
		}
	}
	return Sound
}

// expectation is the model as the stock sees it, nil where there is none.
func expectation(m forecast.Model) inventory.Expectation {
	if m.Err() != nil {
		return nil
	}
	return m.Expected
}

func stockOf(book *inventory.Book, s inventory.Stock) (Stock, error) {
	capacity, err := book.Capacity(book.AsOf)
	if err != nil {
		return Stock{}, err
	}
	tanks, err := tanksOf(book)
	if err != nil {
		return Stock{}, err
	}
	out := Stock{
		Known: s.Known, AtGauged: float64(s.AtGauged), Received: float64(s.Received), Drawn: float64(s.Drawn),
		Metered: float64(s.Metered), Forecast: float64(s.Expected), Capacity: float64(capacity), Tanks: tanks,
	}
	if s.Known {
		usable, sigma := float64(s.Usable), float64(s.Sigma)
		out.Usable, out.Sigma = &usable, &sigma
	}
	if !s.Gauged.IsZero() {
		at := s.Gauged.UTC()
		out.Gauged = &at
	}
	if !s.Newest.IsZero() {
		at := s.Newest.UTC()
		out.Newest = &at
	}
	return out, nil
}

// burnOf says what is to come in the middle of the road, and the 90 % range of a day.
func burnOf(m forecast.Model, asOf calendar.Day) *Burn {
	start := float64(asOf + 1)
	median := func(days float64) float64 { return float64(m.Quantiles(start, start+days, 0.5)[0]) }
	day := m.Quantiles(start, start+1, 0.05, 0.95)
	return &Burn{Next30PerDay: median(30) / 30, YearTotal: median(365), UsualLow: float64(day[0]), UsualHigh: float64(day[1])}
}

func expected(open []inventory.OpenOrder) []Expected {
	var all []Expected
	for _, o := range open {
		all = append(all, Expected{o.ID, string(o.State), float64(o.Litres), o.Early, o.Likely, o.Late})
	}
	return all
}

// decide asks resupply, and replays the answer on paths that it has not seen.
func (r *run) decide(a *Plant, book *inventory.Book, m forecast.Model, s inventory.Stock, open []inventory.OpenOrder) error {
	problem, err := r.problem(book, m, s, open, r.opts.Seed, &a.Notices)
	if err != nil {
		return err
	}
	d := resupply.Decide(problem)
	if r.decided != nil {
		r.decided(problem, d)
	}
	a.Projection = projection(problem)
	a.Status, a.Explanation = d.Status, &d.Explanation
	a.ReserveDate, a.DryDate = d.ReserveDate, d.DryDate
	a.DaysToEmpty, a.DaysToReserve, a.MustLastUntil = d.DaysToEmpty, d.DaysToReserve, d.MustLastUntil
	a.Notices.Add(d.Notices...)
	a.Overfull = append(a.Overfull, r.overfull(*a, book, open, d.Overfull)...)
	if a.Reserve.Days > 0 {
		a.Reserve.Litres = medianReserve(problem)
	}
	if a.Reserve.Litres > a.Stock.Capacity {
		a.Notices.Add(notice.New(notice.Serious, "reserve-too-large", a.Plant,
			"the reserve of %.0f kL is more than its tanks in service hold (%.0f kL): no delivery can keep it", a.Reserve.Litres/1000, a.Stock.Capacity/1000))
	}
	if d.Short != nil {
		a.Short = shortage(d.Short)
	}
	// What is doubtful was said the first time.
	fresh, err := r.problem(book, m, s, open, r.opts.Seed+freshSeed, new(notice.List))
	if err != nil {
		return err
	}
	r.plan(a, problem, fresh)
	if d.Order != nil {
		a.Order = orderOf(book.AsOf, d.Order, resupply.Replay(fresh, d.Order, max(d.Order.By.Day, 0)))
	}
	return nil
}

// freshSeed keeps the replay's draws apart from those that the decision was made on.
const freshSeed = 0x9e3779b97f4a7c15

func medianReserve(p *resupply.Problem) float64 {
	at0 := make([]float64, p.Burn.Count())
	for s := range at0 {
		at0[s] = p.Burn.Cumulative(s, p.Reserve.Days)
		if p.Draws != nil {
			at0[s] += p.Draws[p.Reserve.Days]
		}
	}
	return forecast.Quantile(at0, 0.5)
}

func orderOf(asOf calendar.Day, o *resupply.Order, risk resupply.Replayed) *Order {
	order := &Order{
		Route: o.Window.Route, Window: o.Window.Name, Opens: o.Window.Opening,
		OrderBy: asOf + calendar.Day(o.By.Day), Guard: o.By.Guard,
		ReserveGuard: o.Reserve.Date(asOf), WindowGuard: o.Shuts.Date(asOf),
		Lot: o.Lot.Lot, Least: o.Lot.Least, Most: o.Lot.Most, Limit: o.Lot.Limit, Risk: risk,
	}
	if o.Late != nil {
		order.Deadline = o.Late.Date(asOf)
	}
	if o.Lot.After != nil {
		order.After = shortage(o.Lot.After)
	}
	return order
}

func shortage(s *resupply.Shortage) *Shortage {
	out := &Shortage{Litres: s.Litres, From: s.From, Until: s.Until, Loads: []FallbackLoad{}}
	for _, l := range s.Loads {
		out.Loads = append(out.Loads, FallbackLoad{
			l.Route, l.Mode, l.Loads, l.Load, l.LeadDays, l.InTime, l.OrderBy, int64(math.Round(100 * l.Cost)), l.Currency,
		})
	}
	return out
}

// capacities gives what the tanks in service hold from each day on which that changes.
func capacities(book *inventory.Book) ([]resupply.Capacity, error) {
	days := append([]calendar.Day{book.AsOf}, book.CapacityChanges()...)
	slices.Sort(days)
	var all []resupply.Capacity
	for _, d := range slices.Compact(days) {
		c, err := book.Capacity(d)
		if err != nil {
			return nil, err
		}
		all = append(all, resupply.Capacity{FromDay: int(d - book.AsOf), Litres: float64(c)})
	}
	return all, nil
}
