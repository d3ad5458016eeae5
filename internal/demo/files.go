package demo

import (
	"slices"
	"strconv"

	"overwinter/internal/inventory"
)

func equipmentFiles(rows *inventory.Rows) []file {
	plants := fileOf("plants.csv", rows.Plants, []string{
		"plant", "name", "group", "zone", "product", "density_kgm3", "reserve_l", "reserve_days", "risk_target",
		"assumed_temperature_c", "warm_to_c", "display_volume", "display_depth", "display_temperature", "fiscal_year_begins",
		"low_level_timer_hours", "carrying_per_year", "fallback_at_days",
	}, func(p *inventory.Plant) []string {
		return []string{
			p.ID, p.Name, p.Group, p.Zone, string(p.Product), optional(p.Density15), optional(p.ReserveLitres), optionalWhole(p.ReserveDays), optional(p.RiskTarget),
			optional(p.AssumedTemperature), optional(p.WarmTo), p.Display.Volume, p.Display.Depth, p.Display.Temperature, whole(int(p.FiscalYearBegins)),
			optional(p.LowTimerHours), optional(p.Carrying), optionalWhole(p.FallbackAtDays),
		}
	})
	tanks := fileOf("tanks.csv", rows.Tanks, []string{
		"plant", "tank", "role", "shape", "product", "diameter_mm", "length_mm", "width_mm", "height_mm", "capacity_l",
		"safe_fill_depth_mm", "safe_fill_l", "suction_depth_mm", "unusable_l",
		"fill_start_l", "fill_stop_l", "low_level_l", "fill_minutes", "out_from", "back_on",
	}, func(t *inventory.Tank) []string {
		return []string{
			t.Plant, t.ID, string(t.Role), string(t.Shape), string(t.Product), optional(t.Diameter), optional(t.Length), optional(t.Width), optional(t.Height), optional(t.Capacity),
			optional(t.SafeFillDepth), optional(t.SafeFillVolume), optional(t.SuctionDepth), optional(t.UnusableVolume),
			optional(t.FillStart), optional(t.FillStop), optional(t.LowLevel), optional(t.FillMinutes), optionalDay(t.OutFrom), optionalDay(t.BackOn),
		}
	})
	meters := fileOf("meters.csv", rows.Meters, []string{
		"plant", "meter", "register_unit", "count", "digits", "factor", "compensated",
	}, func(m *inventory.Meter) []string {
		unit, count := "l", m.LitresPerCount
		if count == gal {
			unit, count = "us_gal", 1
		}
		return []string{m.Plant, m.ID, unit, number(count), whole(m.Digits), nonZero(m.Factor), yes(m.Compensated)}
	})
	return []file{plants, tanks, capacityFile(rows.Tanks), meters}
}

func capacityFile(rows []*inventory.Tank) file {
	f := file{name: "capacity.csv", rows: [][]string{{"plant", "tank", "depth_mm", "volume_l"}}}
	for _, t := range rows {
		for _, p := range t.Table {
			f.rows = append(f.rows, []string{t.Plant, t.ID, number(p.Depth), number(p.Volume)})
		}
	}
	return f
}

func readingFiles(rows *inventory.Rows, c clocks) []file {
	readings := fileOf("meter_readings.csv", rows.Readings, []string{"plant", "meter", "at", "register", "temperature_c"},
		func(r *inventory.MeterReading) []string {
			return []string{r.Plant, r.Meter, c.at(r.Plant, r.At), number(r.Register), optional(r.Temperature)}
		})
	swaps := fileOf("meter_swaps.csv", rows.Swaps, []string{"plant", "meter", "at", "closing", "opening"},
		func(s *inventory.MeterSwap) []string {
			return []string{s.Plant, s.Meter, c.at(s.Plant, s.At), optional(s.Closing), optional(s.Opening)}
		})
	gaugings := fileOf("gaugings.csv", rows.Gaugings, []string{"plant", "tank", "at", "depth_mm", "volume_l", "water_mm", "temperature_c", "precision_mm"},
		func(g *inventory.Gauging) []string {
			return []string{
				g.Plant, g.Tank, c.at(g.Plant, g.At), optional(g.Depth), optional(g.Volume),
				optional(g.Water), optional(g.Temperature), nonZero(g.Precision),
			}
		})
	totals := fileOf("period_totals.csv", rows.Totals, slices.Concat([]string{"plant", "first_day", "last_day"}, statedHeader),
		func(t *inventory.PeriodTotal) []string {
			return append([]string{t.Plant, t.FirstDay.String(), t.LastDay.String()}, stated(t.Measure)...)
		})
	return []file{readings, swaps, gaugings, totals}
}

func movementFiles(rows *inventory.Rows, c clocks) []file {
	deliveries := fileOf("deliveries.csv", rows.Deliveries, slices.Concat([]string{"plant", "tank", "at", "order", "document"}, statedHeader),
		func(d *inventory.Delivery) []string {
			return append([]string{d.Plant, d.Tank, c.at(d.Plant, d.At), d.Order, d.Document}, stated(d.Measure)...)
		})
	transfers := fileOf("transfers.csv", rows.Transfers, slices.Concat([]string{"plant", "from_tank", "to_tank", "at"}, statedHeader),
		func(t *inventory.Transfer) []string {
			return append([]string{t.Plant, t.From, t.To, c.at(t.Plant, t.At)}, stated(t.Measure)...)
		})
	draws := fileOf("draws.csv", rows.Draws, slices.Concat([]string{"plant", "first_day", "last_day", "purpose"}, statedHeader),
		func(d *inventory.Draw) []string {
			return append([]string{d.Plant, d.FirstDay.String(), d.LastDay.String(), string(d.Purpose)}, stated(d.Measure)...)
		})
	orders := fileOf("orders.csv", rows.Orders, slices.Concat([]string{"plant", "order", "state", "state_at", "ordered_on", "order_by", "early", "likely", "late", "route"}, statedHeader),
		func(o *inventory.Order) []string {
			return append([]string{
				o.Plant, o.ID, string(o.State), optionalAt(c, o), o.OrderedOn.String(), optionalDay(o.OrderBy), o.Early.String(), o.Likely.String(), o.Late.String(), o.Route,
			}, stated(o.Measure)...)
		})
	clearances := fileOf("clearances.csv", rows.Clearances, []string{"plant", "order", "clearance", "last_safe_on", "takes_days", "cleared_on", "by", "note"},
		func(c *inventory.Clearance) []string {
			takes := ""
			if c.TakesDays != nil {
				takes = strconv.Itoa(*c.TakesDays)
			}
			return []string{c.Plant, c.Order, c.Name, optionalDay(c.LastSafeOn), takes, optionalDay(c.ClearedOn), c.By, c.Note}
		})
	return []file{deliveries, transfers, draws, orders, clearances}
}

func optionalAt(c clocks, o *inventory.Order) string {
	if o.StateAt == nil {
		return ""
	}
	return c.at(o.Plant, *o.StateAt)
}

func supplyFiles(rows *inventory.Rows) []file {
	routes := fileOf("routes.csv", rows.Routes, []string{
		"route", "mode", "supplier", "fallback", "lead_days", "lead_sd_days", "slip_days", "slip_sd_days",
		"lot_min_l", "lot_max_l", "lot_step_l", "price_per_l", "currency",
		"load_l", "stop_cost", "freight_per_l", "price_growth_per_year", "price_sd_per_year", "deliveries", "days_between", "pay_from", "pay_days",
	}, func(r *inventory.Route) []string {
		return []string{
			r.ID, string(r.Mode), r.Supplier, yes(r.Fallback), number(r.LeadDays), nonZero(r.LeadSDDays), nonZero(r.SlipDays), nonZero(r.SlipSDDays),
			nonZero(r.LotMin), nonZero(r.LotMax), nonZero(r.LotStep), nonZero(r.PricePerLitre), r.Currency,
			nonZero(r.Load), nonZero(r.StopCost), nonZero(r.FreightPerLitre), nonZero(r.PriceGrowth), nonZero(r.PriceSD), whole(r.Deliveries), whole(r.DaysBetween),
			string(r.PayFrom), whole(r.PayDays),
		}
	})
	services := fileOf("services.csv", rows.Services, []string{"route", "plant"},
		func(s *inventory.Service) []string { return []string{s.Route, s.Plant} })
	windows := fileOf("windows.csv", rows.Windows, []string{
		"route", "window", "opens", "closes", "opens_sd_days", "closes_sd_days", "fail_chance", "order_by", "cut_off", "year",
	}, func(w *inventory.Window) []string {
		return []string{
			w.Route, w.Name, w.Opens.String(), w.Closes.String(), nonZero(w.OpensSDDays), nonZero(w.ClosesSDDays), nonZero(w.FailChance),
			optionalText(w.OrderBy), optionalText(w.CutOff), whole(w.Year),
		}
	})
	limits := fileOf("window_limits.csv", rows.WindowLimits, []string{"route", "window", "from", "until", "lot_max_l", "cause", "note"},
		func(l *inventory.WindowLimit) []string {
			return []string{l.Route, l.Name, l.From.String(), l.Until.String(), number(l.LotMax), string(l.Cause), l.Note}
		})
	spending := fileOf("spending_limits.csv", rows.SpendingLimits, []string{"plant", "name", "kind", "from", "until", "amount", "currency", "volume_l"},
		func(l *inventory.SpendingLimit) []string {
			return []string{l.Plant, l.Name, string(l.Of), l.From.String(), l.Until.String(), optional(l.Amount), l.Currency, optional(l.Volume)}
		})
	return []file{routes, services, windows, limits, spending}
}
