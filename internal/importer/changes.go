package importer

import (
	"cmp"
	"slices"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

var loadSheet = define("load_changes.csv", []column{
	{name: "plant", need: always}, {name: "from", need: always}, {name: "until"}, {name: "times"}, {name: "added_kw"},
	{name: "uncertainty_percent"}, {name: "cause", need: always}, {name: "note"},
}, func(r *row) *inventory.LoadChange {
	return &inventory.LoadChange{
		Entry:       r.entry(),
		Plant:       r.text("plant"),
		From:        orZero(r.day("from")),
		Until:       r.day("until"),
		Times:       maybe[float64](r, "times"),
		Added:       maybe[units.Kilowatts](r, "added_kw"),
		Uncertainty: maybe[float64](r, "uncertainty_percent"),
		Cause:       code[inventory.LoadCause](r, "cause"),
		Note:        r.text("note"),
	}
}, func(c *inventory.LoadChange) string { return key(c.Plant, c.From.String(), string(c.Cause)) }).to(plantSheet)

var degreeSheet = define("degree_days.csv", []column{
	{name: "group"}, {name: "first_day", need: always}, {name: "last_day", need: always},
	{name: "degree_days", need: filled, in: &units.HeatingDegreeDays}, {name: "base", need: filled, in: &units.Temperature},
}, func(r *row) *inventory.DegreeDays {
	return &inventory.DegreeDays{
		Entry:    r.entry(),
		Group:    r.text("group"),
		FirstDay: orZero(r.day("first_day")),
		LastDay:  orZero(r.day("last_day")),
		Sum:      value[units.DegreeDays](r, "degree_days"),
		Under:    value[units.Celsius](r, "base"),
	}
}, func(d *inventory.DegreeDays) string { return key(d.Group, d.FirstDay.String(), d.LastDay.String()) }).onlyOne().to(plantSheet)

// oneLine refuses degree days in force of which two say something of one day, or that are not of one base, within each
// group. What the ledger holds of them is not seen from here: the store holds the rows against it.
func (t *table) oneLine() {
	degrees := func(e entered) *inventory.DegreeDays { return e.record.(*inventory.DegreeDays) }
	var all []entered
	for _, e := range t.rows {
		if t.inForce(e) {
			all = append(all, e)
		}
	}
	slices.SortStableFunc(all, func(x, y entered) int {
		a, b := degrees(x), degrees(y)
		return cmp.Or(cmp.Compare(a.Group, b.Group), cmp.Compare(a.FirstDay, b.FirstDay), cmp.Compare(a.LastDay, b.LastDay))
	})
	for i := 1; i < len(all); i++ {
		before, after := degrees(all[i-1]), degrees(all[i])
		line, other := all[i].line, all[i-1].line
		switch {
		case before.Group != after.Group || t.identity(before) == t.identity(after):
		case before.LastDay >= after.FirstDay:
			t.problem(line, "first_day", "%s stands in row %d already, which goes to %s: expected each day of a group once", after.FirstDay, other, before.LastDay)
		case !after.HasBaseOf(before):
			t.problem(line, "base", "%.2f °C, and row %d of the same group has %.2f °C: expected one base a group", float64(after.Under), other, float64(before.Under))
		}
	}
}
