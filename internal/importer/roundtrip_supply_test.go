package importer

import (
	"time"

	"pgregory.net/rapid"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

func (d *drawn) supply(rows *inventory.Rows, i int) *inventory.Route {
	r := &inventory.Route{
		Entry: d.entry(), ID: d.id("R", i), Mode: pick(d, "mode", inventory.Barge, inventory.Sealift, inventory.Air), Supplier: d.text("supplier"),
		Fallback: d.chance("fallback"), LeadDays: draw[float64](d, "lead", 0, 90), LeadSDDays: draw[float64](d, "sd", 0, 9), SlipDays: draw[float64](d, "slip", 0, 9),
		SlipSDDays: draw[float64](d, "slip sd", 0, 9), LotMin: draw[units.LitresAt15](d, "min", 0, 1000), LotMax: draw[units.LitresAt15](d, "max", 1000, 1e6),
		LotStep: draw[units.LitresAt15](d, "step", 0, 1000), PricePerLitre: draw[float64](d, "price", 0, 9), Currency: "USD",
	}
	d.terms(r)
	rows.Add(r)
	if !r.Fallback {
		w := &inventory.Window{
			Entry: d.entry(), Route: r.ID, Name: d.id("W", i), Year: pick(d, "year", 0, 2026), Opens: inventory.MonthDay{Month: 2, Day: 29},
			Closes: inventory.MonthDay{Month: pick(d, "month", time.March, time.October), Day: 9}, OpensSDDays: draw[float64](d, "opens sd", 0, 20),
			ClosesSDDays: draw[float64](d, "closes sd", 0, 20), FailChance: draw[float64](d, "fail", 0, 1),
			OpensLagDays: draw[float64](d, "lag", -180, 180), OpensLagSDDays: draw[float64](d, "lag sd", 0, 180),
			ClosesLagDays: draw[float64](d, "lag", -180, 180), ClosesLagSDDays: draw[float64](d, "lag sd", 0, 180),
		}
		if d.chance("deadline") {
			w.OrderBy = &inventory.MonthDay{Month: time.May, Day: 31}
		}
		if d.chance("cut-off") {
			w.CutOff = &inventory.MonthDay{Month: time.March, Day: rapid.IntRange(1, 9).Draw(d.T, "cut-off")}
		}
		rows.Add(w)
		rows.Add(&inventory.WindowLimit{Entry: d.entry(), Route: r.ID, Name: w.Name, From: inventory.MonthDay{Month: time.December, Day: 24},
			Until: inventory.MonthDay{Month: time.February, Day: 29}, LotMax: draw[units.LitresAt15](d, "limit", 1000, 1e6),
			Cause: pick(d, "cause", inventory.LimitDraft, inventory.LimitWeight, inventory.LimitTide, inventory.LimitOther), Note: d.text("note")})
		if w.Year == 0 {
			d.past(rows, w)
		}
	}
	return r
}

// terms states what a delivery by a route costs, how often one comes and when it is paid.
func (d *drawn) terms(r *inventory.Route) {
	r.StopCost, r.FreightPerLitre = draw[float64](d, "stop", 0, 1e5), draw[float64](d, "freight", 0, 2)
	r.PriceGrowth, r.PriceSD = draw[float64](d, "growth", -0.5, 0.9), draw[float64](d, "price sd", 0, 2)
	r.PayFrom, r.PayDays = pick(d, "pay from", "", inventory.PayFromOrder, inventory.PayFromDelivery), rapid.IntRange(0, 400).Draw(d.T, "pay days")
	if r.Fallback {
		r.Load = r.LotMax
		return
	}
	if r.Deliveries = rapid.IntRange(0, 6).Draw(d.T, "deliveries"); r.Deliveries > 1 {
		r.DaysBetween = rapid.IntRange(0, 366).Draw(d.T, "between")
	}
	if d.chance("loads") {
		r.Load = draw[units.LitresAt15](d, "load", 1, 1000) // one is within every limit of a day
		r.LotMin, r.LotStep = 0, pick(d, "loads a step", 0, 2*r.Load, 3*r.Load)
		r.LotMax = max(r.LotMax, r.LotStep)
	}
}

// spending adds a limit in money, in litres, or in both.
func (d *drawn) spending(rows *inventory.Rows, plant string, i int) {
	days := d.days(2)
	l := &inventory.SpendingLimit{Entry: d.entry(), Plant: plant, Name: d.id("L", i), From: days[0], Until: days[1],
		Of:     pick(d, "kind", inventory.SpendingCredit, inventory.SpendingLoan, inventory.SpendingSupplier),
		Volume: drawMaybe[units.LitresAt15](d, "litres", 0, 1e8)}
	if l.Volume == nil || d.chance("in money") {
		l.Amount, l.Currency = ptr(draw[float64](d, "amount", 0, 1e9)), "USD"
	}
	rows.Add(l)
}

// past adds a year in which the window opened or closed or both, and one in which it failed.
func (d *drawn) past(rows *inventory.Rows, w *inventory.Window) {
	p := &inventory.PastWindow{Entry: d.entry(), Route: w.Route, Name: w.Name, Year: 2024, Opens: ptr(calendar.Date(2024, time.June, 5))}
	if d.chance("closing") {
		p.Closes = ptr(calendar.Date(2025, time.January, 3))
	}
	if p.Closes != nil && d.chance("no opening") {
		p.Opens = nil
	}
	rows.Add(p)
	rows.Add(&inventory.PastWindow{Entry: d.entry(), Route: w.Route, Name: w.Name, Year: 2023, Failed: true})
}
