package chart

import (
	"bytes"
	"fmt"
	"html"
	"html/template"

	"overwinter/internal/calendar"
)

// Stock is what a stock chart shows.
type Stock struct {
	ID    string // unique in its page, letters, digits and hyphens
	Title string // what a reader who does not see it is told first
	Desc  string // and then; "" for nothing more
	Axis  Axis

	Low, Mid, High, Reserve Curve // litres: 10, 50 and 90 % points of the usable stock, and the reserve
	// Unknown tells that nobody knows the stock.
	Unknown bool
	// Full is what the tanks hold, in litres; 0 draws no line for it.
	Full    float64
	Windows []Window
	Orders  []Order
	OrderBy *calendar.Day
	Reached Reached
}

// Window is a stretch of time in which fuel can come. It is surely open from Open to Closing, and
// perhaps from Opening and to Closed.
type Window struct{ Opening, Open, Closing, Closed calendar.Day }

// Order is fuel on its way.
type Order struct {
	Day   calendar.Day
	Label string // +240
}

// Reached is the day on which the reserve is reached as its 10, 50 and 90 % points; nil lies beyond what
// was looked at.
type Reached struct{ P10, P50, P90 *calendar.Day }

// size is the measures of a kind of stock chart, in pixels downward: where the curves begin and end, and
// how fine the curves' grid is.
type size struct {
	class        string
	head, base   float64 // upper edge and base line of the curves
	width, scale float64 // units of the grid: across, and to a pixel downward
}

var (
	ribbonSize = size{class: "ribbon", head: 14, base: 58, width: 1000, scale: 2}
	sheetSize  = size{class: "sheet", head: 36, base: 300, width: 2000, scale: 2}
)

// drawing is a chart in the making.
type drawing struct {
	bytes.Buffer
	size
	axis Axis
	top  float64 // litres at the upper edge of the curves
}

func (d *drawing) add(format string, args ...any) { fmt.Fprintf(d, format, args...) }

// Ribbon draws a stock small, to stand in a row of a table under a shared axis. The page must hold Marks
// and, made of the same axis, Months.
func Ribbon(s Stock) template.HTML {
	d := &drawing{size: ribbonSize, axis: s.Axis, top: s.highest()}
	d.open(s.ID, s.Title, s.Desc)
	if !s.Axis.empty() {
		d.windows(s.Windows)
		d.add(`<use href="#ticks"/>`)
		d.curves(s)
		d.events(s)
	}
	return d.close()
}

// Sheet draws a stock large, with its own axes. The page must hold Marks.
func Sheet(s Stock) template.HTML {
	d := &drawing{size: sheetSize, axis: s.Axis, top: s.highest()}
	d.open(s.ID, s.Title, s.Desc)
	if !s.Axis.empty() {
		ticks, top := levels(d.top, 5)
		d.top = top
		d.windows(s.Windows)
		d.levels(ticks, "kL", 1000)
		if s.Full > 0 && s.Full <= d.top {
			y := trimmed(d.y(s.Full), 1)
			d.add(`<line class="full" x2="100%%" y1="%s" y2="%s"/><text class="t clear" x="50%%" y="%s" text-anchor="middle">tanks full</text>`, y, y, trimmed(d.y(s.Full)-4, 1))
		}
		d.months()
		d.curves(s)
		d.events(s)
	}
	return d.close()
}

// highest is the most that a chart must have room for.
func (s Stock) highest() float64 {
	most := s.Full
	for _, c := range []Curve{s.Low, s.Mid, s.High, s.Reserve} {
		for _, p := range c.on(s.Axis) {
			most = max(most, p.y)
		}
	}
	return most
}

func (d *drawing) open(id, title, desc string) {
	d.add(`<svg class="%s" role="img" aria-labelledby="%s-t`, d.class, id)
	if desc != "" {
		d.add(` %s-d`, id)
	}
	d.add(`"><title id="%s-t">%s</title>`, id, html.EscapeString(title))
	if desc != "" {
		d.add(`<desc id="%s-d">%s</desc>`, id, html.EscapeString(desc))
	}
}

func (d *drawing) close() template.HTML {
	d.add(`</svg>`)
	return template.HTML(d.String())
}

// y gives the place of a quantity, in pixels downward.
func (d *drawing) y(litres float64) float64 {
	if d.top <= 0 {
		return d.base
	}
	return d.base - (d.base-d.head)*min(max(litres/d.top, 0), 1)
}

// inner opens the drawing that stretches with the page.
func (d *drawing) inner() grid {
	g := grid{d.width, (d.base - d.head) * d.scale, d.top}
	d.add(`<svg y="%s" height="%s" viewBox="0 0 %s %s" preserveAspectRatio="none">`,
		trimmed(d.head, 1), trimmed(d.base-d.head, 1), trimmed(g.width, 0), trimmed(g.height, 0))
	return g
}

// curves draws the stock and the reserve.
func (d *drawing) curves(s Stock) {
	if s.Unknown {
		d.add(`<rect width="100%%" y="%s" height="%s" fill="url(#dots)"/>`, trimmed(d.head, 1), trimmed(d.base-d.head, 1))
		return
	}
	g := d.inner()
	line := func(c Curve) []point { return simplify(g.place(c.on(d.axis))) }
	if area := between(line(s.High), line(s.Low)); area != "" {
		d.add(`<path class="wash" d="%s"/>`, area)
	}
	if p := path(line(s.Reserve)); p != "" {
		d.add(`<path class="reserve" d="%s"/>`, p)
	}
	if p := path(line(s.Mid)); p != "" {
		d.add(`<path class="mid" d="%s"/>`, p)
	}
	d.add(`</svg>`)
}
