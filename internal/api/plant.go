package api

import (
	"context"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// PlantAnswer is a plant as the ledger describes it: what it is, its rules, tanks, meters and routes.
type PlantAnswer struct {
	Head
	Subject
	Group         string            `json:"climate_group"`
	Product       inventory.Product `json:"product"`
	Specification string            `json:"product_specification"`
	Density       float64           `json:"density15_kgm3"`
	Rules         Rules             `json:"rules"`
	Tanks         []TankDescribed   `json:"tanks"`
	Meters        []MeterDescribed  `json:"meters"`
	Routes        []RouteDescribed  `json:"routes"`

	SpendingLimits []SpendingDescribed `json:"spending_limits"`
}

// Rules is what a plant is planned by; where the plant states none the usual one stands here.
type Rules struct {
	ReserveDays        *int     `json:"reserve_days"`
	ReserveLitres      *float64 `json:"reserve_l15"`
	ReserveMonths      *float64 `json:"reserve_months"`
	ReservePercent     *float64 `json:"reserve_percent"`
	FallbackAtDays     *int     `json:"fallback_at_days"`
	Carrying           *float64 `json:"carrying_per_year"`
	RiskTarget         float64  `json:"risk_target"`
	AssumedTemperature float64  `json:"assumed_temperature_c"`
	WarmTo             float64  `json:"warm_to_c"`
	FiscalYearBegins   int      `json:"fiscal_year_begins_month"`
}

// TankDescribed is a tank as the ledger describes it.
type TankDescribed struct {
	Tank     string              `json:"tank"`
	Role     inventory.Role      `json:"role"`
	Product  inventory.Product   `json:"product"`
	Shape    inventory.ShapeKind `json:"shape"`
	Diameter *units.Millimetres  `json:"diameter_mm"`
	Length   *units.Millimetres  `json:"length_mm"`
	Width    *units.Millimetres  `json:"width_mm"`
	Height   *units.Millimetres  `json:"height_mm"`
	SafeFill *float64            `json:"safe_fill_l"`
	DayTank  *DayTankDescribed   `json:"day_tank"` // nil for a tank of another role
	OutFrom  *calendar.Day       `json:"out_from"`
	BackOn   *calendar.Day       `json:"back_on"`
}

// DayTankDescribed is the levels of a day tank's pump and float, as observed volumes below them; where the
// ledger states none the usual one stands here.
type DayTankDescribed struct {
	FillStart   float64  `json:"fill_start_l"`
	FillStop    float64  `json:"fill_stop_l"`
	LowLevel    *float64 `json:"low_level_l"`
	Unusable    float64  `json:"unusable_l"`
	TimerHours  float64  `json:"low_level_timer_hours"`
	FillMinutes *float64 `json:"fill_minutes"`
}

// MeterDescribed is a meter as the ledger describes it.
type MeterDescribed struct {
	Meter          string  `json:"meter"`
	Digits         *int    `json:"digits"`
	LitresPerCount float64 `json:"litres_per_count"`
	Factor         float64 `json:"factor"`
	Compensated    bool    `json:"compensated"`
}

func (a *API) plantOperations() {
	register(a, huma.Operation{
		OperationID: "get-plant", Path: "/plants/{plant}", Tags: []string{"Advice"},
		Summary:     "What a plant is",
		Description: "A plant as the ledger describes it: the rules that it is planned by, tanks, meters and supply routes. It is there before its first advice is.",
	}, plantErrors(), a.getPlant)
}

func (a *API) getPlant(ctx context.Context, q *PlantQuestion) (*PlantAnswer, error) {
	rows, err := a.Ledger.Directory(ctx)
	if err != nil {
		return nil, err
	}
	dir := inventory.NewDirectory(rows)
	p := dir.Plant(q.Plant)
	if p == nil {
		return nil, fault.New(fault.NotFound, "there is no plant %q: check its id", q.Plant)
	}
	in, err := a.Desk.InForce(ctx)
	if err != nil {
		return nil, err
	}
	answer := describePlant(dir, p)
	if advised, err := in.Plant(p.ID); err == nil {
		answer.Head = headOf(advised)
	}
	return answer, nil
}

func describePlant(dir *inventory.Directory, p *inventory.Plant) *PlantAnswer {
	answer := &PlantAnswer{
		Head:    Head{Basis: basis15, Quality: advice.NoAnswer, Assumptions: []string{}, Notices: notice.List{}},
		Subject: Subject{p.ID, p.Name, p.Zone}, Group: p.Group,
		Product: p.Product, Specification: p.Product.Specification(), Density: float64(p.Density()), Rules: rulesOf(p),
		Tanks: []TankDescribed{}, Meters: []MeterDescribed{}, Routes: []RouteDescribed{}, SpendingLimits: []SpendingDescribed{},
	}
	for _, t := range dir.TanksOf(p.ID) {
		answer.Tanks = append(answer.Tanks, describeTank(t, p))
	}
	for _, m := range dir.MetersOf(p.ID) {
		d := MeterDescribed{m.ID, stated(m.Digits), m.LitresPerCount, m.Factor, m.Compensated}
		if d.Factor == 0 {
			d.Factor = 1
		}
		answer.Meters = append(answer.Meters, d)
	}
	for _, r := range dir.RoutesOf(p.ID) {
		answer.Routes = append(answer.Routes, describeRoute(dir, r))
	}
	for _, l := range dir.SpendingOf(p.ID) {
		answer.SpendingLimits = append(answer.SpendingLimits, describeSpending(l))
	}
	return answer
}

func rulesOf(p *inventory.Plant) Rules {
	r := Rules{
		RiskTarget: p.Risk(), AssumedTemperature: float64(p.FuelTemperature()), WarmTo: float64(p.WarmestFuel()),
		FiscalYearBegins: int(p.FiscalBegin()), FallbackAtDays: p.FallbackAtDays, Carrying: p.Carrying,
	}
	switch { // one stands in a sound row: the order is that of the advice
	case p.ReserveLitres != nil:
		r.ReserveLitres = (*float64)(p.ReserveLitres)
	case p.ReserveDays != nil:
		r.ReserveDays = p.ReserveDays
	case p.ReserveMonths != nil:
		r.ReserveMonths = p.ReserveMonths
	case p.ReservePercent != nil:
		r.ReservePercent = p.ReservePercent
	default:
		r.ReserveDays = stated(inventory.DefaultReserveDays)
	}
	return r
}

func describeTank(t *inventory.Tank, p *inventory.Plant) TankDescribed {
	d := TankDescribed{
		Tank: t.ID, Role: t.Role, Product: t.Product, Shape: t.Shape, Diameter: t.Diameter, Length: t.Length,
		Width: t.Width, Height: t.Height, OutFrom: t.OutFrom, BackOn: t.BackOn,
	}
	if m, err := t.Measured(); err == nil {
		fill := float64(m.SafeFill)
		d.SafeFill = &fill
	}
	if day, err := t.DayTank(p); err == nil && t.Role == inventory.DayTank {
		d.DayTank = &DayTankDescribed{
			FillStart: float64(day.FillStart), FillStop: float64(day.FillStop), LowLevel: stated(float64(day.Low)),
			Unusable: float64(day.Unusable), TimerHours: day.Timer().Hours(), FillMinutes: t.FillMinutes,
		}
	}
	return d
}

// stated gives nil for a zero value that stands for not stated.
func stated[T comparable](v T) *T {
	var none T
	if v == none {
		return nil
	}
	return &v
}
