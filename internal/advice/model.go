// Package advice is the whole chain in one place: the ledger gives stock and usage, the forecast gives
// simulated futures, resupply gives dates and lots, and the result is saved as issued. Whatever shows
// advice, a table, a page or a feed, shows this and computes nothing again.
package advice

import (
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
	"overwinter/internal/score"
)

// ModelVersion changes whenever the same inputs may give other advice.
const ModelVersion = "10"

// Quality says how far an answer can be leant on.
type Quality string

// The qualities of an answer.
const (
	Sound    Quality = "sound"
	Weak     Quality = "weak"      // a caution or worse weakens it: see the notices
	NoAnswer Quality = "no answer" // the stock or the consumption is not known
)

// Fleet is the advice for all plants, most urgent first.
type Fleet struct {
	AsOf         *calendar.Day `json:"as_of"` // nil where each plant has its own today
	ModelVersion string        `json:"model_version"`
	Seed         uint64        `json:"seed"`
	Plants       []Plant       `json:"plants"`
}

// Plant is the advice for one plant. Volumes are litres at 15 °C.
type Plant struct {
	Plant         string          `json:"plant"`
	Name          string          `json:"name"`
	Group         string          `json:"climate_group"`
	AsOf          calendar.Day    `json:"as_of"`
	Zone          string          `json:"zone"`
	Status        resupply.Status `json:"status"`
	Quality       Quality         `json:"quality"`
	ModelVersion  string          `json:"model_version"`
	InputsVersion string          `json:"inputs_version"`
	Seed          uint64          `json:"seed"`

	Stock   Stock   `json:"stock"`
	Burn    *Burn   `json:"burn"`
	Reserve Reserve `json:"reserve"`

	DaysToEmpty   *int           `json:"days_of_cover_to_empty"`
	DaysToReserve *int           `json:"days_of_cover_to_reserve"`
	ReserveDate   resupply.Dates `json:"reserve_date"`
	DryDate       resupply.Dates `json:"dry_date"`
	MustLastUntil *calendar.Day  `json:"must_last_until"`

	Order      *Order     `json:"order"`
	Short      *Shortage  `json:"short"`
	Planned    *Planned   `json:"plan"` // nil where prices or a second delivery are not in sight
	OpenOrders []Expected `json:"open_orders"`
	// Proposed would arrive if they were placed: nothing counts on them.
	Proposed   []Expected                      `json:"proposed_orders"`
	Clearances []inventory.OrderClearanceState `json:"clearances"` // of orders that are not over, the most pressing first
	Overfull   []Overfull                      `json:"overfull"`   // open orders that find too little room
	Windows    []Window                        `json:"windows"`    // of the plant's routes, to the end of the horizon

	Projection  *Projection `json:"projection"` // nil where the stock or the consumption is not known
	BurnByMonth []MonthBurn `json:"burn_by_month"`

	Scores *score.Scores `json:"forecast_scores"` // nil in advice from before forecasts were kept, and where there is no answer

	// TakesWinter tells whether a winter can be supposed: see Adviser.Suppose.
	TakesWinter bool `json:"takes_winter"`

	Explanation *resupply.Explanation `json:"explanation"`
	Faults      []Fault               `json:"faulty_intervals"`
	Assumptions []string              `json:"assumptions"`
	Notices     notice.List           `json:"notices"`
}

// Stock is the usable stock at the close of the as-of day, and how it was reckoned.
type Stock struct {
	Known    bool       `json:"known"`
	Usable   *float64   `json:"usable_l15"`
	Sigma    *float64   `json:"sigma_l15"`
	Gauged   *time.Time `json:"gauged_at"`
	Newest   *time.Time `json:"newest_reading_at"`
	AtGauged float64    `json:"at_gauging_l15"`
	Received float64    `json:"received_since_l15"`
	Drawn    float64    `json:"drawn_since_l15"`
	Metered  float64    `json:"metered_burn_since_l15"`
	Forecast float64    `json:"forecast_burn_since_l15"`
	Capacity float64    `json:"usable_capacity_l15"` // of the tanks in service on the as-of day
	// InTransit is on the way to the plant and not in its tanks.
	InTransit float64 `json:"in_transit_l15"`
	Tanks     []Tank  `json:"tanks"`
}

// Tank is what one tank was last found to hold. Observed volumes are at the temperature of the fuel.
// What is nil is not known: the tank was never gauged, or was gauged in volume.
type Tank struct {
	Tank       string         `json:"tank"`
	Role       inventory.Role `json:"role"`
	InService  bool           `json:"in_service"`
	Capacity   float64        `json:"capacity_l"`
	SafeFill   float64        `json:"safe_fill_l"`
	Gauged     *time.Time     `json:"gauged_at"`
	Depth      *float64       `json:"depth_mm"`
	WaterDepth *float64       `json:"water_mm"`
	Liquid     *float64       `json:"liquid_l"` // all of it, water included
	Water      *float64       `json:"water_l"`
	Usable     *float64       `json:"usable_l15"`
	Sigma      *float64       `json:"usable_sigma_l15"`
	Below      *float64       `json:"below_suction_l15"`
	Room       *float64       `json:"room_l15"` // to safe fill, for fuel that warms as far as the plant says
	// Temperature is that of the fuel as used; Assumed tells that it was not read.
	Temperature *float64 `json:"temperature_c"`
	Assumed     bool     `json:"temperature_assumed"`
}

// Burn is the coming consumption: medians, and the range that 90 % of single days fall in.
type Burn struct {
	Next30PerDay float64 `json:"next_30_days_l15_per_day"`
	YearTotal    float64 `json:"next_365_days_l15"`
	UsualLow     float64 `json:"usual_day_low_l15"`  // 5 % of days burn less
	UsualHigh    float64 `json:"usual_day_high_l15"` // 5 % of days burn more
}

// MonthBurn holds what was burned in a month against the model's season. Measured covers the days that
// have believed usage; it is nil for a month without any and for one that is still to come.
type MonthBurn struct {
	Month       calendar.Month `json:"month"`
	Measured    *float64       `json:"measured_l15_per_day"`
	DaysCovered float64        `json:"days_covered"`
	Expected    float64        `json:"expected_l15_per_day"`
}

// Projection is the usable stock to come, with the orders on their way and without any other, at the
// close of every Step-th day from From on.
type Projection struct {
	From    calendar.Day `json:"from"`
	Step    int          `json:"step_days"`
	P10     []int64      `json:"usable_p10_l15"`
	P50     []int64      `json:"usable_p50_l15"`
	P90     []int64      `json:"usable_p90_l15"`
	Reserve []int64      `json:"reserve_p50_l15"`
}

// Window is a stretch of time in which a route can deliver. Each date is given as its 10, 50 and 90 %
// points, the window's being lost left out.
type Window struct {
	Route      string          `json:"route"`
	Mode       string          `json:"mode"`
	Window     string          `json:"window"`
	AllYear    bool            `json:"all_year"`
	Opens      Span            `json:"opens"`
	Closes     Span            `json:"closes"`
	OpensFrom  resupply.Source `json:"opens_from"`
	ClosesFrom resupply.Source `json:"closes_from"`
	LossChance float64         `json:"loss_chance"`
	Deadline   *calendar.Day   `json:"supplier_deadline"`
	CutOff     *calendar.Day   `json:"cut_off"` // nothing is delivered after it; the closing is never later
}

// Span is an uncertain day as its 10, 50 and 90 % points.
type Span struct {
	P10 calendar.Day `json:"p10"`
	P50 calendar.Day `json:"p50"`
	P90 calendar.Day `json:"p90"`
}

// Reserve is the stock that planning must not touch: days at the coming outflow, a percentage of what the tanks in
// service can give when full, or a volume.
type Reserve struct {
	Days    int      `json:"days"`
	Percent *float64 `json:"capacity_percent"` // nil where it is none
	Litres  float64  `json:"litres_l15"`       // at the close of the as-of day, median where it is in days
}

// Order is what to order, by when and from which window.
type Order struct {
	Route   string         `json:"route"`
	Window  string         `json:"window"`
	Opens   calendar.Day   `json:"window_opens"`
	OrderBy calendar.Day   `json:"order_by"`
	Guard   resupply.Guard `json:"guard"`
	// ReserveGuard and WindowGuard are the last order days under each guard; nil where no day would do.
	ReserveGuard *calendar.Day `json:"order_by_for_reserve"`
	WindowGuard  *calendar.Day `json:"order_by_for_window"`
	Deadline     *calendar.Day `json:"supplier_deadline"`

	Lot   float64        `json:"lot_l15"`
	Limit resupply.Limit `json:"lot_limit"`
	Least float64        `json:"lot_least_l15"`
	Most  float64        `json:"lot_most_l15"`
	After *Shortage      `json:"short_after_lot"`

	Risk resupply.Replayed `json:"replayed_risk"`
}

// Shortage is fuel that no window brings in time.
type Shortage struct {
	Litres float64        `json:"litres_l15"`
	From   calendar.Day   `json:"from"`
	Until  *calendar.Day  `json:"until"`
	Loads  []FallbackLoad `json:"fallbacks"`
}

// FallbackLoad is a shortage in whole loads of a fallback route.
type FallbackLoad struct {
	Route     string        `json:"route"`
	Mode      string        `json:"mode"`
	Loads     int           `json:"loads"`
	Load      float64       `json:"load_l15"`
	LeadDays  int           `json:"lead_days"`
	InTime    bool          `json:"in_time"`
	OrderBy   *calendar.Day `json:"order_by"`   // the last day on which the first load comes in time; nil where today is too late
	CostMinor int64         `json:"cost_minor"` // in hundredths of Currency; 0 where the price is not known
	Currency  string        `json:"currency,omitempty"`
}

// Expected is an order on its way, or one that is proposed.
type Expected struct {
	Order  string       `json:"order"`
	State  string       `json:"state"`
	Litres float64      `json:"litres_l15"`
	Early  calendar.Day `json:"early"`
	Likely calendar.Day `json:"likely"`
	Late   calendar.Day `json:"late"`
}

// Fault is a usage interval that was named as faulty and not fitted, by the clocks at the plant.
type Fault struct {
	Start    time.Time `json:"start"`
	End      time.Time `json:"end"`
	Litres   float64   `json:"litres_l15"`
	Expected float64   `json:"expected_l15"`
	Reason   string    `json:"reason"`
}
