package store

import "overwinter/internal/inventory"

// tables lists every kind of row, what is referred to before what refers to it. To keep one more field,
// name its column here and in a migration.
var tables = []table{
	ledger("plants", "DirectoryRows", plantColumns).known("id"),
	ledger("routes", "DirectoryRows", routeColumns).known("id"),
	ledger("services", "DirectoryRows", serviceColumns).known("plant", "route"),
	ledger("windows", "DirectoryRows", windowColumns).known("route", "name", "year"),
	ledger("past_windows", "DirectoryRows", pastColumns).known("route", "name", "year"),
	ledger("window_limits", "DirectoryRows", limitColumns).known("route", "name", "from_day", "cause"),
	ledger("spending_limits", "DirectoryRows", spendingColumns).known("plant", "name", "from_day"),
	ledger("tanks", "DirectoryRows", tankColumns).known("plant", "id"),
	ledger("meters", "DirectoryRows", meterColumns).known("plant", "id"),
	ledger("meter_readings", "RowsByTime", readingColumns),
	ledger("meter_swaps", "RowsByTime", swapColumns),
	ledger("gaugings", "RowsByTime", gaugingColumns),
	ledger("period_totals", "RowsByDay", totalColumns),
	ledger("deliveries", "RowsByTime", deliveryColumns),
	ledger("transfers", "RowsByTime", transferColumns),
	ledger("draws", "RowsByDay", drawColumns),
	ledger("orders", "RowsOfOrders", orderColumns).known("plant", "id"),
	ledger("clearances", "RowsOfPlant", clearanceColumns).known("plant", "order_id", "name"),
	ledger("rounds", "RowsByTime", roundColumns),
	ledger("meter_provings", "RowsByTime", provingColumns),
	ledger("count_corrections", "RowsByDay", countColumns),
	ledger("product_changes", "RowsByTime", changeColumns),
	ledger("confirmations", "RowsOfPlant", confirmationColumns),
	ledger("load_changes", "RowsOfChanges", loadColumns),
	ledger("degree_days", "RowsOfGroup", degreeColumns),
}

func plantColumns(p *inventory.Plant) []column {
	return []column{
		{"id", &p.ID}, {"name", &p.Name}, {"climate_group", &p.Group}, {"zone", &p.Zone}, {"product", &p.Product},
		{"density15_kgm3", &p.Density15}, {"reserve_l15", &p.ReserveLitres}, {"reserve_days", &p.ReserveDays},
		{"risk_target", &p.RiskTarget}, {"assumed_temperature_c", &p.AssumedTemperature}, {"warm_to_c", &p.WarmTo},
		{"display_volume", &p.Display.Volume}, {"display_depth", &p.Display.Depth},
		{"display_temperature", &p.Display.Temperature}, {"fiscal_year_begins", &p.FiscalYearBegins},
		{"low_level_timer_hours", &p.LowTimerHours},
		{"reserve_months", &p.ReserveMonths}, {"reserve_percent", &p.ReservePercent},
		{"carrying_per_year", &p.Carrying}, {"fallback_at_days", &p.FallbackAtDays},
	}
}

func routeColumns(r *inventory.Route) []column {
	return []column{
		{"id", &r.ID}, {"mode", &r.Mode}, {"supplier", &r.Supplier}, {"fallback", &r.Fallback},
		{"lead_days", &r.LeadDays}, {"lead_sd_days", &r.LeadSDDays},
		{"slip_days", &r.SlipDays}, {"slip_sd_days", &r.SlipSDDays},
		{"lot_min_l15", &r.LotMin}, {"lot_max_l15", &r.LotMax}, {"lot_step_l15", &r.LotStep},
		{"price_per_l15", &r.PricePerLitre}, {"currency", &r.Currency},
		{"load_l15", &r.Load}, {"stop_cost", &r.StopCost}, {"freight_per_l15", &r.FreightPerLitre},
		{"price_growth_per_year", &r.PriceGrowth}, {"price_sd_per_year", &r.PriceSD},
		{"deliveries", &r.Deliveries}, {"days_between", &r.DaysBetween}, {"pay_from", &r.PayFrom}, {"pay_days", &r.PayDays},
	}
}

func serviceColumns(s *inventory.Service) []column {
	return []column{{"plant", &s.Plant}, {"route", &s.Route}}
}

func windowColumns(w *inventory.Window) []column {
	return []column{
		{"route", &w.Route}, {"name", &w.Name}, {"year", &w.Year},
		{"opens", monthDay(&w.Opens)}, {"opens_sd_days", &w.OpensSDDays},
		{"closes", monthDay(&w.Closes)}, {"closes_sd_days", &w.ClosesSDDays},
		{"fail_chance", &w.FailChance}, {"order_by", optionalMonthDay(&w.OrderBy)},
		{"opens_lag_days", &w.OpensLagDays}, {"opens_lag_sd_days", &w.OpensLagSDDays},
		{"closes_lag_days", &w.ClosesLagDays}, {"closes_lag_sd_days", &w.ClosesLagSDDays},
		{"cut_off", optionalMonthDay(&w.CutOff)},
	}
}

func pastColumns(p *inventory.PastWindow) []column {
	return []column{
		{"route", &p.Route}, {"name", &p.Name}, {"year", &p.Year},
		{"opens", optionalDay(&p.Opens)}, {"closes", optionalDay(&p.Closes)}, {"failed", &p.Failed},
	}
}

func limitColumns(l *inventory.WindowLimit) []column {
	return []column{
		{"route", &l.Route}, {"name", &l.Name}, {"from_day", monthDay(&l.From)}, {"until_day", monthDay(&l.Until)},
		{"lot_max_l15", &l.LotMax}, {"cause", &l.Cause}, {"note", &l.Note},
	}
}

func spendingColumns(l *inventory.SpendingLimit) []column {
	return []column{
		{"plant", &l.Plant}, {"name", &l.Name}, {"kind", &l.Of}, {"from_day", day(&l.From)}, {"until_day", day(&l.Until)},
		{"amount", &l.Amount}, {"currency", &l.Currency}, {"volume_l15", &l.Volume},
	}
}

// tankColumns leaves out the capacity table, whose points have a table of their own.
func tankColumns(t *inventory.Tank) []column {
	return []column{
		{"plant", &t.Plant}, {"id", &t.ID}, {"role", &t.Role}, {"product", &t.Product}, {"shape", &t.Shape},
		{"diameter_mm", &t.Diameter}, {"length_mm", &t.Length}, {"width_mm", &t.Width}, {"height_mm", &t.Height},
		{"capacity_l", &t.Capacity},
		{"safe_fill_depth_mm", &t.SafeFillDepth}, {"safe_fill_l", &t.SafeFillVolume},
		{"suction_depth_mm", &t.SuctionDepth}, {"unusable_l", &t.UnusableVolume},
		{"fill_start_l", &t.FillStart}, {"fill_stop_l", &t.FillStop},
		{"low_level_l", &t.LowLevel}, {"fill_minutes", &t.FillMinutes},
		{"own_share", &t.OwnShare}, {"reference_height_mm", &t.ReferenceHeight},
		{"out_from", optionalDay(&t.OutFrom)}, {"back_on", optionalDay(&t.BackOn)},
	}
}

func meterColumns(m *inventory.Meter) []column {
	return []column{
		{"plant", &m.Plant}, {"id", &m.ID}, {"digits", &m.Digits},
		{"litres_per_count", &m.LitresPerCount}, {"factor", &m.Factor}, {"compensated", &m.Compensated},
	}
}

func readingColumns(r *inventory.MeterReading) []column {
	return []column{
		{"plant", &r.Plant}, {"meter", &r.Meter}, {"at_ms", instant(&r.At)},
		{"register", &r.Register}, {"temperature_c", &r.Temperature},
	}
}

func swapColumns(s *inventory.MeterSwap) []column {
	return []column{
		{"plant", &s.Plant}, {"meter", &s.Meter}, {"at_ms", instant(&s.At)},
		{"closing", &s.Closing}, {"opening", &s.Opening},
	}
}

func gaugingColumns(g *inventory.Gauging) []column {
	return []column{
		{"plant", &g.Plant}, {"tank", &g.Tank}, {"at_ms", instant(&g.At)},
		{"depth_mm", &g.Depth}, {"water_mm", &g.Water}, {"volume_l", &g.Volume},
		{"temperature_c", &g.Temperature}, {"precision_mm", &g.Precision}, {"moving", &g.Moving},
		{"gauge", &g.Gauge}, {"ullage_mm", &g.Ullage},
	}
}

func totalColumns(t *inventory.PeriodTotal) []column {
	return append([]column{
		{"plant", &t.Plant}, {"first_day", day(&t.FirstDay)}, {"last_day", day(&t.LastDay)}, {"energy_kwh", &t.Energy},
	}, measureColumns(&t.Measure)...)
}

func deliveryColumns(d *inventory.Delivery) []column {
	return append([]column{
		{"plant", &d.Plant}, {"tank", &d.Tank}, {"at_ms", instant(&d.At)},
		{"order_id", &d.Order}, {"document", &d.Document}, {"product", &d.Product},
		{"document_l", &d.ByDocument.Volume}, {"document_temperature_c", &d.ByDocument.Temperature}, {"document_basis", &d.ByDocument.Basis},
		{"meter_l", &d.ByMeter.Volume}, {"meter_temperature_c", &d.ByMeter.Temperature}, {"meter_basis", &d.ByMeter.Basis},
		{"refused_l", &d.Refused}, {"price_per_l", &d.PricePerLitre}, {"freight", &d.Freight}, {"currency", &d.Currency},
	}, measureColumns(&d.Measure)...)
}

func transferColumns(t *inventory.Transfer) []column {
	return append([]column{
		{"plant", &t.Plant}, {"from_tank", &t.From}, {"to_tank", &t.To}, {"at_ms", instant(&t.At)},
		{"open", &t.Open}, {"planned_stop_ms", optionalInstant(&t.PlannedStop)},
	}, measureColumns(&t.Measure)...)
}

func drawColumns(d *inventory.Draw) []column {
	return append([]column{
		{"plant", &d.Plant}, {"first_day", day(&d.FirstDay)}, {"last_day", day(&d.LastDay)}, {"purpose", &d.Purpose}, {"with_whom", &d.With},
	}, measureColumns(&d.Measure)...)
}

func orderColumns(o *inventory.Order) []column {
	return append([]column{
		{"plant", &o.Plant}, {"id", &o.ID}, {"route", &o.Route}, {"state", &o.State},
		{"ordered_on", day(&o.OrderedOn)}, {"early", day(&o.Early)}, {"likely", day(&o.Likely)}, {"late", day(&o.Late)},
		{"state_at_ms", optionalInstant(&o.StateAt)}, {"order_by", optionalDay(&o.OrderBy)},
	}, measureColumns(&o.Measure)...)
}

func clearanceColumns(c *inventory.Clearance) []column {
	return []column{
		{"plant", &c.Plant}, {"order_id", &c.Order}, {"name", &c.Name}, {"last_safe_on", optionalDay(&c.LastSafeOn)},
		{"takes_days", &c.TakesDays}, {"cleared_on", optionalDay(&c.ClearedOn)}, {"given_by", &c.By}, {"note", &c.Note},
	}
}

func roundColumns(r *inventory.Round) []column {
	return []column{
		{"plant", &r.Plant}, {"at_ms", instant(&r.At)}, {"filter_bowl", &r.Bowl}, {"alarms", alarms(&r.Alarms)},
		{"pump_running", &r.PumpRunning}, {"running_hours", &r.RunningHours}, {"energy_register_kwh", &r.EnergyRegister}, {"note", &r.Note},
	}
}

func provingColumns(p *inventory.Proving) []column {
	return []column{{"plant", &p.Plant}, {"meter", &p.Meter}, {"at_ms", instant(&p.At)}, {"factor", &p.Factor}}
}

func countColumns(c *inventory.CountCorrection) []column {
	return append([]column{
		{"plant", &c.Plant}, {"product", &c.Product}, {"last_day", day(&c.Day)},
	}, measureColumns(&c.Measure)...)
}

func changeColumns(c *inventory.ProductChange) []column {
	return []column{{"plant", &c.Plant}, {"tank", &c.Tank}, {"at_ms", instant(&c.At)}, {"product", &c.Product}}
}

func confirmationColumns(c *inventory.Confirmation) []column {
	return []column{{"plant", &c.Plant}, {"of_kind", &c.Of}, {"of_key", &c.Row}}
}

func loadColumns(c *inventory.LoadChange) []column {
	return []column{
		{"plant", &c.Plant}, {"from_day", day(&c.From)}, {"until_day", optionalDay(&c.Until)}, {"times", &c.Times}, {"added_kw", &c.Added},
		{"uncertainty_percent", &c.Uncertainty}, {"cause", &c.Cause}, {"note", &c.Note},
	}
}

func degreeColumns(d *inventory.DegreeDays) []column {
	return []column{
		{"climate_group", &d.Group}, {"first_day", day(&d.FirstDay)}, {"last_day", day(&d.LastDay)},
		{"degree_days_c", &d.Sum}, {"base_c", &d.Under},
	}
}

func measureColumns(m *inventory.Measure) []column {
	return []column{{"volume_l", &m.Volume}, {"temperature_c", &m.Temperature}, {"basis", &m.Basis}}
}
