package web

import (
	"strings"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// asks tells whether a doubt is worth a question before the round is written. A missing temperature is
// said afterwards: it is missing at many plants every day.
func asks(n notice.Notice) bool {
	return n.Severity != notice.Info && n.Code != inventory.CodeBasisUnknown
}

// compare sets how the values compare with what was read before, and what is doubtful, under the fields.
// It tells whether anything should be confirmed.
func (f *roundForm) compare(c intake.Comparison, day calendar.Day) (doubtful bool) {
	for _, g := range f.Meters {
		if p, ok := c.Meters[g.id]; ok && g.field("register").stored != nil {
			usual := c.Usual
			if len(c.Meters) > 1 {
				usual = nil // it is that of all meters together
			}
			g.field("register").Says = f.passed(p, usual, day)
		}
	}
	if len(c.Meters) > 1 && c.Plant != nil {
		f.Together = "Together " + f.passed(*c.Plant, c.Usual, day) + "."
	}
	for _, g := range f.Tanks {
		f.compareTank(g, day)
	}
	for _, n := range c.Notices {
		if !asks(n) {
			continue
		}
		doubtful = true
		f.doubt(n)
	}
	return doubtful
}

// passed says what went through since, and what is usual.
func (f *roundForm) passed(p intake.Passed, usual *intake.Usual, day calendar.Day) string {
	scale := scalesOf(f.plant.Display).volume
	volume := func(v units.LitresAt15) string { return read(scale, float64(v)) }
	since := clockMoment(p.Since, f.zone, day)
	if at, _, ok := strings.Cut(since, ", "); ok && at == "yesterday" {
		since = at
	}
	text := volume(p.Litres) + joint + scale.Label + " since " + since
	perDay := p.Days < 0.9 || p.Days > 1.1
	if perDay && p.Days > 0 {
		text += ", " + volume(p.PerDay()) + " a day"
	}
	if usual == nil {
		return text
	}
	text += "; " + volume(usual.Low) + " to " + volume(usual.High)
	if perDay {
		text += " a day"
	}
	return text + " is usual"
}

func (f *roundForm) compareTank(g *roundGroup, day calendar.Day) {
	q := g.Fields[0]
	if q.stored == nil || q.Last == "" {
		return
	}
	last, _ := figure(q.Last) // written by typed
	step := *q.stored - toStored(q.scale, last)
	since, err := time.ParseInLocation("2006-01-02T15:04", q.Since, f.zone)
	if err != nil {
		return
	}
	way := " more than "
	if step < 0 {
		way, step = " less than ", -step
	}
	if step == 0 {
		q.Says = "the same as " + clockMoment(since, f.zone, day)
		return
	}
	q.Says = read(q.scale, step) + joint + q.scale.Label + way + clockMoment(since, f.zone, day)
}

// doubtText writes a doubt for the page. What was burned stands under the field already, in the plant's own
// units.
func (s scales) doubtText(n notice.Notice) string {
	if n.Code == intake.CodeBurnUnusual {
		return "What was burned since is outside what is usual. Check the register; if it shows what you wrote, keep it."
	}
	return sentence(s.inUnits(n.Message))
}

// doubt puts a notice with the meter or tank that it is about, or at the top.
func (f *roundForm) doubt(n notice.Notice) {
	text := scalesOf(f.plant.Display).doubtText(n)
	for _, g := range f.groups() {
		if strings.HasSuffix(n.Subject, strings.TrimSuffix(g.Kind, "s")+" "+g.id) {
			g.Doubts = append(g.Doubts, text)
			return
		}
	}
	if len(f.Meters) > 0 && n.Subject == "meters" {
		last := f.Meters[len(f.Meters)-1]
		last.Doubts = append(last.Doubts, text)
		return
	}
	f.Top = append(f.Top, text)
}
