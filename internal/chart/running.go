package chart

import (
	"html"
	"html/template"
	"math"

	"overwinter/internal/calendar"
)

// SumPoint is a running sum at a day, with the half width of its interval: as far as the sum may lie from nothing by the
// instruments' own errors. The first point of a stretch is nothing, and certain.
type SumPoint struct {
	Day      calendar.Day
	Sum, Off float64
}

// Running is a running sum against time, above and below nothing: a line with a mark at each count, over a wash as wide as
// chance would make it. Stretches with no sum between them are drawn apart.
type Running struct {
	ID, Title, Desc string
	Axis            Axis
	Stretches       [][]SumPoint
	Unit            string
}

// Draw draws the chart.
func (r Running) Draw() template.HTML {
	d := &drawing{size: monthlySize, axis: r.Axis}
	d.open(r.ID, r.Title, r.Desc)
	most := r.farthest()
	if !r.Axis.empty() && most > 0 {
		d.top = 2.04 * most // nothing lies half-way up
		g := d.inner()
		for _, s := range r.Stretches {
			d.band(g, s)
		}
		d.add(`</svg>`)
		d.balanced(most, r.Unit)
		d.months()
		for _, s := range r.Stretches {
			d.counts(s)
		}
	}
	return d.close()
}

func (r Running) farthest() float64 {
	most := 0.0
	for _, s := range r.Stretches {
		for _, p := range s {
			most = max(most, math.Abs(p.Sum), p.Off)
		}
	}
	return most
}

// signed gives the place of a quantity that may lie below nothing.
func (d *drawing) signed(v float64) float64 { return d.y(v + d.top/2) }

// band draws the wash of one stretch, and the sum over it.
func (d *drawing) band(g grid, s []SumPoint) {
	var upper, lower, sum []point
	for _, p := range s {
		x := d.axis.clamp(p.Day)
		upper = append(upper, point{x, g.top/2 + p.Off})
		lower = append(lower, point{x, g.top/2 - p.Off})
		sum = append(sum, point{x, g.top/2 + p.Sum})
	}
	if area := between(g.place(upper), g.place(lower)); area != "" {
		d.add(`<path class="wash" d="%s"/>`, area)
	}
	if line := path(g.place(sum)); line != "" {
		d.add(`<path class="mid" d="%s"/>`, line)
	}
}

// balanced draws the rules above and below nothing, each named at the left of the chart.
func (d *drawing) balanced(most float64, unit string) {
	ticks, _ := levels(most, 2)
	for i, q := range ticks {
		for _, sign := range []float64{1, -1} {
			if i == 0 && sign < 0 {
				continue
			}
			class, text := "rule", grouped(q)
			if i == 0 {
				class = "base"
			} else if sign < 0 {
				text = "−" + text
			}
			y := trimmed(d.signed(sign*q), 1)
			d.add(`<line class="%[1]s" x2="100%%" y1="%[2]s" y2="%[2]s"/><text class="t" x="0" dx="-6" y="%[2]s" dy="3.5" text-anchor="end">%[3]s</text>`, class, y, text)
		}
	}
	d.add(`<text class="t" x="0" dx="-40" y="%s">%s</text>`, trimmed(d.head-10, 1), html.EscapeString(unit))
}

// counts marks the counts of stock of a stretch.
func (d *drawing) counts(s []SumPoint) {
	for _, p := range s {
		d.add(`<circle class="count" r="2.5" cx="%s" cy="%s"/>`, percent(d.axis.clamp(p.Day)), trimmed(d.signed(p.Sum), 1))
	}
}
