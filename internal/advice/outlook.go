package advice

import (
	"math"

	"overwinter/internal/calendar"
	"overwinter/internal/forecast"
	"overwinter/internal/inventory"
	"overwinter/internal/resupply"
)

// projectionStep is how many days lie between two points of a projection: a week shows every bend that
// a window or a reserve makes, in a seventh of the numbers.
const projectionStep = 7

func projection(p *resupply.Problem) *Projection {
	out := &Projection{From: p.AsOf, Step: projectionStep}
	for _, d := range p.Project(projectionStep) {
		out.P10 = append(out.P10, whole(d.P10))
		out.P50 = append(out.P50, whole(d.P50))
		out.P90 = append(out.P90, whole(d.P90))
		out.Reserve = append(out.Reserve, whole(d.Reserve))
	}
	return out
}

func whole(litres float64) int64 { return int64(math.Round(litres)) }

// windows gives the windows that a plan looks at. A route open all year is one window from the as-of
// day to the last day looked at.
func (r *run) windows(seasons []resupply.Season, asOf, end calendar.Day) []Window {
	all := []Window{}
	for _, s := range seasons {
		w := Window{
			Route: s.Route.ID, Mode: string(r.dir.Route(s.Route.ID).Mode), Window: s.Window.Name, AllYear: s.AllYear(),
			Opens: Span(s.Openings()), Closes: Span(s.Closings()), LossChance: s.LossChance(), Deadline: s.OrderBy, CutOff: s.CutOff,
		}
		w.OpensFrom, w.ClosesFrom = s.From()
		if w.AllYear {
			w.Opens, w.Closes = Span{asOf, asOf, asOf}, Span{end, end, end}
		}
		all = append(all, w)
	}
	return all
}

// seasonMonths is how many months the season reaches to either side of the month of the as-of day.
const seasonMonths = 12

// burnByMonth holds what was burned against the model. Where there is no model there is nothing: then
// nobody can tell usage to believe from faults.
func burnByMonth(book *inventory.Book, good []inventory.Usage, m forecast.Model) []MonthBurn {
	all := []MonthBurn{}
	if m.Err() != nil {
		return all
	}
	line := intervals(book, good)
	now := calendar.MonthOf(book.AsOf)
	for i := -seasonMonths; i <= seasonMonths; i++ {
		all = append(all, monthBurn(now.Plus(i), line, m))
	}
	return all
}

// monthBurn takes of each usage interval the share that falls in the month on the plant's day line.
func monthBurn(month calendar.Month, line []forecast.Interval, m forecast.Model) MonthBurn {
	first, end := float64(month.First()), float64(month.Next().First())
	expected, _ := m.Expected(first, end)
	out := MonthBurn{Month: month, Expected: float64(expected) / (end - first)}
	litres := 0.0
	for _, i := range line {
		if days := min(i.End, end) - max(i.Start, first); days > 0 {
			litres += float64(i.Litres) * days / i.Days()
			out.DaysCovered += days
		}
	}
	if out.DaysCovered > 0 {
		perDay := litres / out.DaysCovered
		out.Measured = &perDay
	}
	return out
}

// tanksOf lists the plant's tanks as they were last found.
func tanksOf(book *inventory.Book) ([]Tank, error) {
	held, err := book.Held()
	if err != nil {
		return nil, err
	}
	all := []Tank{}
	for _, h := range held {
		all = append(all, tankOf(h, book.AsOf))
	}
	return all, nil
}

func tankOf(h inventory.Held, asOf calendar.Day) Tank {
	t := Tank{
		Tank: h.ID, Role: h.Role, InService: h.Available(asOf), Capacity: float64(h.Capacity), SafeFill: float64(h.SafeFill),
	}
	g, c := h.Gauging, h.Content
	if g == nil {
		return t
	}
	at := g.At.UTC()
	t.Gauged, t.Assumed = &at, c.TemperatureAssumed
	t.Depth, t.WaterDepth = known(g.Depth), known(g.Water)
	t.Liquid, t.Usable, t.Sigma, t.Below = number(c.Observed), number(c.UsableAt15), number(c.Sigma), number(c.Below)
	t.Room, t.Temperature = number(h.Room), number(c.Temperature)
	if g.Water != nil { // where water was not sought, nobody knows that there is none
		t.Water = number(c.Water)
	}
	return t
}

// number gives a quantity as an optional number.
func number[T ~float64](quantity T) *float64 {
	v := float64(quantity)
	return &v
}

// known gives an optional quantity as an optional number.
func known[T ~float64](quantity *T) *float64 {
	if quantity == nil {
		return nil
	}
	return number(*quantity)
}
