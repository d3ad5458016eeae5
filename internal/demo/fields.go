package demo

import (
	"strconv"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
)

// How values stand in the fields of a data folder; what is not known is blank.

// number writes all digits, so that reading it back gives the same number.
func number[T ~float64](v T) string { return strconv.FormatFloat(float64(v), 'f', -1, 64) }

func optional[T ~float64](v *T) string {
	if v == nil {
		return ""
	}
	return number(*v)
}

func nonZero[T ~float64](v T) string {
	if v == 0 {
		return ""
	}
	return number(v)
}

func whole(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func yes(v bool) string {
	if v {
		return "yes"
	}
	return ""
}

func optionalWhole(n *int) string {
	if n == nil {
		return ""
	}
	return strconv.Itoa(*n)
}

func optionalDay(d *calendar.Day) string {
	if d == nil {
		return ""
	}
	return d.String()
}

func optionalText(d *inventory.MonthDay) string {
	if d == nil {
		return ""
	}
	return d.String()
}

// clocks writes moments as the clocks at a plant show them, with their offset from UTC.
type clocks map[string]*time.Location

func clocksOf(plants []*inventory.Plant) clocks {
	zones := clocks{}
	for _, p := range plants {
		zone, err := p.Location()
		if err != nil {
			panic("demo: " + err.Error())
		}
		zones[p.ID] = zone
	}
	return zones
}

func (c clocks) at(plant string, t time.Time) string {
	return t.In(c[plant]).Format("2006-01-02T15:04Z07:00")
}

// stated writes volume, temperature and basis.
func stated(m inventory.Measure) []string {
	return []string{number(m.Volume), optional(m.Temperature), string(m.Basis)}
}

var statedHeader = []string{"volume_l", "temperature_c", "basis"}
