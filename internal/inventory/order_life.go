package inventory

import (
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// OrderWritten is a row of an order as it was written, in force or not.
type OrderWritten struct {
	*Order
	RecordedAt time.Time
}

// OrderLife is an order with all that became of it, as machines read it.
type OrderLife struct {
	Order   string     `json:"order"`
	Route   string     `json:"route"`
	State   OrderState `json:"state"`
	Counted bool       `json:"counted"` // the projection counts on what it is still to bring
	// Expected is what it is still to bring.
	Expected   units.LitresAt15      `json:"expected_l15"`
	OrderedOn  calendar.Day          `json:"ordered_on"`
	OrderBy    *calendar.Day         `json:"order_by"`
	History    []OrderEntered        `json:"history"` // oldest first
	AsOrdered  OrderPlan             `json:"as_ordered"`
	AsStated   OrderPlan             `json:"as_stated"`
	Delivered  *OrderDelivered       `json:"delivered"` // nil where nothing has come
	Clearances []OrderClearanceState `json:"clearances"`
	Notices    notice.List           `json:"notices"`
}

// OrderEntered is one row of an order's life.
type OrderEntered struct {
	State      OrderState       `json:"state"`
	StateAt    *time.Time       `json:"state_at"` // nil where it was not stated
	RecordedAt time.Time        `json:"recorded_at"`
	Who        *string          `json:"who"`
	Why        *string          `json:"why"`
	Key        string           `json:"key"`
	Litres     units.LitresAt15 `json:"litres_l15"`
	Early      calendar.Day     `json:"early"`
	Likely     calendar.Day     `json:"likely"`
	Late       calendar.Day     `json:"late"`
	Notices    notice.List      `json:"notices"` // what is unusual about the step to it
}

// OrderPlan is what an order was to bring and when, and how what came differs from it.
type OrderPlan struct {
	Litres units.LitresAt15 `json:"litres_l15"`
	Early  calendar.Day     `json:"early"`
	Likely calendar.Day     `json:"likely"`
	Late   calendar.Day     `json:"late"`
	// More is what was delivered less the plan, and DaysLate the day of the last delivery less the likely one; nil
	// as long as the order has not arrived.
	More     *units.LitresAt15 `json:"delivered_more_l15"`
	DaysLate *int              `json:"days_late"`
}

// OrderDelivered is what an order's deliveries have brought.
type OrderDelivered struct {
	Litres  units.LitresAt15 `json:"litres_l15"`
	FirstOn calendar.Day     `json:"first_on"`
	LastOn  calendar.Day     `json:"last_on"`
	Rows    int              `json:"deliveries"`
}

// OrderClearanceState is a clearance of an order as machines read it.
type OrderClearanceState struct {
	Order     string         `json:"order"`
	Clearance string         `json:"clearance"`
	State     ClearanceState `json:"state"`
	LastSafe  *calendar.Day  `json:"last_safe_on"`
	TakesDays *int           `json:"takes_days"`
	ClearedOn *calendar.Day  `json:"cleared_on"`
	By        *string        `json:"by"`
	Note      *string        `json:"note"`
	Key       string         `json:"key"`
}

// Stated gives a standing clearance as machines read it.
func (s StandingClearance) Stated() OrderClearanceState {
	return OrderClearanceState{s.Order, s.Name, s.State, s.LastSafe, s.TakesDays, s.ClearedOn, stated(s.By), stated(s.Note), s.Key}
}

// OrderLives gives the life of every order in force, the newest first. The rows written are all of the plant's
// orders; notes take what weakens the figures.
func (b *Book) OrderLives(dir *Directory, written []OrderWritten, notes *notice.List) []OrderLife {
	byKey := map[string]OrderWritten{}
	for _, w := range written {
		byKey[w.Key] = w
	}
	all := []OrderLife{}
	for _, o := range slices.Backward(b.rows.Orders) { // they are in order of the day of ordering
		all = append(all, b.lifeOf(o, chainOf(o, byKey), dir, notes))
	}
	return all
}

// OrderLives is [Book.OrderLives] by the directory that the book was opened with.
func (s *Stretch) OrderLives(written []OrderWritten, notes *notice.List) []OrderLife {
	return s.Book.OrderLives(s.dir, written, notes)
}

// chainOf gives the rows that led to an order's row in force, itself the last. One that was written after the rows
// were read stands for itself alone.
func chainOf(o *Order, byKey map[string]OrderWritten) []OrderWritten {
	var chain []OrderWritten
	for key := o.Key; ; {
		w, ok := byKey[key]
		if !ok {
			break
		}
		chain = append(chain, w)
		key = w.Replaces
	}
	if chain == nil {
		chain = []OrderWritten{{Order: o}}
	}
	slices.Reverse(chain)
	return chain
}

func (b *Book) lifeOf(o *Order, chain []OrderWritten, dir *Directory, notes *notice.List) OrderLife {
	life := OrderLife{
		Order: o.ID, Route: o.Route, State: o.State.Means(), OrderedOn: o.OrderedOn, OrderBy: o.MustBePlacedBy(dir),
		Clearances: []OrderClearanceState{}, Notices: notice.List{}, Delivered: b.delivered(o, notes),
	}
	life.Expected = b.expected(o, &life.Notices)
	life.Counted = life.Expected > 0
	for i, w := range chain {
		step := b.entered(w, notes)
		if i > 0 {
			step.Notices.Add(OrderStepped(chain[i-1].Order, w.Order)...)
		}
		life.History = append(life.History, step)
	}
	life.AsOrdered = b.planOf(firstPlaced(chain), o, life.Delivered, notes)
	life.AsStated = b.planOf(o, o, life.Delivered, notes)
	if o.State.Arrived() {
		life.Notices.Add(b.Lacking(o)...)
	}
	for _, s := range b.ClearancesOf(o, dir) {
		life.Clearances = append(life.Clearances, s.Stated())
		if !o.State.Over() {
			life.Notices.Add(s.notices(o, b.AsOf)...)
		}
	}
	return life
}

func (b *Book) entered(w OrderWritten, notes *notice.List) OrderEntered {
	return OrderEntered{
		State: w.State.Means(), StateAt: w.StateAt, RecordedAt: w.RecordedAt, Who: stated(w.Who), Why: stated(w.Why), Key: w.Key,
		Litres: units.LitresAt15(b.at15(w.Measure, "orders", notes)), Early: w.Early, Likely: w.Likely, Late: w.Late,
		Notices: notice.List{},
	}
}

// firstPlaced gives the first row at which the order was placed; the first of all where it never was.
func firstPlaced(chain []OrderWritten) *Order {
	i := slices.IndexFunc(chain, func(w OrderWritten) bool { return !w.State.Planned() })
	return chain[max(i, 0)].Order
}

func (b *Book) planOf(plan, now *Order, came *OrderDelivered, notes *notice.List) OrderPlan {
	p := OrderPlan{Litres: units.LitresAt15(b.at15(plan.Measure, "orders", notes)), Early: plan.Early, Likely: plan.Likely, Late: plan.Late}
	if came != nil && now.State.Arrived() {
		more, late := came.Litres-p.Litres, int(came.LastOn-plan.Likely)
		p.More, p.DaysLate = &more, &late
	}
	return p
}

// delivered is what came of an order as its deliveries state it, nil where none names it. One that looks wrong counts
// here as the books count it: not at all until it is corrected or confirmed.
func (b *Book) delivered(o *Order, notes *notice.List) *OrderDelivered {
	var came *OrderDelivered
	for _, d := range b.rows.Deliveries {
		if d.Order != o.ID || !d.At.Before(b.close()) {
			continue
		}
		day := calendar.DayOf(d.At, b.Zone)
		if came == nil {
			came = &OrderDelivered{FirstOn: day, LastOn: day}
		}
		came.Litres += units.LitresAt15(b.at15(d.Measure, "deliveries", notes))
		came.FirstOn, came.LastOn = min(came.FirstOn, day), max(came.LastOn, day)
		came.Rows++
	}
	return came
}
