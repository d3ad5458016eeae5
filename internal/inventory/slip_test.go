package inventory

import (
	"math"
	"slices"
	"strconv"
	"time"

	"overwinter/internal/units"
)

// slip is one fault of the kind that people make, put into the rows of a plant that are true otherwise. It gives the keys of the
// rows of which one has to be named; none where the plant has no row that it could befall.
type slip struct {
	name string
	make func(h *honest) (keys []string)
	// In what share of the books any row is doubted for it, and in what share the right one, in percent.
	doubted, named float64
}

// slips are those that the books claim to find, each in any row that it may befall: the newest and those beside a row that is missing
// as well.
var slips = []slip{
	{"register: a digit dropped", func(h *honest) []string {
		return h.misread(func(digits string, _, _ float64) string {
			i := h.IntN(len(digits))
			return digits[:i] + digits[i+1:]
		})
	}, 99, 99},
	{"register: two digits exchanged", func(h *honest) []string {
		return h.misread(func(digits string, _, _ float64) string {
			i := h.IntN(len(digits) - 1)
			return digits[:i] + digits[i+1:i+2] + digits[i:i+1] + digits[i+2:]
		})
	}, 97, 97},
	{"register: back by a day to a month", func(h *honest) []string {
		return h.misread(func(_ string, before, perDay float64) string {
			return strconv.FormatFloat(math.Floor(before-h.scale(1, 30)*perDay), 'f', 0, 64)
		})
	}, 98, 97},
	{"delivery: a digit too many", func(h *honest) []string { return h.misstated(10) }, 96, 96},
	{"delivery: a digit dropped", func(h *honest) []string { return h.misstated(0.1) }, 55, 51},
	{"delivery: US gallons for litres", func(h *honest) []string { return h.misstated(1 / units.LitresPerUSGallon) }, 53, 51},
	{"delivery: litres for US gallons", func(h *honest) []string { return h.misstated(units.LitresPerUSGallon) }, 74, 72},
	{"delivery: entered twice", (*honest).enteredTwice, 67, 67},
	{"total: a digit too many", func(h *honest) []string { return h.mistotalled(10) }, 68, 68},
	{"total: a digit dropped", func(h *honest) []string { return h.mistotalled(0.1) }, 62, 62},
	{"total: US gallons for litres", func(h *honest) []string { return h.mistotalled(1 / units.LitresPerUSGallon) }, 63, 63},
	{"total: litres for US gallons", func(h *honest) []string { return h.mistotalled(units.LitresPerUSGallon) }, 62, 62},
	{"dip: a digit dropped", func(h *honest) []string { return h.misdipped(0.1) }, 82, 74},
	{"dip: US gallons for litres", func(h *honest) []string { return h.misdipped(1 / units.LitresPerUSGallon) }, 78, 71},
	{"dips of two tanks interchanged", func(h *honest) []string { return h.mixedUp(true) }, 55, 46},
	{"dip of another tank", func(h *honest) []string { return h.mixedUp(false) }, 59, 52},
}

// clearShare is the share of its tank by which a slip has to move a dip to be one that can be seen.
const clearShare = 0.05

// pick takes any row that will do, and puts a copy in its place that may be changed.
func pick[T any](h *honest, rows []*T, will func(*T) bool) *T {
	for range 20 {
		if len(rows) == 0 {
			break
		}
		if i := h.IntN(len(rows)); will(rows[i]) {
			row := *rows[i]
			rows[i] = &row
			return &row
		}
	}
	return nil
}

// misread changes the digits of a register by two days' burn at least: less is within what days differ by.
func (h *honest) misread(wrong func(digits string, before, perDay float64) string) []string {
	r := pick(h, h.rows.Readings, func(r *MeterReading) bool { return r.Register >= 1000 })
	if r == nil {
		return nil
	}
	i := slices.IndexFunc(h.dials, func(d *dial) bool { return d.row.ID == r.Meter })
	perDay := h.perDay / h.dials[i].row.LitresPerCount
	before := r.Register
	for _, x := range h.rows.Readings {
		if x.Meter == r.Meter && x.At.Before(r.At) {
			before = x.Register
		}
	}
	v, err := strconv.ParseFloat(wrong(strconv.FormatFloat(r.Register, 'f', 0, 64), before, perDay), 64)
	if err != nil || v < 0 || v >= math.Pow10(h.dials[i].row.Digits) || math.Abs(v-r.Register) < 2*perDay {
		return nil
	}
	r.Register = v
	return []string{r.Key}
}

func (h *honest) misstated(times units.Litres) []string {
	d := pick(h, h.rows.Deliveries, func(*Delivery) bool { return true })
	if d == nil {
		return nil
	}
	d.Volume *= times
	return []string{d.Key}
}

// enteredTwice enters a delivery once more, on the same day or one of the next two.
func (h *honest) enteredTwice() []string {
	d := pick(h, h.rows.Deliveries, func(*Delivery) bool { return true })
	if d == nil {
		return nil
	}
	again := *d
	again.Entry, again.At = h.key("delivery"), d.At.Add(time.Duration(h.IntN(3))*24*time.Hour)
	if _, end := h.last.Bounds(h.zone); !again.At.Before(end) {
		again.At = d.At
	}
	h.rows.Deliveries = append(h.rows.Deliveries, &again)
	return []string{d.Key, again.Key}
}

func (h *honest) mistotalled(times units.Litres) []string {
	t := pick(h, h.rows.Totals, func(t *PeriodTotal) bool { return t.Volume > 0 })
	if t == nil {
		return nil
	}
	t.Volume *= times
	return []string{t.Key}
}

func (h *honest) vessel(id string) *vessel {
	all := h.vessels()
	return all[slices.IndexFunc(all, func(v *vessel) bool { return v.row.ID == id })]
}

// ofStorage tells whether a gauging is of a storage tank; the others are filled and emptied all day.
func (h *honest) ofStorage(g *Gauging) bool { return h.vessel(g.Tank).row.Role == Storage }

func (h *honest) misdipped(times units.Litres) []string {
	volume := times != 0.1
	g := pick(h, h.rows.Gaugings, func(g *Gauging) bool { return h.ofStorage(g) && (!volume || g.Volume != nil) })
	if g == nil {
		return nil
	}
	was := *g
	if g.Volume != nil {
		g.Volume = new(*g.Volume * times)
	} else {
		g.Depth = new(*g.Depth * units.Millimetres(times))
		if g.Water != nil {
			g.Water = new(min(*g.Water, *g.Depth))
		}
	}
	return h.seen(&was, g)
}

// mixedUp gives a tank the dip of another in the same round, and the other its own where the two are interchanged.
func (h *honest) mixedUp(both bool) []string {
	g := pick(h, h.rows.Gaugings, h.ofStorage)
	if g == nil {
		return nil
	}
	i := slices.IndexFunc(h.rows.Gaugings, func(o *Gauging) bool {
		return o.Tank != g.Tank && o.At.Equal(g.At) && h.ofStorage(o) && (o.Volume == nil) == (g.Volume == nil)
	})
	if i < 0 {
		return nil
	}
	other := *h.rows.Gaugings[i]
	was, theirs := *g, other
	read := func(g, from *Gauging) {
		g.Volume, g.Depth, g.Water, g.Temperature = from.Volume, from.Depth, from.Water, from.Temperature
	}
	read(g, &theirs)
	keys := h.seen(&was, g)
	if !both || keys == nil {
		return keys
	}
	read(&other, &was)
	if h.seen(&theirs, &other) == nil {
		return nil
	}
	h.rows.Gaugings[i] = &other
	return append(keys, other.Key)
}

// seen gives the key of a dip that a slip moved by a clear share of its tank, and that the tank can hold.
func (h *honest) seen(was, is *Gauging) []string {
	m, err := h.vessel(is.Tank).row.Measured()
	if err != nil {
		return nil
	}
	before, err1 := m.Measure(was.Reading(), h.fuel, h.plant.FuelTemperature())
	after, err2 := m.Measure(is.Reading(), h.fuel, h.plant.FuelTemperature())
	moved := math.Abs(float64(after.UsableAt15 - before.UsableAt15))
	if err1 != nil || err2 != nil || moved < clearShare*float64(m.SafeFill) {
		return nil
	}
	return []string{is.Key}
}
