package advice

import (
	"math"
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

// Planned is the cheapest way to supply the plant until the delivery that ends the plan. Money is in hundredths
// of Currency; volumes are litres at 15 °C.
type Planned struct {
	Currency string       `json:"currency"`
	Lots     []PlannedLot `json:"lots"`
	Until    PlannedEnd   `json:"until"`
	// Fallback is what must be flown or hauled by the fallback before the first lot, at the risk target.
	Fallback float64 `json:"fallback_before_first_l15"`
	// Lack is how much of the reserve the tanks have no room for; 0 where it can be kept.
	Lack float64     `json:"reserve_without_room_l15"`
	Cost PlannedCost `json:"cost"`
	Risk PlannedRisk `json:"replayed_risk"`
}

// PlannedLot is one delivery of the plan.
type PlannedLot struct {
	Route    string         `json:"route"`
	Window   string         `json:"window"`
	Opens    *calendar.Day  `json:"window_opens"` // median; nil for a way open all year
	Delivery int            `json:"delivery"`     // of the window, from 1
	Late     bool           `json:"late"`         // as late in the window as it surely can come
	OrderBy  calendar.Day   `json:"order_by"`
	Arrives  resupply.Dates `json:"arrives"`
	// UpTo is the usable stock to which the delivery fills the tanks: what decides the lot on the day.
	UpTo float64 `json:"fill_up_to_l15"`
	// CallBelow is the usable stock with which, or with more, it is not called for.
	CallBelow float64 `json:"call_below_l15"`
	Lot       float64 `json:"lot_p50_l15"`
	LotP10    float64 `json:"lot_p10_l15"`
	LotP90    float64 `json:"lot_p90_l15"`
	// Called is the share of paths on which any of it is called for.
	Called float64 `json:"called_for"`
	// PriceMinor is that of a thousand litres, freight included, expected.
	PriceMinor int64   `json:"price_of_kl_minor"`
	FailChance float64 `json:"fail_chance"`
	// Alone tells that it fails more often than the risk target: no lot from it alone holds the target.
	Alone bool         `json:"holds_no_target_alone"`
	Why   PlannedLevel `json:"level"`
}

// PlannedLevel is why a delivery fills up to its level, on the path that decides it: outflow, less what orders on
// their way bring, and the reserve add up to what is asked; with what is raised they add up to the level.
type PlannedLevel struct {
	Path     int          `json:"path"`
	From     calendar.Day `json:"arrives"`
	Tightest calendar.Day `json:"tightest"`
	Outflow  int64        `json:"outflow_l15"`
	Brought  int64        `json:"brought_by_orders_l15"`
	Reserve  int64        `json:"reserve_l15"`
	Asked    int64        `json:"asked_l15"`
	Raised   int64        `json:"raised_l15"` // because it is cheaper; below 0 for want of room
	Room     *int64       `json:"room_l15"`   // nil where there is no limit
}

// PlannedEnd is the delivery to which the last lot carries; nothing is planned from it.
type PlannedEnd struct {
	Route   string         `json:"route"`
	Window  string         `json:"window"`
	Opens   *calendar.Day  `json:"window_opens"`
	Arrives resupply.Dates `json:"arrives"`
}

// PlannedCost is what the plan is expected to cost on paths that it was not made from. Its parts are means; what
// is left in the tanks at the end is taken off the total.
type PlannedCost struct {
	Mean     int64 `json:"mean_minor"`
	Error    int64 `json:"standard_error_minor"`
	P10      int64 `json:"p10_minor"`
	P50      int64 `json:"p50_minor"`
	P90      int64 `json:"p90_minor"`
	Fixed    int64 `json:"stops_minor"`
	Fuel     int64 `json:"fuel_minor"`
	Fallback int64 `json:"fallback_minor"`
	Carrying int64 `json:"carrying_minor"`
	Left     int64 `json:"left_at_end_minor"`
}

// PlannedRisk is how the plan fares on those paths.
type PlannedRisk struct {
	Paths int `json:"paths"`
	// Below is the share of paths that are below the reserve at any time before a fallback brings fuel.
	Below float64 `json:"below_reserve"`
	// BelowIn has it before the first lot, then after each, over the paths on which the deliveries come.
	BelowIn     []float64 `json:"below_reserve_by_stretch"`
	Fallback    float64   `json:"fallback_mean_l15"`
	FallbackP90 float64   `json:"fallback_p90_l15"`
	Missing     float64   `json:"missing_mean_l15"` // where there is no fallback with a price
}

// plan adds the plan to the advice, and its replay on fresh paths. Where a price is not known there is none.
func (r *run) plan(a *Plant, problem, fresh *resupply.Problem) {
	currency, ok := currencyOf(problem)
	if !ok {
		if len(problem.Windows) > 0 {
			a.Notices.Add(notice.New(notice.Info, "plan-without-prices", a.Plant,
				"no plan over several deliveries: give the price per litre of every route, in one currency"))
		}
		return
	}
	r.keepCurrency(a, currency, problem, fresh)
	plan := problem.Plan(r.opts.Seed)
	if plan == nil {
		a.Notices.Add(notice.New(notice.Info, "plan-without-next", a.Plant,
			"no plan over several deliveries: fewer than two are in sight, so that a lot has nowhere to carry to; state the windows of the years to come"))
		return
	}
	if r.compare != nil {
		r.compare.plan, r.compare.fresh = plan, fresh
	}
	replayed := plan.Replay(fresh, r.opts.Seed+freshSeed)
	a.Planned = plannedOf(plan, replayed, currency)
	for _, b := range replayed.Bounded {
		a.Notices.Add(notice.New(notice.Caution, "plan-bounded", "spending limit "+b.Limit,
			"it keeps lots of the plan smaller than the stock of the day asks for on %.0f %% of the paths: the lots stay within it, and what they lack comes by a fallback or is missing", 100*b.Share))
	}
	if plan.Lack > 0 {
		a.Notices.Add(notice.New(notice.Caution, "reserve-without-room", a.Plant,
			"the plan cannot hold %.0f kL of the reserve at the risk target: the tanks have no room for what the longest wait asks for", plan.Lack/1000))
	}
}

// keepCurrency leaves out of both problems the spending limits that are in another currency than the plan.
func (r *run) keepCurrency(a *Plant, currency string, problem, fresh *resupply.Problem) {
	other := func(s resupply.Spending) bool { return s.Money != nil && s.Currency != currency }
	for _, s := range problem.Spending {
		if other(s) {
			a.Notices.Add(notice.New(notice.Caution, CodeSpendingUsed, "spending limit "+s.Name,
				"it is in %s and the prices are in %s, so it does not bound the plan: state both in one currency", s.Currency, currency))
		}
	}
	problem.Spending = slices.DeleteFunc(slices.Clone(problem.Spending), other)
	fresh.Spending = slices.DeleteFunc(slices.Clone(fresh.Spending), other)
}

// currencyOf is the one currency in which all prices of a problem are known.
func currencyOf(p *resupply.Problem) (currency string, ok bool) {
	for _, w := range p.Windows {
		if w.Terms.Price <= 0 || (currency != "" && w.Terms.Currency != currency) {
			return "", false
		}
		currency = w.Terms.Currency
	}
	for _, f := range p.Fallbacks {
		if f.Price > 0 && currency != "" && f.Currency != currency {
			return "", false
		}
	}
	return currency, currency != ""
}

func plannedOf(plan *resupply.Plan, r resupply.PlanReplayed, currency string) *Planned {
	out := &Planned{
		Currency: currency, Lots: []PlannedLot{}, Fallback: plan.Fallback, Lack: plan.Lack,
		Until: PlannedEnd{plan.Until.Window.Route, plan.Until.Window.Name, opening(plan.Until.Window), plan.Until.Arrives},
		Cost: PlannedCost{
			Mean: minor(r.Cost.Mean), Error: minor(r.Cost.Error), P10: minor(r.Cost.P10), P50: minor(r.Cost.P50), P90: minor(r.Cost.P90),
			Fixed: minor(r.Fixed), Fuel: minor(r.Fuel), Fallback: minor(r.Flown), Carrying: minor(r.Carrying), Left: minor(r.Left),
		},
		Risk: PlannedRisk{Paths: r.Paths, Below: r.Below, BelowIn: r.BelowIn, Fallback: r.Fallback, FallbackP90: r.FallbackP90, Missing: r.Missing},
	}
	for _, l := range plan.Lots {
		out.Lots = append(out.Lots, PlannedLot{
			Route: l.Window.Route, Window: l.Window.Name, Opens: opening(l.Window), Delivery: l.Delivery, Late: l.Late, OrderBy: l.OrderBy, Arrives: l.Arrives,
			UpTo: l.UpTo, CallBelow: l.CallBelow, Lot: l.Litres.P50, LotP10: l.Litres.P10, LotP90: l.Litres.P90, Called: l.Called,
			PriceMinor: minor(1000 * l.Price), FailChance: l.FailShare, Alone: l.Alone, Why: levelOf(l.Why, l.UpTo),
		})
	}
	return out
}

// levelOf rounds to whole litres so that the parts still add up.
func levelOf(w resupply.Because, upTo float64) PlannedLevel {
	l := PlannedLevel{
		Path: w.Path, From: w.From, Tightest: w.Tightest,
		Outflow: round(w.Outflow), Brought: round(w.Brought), Reserve: round(w.Reserve),
	}
	l.Asked = l.Outflow - l.Brought + l.Reserve
	l.Raised = round(upTo) - l.Asked
	if !math.IsInf(w.Room, 1) {
		room := round(w.Room)
		l.Room = &room
	}
	return l
}

func opening(w *resupply.Window) *calendar.Day {
	if w.AllYear {
		return nil
	}
	day := w.Opening
	return &day
}

func round(x float64) int64 { return int64(math.Round(x)) }

// minor turns major units of a currency into hundredths.
func minor(money float64) int64 { return round(100 * money) }
