package inventory

import (
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// Mode is the means of transport of a supply route.
type Mode string

// The modes.
const (
	Barge         Mode = "barge"
	Sealift       Mode = "sealift"
	WinterRoad    Mode = "winter-road"
	AllSeasonRoad Mode = "all-season-road"
	Air           Mode = "air"
	SmallBoat     Mode = "small-boat"
)

// Route is a way in which fuel reaches plants. Lot limits are per delivery to one plant, at 15 °C;
// 0 means no limit. A fallback route has no windows: it is open all year, dearer, and comes in loads
// of at most LotMax.
type Route struct {
	Entry
	ID       string `json:"id"`
	Mode     Mode   `json:"mode"`
	Supplier string `json:"supplier,omitempty"`
	Fallback bool   `json:"fallback,omitempty"`

	LeadDays   float64 `json:"lead_days"`              // order to arrival, median
	LeadSDDays float64 `json:"lead_sd_days,omitempty"` // its spread, standard deviation
	SlipDays   float64 `json:"slip_days,omitempty"`    // usual delay once the window is open, median
	SlipSDDays float64 `json:"slip_sd_days,omitempty"`

	LotMin  units.LitresAt15 `json:"lot_min_l,omitempty"`
	LotMax  units.LitresAt15 `json:"lot_max_l,omitempty"`
	LotStep units.LitresAt15 `json:"lot_step_l,omitempty"`

	// Load is what one truck, aircraft or boat carries: a lot is then whole loads. 0 means that lots are not counted so.
	Load units.LitresAt15 `json:"load_l,omitempty"`

	// PricePerLitre is the price per litre at 15 °C in major units of Currency; 0 means not known.
	PricePerLitre float64 `json:"price_per_l,omitempty"`
	Currency      string  `json:"currency,omitempty"` // ISO 4217

	// StopCost and FreightPerLitre come on top of the price, in major units of Currency: for each delivery, and
	// for each litre at 15 °C. 0 means none.
	StopCost        float64 `json:"stop_cost,omitempty"`
	FreightPerLitre float64 `json:"freight_per_l,omitempty"`
	// PriceGrowth is by what share the price is expected to grow in a year, below 0 where it falls; PriceSD is the
	// standard deviation of the price's natural logarithm after a year.
	PriceGrowth float64 `json:"price_growth_per_year,omitempty"`
	PriceSD     float64 `json:"price_sd_per_year,omitempty"`

	// Deliveries is how many deliveries to one plant a window allows at most, 0 means one; DaysBetween is how many
	// days lie between two of them at least.
	Deliveries  int `json:"deliveries,omitempty"`
	DaysBetween int `json:"days_between,omitempty"`

	// A delivery is paid PayDays after the day that PayFrom names; at delivery where nothing is stated.
	PayFrom PayFrom `json:"pay_from,omitempty"`
	PayDays int     `json:"pay_days,omitempty"`
}

// PayFrom names the day from which the time to pay counts.
type PayFrom string

// The days from which the time to pay counts.
const (
	PayFromOrder    PayFrom = "order"
	PayFromDelivery PayFrom = "delivery"
)

// Service says that a route reaches a plant.
type Service struct {
	Entry
	Route string `json:"route"`
	Plant string `json:"plant"`
}

// Window is a stretch of the year in which a route can deliver. It recurs every year unless Year
// names one; a window of one year stands in for the recurring one of the same name.
type Window struct {
	Entry
	Route string `json:"route"`
	Name  string `json:"name"`
	Year  int    `json:"year,omitempty"` // the year of the opening

	Opens        MonthDay  `json:"opens"` // median
	OpensSDDays  float64   `json:"opens_sd_days,omitempty"`
	Closes       MonthDay  `json:"closes"` // median; before Opens in the calendar means the year after
	ClosesSDDays float64   `json:"closes_sd_days,omitempty"`
	FailChance   float64   `json:"fail_chance,omitempty"` // probability that the window is lost altogether
	OrderBy      *MonthDay `json:"order_by,omitempty"`    // the supplier's own order deadline, the last one before the opening
	CutOff       *MonthDay `json:"cut_off,omitempty"`     // the last day of delivery however late the closing is, the first one from the stated opening on

	// The lags lie between the events of the past windows, such as the break-up of the ice, and opening and
	// closing themselves; below 0 before the event. 0 where past dates are those of the window.
	OpensLagDays    float64 `json:"opens_lag_days,omitempty"`
	OpensLagSDDays  float64 `json:"opens_lag_sd_days,omitempty"`
	ClosesLagDays   float64 `json:"closes_lag_days,omitempty"`
	ClosesLagSDDays float64 `json:"closes_lag_sd_days,omitempty"`
}

// PastWindow is what became of a recurring window in one year: when it opened and closed, or that it did
// not open at all.
type PastWindow struct {
	Entry
	Route  string        `json:"route"`
	Name   string        `json:"name"`
	Year   int           `json:"year"`             // the year of the window's season: that in which it usually opens
	Opens  *calendar.Day `json:"opens,omitempty"`  // nil: not known
	Closes *calendar.Day `json:"closes,omitempty"` // nil: not known
	Failed bool          `json:"failed,omitempty"`
}

// MonthDay is a day of any year.
type MonthDay struct {
	Month time.Month `json:"month"`
	Day   int        `json:"day"`
}

// Kind tells that the row is a supply route.
func (r *Route) Kind() Kind { return KindRoute }

// PlantID is empty: a route belongs to no single plant.
func (r *Route) PlantID() string { return "" }

// Kind tells that the row is a service.
func (s *Service) Kind() Kind { return KindService }

// PlantID gives the plant that the route reaches.
func (s *Service) PlantID() string { return s.Plant }

// Kind tells that the row is a window.
func (w *Window) Kind() Kind { return KindWindow }

// PlantID is empty: a window belongs to its route.
func (w *Window) PlantID() string { return "" }

// Kind tells that the row is a past window.
func (p *PastWindow) Kind() Kind { return KindPastWindow }

// PlantID is empty: a window belongs to its route.
func (p *PastWindow) PlantID() string { return "" }
