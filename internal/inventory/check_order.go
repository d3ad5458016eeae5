package inventory

import (
	"time"

	"overwinter/internal/fault"
)

// Check says what is wrong with the order's row; see [Plant.Check].
func (o *Order) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&o.Entry)
	f.id("order", o.ID)
	if o.Void {
		f.id("plant", o.Plant)
		return f
	}
	if plant, ok := f.plant(dir, o.Plant); ok {
		f.pastDay("ordered_on", o.OrderedOn, now, plant.zoneOrUTC())
		if o.StateAt != nil {
			f.past("state_at", *o.StateAt, now, plant.zoneOrUTC())
		}
	}
	if o.Route != "" {
		f.route(dir, o.Route)
	}
	oneOf(&f, "state", o.State.Means(), OrderStates()...)
	f.arrival(o)
	if o.OrderBy != nil {
		f.day("order_by", *o.OrderBy)
		if *o.OrderBy > o.Late {
			f.add("order_by", "%s is after the latest arrival, %s: expected the last day on which the order may be placed", *o.OrderBy, o.Late)
		}
	}
	f.volume("volume", float64(o.Volume))
	f.measure(o.Measure)
	return f
}

// arrival checks the three points of an order's expected arrival.
func (f *findings) arrival(o *Order) {
	f.day("early", o.Early)
	f.day("late", o.Late)
	if o.Early > o.Likely {
		f.add("early", "%s is after likely, %s: expected early, likely and late in order", o.Early, o.Likely)
	}
	if o.Likely > o.Late {
		f.add("late", "%s is before likely, %s: expected early, likely and late in order", o.Late, o.Likely)
	}
}

// Check says what is wrong with the clearance's row; see [Plant.Check].
func (c *Clearance) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&c.Entry)
	if c.Void {
		f.id("plant", c.Plant)
		return f
	}
	f.id("order", c.Order)
	f.id("clearance", c.Name)
	if plant, ok := f.plant(dir, c.Plant); ok && c.ClearedOn != nil {
		f.pastDay("cleared_on", *c.ClearedOn, now, plant.zoneOrUTC())
	}
	if c.LastSafeOn != nil {
		f.day("last_safe_on", *c.LastSafeOn)
	}
	if c.TakesDays != nil {
		f.within("takes_days", float64(*c.TakesDays), 0, longestWait, "days")
	}
	f.line("by", c.By, longestName)
	f.note("note", c.Note)
	return f
}
