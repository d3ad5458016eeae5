package chart

import (
	"cmp"
	"html"
	"html/template"
	"slices"
	"unicode/utf8"

	"overwinter/internal/calendar"
)

// Marks is what all charts of a page refer to; a page holds it once, before its charts.
const Marks template.HTML = `<svg class="marks" aria-hidden="true"><defs>` +
	`<pattern id="open" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="open" d="M0 0V6"/></pattern>` +
	`<pattern id="perhaps" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="perhaps" d="M0 0V6"/></pattern>` +
	`<pattern id="dots" width="6" height="6" patternUnits="userSpaceOnUse"><circle class="dot" cx="2" cy="2" r=".9"/></pattern>` +
	`<path id="flag" d="M0 0l11 4-11 4z"/><path id="galf" d="M0 0l-11 4 11 4z"/>` +
	`</defs></svg>`

// windows hatches the stretches in which fuel can come.
func (d *drawing) windows(all []Window) {
	for _, w := range all {
		if w.Open <= w.Closing {
			d.hatch("perhaps", w.Opening, w.Open)
			d.hatch("open", w.Open, w.Closing)
			d.hatch("perhaps", w.Closing, w.Closed)
		} else {
			d.hatch("perhaps", w.Opening, w.Closed)
		}
	}
}

func (d *drawing) hatch(pattern string, from, until calendar.Day) {
	a, b := d.axis.clamp(from), d.axis.clamp(until)
	if b <= a {
		return
	}
	top := d.head - 4
	d.add(`<rect fill="url(#%s)" x="%s" width="%s" y="%s" height="%s"/>`, pattern, percent(a), percent(b-a), trimmed(top, 1), trimmed(d.base-top, 1))
}

// events draws what has a day: orders on their way, the day to order by, and when the reserve is reached.
func (d *drawing) events(s Stock) {
	taken := shelf{}
	if s.OrderBy != nil && d.axis.within(*s.OrderBy) {
		d.pennant(*s.OrderBy, taken)
	}
	for _, o := range d.inOrder(s.Orders) {
		d.order(o, taken)
	}
	d.reached(s.Reached)
}

// inOrder gives the orders on the axis by day.
func (d *drawing) inOrder(all []Order) []Order {
	var seen []Order
	for _, o := range all {
		if d.axis.within(o.Day) {
			seen = append(seen, o)
		}
	}
	slices.SortStableFunc(seen, func(a, b Order) int { return cmp.Compare(a.Day, b.Day) })
	return seen
}

// pennant draws the day to order by: a pole with a flag, which flies to the left at the right edge.
func (d *drawing) pennant(day calendar.Day, taken shelf) {
	at := d.axis.at(day)
	top := trimmed(d.head-13, 1)
	flag := "flag"
	if at > 0.95 {
		flag = "galf"
		taken.put(0, at-flagShare, at)
	} else {
		taken.put(0, at, at+flagShare)
	}
	d.add(`<g class="by"><line x1="%[1]s" x2="%[1]s" y1="%[2]s" y2="%[3]s"/><use href="#%[4]s" x="%[1]s" y="%[2]s"/></g>`,
		percent(at), top, trimmed(d.base, 1), flag)
}

// Shares of the width of the narrowest chart, that of a telephone, 360 pixels.
const (
	flagShare   = 13.0 / 360
	letterShare = 6.2 / 360
	gapShare    = 4.0 / 360
)

// order draws an order on its way: an upright stroke with the litres beside it, on the first shelf on
// which they stand clear of what is there. Where all shelves are taken the stroke stands alone.
func (d *drawing) order(o Order, taken shelf) {
	at := d.axis.at(o.Day)
	x := percent(at)
	d.add(`<line class="due" x1="%[1]s" x2="%[1]s" y1="%[2]s" y2="%[3]s"/>`, x, trimmed(d.head-8, 1), trimmed(d.base, 1))
	wide := gapShare + letterShare*float64(utf8.RuneCountInString(o.Label))
	from, until, beside := at, at+wide, `dx="3"`
	if until > 1 {
		from, until, beside = at-wide, at, `dx="-3" text-anchor="end"`
	}
	if row, free := taken.place(from, until); free {
		d.add(`<text class="t clear due" x="%s" %s y="%s">%s</text>`, x, beside, trimmed(d.head-4+float64(row)*shelfHeight, 1), html.EscapeString(o.Label))
	}
}

// shelf holds what stretches of the width are taken, row by row downward.
type shelf map[int][][2]float64

const (
	shelfHeight = 10.0
	shelfRows   = 3
)

func (s shelf) put(row int, from, until float64) { s[row] = append(s[row], [2]float64{from, until}) }

// place takes the first row that is free over a stretch, if there is one.
func (s shelf) place(from, until float64) (row int, free bool) {
	for row := range shelfRows {
		if !slices.ContainsFunc(s[row], func(t [2]float64) bool { return from < t[1]+gapShare && t[0] < until+gapShare }) {
			s.put(row, from, until)
			return row, true
		}
	}
	return 0, false
}

// reached draws when the reserve is reached: a bar under the axis from p10 to p90, to the edge where that
// lies beyond, and a stroke at p50.
func (d *drawing) reached(r Reached) {
	if r.P10 == nil || *r.P10 > d.axis.Until {
		return
	}
	from, until := d.axis.clamp(*r.P10), 1.0
	if r.P90 != nil {
		until = d.axis.clamp(*r.P90)
	}
	until = max(until, min(from+2*gapShare, 1)) // one day is seen too
	y := trimmed(d.base+4, 1)
	d.add(`<line class="span" x1="%[1]s" x2="%[2]s" y1="%[3]s" y2="%[3]s"/>`, percent(from), percent(until), y)
	if r.P50 != nil && d.axis.within(*r.P50) {
		d.add(`<line class="half" x1="%[1]s" x2="%[1]s" y1="%[2]s" y2="%[3]s"/>`, percent(d.axis.at(*r.P50)), trimmed(d.base+0.5, 1), trimmed(d.base+7.5, 1))
	}
}
