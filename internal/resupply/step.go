package resupply

import "overwinter/internal/calendar"

// StepKind names what a step says.
type StepKind string

// The kinds of step: how the stock goes, the subtraction from the day that decides to the day of the
// order, what an order placed today would bring, the lot, and why a window keeps no reserve.
const (
	ReserveHolds StepKind = "reserve-holds" // to the horizon, at all but the risk
	ReserveFalls StepKind = "reserve-lost"  // the day whose close finds the stock below it

	ClosesAfter   StepKind = "window-closes-after" // the last day before
	DeadlineIs    StepKind = "supplier-deadline"
	LessSlip      StepKind = "less-slip"               // days, and the day that they lead to
	LessLead      StepKind = "less-lead-time"          // days, and the day of the order that they lead to
	TogetherLater StepKind = "order-by-over-all-paths" // of advice that was issued before the joint guard named its path
	SoonestFrom   StepKind = "soonest-from-opening"    // ordered later, the fuel would come after today's order would
	DueToday      StepKind = "due-today"               // since the last day has passed

	OpensOn         StepKind = "window-opens"
	LeadFromToday   StepKind = "lead-time-from-today" // days, and the day that they lead to
	ArrivesWithSlip StepKind = "arrives-with-slip"    // days after the later of both, and the arrival
	BringsNothing   StepKind = "window-brings-nothing"
	MissingOnPath   StepKind = "missing-at-worst"
	MissingAtRisk   StepKind = "covers-shortage"
	NoneReachable   StepKind = "no-window-reachable"

	NothingArrives StepKind = "lot-never-arrives" // within the horizon
	FollowingOn    StepKind = "following-arrives"
	NoneFollows    StepKind = "none-follows" // by the last day looked at
	ReserveThen    StepKind = "reserve-then"
	StockThen      StepKind = "less-stock-then"
	TanksHold      StepKind = "tanks-hold"
	HeldBefore     StepKind = "less-held-before-outflow"
	MissingThen    StepKind = "missing-then" // below 0: left over
	FreeThen       StepKind = "free-then"    // below 0: too much is there without the lot

	// The least lot, what it is kept to in this order, each with the lot after it, and what sets it.
	NoLotNeeded    StepKind = "no-lot-needed"
	LeastFollowing StepKind = "least-to-following-window"
	LeastHorizon   StepKind = "least-to-horizon" // no following window is in sight
	RouteLeast     StepKind = "route-smallest-lot"
	RouteStep      StepKind = "route-step"
	RoomThen       StepKind = "room-on-arrival"
	RouteMost      StepKind = "route-largest-lot"
	WindowMost     StepKind = "window-largest-lot" // on the days on which it may arrive
	LotAsNeeded    StepKind = "lot-as-needed"
	LotRaised      StepKind = "lot-raised" // to the route's smallest lot and step
	LotOfRoom      StepKind = "lot-limited-by-room"
	LotOfRoute     StepKind = "lot-limited-by-route"
	LotOfWindow    StepKind = "lot-limited-by-window"
	LotUnfit       StepKind = "lot-without-room" // for the route's smallest lot or step

	NoRoute        StepKind = "no-route"
	NeverOpens     StepKind = "window-never-opens"
	DeadlinePassed StepKind = "supplier-deadline-passed"
	ClosesTooSoon  StepKind = "window-may-close-too-soon" // whenever it is ordered
	ClosingPassed  StepKind = "window-order-day-passed"
	OpensTooLate   StepKind = "window-may-open-too-late"
	ReservePassed  StepKind = "reserve-order-day-passed"
)

// Step is one step from the day on which a path turns to the answer, with the values that it speaks of;
// those of which its kind does not speak are nil or empty.
type Step struct {
	Kind    StepKind      `json:"code"`
	Day     *calendar.Day `json:"day,omitempty"`
	Days    *int          `json:"days,omitempty"`
	Litres  *int64        `json:"litres_l15,omitempty"`
	Limit   *float64      `json:"limit_l15,omitempty"` // as the route states it, of which Litres are the nearest whole ones
	Lot     *int64        `json:"lot_l15,omitempty"`   // after a limit
	Risk    *float64      `json:"risk_target,omitempty"`
	Route   string        `json:"route,omitempty"`
	Window  string        `json:"window,omitempty"`
	Opening *calendar.Day `json:"window_opens,omitempty"` // median; nil for a window that is open all year
}

// values is a set of the values of a step.
type values int

const (
	aDay values = 1 << iota
	someDays
	someLitres
	aLimit
	aLot
	aRisk
	aWindow // the route, the name, and the opening where it has one
)

// spoken lists every kind of step with the values that it speaks of.
var spoken = []struct {
	kind StepKind
	of   values
}{
	{ReserveHolds, aRisk}, {ReserveFalls, aDay},
	{ClosesAfter, aDay | aWindow}, {DeadlineIs, aDay | aWindow}, {LessSlip, aDay | someDays}, {LessLead, aDay | someDays},
	{TogetherLater, aDay}, {SoonestFrom, aDay | aWindow}, {DueToday, aDay},
	{OpensOn, aDay | aWindow}, {LeadFromToday, aDay | someDays}, {ArrivesWithSlip, aDay | someDays}, {BringsNothing, aWindow},
	{MissingOnPath, aDay | someLitres}, {MissingAtRisk, someLitres}, {NoneReachable, 0},
	{NothingArrives, aWindow}, {FollowingOn, aDay}, {NoneFollows, aDay},
	{ReserveThen, aDay | someLitres}, {StockThen, aDay | someLitres}, {TanksHold, aDay | someLitres}, {HeldBefore, aDay | someLitres},
	{MissingThen, someLitres}, {FreeThen, someLitres},
	{NoLotNeeded, 0}, {LeastFollowing, someLitres}, {LeastHorizon, someLitres},
	{RouteLeast, someLitres | aLimit | aLot}, {RouteStep, someLitres | aLimit | aLot}, {RoomThen, someLitres | aLot}, {RouteMost, someLitres | aLimit | aLot}, {WindowMost, someLitres | aLot},
	{LotAsNeeded, someLitres}, {LotRaised, someLitres}, {LotOfRoom, someLitres}, {LotOfRoute, someLitres}, {LotOfWindow, someLitres}, {LotUnfit, someLitres},
	{NoRoute, 0}, {NeverOpens, aWindow}, {DeadlinePassed, aWindow | aDay}, {ClosesTooSoon, aWindow}, {ClosingPassed, aWindow | aDay},
	{OpensTooLate, aWindow}, {ReservePassed, aWindow | aDay},
}

// spokenBefore lists kinds of which advice that was issued before says less: it stays readable.
var spokenBefore = map[StepKind]values{RoomThen: someLitres, RouteMost: someLitres}

// StepKinds lists every kind of step.
func StepKinds() []StepKind {
	kinds := make([]StepKind, len(spoken))
	for i, s := range spoken {
		kinds[i] = s.kind
	}
	return kinds
}

// speaks gives the values of which a step has something to say.
func (s Step) speaks() values {
	var of values
	for value, said := range map[values]bool{
		aDay: s.Day != nil, someDays: s.Days != nil, someLitres: s.Litres != nil, aLimit: s.Limit != nil, aLot: s.Lot != nil, aRisk: s.Risk != nil, aWindow: s.Route != "",
	} {
		if said {
			of |= value
		}
	}
	return of
}

// step makes a step that speaks of a day and a number of days.
func (p *Problem) step(kind StepKind, day, days int) Step {
	return Step{Kind: kind, Day: p.date(day), Days: &days}
}

// amount makes a step that speaks of litres.
func amount(kind StepKind, litres float64) Step {
	l := int64(whole(litres))
	return Step{Kind: kind, Litres: &l}
}

// step makes a step that speaks of the window.
func (w *Window) step(kind StepKind, day *calendar.Day) Step {
	s := Step{Kind: kind, Day: day, Route: w.Route, Window: w.Name}
	if !w.AllYear {
		opening := w.Opening
		s.Opening = &opening
	}
	return s
}
