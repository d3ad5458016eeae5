package chart

import (
	"html"
	"html/template"
)

// Month is one month of a chart by months.
type Month struct {
	Label string // under the axis; "" for none
	// Measured is what was found, nil where there is nothing.
	Measured *float64
	// Expected, with its range; Low and High are alike where there is none.
	Low, Expected, High float64
}

// Monthly is a quantity by months, or summed up to each month's end: what was found as a stroke over the
// month's width, what is expected as a curve, with its range as a wash.
type Monthly struct {
	ID, Title, Desc string
	Months          []Month
	Unit            string  // above the scale: kL
	Per             float64 // how many of the given quantities make one of Unit; 0 means 1
	// Ends tells that a quantity is that at the end of its month, which begins from nothing, and not the
	// month's own.
	Ends bool
}

var monthlySize = size{class: "monthly", head: 22, base: 180, width: 2000, scale: 2}

// Draw draws the chart.
func (m Monthly) Draw() template.HTML {
	d := &drawing{size: monthlySize, top: m.highest()}
	d.open(m.ID, m.Title, m.Desc)
	if len(m.Months) > 0 {
		ticks, top := levels(d.top, 4)
		d.top = top
		d.levels(ticks, m.Unit, m.per())
		m.names(d)
		m.expected(d)
		m.measured(d)
	}
	return d.close()
}

func (m Monthly) per() float64 {
	if m.Per <= 0 {
		return 1
	}
	return m.Per
}

func (m Monthly) highest() float64 {
	most := 0.0
	for _, x := range m.Months {
		most = max(most, x.High, x.Expected)
		if x.Measured != nil {
			most = max(most, *x.Measured)
		}
	}
	return most
}

func (m Monthly) share(month float64) float64 { return month / float64(len(m.Months)) }

func (m Monthly) names(d *drawing) {
	for i, x := range m.Months {
		at := percent(m.share(float64(i)))
		d.add(`<line class="tick" x1="%[1]s" x2="%[1]s" y1="%[2]s" y2="%[3]s"/>`, at, trimmed(d.base, 1), trimmed(d.base+3, 1))
		if x.Label != "" && m.share(float64(i)) < lastName {
			d.add(`<text class="t" x="%s" y="%s">%s</text>`, at, trimmed(d.base+15, 1), html.EscapeString(x.Label))
		}
	}
}

// expected draws the curve and its range, each month's quantity at the middle of the month or at its end.
func (m Monthly) expected(d *drawing) {
	g := d.inner()
	line := func(of func(Month) float64) []point {
		var points []point
		if m.Ends {
			points = append(points, point{0, 0})
		}
		for i, x := range m.Months {
			at := m.share(float64(i) + 0.5)
			if m.Ends {
				at = m.share(float64(i) + 1)
			}
			points = append(points, point{at, max(of(x), 0)})
		}
		return simplify(g.place(points))
	}
	mid := line(func(x Month) float64 { return x.Expected })
	low, high := line(func(x Month) float64 { return x.Low }), line(func(x Month) float64 { return x.High })
	if p := between(high, low); p != "" {
		d.add(`<path class="wash" d="%s"/>`, p)
	}
	if p := path(mid); p != "" {
		d.add(`<path class="mid" d="%s"/>`, p)
	}
	d.add(`</svg>`)
}

func (m Monthly) measured(d *drawing) {
	for i, x := range m.Months {
		if x.Measured != nil {
			y := trimmed(d.y(*x.Measured), 1)
			d.add(`<line class="found" x1="%s" x2="%s" y1="%s" y2="%s"/>`,
				percent(m.share(float64(i)+0.08)), percent(m.share(float64(i)+0.92)), y, y)
		}
	}
}
