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
func (f *fitted) advise(ctx context.Context, i int) (Plant, error) {
	book, err := f.book(ctx, i)
	if err != nil {
		return Plant{}, err
	}
	model := f.models[i]
	a := f.begin(book)
	a.Notices.Add(book.Doubts()...)
	usages, notes := book.Usages()
	a.Notices.Add(notes...)
	a.Notices.Add(model.Notices()...)
	good, faulty := believed(book, usages, model)
	a.Faults = append(a.Faults, faulty...)

	stock, notes := book.StockNow(good, expectation(model))
	a.Notices.Add(notes...)
	if a.Stock, err = stockOf(book, stock); err != nil {
		return Plant{}, err
	}
	open := book.OpenOrders(&a.Notices)
	a.OpenOrders = append(a.OpenOrders, expected(open)...)
	if model.Err() == nil {
		a.Burn = burnOf(model, book.AsOf)
	}
	if stock.Known && model.Err() == nil {
		if err := f.decide(&a, book, model, stock, open); err != nil {
			return Plant{}, err
		}
	}
	a.Quality = quality(a.Status != resupply.Unknown, a.Notices)
	return a, nil
}

// begin fills in what does not depend on the readings.
func (f *fitted) begin(book *inventory.Book) Plant {
	p := book.Plant
	a := Plant{
		Plant: p.ID, Name: p.Name, Group: p.Group, AsOf: book.AsOf, Zone: p.Zone, Status: resupply.Unknown,
		ModelVersion: ModelVersion, InputsVersion: f.version(book), Seed: f.opts.Seed,
		Reserve: Reserve{Days: reserveOf(p).Days, Litres: reserveOf(p).Litres},
		// Lists are never null in JSON.
		OpenOrders: []Expected{}, Windows: []Window{}, BurnByMonth: []MonthBurn{}, Faults: []Fault{}, Notices: notice.List{},
	}
	a.Assumptions = []string{
		fmt.Sprintf("risk target %.3g %%", 100*p.Risk()),
		fmt.Sprintf("fuel of %.0f kg/m³ at 15 °C", float64(p.Density())),
		fmt.Sprintf("room reckoned for fuel warming to %.0f °C", float64(p.WarmestFuel())),
		fmt.Sprintf("stock unknown %d days after the newest reading or %d days after the last gauging of all tanks",
			inventory.DefaultStaleDays, inventory.DefaultStaleGaugingDays),
		fmt.Sprintf("%d simulated futures", f.opts.paths()),
	}
	return a
}

func reserveOf(p *inventory.Plant) resupply.Reserve {
	switch {
	case p.ReserveLitres != nil:
		return resupply.Reserve{Litres: float64(*p.ReserveLitres)}
	case p.ReserveDays != nil:
		return resupply.Reserve{Days: *p.ReserveDays}
	}
	return resupply.Reserve{Days: inventory.DefaultReserveDays}
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
	out := Stock{
		Known: s.Known, AtGauged: float64(s.AtGauged), Received: float64(s.Received), Drawn: float64(s.Drawn),
		Metered: float64(s.Metered), Forecast: float64(s.Expected), Capacity: float64(capacity),
		Tanks: []Tank{},
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

// z95 is the 95 % point of the standard normal distribution.
const z95 = 1.6448536269514722

func burnOf(m forecast.Model, asOf calendar.Day) *Burn {
	start := float64(asOf + 1)
	month, _ := m.Expected(start, start+30)
	year, _ := m.Expected(start, start+365)
	day, sd := m.Expected(start, start+1)
	return &Burn{
		Next30PerDay: float64(month) / 30, YearTotal: float64(year),
		UsualLow: math.Max(0, float64(day-z95*sd)), UsualHigh: float64(day + z95*sd),
	}
}

func expected(open []inventory.OpenOrder) []Expected {
	var all []Expected
	for _, o := range open {
		all = append(all, Expected{o.ID, string(o.State), float64(o.Litres), o.Early, o.Likely, o.Late})
	}
	return all
}

// decide asks resupply, and replays the answer on paths that it has not seen.
func (f *fitted) decide(a *Plant, book *inventory.Book, m forecast.Model, s inventory.Stock, open []inventory.OpenOrder) error {
	problem, err := f.problem(book, m, s, open, f.opts.Seed, &a.Notices)
	if err != nil {
		return err
	}
	d := resupply.Decide(problem)
	a.Status, a.Explanation = d.Status, &d.Explanation
	a.ReserveDate, a.DryDate = d.ReserveDate, d.DryDate
	a.DaysToEmpty, a.DaysToReserve, a.MustLastUntil = d.DaysToEmpty, d.DaysToReserve, d.MustLastUntil
	a.Notices.Add(d.Notices...)
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
	if d.Order == nil {
		return nil
	}
	// What is doubtful was said the first time.
	fresh, err := f.problem(book, m, s, open, f.opts.Seed+freshSeed, new(notice.List))
	if err != nil {
		return err
	}
	a.Order = orderOf(book.AsOf, d.Order, resupply.Replay(fresh, d.Order, max(d.Order.By.Day, 0)))
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
			l.Route, l.Mode, l.Loads, l.LeadDays, l.InTime, int64(math.Round(100 * l.Cost)), l.Currency,
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
