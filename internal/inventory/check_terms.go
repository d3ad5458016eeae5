package inventory

import (
	"math"
	"slices"
	"time"

	"overwinter/internal/fault"
)

// Limits on the terms of a supply route. They tell a share from a percentage and a price from a sum; none of them
// is met by sound terms. Common practice, no source.
const (
	leastGrowth, mostGrowth = -0.5, 0.9
	mostPriceSD             = 2
	mostDeliveries          = 6
	mostCarrying            = 0.9
	largestAmount           = 1e12 // major units of a currency
)

// terms checks what a delivery costs, how often one comes and when it is paid.
func (f *findings) terms(r *Route) {
	f.within("price_per", r.PricePerLitre, 0, 1e6, "a litre")
	f.within("freight_per", r.FreightPerLitre, 0, 1e6, "a litre")
	f.within("stop_cost", r.StopCost, 0, largestAmount, "")
	f.currency(r.Currency, r.PricePerLitre > 0 || r.FreightPerLitre > 0 || r.StopCost > 0)
	f.share("price_growth_per_year", r.PriceGrowth, leastGrowth, mostGrowth)
	f.share("price_sd_per_year", r.PriceSD, 0, mostPriceSD)
	f.deliveries(r)
	if r.PayFrom != "" {
		oneOf(f, "pay_from", r.PayFrom, PayFromOrder, PayFromDelivery)
	}
	f.within("pay_days", float64(r.PayDays), 0, longestWait, "days")
}

// currency checks a code, and that there is one where money needs it.
func (f *findings) currency(code string, needed bool) {
	if code != "" && !isCurrency(code) {
		f.add("currency", "%s is no currency code: expected three capital letters such as USD", quoted(code))
	}
	if code == "" && needed {
		f.add("currency", "blank: a price needs its currency, such as USD")
	}
}

// share checks a number that is easily taken for a percentage.
func (f *findings) share(where string, value, low, high float64) {
	if !(value >= low && value <= high) {
		f.add(where, "%s is out of range: expected %s to %s, as a share: 0.08 is 8 %%", figure(value), figure(low), figure(high))
	}
}

func (f *findings) deliveries(r *Route) {
	f.within("deliveries", float64(r.Deliveries), 0, mostDeliveries, "")
	f.within("days_between", float64(r.DaysBetween), 0, 366, "days")
	if r.Fallback && r.Deliveries > 1 {
		f.add("deliveries", "a fallback route has no windows, and is there whenever it is needed: leave it blank")
	}
	if r.Deliveries < 2 && r.DaysBetween > 0 {
		f.add("days_between", "%d days, but one delivery a window: state deliveries, or leave it blank", r.DaysBetween)
	}
}

// loads checks the load against the limits of a lot.
func (f *findings) loads(r *Route) {
	switch {
	case r.Fallback && r.LotMax == 0 && r.Load == 0:
		f.add("lot_max", "blank: a fallback route needs it, as the size of one load")
	case r.Load == 0:
	case r.Fallback && r.LotMax > 0 && r.LotMax != r.Load:
		f.add("load", "%s, and lot_max is %s: of a fallback route both are the size of one load; leave one of them blank",
			amount(float64(r.Load), "L"), amount(float64(r.LotMax), "L"))
	case r.Fallback:
	case r.LotMax > 0 && r.Load > r.LotMax:
		f.add("load", "%s is more than lot_max, %s: not one load would fit", amount(float64(r.Load), "L"), amount(float64(r.LotMax), "L"))
	case r.LotStep > 0 && !wholeLoads(r, float64(r.LotStep)):
		f.add("lot_step", "%s is no whole number of loads of %s: leave it blank, and lots are whole loads",
			amount(float64(r.LotStep), "L"), amount(float64(r.Load), "L"))
	case r.LotMax > 0 && math.Floor(float64(r.LotMax/r.Load)+nearlyWholeLoad) < float64(r.LotMin/r.Load)-nearlyWholeLoad:
		f.add("lot_min", "no whole number of loads of %s lies between lot_min, %s, and lot_max, %s", amount(float64(r.Load), "L"),
			amount(float64(r.LotMin), "L"), amount(float64(r.LotMax), "L"))
	}
}

// nearlyWholeLoad is what units written with few digits may take off a whole number of loads.
const nearlyWholeLoad = 1e-6

func wholeLoads(r *Route, litres float64) bool {
	loads := litres / float64(r.Load)
	return math.Abs(loads-math.Round(loads)) <= nearlyWholeLoad
}

// Check says what is wrong with the window limit's row; see [Plant.Check].
func (l *WindowLimit) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&l.Entry)
	f.id("window", l.Name)
	f.monthDay("from", l.From)
	oneOf(&f, "cause", l.Cause, LimitDraft, LimitWeight, LimitTide, LimitOther)
	if l.Void {
		f.id("route", l.Route)
		return f
	}
	f.monthDay("until", l.Until)
	f.note("note", l.Note)
	if !(l.LotMax > 0 && l.LotMax <= largestVolume) {
		f.add("lot_max", "%s: expected more than 0 and at most %s; for days without any delivery end the window by cut_off", amount(float64(l.LotMax), "L"), amount(largestVolume, "L"))
	}
	if route, ok := f.route(dir, l.Route); ok {
		f.ofWindow(dir, l)
		if route.Load > l.LotMax && l.LotMax > 0 {
			f.add("lot_max", "%s is less than one load of route %s, %s: nothing could be delivered; end the window by cut_off instead",
				amount(float64(l.LotMax), "L"), route.ID, amount(float64(route.Load), "L"))
		}
	}
	return f
}

// ofWindow looks up the window whose lots are bounded.
func (f *findings) ofWindow(dir *Directory, l *WindowLimit) {
	all := dir.WindowsOf(l.Route)
	if l.Name == "" || slices.ContainsFunc(all, func(w *Window) bool { return w.Name == l.Name }) {
		return
	}
	f.unknown("window", l.Name, "window", " of route "+l.Route, names(all, func(w *Window) string { return w.Name }))
}

// Check says what is wrong with the spending limit's row; see [Plant.Check].
func (l *SpendingLimit) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&l.Entry)
	f.id("name", l.Name)
	f.day("from", l.From)
	if l.Void {
		f.id("plant", l.Plant)
		return f
	}
	oneOf(&f, "kind", l.Of, SpendingCredit, SpendingLoan, SpendingSupplier)
	f.day("until", l.Until)
	if l.Until < l.From {
		f.add("until", "%s is before from, %s: expected the first day first", l.Until, l.From)
	}
	f.bounded(l)
	if _, ok := f.plant(dir, l.Plant); ok && l.Amount != nil {
		f.oneCurrency(dir, l)
	}
	return f
}

// bounded checks that the limit bounds something.
func (f *findings) bounded(l *SpendingLimit) {
	if l.Amount == nil && l.Volume == nil {
		f.add("amount", "blank, and so is the volume: expected what may be spent, what may be ordered, or both")
	}
	if l.Amount != nil {
		f.within("amount", *l.Amount, 0, largestAmount, "")
	}
	if l.Volume != nil {
		f.within("volume", float64(*l.Volume), 0, largestVolume, "L")
	}
	f.currency(l.Currency, l.Amount != nil)
	if l.Amount == nil && l.Currency != "" {
		f.add("currency", "%s without an amount: state the amount, or leave it blank", quoted(l.Currency))
	}
}

// oneCurrency refuses a limit in another money than that of a route by which the plant is served: what is ordered
// there could not be held against it.
func (f *findings) oneCurrency(dir *Directory, l *SpendingLimit) {
	for _, r := range dir.RoutesOf(l.Plant) {
		if r.Currency != "" && isCurrency(l.Currency) && r.Currency != l.Currency {
			f.add("currency", "%s, and route %s that serves the plant is priced in %s: expected one currency; state the limit as a volume where there are several",
				l.Currency, r.ID, r.Currency)
			return
		}
	}
}
