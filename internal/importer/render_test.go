package importer

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
)

// rendered writes rows as a data folder in stored units.
func rendered(rows inventory.Rows) texts {
	lines := map[string][]map[string]string{}
	for r := range rows.All() {
		fields := cells(r)
		base := r.Base()
		fields["key"], fields["replaces"], fields["void"], fields["who"], fields["why"] =
			base.Key, base.Replaces, yes(base.Void), base.Who, base.Why
		for _, s := range sheets {
			if s.kind == r.Kind() {
				lines[s.file] = append(lines[s.file], fields)
			}
		}
		if tank, ok := r.(*inventory.Tank); ok {
			for _, p := range tank.Table {
				lines["capacity.csv"] = append(lines["capacity.csv"], map[string]string{
					"plant": tank.Plant, "tank": tank.ID, "depth_mm": num(p.Depth), "volume_l": num(p.Volume),
				})
			}
		}
	}
	folder := texts{}
	for file, all := range lines {
		folder[file] = table2CSV(all)
	}
	return folder
}

func table2CSV(lines []map[string]string) string {
	var header []string
	for name := range lines[0] {
		header = append(header, name)
	}
	slices.Sort(header)
	var text bytes.Buffer
	w := csv.NewWriter(&text)
	_ = w.Write(header) // a buffer takes everything
	for _, line := range lines {
		var fields []string
		for _, name := range header {
			fields = append(fields, line[name])
		}
		_ = w.Write(fields)
	}
	w.Flush()
	return text.String()
}

func num[T ~float64](v T) string { return strconv.FormatFloat(float64(v), 'g', -1, 64) }

func opt[T ~float64](v *T) string {
	if v == nil {
		return ""
	}
	return num(*v)
}

// nonzero writes a whole number, nothing for zero.
func nonzero(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func optWhole(n *int) string {
	if n == nil {
		return ""
	}
	return strconv.Itoa(*n)
}

func optMonthDay(d *inventory.MonthDay) string {
	if d == nil {
		return ""
	}
	return monthDay(*d)
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

func optDay(d *calendar.Day) string {
	if d == nil {
		return ""
	}
	return d.String()
}

func at(t time.Time) string { return t.Format(time.RFC3339) }

func optAt(t *time.Time) string {
	if t == nil {
		return ""
	}
	return at(*t)
}

func monthDay(d inventory.MonthDay) string {
	return time.Date(2024, d.Month, d.Day, 0, 0, 0, 0, time.UTC).Format("01-02")
}

func measured(m inventory.Measure, more map[string]string) map[string]string {
	more["volume_l"], more["temperature_c"], more["basis"] = num(m.Volume), opt(m.Temperature), string(m.Basis)
	return more
}

// cells gives a record's own columns.
func cells(r inventory.Record) map[string]string {
	type row = map[string]string
	switch v := r.(type) {
	case *inventory.Plant:
		return row{"plant": v.ID, "name": v.Name, "zone": v.Zone, "product": string(v.Product), "group": v.Group,
			"density_kgm3": opt(v.Density15), "reserve_l": opt(v.ReserveLitres), "reserve_days": optWhole(v.ReserveDays), "risk_target": opt(v.RiskTarget),
			"assumed_temperature_c": opt(v.AssumedTemperature), "warm_to_c": opt(v.WarmTo), "display_volume": v.Display.Volume,
			"display_depth": v.Display.Depth, "display_temperature": v.Display.Temperature, "fiscal_year_begins": nonzero(int(v.FiscalYearBegins)),
			"low_level_timer_hours": opt(v.LowTimerHours), "reserve_months": opt(v.ReserveMonths), "reserve_percent": opt(v.ReservePercent),
			"carrying_per_year": opt(v.Carrying), "fallback_at_days": optWhole(v.FallbackAtDays)}
	case *inventory.Tank:
		return row{"plant": v.Plant, "tank": v.ID, "role": string(v.Role), "shape": string(v.Shape), "product": string(v.Product),
			"diameter_mm": opt(v.Diameter), "length_mm": opt(v.Length), "width_mm": opt(v.Width), "height_mm": opt(v.Height),
			"capacity_l": opt(v.Capacity), "safe_fill_depth_mm": opt(v.SafeFillDepth), "safe_fill_l": opt(v.SafeFillVolume),
			"suction_depth_mm": opt(v.SuctionDepth), "unusable_l": opt(v.UnusableVolume), "fill_start_l": opt(v.FillStart),
			"fill_stop_l": opt(v.FillStop), "low_level_l": opt(v.LowLevel), "fill_minutes": opt(v.FillMinutes), "own_share": opt(v.OwnShare), "reference_height_mm": opt(v.ReferenceHeight), "out_from": optDay(v.OutFrom), "back_on": optDay(v.BackOn)}
	case *inventory.Meter:
		return row{"plant": v.Plant, "meter": v.ID, "register_unit": "l", "count": num(v.LitresPerCount), "digits": nonzero(v.Digits),
			"factor": num(v.Factor), "compensated": yes(v.Compensated)}
	case *inventory.MeterReading:
		return row{"plant": v.Plant, "meter": v.Meter, "at": at(v.At), "register": num(v.Register), "temperature_c": opt(v.Temperature)}
	case *inventory.MeterSwap:
		return row{"plant": v.Plant, "meter": v.Meter, "at": at(v.At), "closing": opt(v.Closing), "opening": opt(v.Opening)}
	case *inventory.Gauging:
		return row{"plant": v.Plant, "tank": v.Tank, "at": at(v.At), "depth_mm": opt(v.Depth), "volume_l": opt(v.Volume),
			"water_mm": opt(v.Water), "temperature_c": opt(v.Temperature), "precision_mm": num(v.Precision), "moving": yes(v.Moving),
			"gauge": string(v.Gauge), "ullage_mm": opt(v.Ullage)}
	case *inventory.PeriodTotal:
		return measured(v.Measure, row{"plant": v.Plant, "first_day": v.FirstDay.String(), "last_day": v.LastDay.String(), "energy_kwh": opt(v.Energy)})
	case *inventory.Delivery:
		return measured(v.Measure, row{"plant": v.Plant, "tank": v.Tank, "at": at(v.At), "order": v.Order, "document": v.Document,
			"product": string(v.Product), "document_volume_l": opt(v.ByDocument.Volume), "document_temperature_c": opt(v.ByDocument.Temperature), "document_basis": string(v.ByDocument.Basis),
			"meter_volume_l": opt(v.ByMeter.Volume), "meter_temperature_c": opt(v.ByMeter.Temperature), "meter_basis": string(v.ByMeter.Basis),
			"refused_l": opt(v.Refused), "price_per_l": opt(v.PricePerLitre), "freight": opt(v.Freight), "currency": v.Currency})
	case *inventory.Transfer:
		stop := ""
		if v.PlannedStop != nil {
			stop = at(*v.PlannedStop)
		}
		return measured(v.Measure, row{"plant": v.Plant, "from_tank": v.From, "to_tank": v.To, "at": at(v.At), "open": yes(v.Open), "planned_stop": stop})
	case *inventory.Draw:
		return measured(v.Measure, row{"plant": v.Plant, "first_day": v.FirstDay.String(), "last_day": v.LastDay.String(), "purpose": string(v.Purpose), "with": v.With})
	case *inventory.Round:
		var alarms []string
		for _, a := range v.Alarms {
			alarms = append(alarms, string(a))
		}
		running := ""
		if v.PumpRunning != nil {
			running = "no"
			if *v.PumpRunning {
				running = "yes"
			}
		}
		return row{"plant": v.Plant, "at": at(v.At), "filter_bowl": string(v.Bowl), "alarms": strings.Join(alarms, " "), "pump_running": running,
			"running_hours": opt(v.RunningHours), "energy_register_kwh": opt(v.EnergyRegister), "note": v.Note}
	case *inventory.Proving:
		return row{"plant": v.Plant, "meter": v.Meter, "at": at(v.At), "factor": num(v.Factor)}
	case *inventory.CountCorrection:
		return measured(v.Measure, row{"plant": v.Plant, "product": string(v.Product), "day": v.Day.String()})
	case *inventory.ProductChange:
		return row{"plant": v.Plant, "tank": v.Tank, "at": at(v.At), "product": string(v.Product)}
	case *inventory.Confirmation:
		return row{"plant": v.Plant, "of": string(v.Of), "row": v.Row}
	case *inventory.LoadChange:
		return row{"plant": v.Plant, "from": v.From.String(), "until": optDay(v.Until), "times": opt(v.Times), "added_kw": opt(v.Added),
			"uncertainty_percent": opt(v.Uncertainty), "cause": string(v.Cause), "note": v.Note}
	case *inventory.DegreeDays:
		return row{"group": v.Group, "first_day": v.FirstDay.String(), "last_day": v.LastDay.String(), "degree_days_c": num(v.Sum), "base_c": num(v.Under)}
	case *inventory.Order:
		return measured(v.Measure, row{"plant": v.Plant, "order": v.ID, "route": v.Route, "state": string(v.State),
			"ordered_on": v.OrderedOn.String(), "early": v.Early.String(), "likely": v.Likely.String(), "late": v.Late.String(),
			"state_at": optAt(v.StateAt), "order_by": optDay(v.OrderBy)})
	case *inventory.Clearance:
		takes := ""
		if v.TakesDays != nil {
			takes = strconv.Itoa(*v.TakesDays)
		}
		return row{"plant": v.Plant, "order": v.Order, "clearance": v.Name, "last_safe_on": optDay(v.LastSafeOn), "takes_days": takes,
			"cleared_on": optDay(v.ClearedOn), "by": v.By, "note": v.Note}
	case *inventory.Route:
		return row{"route": v.ID, "mode": string(v.Mode), "lead_days": num(v.LeadDays), "lead_sd_days": num(v.LeadSDDays),
			"slip_days": num(v.SlipDays), "slip_sd_days": num(v.SlipSDDays), "lot_min_l": num(v.LotMin), "lot_max_l": num(v.LotMax),
			"lot_step_l": num(v.LotStep), "price_per_l": num(v.PricePerLitre), "currency": v.Currency, "supplier": v.Supplier, "fallback": yes(v.Fallback),
			"load_l": num(v.Load), "stop_cost": num(v.StopCost), "freight_per_l": num(v.FreightPerLitre), "price_growth_per_year": num(v.PriceGrowth),
			"price_sd_per_year": num(v.PriceSD), "deliveries": nonzero(v.Deliveries), "days_between": nonzero(v.DaysBetween), "pay_from": string(v.PayFrom), "pay_days": nonzero(v.PayDays)}
	case *inventory.Service:
		return row{"route": v.Route, "plant": v.Plant}
	case *inventory.Window:
		return row{"route": v.Route, "window": v.Name, "year": nonzero(v.Year), "opens": monthDay(v.Opens), "closes": monthDay(v.Closes),
			"opens_sd_days": num(v.OpensSDDays), "closes_sd_days": num(v.ClosesSDDays), "fail_chance": num(v.FailChance), "order_by": optMonthDay(v.OrderBy), "cut_off": optMonthDay(v.CutOff),
			"opens_lag_days": num(v.OpensLagDays), "opens_lag_sd_days": num(v.OpensLagSDDays),
			"closes_lag_days": num(v.ClosesLagDays), "closes_lag_sd_days": num(v.ClosesLagSDDays)}
	case *inventory.WindowLimit:
		return row{"route": v.Route, "window": v.Name, "from": monthDay(v.From), "until": monthDay(v.Until), "lot_max_l": num(v.LotMax), "cause": string(v.Cause), "note": v.Note}
	case *inventory.SpendingLimit:
		return row{"plant": v.Plant, "name": v.Name, "kind": string(v.Of), "from": v.From.String(), "until": v.Until.String(),
			"amount": opt(v.Amount), "currency": v.Currency, "volume_l": opt(v.Volume)}
	case *inventory.PastWindow:
		return row{"route": v.Route, "window": v.Name, "year": strconv.Itoa(v.Year), "opens": optDay(v.Opens), "closes": optDay(v.Closes), "failed": yes(v.Failed)}
	}
	panic("a record of unknown kind")
}
