package web

import (
	"html/template"
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/chart"
	"overwinter/internal/resupply"
)

// fleetPage is all plants, most urgent first.
type fleetPage struct {
	Frame
	Lead   string
	Stale  string // what is old about the advice, "" for nothing
	Filter fleetFilter
	Rows   []fleetRow
	// Marks, Months and Names are what the ribbons share.
	Marks, Months, Names template.HTML
	First                bool // no forecast has been made yet
}

// fleetRow is one plant.
type fleetRow struct {
	Path, Name, Group               string
	Status, Detail                  string
	Act                             bool
	Overfull                        string // what is on its way and finds no room, "" for nothing
	Notices                         string // how many weaken the answer or want acting on, "" for none
	Days, OrderBy, Reached, Reading string
	Ribbon                          template.HTML
}

var fleetTemplate = load[fleetPage]("fleet")

func (s *Site) fleet(c echo.Context) error {
	now, err := s.deps.Desk.InForce(c.Request().Context())
	if err != nil {
		return err
	}
	if len(now.Plants) == 0 {
		page, err := s.firstFleet(c)
		if err != nil {
			return err
		}
		return fleetTemplate.render(c, http.StatusOK, page)
	}
	page := s.fleetOf(now.Plants, filterOf(c.QueryParams(), now.Plants))
	page.Frame = s.frame(c, "fleet", page.Title)
	page.AsOf = asOfLine(now.Plants)
	if n := now.Awaited(); n > 0 {
		page.Stale = "The first forecast is being made: " + count(n, "plant is", "plants are") + " still to come. Reload this page in a moment."
	}
	return fleetTemplate.render(c, http.StatusOK, page)
}

// firstFleet is the page before there is any advice: it says what to do next.
func (s *Site) firstFleet(c echo.Context) (fleetPage, error) {
	rows, err := s.deps.Ledger.Directory(c.Request().Context())
	if err != nil {
		return fleetPage{}, err
	}
	if len(rows.Plants) == 0 {
		return fleetPage{
			Frame: s.frame(c, "fleet", "There are no plants yet"), First: true,
			Lead: "Put your plants, tanks and readings into a data folder and load it: forecast load DIR. The folder’s files are described in docs/data-folder.md. This page fills itself with the next forecast.",
		}, nil
	}
	return fleetPage{
		Frame: s.frame(c, "fleet", "The first forecast has not been made yet"), First: true,
		Lead: capital(count(len(rows.Plants), "plant is", "plants are")) + " in the ledger. The service forecasts when it starts and once a day; reload this page in a minute. If it stays like this, the log says why.",
	}, nil
}

// fleetOf sets the page of the plants that a filter lets through. The heading and the lead always speak of
// all of them.
func (s *Site) fleetOf(all []advice.Plant, f fleetFilter) fleetPage {
	page := fleetPage{Filter: f, Stale: s.staleFleet(all), Marks: chart.Marks, Names: chart.Names}
	page.Title, page.Lead = fleetAnswer(all)
	axis := sharedAxis(all)
	page.Months = chart.Months(axis)
	for _, p := range all {
		if !f.lets(p) {
			continue
		}
		r := rowOf(p)
		r.Ribbon = chart.Ribbon(stockChart(p, "r"+strconv.Itoa(len(page.Rows)+1), ribbonTitle(p), axis))
		page.Rows = append(page.Rows, r)
	}
	page.Filter.Shown = len(page.Rows)
	return page
}

func rowOf(p advice.Plant) fleetRow {
	r := fleetRow{
		Path: plantPath(p.Plant), Name: p.Name, Group: capital(plain(p.Group)),
		Status: string(p.Status), Act: needsAct(p.Status),
		Days: none, OrderBy: none, Reached: reachedSpan(p), Reading: readingText(p),
	}
	switch {
	case p.Status == resupply.Unknown:
		r.Detail = silence(p)
		if w := nextDeadline(p); w != nil {
			r.Detail += "; next deadline " + shortDay(*w.Deadline, p.AsOf)
		}
	case p.Short != nil:
		r.Detail = missing(p.Short, p.AsOf)
		if l := quickest(p.Short.Loads); l != nil {
			r.Detail += ": " + loads(*l)
		}
	case p.Order != nil:
		r.Detail = lotDetail(p.Order)
	default:
		r.Detail = "no order in sight"
	}
	if n := overfull(p); n > 0 {
		r.Overfull = count(n, "order on its way finds", "orders on their way find") + " too little room"
	}
	if n := weighty(p); n > 0 {
		r.Notices = count(n, "notice", "notices")
	}
	if p.DaysToReserve != nil {
		r.Days = whole(float64(*p.DaysToReserve))
	} else if p.Status != resupply.Unknown {
		r.Days = "beyond"
	}
	if p.Order != nil {
		r.OrderBy = shortDay(p.Order.OrderBy, p.AsOf)
	}
	return r
}

// readingText is the age of the newest reading.
func readingText(p advice.Plant) string {
	switch age, ok := readingAge(p); {
	case !ok:
		return none
	case age <= 0:
		return "today"
	default:
		return days(age)
	}
}

// ribbonTitle names a ribbon, and the orders that it shows.
func ribbonTitle(p advice.Plant) string {
	var orders []string
	for _, o := range p.OpenOrders {
		orders = append(orders, kL(o.Litres)+" about "+shortDay(o.Likely, p.AsOf))
	}
	if orders == nil {
		return "Stock of " + p.Name
	}
	return "Stock of " + p.Name + "; on its way: " + list(orders)
}
