package web

import (
	"math"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// arrivalRow is an order on its way, or one that is proposed.
type arrivalRow struct{ Order, State, Litres, Likely, Between string }

func arrivalRows(orders []advice.Expected, asOf calendar.Day) []arrivalRow {
	var rows []arrivalRow
	for _, o := range orders {
		rows = append(rows, arrivalRow{o.Order, stateName(inventory.OrderState(o.State)), kilolitres(o.Litres), shortDay(o.Likely, asOf), shortSpan(o.Early, o.Late, asOf)})
	}
	return rows
}

// stateName is an order's state in words.
func stateName(s inventory.OrderState) string { return plain(string(s.Means())) }

func inTransit(p advice.Plant) string {
	if p.Stock.InTransit <= 0 {
		return ""
	}
	return kL(p.Stock.InTransit)
}

// clearanceRow is a gate that an order must pass.
type clearanceRow struct {
	Name, Order, Standing, LastSafe, By, Note string
	Act                                       bool
}

func clearanceRows(p advice.Plant) []clearanceRow {
	var rows []clearanceRow
	for _, c := range p.Clearances {
		rows = append(rows, clearanceOf(c, p.AsOf))
	}
	return rows
}

func clearanceOf(c inventory.OrderClearanceState, asOf calendar.Day) clearanceRow {
	r := clearanceRow{Name: c.Clearance, Order: c.Order, Standing: "not given yet", LastSafe: none, By: none, Act: c.State == inventory.ClearanceOverdue}
	if c.LastSafe != nil {
		r.LastSafe = shortDay(*c.LastSafe, asOf)
	}
	switch c.State {
	case inventory.ClearanceGiven:
		r.Standing = "given " + shortDay(*c.ClearedOn, asOf)
	case inventory.ClearanceDue:
		r.Standing = "due in " + days(int(*c.LastSafe-asOf))
		if *c.LastSafe == asOf {
			r.Standing = "due today"
		}
	case inventory.ClearanceOverdue:
		r.Standing = "overdue by " + days(int(asOf-*c.LastSafe))
	}
	if c.By != nil {
		r.By = *c.By
	}
	if c.Note != nil {
		r.Note = *c.Note
	}
	return r
}

// overfullView is an order that finds too little room, and what may become of the rest.
type overfullView struct {
	Order, Text string
	Choices     []string
}

func overfullViews(p advice.Plant) []overfullView {
	var all []overfullView
	for _, o := range p.Overfull {
		v := overfullView{Order: o.Order, Text: overfullText(o, p)}
		for _, c := range o.Choices {
			text := capital(typeset(notice.Notice{Subject: o.Order, Message: c.Message}, p))
			v.Choices = append(v.Choices, text+".")
		}
		all = append(all, v)
	}
	return all
}

func overfullText(o advice.Overfull, p advice.Plant) string {
	text := "Of its " + kL(o.Litres) + ", " + kL(o.RoomP50) + " are likely to have room when it comes, about " + longDay(o.Arrives, p.AsOf) +
		" (" + kLSpan(o.RoomP10, o.RoomP90) + " in eight of ten simulated paths). " + kL(o.Balance) + " have none"
	if o.BalanceMinor != nil {
		text += ", " + whole(math.Round(float64(*o.BalanceMinor)/100)) + joint + *o.Currency + " of its price"
	}
	text += ": they are in no tank and not counted on. "
	switch {
	case o.RoomForAll.P50 == nil:
		return text + "There is not likely to be room for all of it as far as anybody looked."
	case o.RoomForAll.AtRisk == nil:
		return text + "There is likely to be room for all of it from " + longDay(*o.RoomForAll.P50, p.AsOf) + " on."
	}
	return text + "There is likely to be room for all of it from " + longDay(*o.RoomForAll.P50, p.AsOf) + " on, and by " +
		longDay(*o.RoomForAll.AtRisk, p.AsOf) + " at all but the accepted risk."
}
