package api

import (
	"cmp"
	"context"
	"net/http"
	"slices"
	"sync"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

// FleetAnswer is the list of plants.
type FleetAnswer struct {
	Head
	Issued   *time.Time `json:"issued_at"`
	Revision int64      `json:"revision"`
	Total    int        `json:"total"`
	Next     *string    `json:"next"`
	Plants   []FleetRow `json:"plants"`
}

// FleetRow is one plant in the list.
type FleetRow struct {
	Plant         string          `json:"plant"`
	Name          string          `json:"name"`
	Group         string          `json:"climate_group"`
	Zone          string          `json:"zone"`
	AsOf          calendar.Day    `json:"as_of"`
	Status        resupply.Status `json:"status"`
	Quality       advice.Quality  `json:"quality"`
	Usable        *float64        `json:"usable_l15"`
	Sigma         *float64        `json:"sigma_l15"`
	Capacity      float64         `json:"usable_capacity_l15"`
	DaysToEmpty   *int            `json:"days_of_cover_to_empty"`
	DaysToReserve *int            `json:"days_of_cover_to_reserve"`
	ReserveDate   resupply.Dates  `json:"reserve_date"`
	DryDate       resupply.Dates  `json:"dry_date"`
	MustLastUntil *calendar.Day   `json:"must_last_until"`
	OrderBy       *calendar.Day   `json:"order_by"`
	Route         *string         `json:"route"`
	Window        *string         `json:"window"`
	Lot           *float64        `json:"lot_l15"`
	Short         *float64        `json:"short_l15"`
	ShortFrom     *calendar.Day   `json:"short_from"`
	Newest        *time.Time      `json:"newest_reading_at"`
	Age           *int            `json:"reading_age_days"`
	Serious       int             `json:"serious_notices"`
}

func rowOf(p advice.Plant) FleetRow {
	r := FleetRow{
		Plant: p.Plant, Name: p.Name, Group: p.Group, Zone: p.Zone, AsOf: p.AsOf, Status: p.Status, Quality: p.Quality,
		Usable: p.Stock.Usable, Sigma: p.Stock.Sigma, Capacity: p.Stock.Capacity,
		DaysToEmpty: p.DaysToEmpty, DaysToReserve: p.DaysToReserve, ReserveDate: p.ReserveDate, DryDate: p.DryDate,
		MustLastUntil: p.MustLastUntil, Newest: p.Stock.Newest, Age: age(p),
	}
	if o := p.Order; o != nil {
		r.OrderBy, r.Route, r.Window, r.Lot = &o.OrderBy, &o.Route, &o.Window, &o.Lot
	}
	if s := p.Short; s != nil {
		r.Short, r.ShortFrom = &s.Litres, &s.From
	}
	for _, n := range p.Notices {
		if n.Severity == notice.Serious {
			r.Serious++
		}
	}
	return r
}

// age counts the local days from the newest reading to the as-of day.
func age(p advice.Plant) *int {
	zone, err := time.LoadLocation(p.Zone)
	if err != nil || p.Stock.Newest == nil {
		return nil
	}
	days := int(p.AsOf - calendar.DayOf(*p.Stock.Newest, zone))
	return &days
}

// The orders of the list.
const (
	byUrgency = "urgency"
	byPlant   = "plant"
)

// FleetQuestion asks for the list, or part of it.
type FleetQuestion struct {
	Conditional
	Status []string `query:"status" uniqueItems:"true" enum:"short,order now,unknown,order soon,in hand" doc:"Only plants with one of these statuses, separated by commas." example:"short,order now"`
	Order  string   `query:"order" enum:"urgency,plant" default:"urgency" doc:"Most urgent first, or by plant id. Pages follow on from each other only by plant id, which does not change when advice does."`
	Limit  int      `query:"limit" minimum:"1" maximum:"10000" doc:"At most so many plants; all where it is left out." example:"100"`
	After  string   `query:"after" maxLength:"200" doc:"With order=plant: only plants whose id comes after this one. The next page begins after the answer's next."`
}

func (a *API) fleetOperations() {
	registerPage[FleetQuestion, FleetAnswer](a, huma.Operation{
		OperationID: "list-plants", Path: "/plants", Tags: []string{"Advice"},
		Summary: "All plants, most urgent first",
		Description: "One row a plant: status, dates, lot, stock, days of cover, age of the newest reading, quality. The order is by status " +
			"(short, order now, unknown, order soon, in hand), then by the day to order by or from which fuel is missing, then by plant id.",
	}, []int{http.StatusServiceUnavailable}, a.listPlants)
}

func (a *API) listPlants(ctx context.Context, q *FleetQuestion) (*page, error) {
	if q.After != "" && q.Order != byPlant {
		return nil, fault.New(fault.Invalid, "pages follow on from each other only by plant id").
			With(fault.Field{Where: "query.after", Message: "is only for order=plant: add that, or leave after out"})
	}
	in, err := a.Desk.InForce(ctx)
	if err != nil {
		return nil, err
	}
	return a.fleet.page(in, *q)
}

// fleetPages keeps the answers that were asked for while one set of advice is in force.
type fleetPages struct {
	mu    sync.Mutex
	of    *advice.InForce
	pages map[fleetKey]*page
}

type fleetKey struct {
	statuses [5]bool // by statuses
	order    string
	limit    int
	after    string
}

var statuses = []resupply.Status{resupply.Short, resupply.OrderNow, resupply.Unknown, resupply.OrderSoon, resupply.InHand}

// mostPages bounds what clients can make the service keep.
const mostPages = 64

func (f *fleetPages) page(in *advice.InForce, q FleetQuestion) (*page, error) {
	key := fleetKey{order: q.Order, limit: q.Limit, after: q.After}
	for i, s := range statuses {
		key.statuses[i] = len(q.Status) == 0 || slices.Contains(q.Status, string(s))
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.of != in || len(f.pages) >= mostPages {
		f.of, f.pages = in, map[fleetKey]*page{}
	}
	if p := f.pages[key]; p != nil {
		return p, nil
	}
	p, err := encode(fleetAnswer(in, key))
	if err == nil {
		f.pages[key] = p
	}
	return p, err
}

func fleetAnswer(in *advice.InForce, key fleetKey) FleetAnswer {
	answer := FleetAnswer{Head: fleetHead(in), Revision: in.Revision, Plants: []FleetRow{}}
	if !in.Issued.IsZero() {
		issued := in.Issued.UTC()
		answer.Issued = &issued
	}
	found := key.choose(in.Plants)
	answer.Total = len(found)
	if key.order == byPlant {
		slices.SortFunc(found, func(x, y *advice.Plant) int { return cmp.Compare(x.Plant, y.Plant) })
		first, at := slices.BinarySearchFunc(found, key.after, func(p *advice.Plant, id string) int { return cmp.Compare(p.Plant, id) })
		if at {
			first++
		}
		found = found[first:]
	}
	if key.limit > 0 && key.limit < len(found) {
		found = found[:key.limit]
		if key.order == byPlant {
			answer.Next = &found[key.limit-1].Plant
		}
	}
	for _, p := range found {
		answer.Plants = append(answer.Plants, rowOf(*p))
	}
	return answer
}

// choose gives the plants whose status is asked for.
func (k fleetKey) choose(all []advice.Plant) []*advice.Plant {
	var found []*advice.Plant
	for i := range all {
		if s := slices.Index(statuses, all[i].Status); s < 0 || k.statuses[s] {
			found = append(found, &all[i])
		}
	}
	return found
}

// fleetHead sums the plants up: the newest day, the weakest quality, and what is assumed of all.
func fleetHead(in *advice.InForce) Head {
	h := Head{Basis: basis15, Quality: advice.NoAnswer, Assumptions: []string{}, Notices: in.Notices()}
	if len(in.Plants) == 0 {
		h.Notices.Add(notice.New(notice.Caution, "no-advice", "fleet", "no advice is in force yet: wait for the first forecast"))
		return h
	}
	h.AsOf, h.Quality = &in.Plants[0].AsOf, advice.Sound
	h.Assumptions = append(h.Assumptions, in.Plants[0].Assumptions...)
	for i := range in.Plants {
		p := &in.Plants[i]
		if p.AsOf > *h.AsOf {
			h.AsOf = &p.AsOf
		}
		h.Quality = weaker(h.Quality, p.Quality)
		h.Assumptions = slices.DeleteFunc(h.Assumptions, func(s string) bool { return !slices.Contains(p.Assumptions, s) })
	}
	return h
}

// weaker gives the one of two qualities that promises less.
func weaker(a, b advice.Quality) advice.Quality {
	for _, q := range []advice.Quality{advice.NoAnswer, advice.Weak} {
		if a == q || b == q {
			return q
		}
	}
	return advice.Sound
}
