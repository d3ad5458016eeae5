package demo

import (
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// The days of the demo.
var (
	// FirstDay is the first day with readings.
	FirstDay = calendar.Date(2023, time.March, 1)
	// AsOf is the demo's date: the ledger holds what was known at the end of this day at each plant.
	AsOf = calendar.Date(2026, time.March, 2)
	// LastDay is the last day whose burn is known to the truth.
	LastDay = AsOf + 1000
)

// Now is an instant after every row of the scenario: the end of AsOf where that day ends last.
var Now = time.Date(2026, time.March, 3, 9, 0, 0, 0, time.UTC)

// DefaultSeed is the seed of the demo that people see.
const DefaultSeed uint64 = 1926

// Scenario is an invented ledger and the truth that it measures.
type Scenario struct {
	Rows    inventory.Rows
	Truth   map[string]Truth // by plant id
	Seasons []Season         // the true dates of every window, past and coming
}

// Truth is what no ledger holds about one plant. Slices run from FirstDay, one element a day, to
// LastDay of the package.
type Truth struct {
	FirstDay calendar.Day
	Burn     []units.LitresAt15 // consumption
	Draws    []units.LitresAt15 // fuel for anything but generation, unrecorded draws included

	// StockAtAsOf is the usable stock at the end of AsOf.
	StockAtAsOf units.LitresAt15
	// Full is the usable stock that the tanks can hold: what an order on its way brings beyond it finds no
	// room.
	Full units.LitresAt15
	// Opening and Closing are all fuel of the plant's product at the beginning of FirstDay and at the end
	// of AsOf, unusable bottom included; Received is what came between.
	Opening, Received, Closing units.LitresAt15

	// Arrivals tells by order id when the open orders really arrive, and with how much.
	Arrivals map[string]Arrival
	// ReserveDate and DryDate are the first days whose closing usable stock is below the reserve and
	// below zero if nothing but the open orders arrives; nil if that is beyond LastDay. A reserve
	// in days is the true burn and draws of that many days to come.
	ReserveDate, DryDate *calendar.Day

	Faults []Fault
}

// Arrival is the true end of an open order.
type Arrival struct {
	Day    calendar.Day
	Volume units.LitresAt15
}

// Season is what one window of one year truly is. Opens and Closes mean nothing where Lost is set.
type Season struct {
	Route, Window string
	Year          int // of the opening
	Opens, Closes calendar.Day
	Lost          bool
}

// Fault is a row that is wrong on purpose, or an event that the ledger should hold and does not.
type Fault struct {
	Kind FaultKind
	Key  string       // of the row; empty for an event without a row
	Day  calendar.Day // on which it happened
	Note string
}

// FaultKind names what is wrong.
type FaultKind string

// The faults of the demo.
const (
	DigitSlip       FaultKind = "digit slip"       // two digits of a register changed places
	CorrectedSlip   FaultKind = "corrected slip"   // the same, and a later row replaces it
	MisreadDip      FaultKind = "misread dip"      // a dip one foot off
	CountCorrection FaultKind = "count correction" // a total below zero: the year's count was booked into it
	UnrecordedDraw  FaultKind = "unrecorded draw"  // fuel lent and not written down
	Silence         FaultKind = "silence"          // no reports from this day on
)

// Generate makes the scenario of a seed; the same seed gives the same scenario.
func Generate(seed uint64) Scenario {
	routes := supplyRoutes()
	scenario := Scenario{Truth: map[string]Truth{}, Seasons: drawSeasons(routes, seed)}
	for _, r := range routes {
		scenario.addRoute(r)
	}
	scenario.Rows.WindowLimits, scenario.Rows.SpendingLimits = windowLimits(), spendingLimits()
	days := int(LastDay-FirstDay) + 1
	weather := map[string][]float64{}
	for _, spec := range plantSpecs() {
		group := spec.plant.Group
		if weather[group] == nil {
			weather[group] = normals(stream(seed, "weather", group), days)
		}
		s := newSite(spec, seed, weather[group], scenario.Seasons)
		s.run()
		scenario.addSite(s)
	}
	return scenario
}

func (sc *Scenario) addRoute(r route) {
	r.row.Key = r.row.ID
	setTerms(r.row)
	sc.Rows.Routes = append(sc.Rows.Routes, r.row)
	for _, plant := range r.plants {
		sc.Rows.Services = append(sc.Rows.Services, &inventory.Service{
			Entry: inventory.Entry{Key: r.row.ID + "/" + plant}, Route: r.row.ID, Plant: plant,
		})
	}
	sc.Rows.Windows = append(sc.Rows.Windows, r.windows...)
}

func (sc *Scenario) addSite(s *site) {
	for record := range s.rows.All() {
		sc.Rows.Add(record)
	}
	sc.Truth[s.spec.plant.ID] = s.truth()
}

// InForce gives the rows that no later row replaces: what a store would answer with. A scenario used
// without a store needs it, since Rows hold a corrected reading and an order's earlier state as well.
func (sc Scenario) InForce() inventory.Rows {
	type id struct {
		kind inventory.Kind
		key  string
	}
	replaced := map[id]bool{}
	for r := range sc.Rows.All() {
		replaced[id{r.Kind(), r.Base().Replaces}] = true
	}
	var rows inventory.Rows
	for r := range sc.Rows.All() {
		if !replaced[id{r.Kind(), r.Base().Key}] {
			rows.Add(r)
		}
	}
	return rows
}
