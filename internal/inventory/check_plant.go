package inventory

import (
	"strings"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// lightest and heaviest bound a fuel's density at 15 °C: from light gasoline to residual fuel.
// Common practice, no source.
const (
	lightest units.KgPerM3 = 600
	heaviest units.KgPerM3 = 1100
)

// shortestTimer and longestTimer bound a low-level timer, in hours. Common practice, no source.
const shortestTimer, longestTimer = 0.05, 48

// Check says what is wrong with the plant's row, nothing when it can go into the ledger. dir holds
// what the row may refer to, this row included; now is the moment of writing.
func (p *Plant) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&p.Entry)
	f.id("plant", p.ID)
	if p.Void {
		return f
	}
	if p.Name == "" {
		f.add("name", "blank: expected the plant's name")
	}
	f.line("name", p.Name, longestName)
	f.line("group", p.Group, longestID)
	if _, err := p.Location(); err != nil || p.Zone == "" || p.Zone == "Local" {
		f.add("zone", "%s is no time zone: expected an IANA name such as America/Anchorage", quoted(p.Zone))
	}
	f.fuel(p)
	f.planning(p)
	f.display(p.Display)
	return f
}

func (f *findings) fuel(p *Plant) {
	if !oneOf(f, "product", p.Product, Products()...) {
		return
	}
	if p.Density15 != nil && f.within("density", float64(*p.Density15), float64(lightest), float64(heaviest), "kg/m³") {
		_, err := tanks.NewCorrector(*p.Density15)
		f.inner(err, func(string) string { return "density" })
	}
	f.correctable("assumed_temperature", p.AssumedTemperature)
	f.correctable("warm_to", p.WarmTo)
}

// correctable checks a temperature that is reckoned with: no factor exists outside the range.
func (f *findings) correctable(where string, t *units.Celsius) {
	if t != nil {
		f.within(where, float64(*t), float64(tanks.Coldest), float64(tanks.Hottest), "°C")
	}
}

func (f *findings) planning(p *Plant) {
	f.reserve(p)
	if p.FallbackAtDays != nil {
		f.within("fallback_at_days", float64(*p.FallbackAtDays), 0, longestWait, "days")
	}
	if p.Carrying != nil {
		f.share("carrying_per_year", *p.Carrying, 0, mostCarrying)
	}
	if p.RiskTarget != nil {
		f.within("risk_target", *p.RiskTarget, 0.001, 0.5, "")
	}
	f.within("fiscal_year_begins", float64(p.FiscalYearBegins), 0, 12, "")
	if p.LowTimerHours != nil {
		f.within("low_level_timer_hours", *p.LowTimerHours, shortestTimer, longestTimer, "hours")
	}
}

// reserve checks that the reserve is given in one way at most, and each way for itself.
func (f *findings) reserve(p *Plant) {
	var columns, ways []string
	for _, given := range []struct {
		there       bool
		column, way string
	}{
		{p.ReserveDays != nil, "reserve_days", "days"}, {p.ReserveMonths != nil, "reserve_months", "months"},
		{p.ReservePercent != nil, "reserve_percent", "a percentage"}, {p.ReserveLitres != nil, "reserve", "a volume"},
	} {
		if given.there {
			columns, ways = append(columns, given.column), append(ways, given.way)
		}
	}
	if len(ways) > 1 {
		f.add(columns[0], "the reserve is given as %s: keep one of them and leave the others blank", strings.Join(ways, " and as "))
	}
	if p.ReserveLitres != nil {
		f.within("reserve", float64(*p.ReserveLitres), 0, largestVolume, "L")
	}
	if p.ReserveDays != nil {
		f.within("reserve_days", float64(*p.ReserveDays), 0, longestWait, "days")
	}
	if p.ReserveMonths != nil {
		f.within("reserve_months", *p.ReserveMonths, 0, 120, "months")
	}
	// Below 1 it is a share that was meant.
	if share := p.ReservePercent; share != nil && !(*share >= 1 && *share <= 100) {
		f.add("reserve_percent", "%s is out of range: expected 1 to 100, as a percentage: 20 is 20 %% of what the tanks hold", figure(*share))
	}
}

func (f *findings) display(d Display) {
	unit := func(where, name string, in units.Dimension) {
		if name != "" {
			oneOf(f, where, name, in.Names()...)
		}
	}
	unit("display_volume", d.Volume, units.Volume)
	unit("display_depth", d.Depth, units.Length)
	unit("display_temperature", d.Temperature, units.Temperature)
}

// leastFactor and mostFactor bound what a meter may be off by: beyond, it is broken or of another unit. Common
// practice, no source.
const leastFactor, mostFactor = 0.5, 2

// Check says what is wrong with the meter's row; see [Plant.Check].
func (m *Meter) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&m.Entry)
	f.id("meter", m.ID)
	if m.Void {
		f.id("plant", m.Plant)
		return f
	}
	f.plant(dir, m.Plant)
	if m.Digits != 0 && (m.Digits < 3 || m.Digits > 12) {
		f.add("digits", "a register of %d digits is not known: expected 3 to 12, or blank where it never rolls over", m.Digits)
	}
	// From a hundredth of a litre to a thousand barrels a count.
	f.within("count", m.LitresPerCount, 0.01, 1000*units.LitresPerBarrel, "L a count")
	if m.Factor != 0 {
		f.within("factor", m.Factor, leastFactor, mostFactor, "")
	}
	return f
}
