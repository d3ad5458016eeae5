package chart

import (
	"html"
	"html/template"
	"math"
	"strings"
)

// levels gives round quantities from 0 up, about so many, and the top of a scale that holds the most.
func levels(most float64, about int) (ticks []float64, top float64) {
	if most <= 0 || math.IsNaN(most) || math.IsInf(most, 0) {
		return []float64{0}, 0
	}
	rough := most / float64(about)
	unit := math.Pow(10, math.Floor(math.Log10(rough)))
	step := 10 * unit
	for _, m := range []float64{1, 2, 5} {
		if m*unit >= rough {
			step = m * unit
			break
		}
	}
	for i := 0; float64(i)*step <= most; i++ {
		ticks = append(ticks, float64(i)*step)
	}
	return ticks, most * 1.02
}

// levels draws the rules of the quantities, each named at the left of the chart, the unit above them. The
// page leaves room there.
func (d *drawing) levels(ticks []float64, unit string, per float64) {
	for i, q := range ticks {
		y := trimmed(d.y(q), 1)
		class := "rule"
		if i == 0 {
			class = "base"
		}
		d.add(`<line class="%[1]s" x2="100%%" y1="%[2]s" y2="%[2]s"/><text class="t" x="0" dx="-6" y="%[2]s" dy="3.5" text-anchor="end">%[3]s</text>`, class, y, grouped(q/per))
	}
	d.add(`<text class="t" x="0" dx="-40" y="%s">%s</text>`, trimmed(d.head-10, 1), html.EscapeString(unit))
}

// grouped writes a quantity with thin spaces between thousands.
func grouped(q float64) string {
	text := trimmed(q, 3)
	whole, rest, _ := strings.Cut(text, ".")
	var b strings.Builder
	for i, r := range whole {
		if i > 0 && (len(whole)-i)%3 == 0 {
			b.WriteRune('\u202f')
		}
		b.WriteRune(r)
	}
	if rest != "" {
		b.WriteString("." + rest)
	}
	return b.String()
}

// months draws the axis of a large chart: a tick at each month, and the names under it.
func (d *drawing) months() {
	for _, m := range d.axis.months() {
		x := percent(d.axis.at(m.at))
		d.add(`<line class="tick" x1="%[1]s" x2="%[1]s" y1="%[2]s" y2="%[3]s"/>`, x, trimmed(d.base, 1), trimmed(d.base+3, 1))
		if m.text != "" && d.axis.at(m.at) < lastName {
			d.add(`<text class="t" x="%s" y="%s">%s</text>`, x, trimmed(d.base+22, 1), m.text)
		}
	}
}

// lastName is how far right a month's name may begin to have room.
const lastName = 0.94

// Months gives what the ribbons of a page share, made of their axis: the base line with a tick at each
// month, and the months' names, to be shown with Names. A page holds it once, before its ribbons.
func Months(a Axis) template.HTML {
	d := &drawing{size: ribbonSize, axis: a}
	d.add(`<svg class="marks" aria-hidden="true"><defs><g id="ticks"><line class="base" x2="100%%" y1="%[1]s" y2="%[1]s"/>`, trimmed(d.base, 1))
	if !a.empty() {
		for _, m := range a.months() {
			d.add(`<line class="tick" x1="%[1]s" x2="%[1]s" y1="%[2]s" y2="%[3]s"/>`, percent(a.at(m.at)), trimmed(d.base, 1), trimmed(d.base+3, 1))
		}
	}
	d.add(`</g><g id="names">`)
	if !a.empty() {
		for _, m := range a.months() {
			if m.text != "" && a.at(m.at) < lastName {
				d.add(`<text class="t" x="%s" y="11">%s</text>`, percent(a.at(m.at)), m.text)
			}
		}
	}
	d.add(`</g></defs></svg>`)
	return template.HTML(d.String())
}

// Names is the months' names of the shared axis.
const Names template.HTML = `<svg class="names" aria-hidden="true"><use href="#names"/></svg>`
