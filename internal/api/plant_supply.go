package api

import (
	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
)

// RouteDescribed is a supply route as the ledger describes it.
type RouteDescribed struct {
	Route    string            `json:"route"`
	Mode     inventory.Mode    `json:"mode"`
	Supplier string            `json:"supplier"`
	Fallback bool              `json:"fallback"`
	LeadDays float64           `json:"lead_days"`
	SlipDays float64           `json:"slip_days"`
	LotMin   *float64          `json:"lot_min_l15"`
	LotMax   *float64          `json:"lot_max_l15"`
	LotStep  *float64          `json:"lot_step_l15"`
	Price    *float64          `json:"price_per_l15"`
	Currency *string           `json:"currency"`
	Terms    TermsDescribed    `json:"terms"`
	Windows  []WindowDescribed `json:"windows"`
}

// TermsDescribed is what a delivery by a route costs beside the price, how many a window allows, and when one is paid.
type TermsDescribed struct {
	Load        *float64          `json:"load_l15"`
	StopCost    *float64          `json:"stop_cost"`
	Freight     *float64          `json:"freight_per_l15"`
	PriceGrowth *float64          `json:"price_growth_per_year"`
	PriceSD     *float64          `json:"price_sd_per_year"`
	Deliveries  int               `json:"deliveries"`
	DaysBetween int               `json:"days_between"`
	PayFrom     inventory.PayFrom `json:"pay_from"`
	PayDays     int               `json:"pay_days"`
}

// WindowDescribed is a window as the ledger describes it. Days are MM-DD: it comes every year unless it
// names one.
type WindowDescribed struct {
	Window     string                 `json:"window"`
	Year       *int                   `json:"year"`
	Opens      string                 `json:"opens"`
	Closes     string                 `json:"closes"`
	OrderBy    *string                `json:"supplier_deadline"`
	CutOff     *string                `json:"cut_off"`
	LossChance float64                `json:"loss_chance"`
	Limits     []WindowLimitDescribed `json:"limits"`
}

// WindowLimitDescribed is what bounds the lots that arrive on certain days of each year, MM-DD.
type WindowLimitDescribed struct {
	From   string               `json:"from"`
	Until  string               `json:"until"`
	LotMax float64              `json:"lot_max_l15"`
	Cause  inventory.LimitCause `json:"cause"`
	Note   string               `json:"note"`
}

// SpendingDescribed is what bounds a plant's orders from one day to another.
type SpendingDescribed struct {
	Name     string                 `json:"name"`
	Kind     inventory.SpendingKind `json:"kind"`
	From     calendar.Day           `json:"from"`
	Until    calendar.Day           `json:"until"`
	Amount   *float64               `json:"amount"`
	Currency *string                `json:"currency"`
	Volume   *float64               `json:"volume_l15"`
}

func describeRoute(dir *inventory.Directory, r *inventory.Route) RouteDescribed {
	d := RouteDescribed{
		Route: r.ID, Mode: r.Mode, Supplier: r.Supplier, Fallback: r.Fallback, LeadDays: r.LeadDays, SlipDays: r.SlipDays,
		LotMin: stated(float64(r.LotMin)), LotMax: stated(float64(r.LotMax)), LotStep: stated(float64(r.LotStep)),
		Price: stated(r.PricePerLitre), Currency: stated(r.Currency), Terms: describeTerms(r), Windows: []WindowDescribed{},
	}
	for _, w := range dir.WindowsOf(r.ID) {
		d.Windows = append(d.Windows, describeWindow(w, dir.LimitsOf(r.ID, w.Name)))
	}
	return d
}

func describeTerms(r *inventory.Route) TermsDescribed {
	t := TermsDescribed{
		Load: stated(float64(r.Load)), StopCost: stated(r.StopCost), Freight: stated(r.FreightPerLitre),
		PriceGrowth: stated(r.PriceGrowth), PriceSD: stated(r.PriceSD),
		Deliveries: max(r.Deliveries, 1), DaysBetween: r.DaysBetween, PayFrom: inventory.PayFromDelivery, PayDays: r.PayDays,
	}
	if r.PayFrom != "" {
		t.PayFrom = r.PayFrom
	}
	return t
}

func describeWindow(w *inventory.Window, limits []*inventory.WindowLimit) WindowDescribed {
	d := WindowDescribed{
		Window: w.Name, Year: stated(w.Year), Opens: w.Opens.String(), Closes: w.Closes.String(), OrderBy: statedDay(w.OrderBy),
		CutOff: statedDay(w.CutOff), LossChance: w.FailChance, Limits: []WindowLimitDescribed{},
	}
	for _, l := range limits {
		d.Limits = append(d.Limits, WindowLimitDescribed{l.From.String(), l.Until.String(), float64(l.LotMax), l.Cause, l.Note})
	}
	return d
}

func statedDay(d *inventory.MonthDay) *string {
	if d == nil {
		return nil
	}
	text := d.String()
	return &text
}

func describeSpending(l *inventory.SpendingLimit) SpendingDescribed {
	return SpendingDescribed{l.Name, l.Of, l.From, l.Until, l.Amount, stated(l.Currency), (*float64)(l.Volume)}
}
