package web

import (
	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
)

// planView is a plan over several deliveries.
type planView struct {
	Text  string
	Rows  []planRow
	Until string
	Facts []fact
	Why   []string
}

// planRow is one delivery.
type planRow struct{ Name, OrderBy, Arrives, CallBelow, UpTo, Lot, Price, Called, Fails string }

// planOf is the plan as a page shows it, nil where there is none.
func planOf(p advice.Plant) *planView {
	plan := p.Planned
	if plan == nil {
		return nil
	}
	v := &planView{Text: planText(p), Until: planEnd(p), Facts: planFacts(p)}
	for i, l := range plan.Lots {
		v.Rows = append(v.Rows, planRow{
			Name: lotName(p, l), OrderBy: longDay(l.OrderBy, p.AsOf), Arrives: arrival(l.Arrives, p.AsOf), CallBelow: kilolitres(l.CallBelow), UpTo: kilolitres(l.UpTo),
			Lot: kilolitresBetween(l.LotP10, l.LotP90), Price: money(l.PriceMinor), Called: percent(l.Called), Fails: percent(l.FailChance),
		})
		v.Why = append(v.Why, levelText(p, i))
	}
	return v
}

// planHeading is the plan in a few words.
func planHeading(p advice.Plant) string {
	plan := p.Planned
	if len(plan.Lots) == 0 {
		return "Nothing to order before the " + delivery(p, plan.Until.Route, plan.Until.Window) + " of " + openingOf(plan.Until.Opens, p.AsOf) + byFallback(plan)
	}
	return capital(count(len(plan.Lots), "delivery", "deliveries")) + ", about " + money(plan.Cost.P50) + joint + plan.Currency
}

// planText is the plan's answer in a sentence.
func planText(p advice.Plant) string {
	plan := p.Planned
	if len(plan.Lots) == 0 {
		return "The cheapest plan orders nothing before the " + delivery(p, plan.Until.Route, plan.Until.Window) + " of " + openingOf(plan.Until.Opens, p.AsOf) + byFallback(plan) + "."
	}
	return capital(count(len(plan.Lots), "delivery", "deliveries")) + ", about " + money(plan.Cost.P50) + " (" + money(plan.Cost.P10) + " to " + money(plan.Cost.P90) + joint + plan.Currency +
		"), and the stock below its reserve before a fallback on " + percent(plan.Risk.Below) + " of paths."
}

// byFallback says how much a plan leaves to a fallback, where that is so much that it is news.
func byFallback(plan *advice.Planned) string {
	if plan.Risk.Fallback < 1000 {
		return ""
	}
	return ", and leaves " + kL(plan.Risk.Fallback) + " to a fallback on average"
}

func planEnd(p advice.Plant) string {
	u := p.Planned.Until
	return "They carry to the " + delivery(p, u.Route, u.Window) + " of " + openingOf(u.Opens, p.AsOf) + ", from which nothing is planned yet."
}

func openingOf(opens *calendar.Day, asOf calendar.Day) string {
	if opens == nil {
		return "a later day"
	}
	return longDay(*opens, asOf)
}

// lotName names a delivery of the plan.
func lotName(p advice.Plant, l advice.PlannedLot) string {
	name := capital(delivery(p, l.Route, l.Window))
	switch {
	case l.Late:
		name += ", late"
	case l.Delivery > 1:
		name += ", " + ordinal(l.Delivery) + " delivery"
	}
	return name
}

func ordinal(n int) string {
	words := [...]string{"first", "second", "third", "fourth", "fifth", "sixth"}
	if n <= len(words) {
		return words[n-1]
	}
	return "number " + whole(float64(n))
}

// arrival is a day as 10 to 90 %.
func arrival(d resupply.Dates, asOf calendar.Day) string {
	switch {
	case d.P10 == nil:
		return "beyond the days looked at"
	case d.P90 == nil:
		return "after " + shortDay(*d.P10, asOf)
	}
	return shortSpan(*d.P10, *d.P90, asOf)
}

// kilolitresBetween writes a lot's range, once where both ends read the same.
func kilolitresBetween(a, b float64) string {
	low, high := kilolitres(a), kilolitres(b)
	if low == high {
		return high
	}
	return low + " to " + high
}

func planFacts(p advice.Plant) []fact {
	c, r := p.Planned.Cost, p.Planned.Risk
	facts := []fact{
		{"costs", money(c.Mean) + " ± " + money(c.Error) + joint + p.Planned.Currency + " on average of " + whole(float64(r.Paths)) + " paths that it was not made from: stops " + money(c.Fixed) + ", fuel " + money(c.Fuel) +
			", fallback " + money(c.Fallback) + ", interest and storage " + money(c.Carrying) + ", less " + money(c.Left) + " for what is left at the end"},
		{"fallback", kL(r.Fallback) + " on average, at most " + kL(r.FallbackP90) + " on nine of ten paths"},
	}
	if p.Planned.Fallback > 0 {
		facts = append(facts, fact{"before the first", kL(p.Planned.Fallback) + " must come by a fallback at the accepted risk"})
	}
	if r.Missing > 0 {
		facts = append(facts, fact{"missing", kL(r.Missing) + " on average, for which no fallback with a price is known"})
	}
	return facts
}

// levelText says how a level adds up.
func levelText(p advice.Plant, i int) string {
	l := p.Planned.Lots[i]
	w := l.Why
	text := lotName(p, l) + ": " + whole(float64(w.Outflow)) + " L go out from " + longDay(w.From, p.AsOf) + " to " + longDay(w.Tightest, p.AsOf)
	if w.Brought > 0 {
		text += ", less " + whole(float64(w.Brought)) + " L by orders on their way"
	}
	text += ", and " + whole(float64(w.Reserve)) + " L of reserve are to be left: " + whole(float64(w.Asked)) + " L at the accepted risk"
	switch {
	case w.Raised > 0:
		text += "; " + whole(float64(w.Raised)) + " L more, because that is cheaper in the end"
	case w.Raised < 0:
		text += "; " + whole(float64(-w.Raised)) + " L less, since room, lots or money do not allow more"
	}
	if w.Room != nil {
		text += ". There is room for " + whole(float64(*w.Room)) + " L"
	}
	if l.Alone {
		text += ". It fails more often than the accepted risk: no lot from it alone holds that"
	}
	return text + "."
}
