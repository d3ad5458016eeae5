package inventory

import (
	"cmp"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/units"
)

// DegreeDays is how cold it was at the plants of a climate group: the heating degree days from one day to another, both
// included. All of one group have one base, and no day stands in two of them.
type DegreeDays struct {
	Entry
	Group    string           `json:"group,omitempty"` // "" is that of the plants that state none
	FirstDay calendar.Day     `json:"first_day"`
	LastDay  calendar.Day     `json:"last_day"`
	Sum      units.DegreeDays `json:"degree_days_c"`
	// Under is the base: the outside temperature from which on nobody heats.
	Under units.Celsius `json:"base_c"`
}

// Kind tells that the row is of degree days.
func (d *DegreeDays) Kind() Kind { return KindDegreeDays }

// PlantID is empty: degree days belong to a climate group.
func (d *DegreeDays) PlantID() string { return "" }

// DegreeDays gives those of the plant's climate group that are over by the close of the as-of day, in order of their days.
func (b *Book) DegreeDays() []*DegreeDays {
	over := slices.DeleteFunc(slices.Clone(b.given.DegreeDays), func(d *DegreeDays) bool { return d.LastDay > b.AsOf })
	return sortedBy(over, func(x, y *DegreeDays) int { return cmp.Compare(x.FirstDay, y.FirstDay) })
}

// What degree days may be. The bases in use lie from 10 to 22 °C, and no inhabited place has a mean day
// below −70 °C. Common practice, no source.
const (
	coldestBase units.Celsius = 0
	warmestBase units.Celsius = 30
	coldestDay  units.Celsius = -70

	longestCold = 366 // days: a longer sum says nothing of the season
)

// SameBase is how far the bases of one group's degree days may differ: 65 °F written as 18.3 °C is one base.
const SameBase units.Celsius = 0.05

// Check says what is wrong with the row; see [Plant.Check].
func (d *DegreeDays) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&d.Entry)
	if d.Void {
		return f
	}
	if zone, ok := f.group(dir, d.Group, now); ok {
		f.period(d.FirstDay, d.LastDay, now, zone)
	}
	days := d.LastDay - d.FirstDay + 1
	if days > longestCold {
		f.add("last_day", "%d days: expected at most %d, such as one row a day or a month", days, longestCold)
	}
	if f.within("base", float64(d.Under), float64(coldestBase), float64(warmestBase), "°C") && days >= 1 {
		f.within("degree_days", float64(d.Sum), 0, float64(d.Under-coldestDay)*float64(days), "°C·d")
	}
	return f
}

// group looks a climate group up, with the zone of its plants in which the day is the furthest on.
func (f *findings) group(dir *Directory, id string, now time.Time) (zone *time.Location, ok bool) {
	if !f.line("group", id, longestID) {
		return nil, false
	}
	for _, p := range dir.Plants() {
		if p.Group != id {
			continue
		}
		if its := p.zoneOrUTC(); zone == nil || calendar.DayOf(now, its) > calendar.DayOf(now, zone) {
			zone = its
		}
	}
	if zone != nil {
		return zone, true
	}
	known := names(dir.groups(), func(name string) string { return name })
	switch {
	case id == "":
		f.add("group", "blank, and no plant is without a group: expected one of %s", known)
	case known == "":
		f.add("group", "there is no climate group %s: state it in a plant's row first, or leave it blank here too", quoted(id))
	default:
		f.add("group", "there is no climate group %s: expected one of %s, or state it in a plant's row first", quoted(id), known)
	}
	return nil, false
}

// groups lists the climate groups that plants state, each once.
func (d *Directory) groups() []string {
	var all []string
	for _, p := range d.Plants() {
		if p.Group != "" && !slices.Contains(all, p.Group) {
			all = append(all, p.Group)
		}
	}
	return all
}

// HasBaseOf tells whether degree days are of one base, however it was rounded.
func (d *DegreeDays) HasBaseOf(o *DegreeDays) bool {
	return max(d.Under-o.Under, o.Under-d.Under) <= SameBase
}
