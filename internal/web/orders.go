package web

import (
	"net/http"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// ordersPage is a plant's orders, and what became of them.
type ordersPage struct {
	Frame
	Name, Heading, Lead string
	Plant, JSON         string
	Summary             []orderLine
	Orders              []orderView
	Notices             []noticeRow
}

// orderLine is one order in the list of all: as it was first ordered against what came.
type orderLine struct {
	Order, Anchor, State                      string
	Planned, Came, More, Likely, CameOn, Late string
	Act                                       bool
}

// orderView is one order with its life.
type orderView struct {
	Order, Anchor, State, Lead string
	Open                       bool // it is not over
	Plans                      []planLine
	Steps                      []stepLine
	Clearances                 []clearanceRow
	Notices                    []noticeRow
}

// planLine is what an order was to bring, against what came.
type planLine struct{ Name, Litres, Likely, Between, More, Late string }

// stepLine is one row of an order's life.
type stepLine struct{ State, Since, Entered, By, Litres, Likely, Note string }

var ordersTemplate = load[ordersPage]("orders")

func ordersPath(id string) string { return plantPath(id) + "/orders" }

func (s *Site) orders(c echo.Context) error {
	b, err := s.openBooks(c, nil)
	if err != nil {
		return err
	}
	written, err := s.deps.Ledger.OrdersWritten(c.Request().Context(), b.Plant.ID)
	if err != nil {
		return err
	}
	var notes notice.List
	page := ordersOf(b, b.OrderLives(written, &notes))
	page.Frame = s.frame(c, "fleet", page.Name+": "+page.Heading)
	page.AsOf = "at the close of " + fullDay(b.AsOf) + " · kL at 15" + joint + "°C"
	w := bookWordsOf(b)
	for _, n := range notes {
		page.Notices = append(page.Notices, w.notice(n))
	}
	if s.deps.JSON != nil {
		page.JSON = s.deps.JSON(b.Plant.ID) + "/orders"
	}
	return ordersTemplate.render(c, http.StatusOK, page)
}

func ordersOf(b *inventory.Stretch, lives []inventory.OrderLife) ordersPage {
	page := ordersPage{Name: b.Plant.Name, Plant: plantPath(b.Plant.ID), Heading: ordersHeading(lives), Lead: ordersLead(lives)}
	w := orderWords{bookWordsOf(b)}
	for i, l := range lives {
		anchor := "order-" + strconv.Itoa(i+1)
		page.Summary = append(page.Summary, w.line(l, anchor))
		page.Orders = append(page.Orders, w.view(l, anchor))
	}
	return page
}

// ordersHeading says what is still to come.
func ordersHeading(lives []inventory.OrderLife) string {
	coming, proposed := 0, 0
	litres := units.LitresAt15(0)
	for _, l := range lives {
		if l.Counted {
			coming, litres = coming+1, litres+l.Expected
		}
		if l.State.Planned() {
			proposed++
		}
	}
	var said []string
	if coming > 0 {
		said = append(said, kL(float64(litres))+" on the way in "+count(coming, "order", "orders"))
	}
	if proposed > 0 {
		said = append(said, count(proposed, "order is", "orders are")+" proposed")
	}
	switch {
	case len(lives) == 0:
		return "No order is in the ledger"
	case said == nil:
		return "Nothing is on its way"
	}
	return capital(strings.Join(said, "; "))
}

// ordersLead says how the orders that came kept to what was planned.
func ordersLead(lives []inventory.OrderLife) string {
	came, late, worst := 0, 0, 0
	for _, l := range lives {
		if l.AsOrdered.DaysLate == nil {
			continue
		}
		came++
		if d := *l.AsOrdered.DaysLate; d > 0 {
			late, worst = late+1, max(worst, d)
		}
	}
	switch {
	case came == 0:
		return "No order has come yet that could be held against its plan."
	case late == 0:
		return capital(count(came, "order has", "orders have")) + " come, none later than was likely when it was ordered."
	}
	of := number(late)
	if late == came {
		of = "all"
	}
	return capital(count(came, "order has", "orders have")) + " come, " + of + " of them later than was likely when they were ordered; the latest by " + days(worst) + "."
}

// orderWords writes orders for people.
type orderWords struct{ bookWords }

func (w orderWords) line(l inventory.OrderLife, anchor string) orderLine {
	r := orderLine{
		Order: l.Order, Anchor: anchor, State: stateName(l.State), Planned: kilolitres(float64(l.AsOrdered.Litres)), Came: none, CameOn: none,
		Likely: shortDay(l.AsOrdered.Likely, w.asOf),
	}
	if d := l.Delivered; d != nil {
		r.Came, r.CameOn = kilolitres(float64(d.Litres)), shortSpan(d.FirstOn, d.LastOn, w.asOf)
	}
	r.More, r.Late = difference(l.AsOrdered)
	return r
}

// difference writes what came less what was planned, in litres and days.
func difference(p inventory.OrderPlan) (more, late string) {
	more, late = none, none
	if p.More != nil {
		more = withSign(kilolitres(float64(*p.More)))
	}
	if p.DaysLate != nil {
		switch d := *p.DaysLate; {
		case d > 0:
			late = days(d) + " late"
		case d < 0:
			late = days(-d) + " early"
		default:
			late = "on the day"
		}
	}
	return more, late
}

// withSign sets a plus before a number that has no sign and is not nothing.
func withSign(number string) string {
	if strings.HasPrefix(number, "−") || strings.Trim(number, "0.") == "" {
		return number
	}
	return "+" + number
}

func (w orderWords) view(l inventory.OrderLife, anchor string) orderView {
	v := orderView{Order: l.Order, Anchor: anchor, State: stateName(l.State), Open: !l.State.Over(), Lead: w.lead(l)}
	for _, p := range []struct {
		name string
		plan inventory.OrderPlan
	}{{"as first ordered", l.AsOrdered}, {"as last stated", l.AsStated}} {
		more, late := difference(p.plan)
		v.Plans = append(v.Plans, planLine{p.name, kilolitres(float64(p.plan.Litres)), shortDay(p.plan.Likely, w.asOf), shortSpan(p.plan.Early, p.plan.Late, w.asOf), more, late})
	}
	for _, h := range l.History {
		v.Steps = append(v.Steps, w.step(h))
	}
	for _, c := range l.Clearances {
		v.Clearances = append(v.Clearances, clearanceOf(c, w.asOf))
	}
	for _, n := range l.Notices {
		v.Notices = append(v.Notices, w.notice(n))
	}
	return v
}

// lead says in a sentence how the order stands.
func (w orderWords) lead(l inventory.OrderLife) string {
	switch {
	case l.Counted:
		return kL(float64(l.Expected)) + " are still to come, and are counted on at the dates last stated."
	case l.State.Planned():
		text := "Not placed yet: nothing counts on it."
		if l.OrderBy != nil {
			text += " To come as stated it must be placed by " + longDay(*l.OrderBy, w.asOf) + "."
		}
		return text
	case l.Delivered != nil:
		return capital(count(l.Delivered.Rows, "delivery", "deliveries")) + " brought " + kL(float64(l.Delivered.Litres)) + "."
	}
	return ""
}

func (w orderWords) step(h inventory.OrderEntered) stepLine {
	s := stepLine{
		State: stateName(h.State), Since: none, Entered: moment(h.RecordedAt, w.zone, w.asOf), By: none,
		Litres: kilolitres(float64(h.Litres)), Likely: shortDay(h.Likely, w.asOf),
	}
	if h.StateAt != nil {
		s.Since = moment(*h.StateAt, w.zone, w.asOf)
	}
	if h.Who != nil {
		s.By = *h.Who
	}
	var notes []string
	if h.Why != nil {
		notes = append(notes, capital(*h.Why)+".")
	}
	for _, n := range h.Notices {
		notes = append(notes, capital(w.message(n.Message))+".")
	}
	s.Note = strings.Join(notes, " ")
	return s
}
