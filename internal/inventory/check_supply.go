package inventory

import (
	"fmt"
	"strings"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
)

// Check says what is wrong with the route's row; see [Plant.Check].
func (r *Route) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&r.Entry)
	f.id("route", r.ID)
	if r.Void {
		return f
	}
	oneOf(&f, "mode", r.Mode, Barge, Sealift, WinterRoad, AllSeasonRoad, Air, SmallBoat)
	f.line("supplier", r.Supplier, longestName)
	f.within("lead_days", r.LeadDays, 0, longestWait, "days")
	f.within("lead_sd_days", r.LeadSDDays, 0, longestWait, "days")
	f.within("slip_days", r.SlipDays, 0, longestWait, "days")
	f.within("slip_sd_days", r.SlipSDDays, 0, longestWait, "days")
	f.lots(r)
	f.terms(r)
	return f
}

func (f *findings) lots(r *Route) {
	before := len(*f)
	f.within("load", float64(r.Load), 0, largestVolume, "L")
	f.within("lot_min", float64(r.LotMin), 0, largestVolume, "L")
	f.within("lot_max", float64(r.LotMax), 0, largestVolume, "L")
	f.within("lot_step", float64(r.LotStep), 0, largestVolume, "L")
	if len(*f) > before {
		return
	}
	if r.LotMax > 0 && r.LotMin > r.LotMax {
		f.add("lot_min", "%s is more than lot_max, %s: expected the smaller lot first",
			amount(float64(r.LotMin), "L"), amount(float64(r.LotMax), "L"))
	}
	if r.LotMax > 0 && r.LotStep > r.LotMax {
		f.add("lot_step", "%s is more than lot_max, %s: no lot would fit",
			amount(float64(r.LotStep), "L"), amount(float64(r.LotMax), "L"))
	}
	f.loads(r)
}

// Check says what is wrong with the service's row; see [Plant.Check].
func (s *Service) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&s.Entry)
	if s.Void {
		f.id("route", s.Route)
		f.id("plant", s.Plant)
		return f
	}
	f.route(dir, s.Route)
	f.plant(dir, s.Plant)
	return f
}

// Check says what is wrong with the window's row; see [Plant.Check].
func (w *Window) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&w.Entry)
	f.id("window", w.Name)
	if w.Void {
		f.id("route", w.Route)
		return f
	}
	if route, ok := f.route(dir, w.Route); ok && route.Fallback {
		f.add("route", "route %s is a fallback, open all year: take the window out, or the route's fallback", w.Route)
	}
	if w.Year != 0 {
		f.year("year", w.Year)
	}
	f.monthDay("opens", w.Opens)
	f.monthDay("closes", w.Closes)
	if w.OrderBy != nil {
		f.monthDay("order_by", *w.OrderBy)
	}
	if w.CutOff != nil && f.monthDay("cut_off", *w.CutOff) {
		f.cutOff(w)
	}
	f.within("opens_sd_days", w.OpensSDDays, 0, 365, "days")
	f.within("closes_sd_days", w.ClosesSDDays, 0, 365, "days")
	f.within("fail_chance", w.FailChance, 0, 1, "")
	f.within("opens_lag_days", w.OpensLagDays, -180, 180, "days")
	f.within("opens_lag_sd_days", w.OpensLagSDDays, 0, 180, "days")
	f.within("closes_lag_days", w.ClosesLagDays, -180, 180, "days")
	f.within("closes_lag_sd_days", w.ClosesLagSDDays, 0, 180, "days")
	return f
}

// cutOff refuses a last day of delivery that can only be meant for another window: it comes so long after the
// closing that the next opening is nearer.
func (f *findings) cutOff(w *Window) {
	open, cut := w.Opens.daysTo(w.Closes), w.Opens.daysTo(*w.CutOff)
	if late, early := cut-open, daysOfYear-cut; late > early {
		f.add("cut_off", "%s lies %d days before the opening, %s: expected a day from the opening to about the closing, %s", w.CutOff, early, w.Opens, w.Closes)
	}
}

// leapYear knows every day of any year, and daysOfYear is how many those are.
const leapYear, daysOfYear = 2024, 366

// daysTo counts the days from a day of any year to the next one.
func (d MonthDay) daysTo(next MonthDay) int {
	return (next.yearDay() - d.yearDay() + daysOfYear) % daysOfYear
}

func (d MonthDay) yearDay() int { return calendar.Date(leapYear, d.Month, d.Day).YearDay() }

// String writes the day as MM-DD.
func (d MonthDay) String() string { return fmt.Sprintf("%02d-%02d", int(d.Month), d.Day) }

// monthDay checks a day of any year; 29 February counts as one.
func (f *findings) monthDay(where string, d MonthDay) bool {
	_, month, day := calendar.Date(leapYear, d.Month, d.Day).Civil()
	if month == d.Month && day == d.Day {
		return true
	}
	f.add(where, "%s is no day of the year: expected MM-DD such as 06-15", d)
	return false
}

// isCurrency tells whether a code has the form of ISO 4217.
func isCurrency(code string) bool {
	return len(code) == 3 && strings.IndexFunc(code, func(c rune) bool { return c < 'A' || c > 'Z' }) < 0
}
