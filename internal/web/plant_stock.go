package web

import (
	"html/template"
	"strconv"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/chart"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// stockView is how the stock now was reckoned, as a sum.
type stockView struct {
	Known  bool
	Gauged string
	Lines  []fact
	Usable string
	Room   string
}

func stockOf(p advice.Plant) stockView {
	s := p.Stock
	v := stockView{Known: s.Usable != nil}
	if s.Gauged != nil {
		v.Gauged = moment(*s.Gauged, zoneOf(p), p.AsOf)
	}
	if !v.Known {
		return v
	}
	v.Lines = []fact{{"in the tanks when gauged", whole(s.AtGauged)}}
	for _, l := range []struct {
		name   string
		litres float64
	}{
		{"received since", s.Received}, {"drawn since", -s.Drawn}, {"burned since, by the meters", -s.Metered}, {"burned since, by the forecast", -s.Forecast},
	} {
		if l.litres != 0 {
			sign := ""
			if l.litres > 0 {
				sign = "+"
			}
			v.Lines = append(v.Lines, fact{l.name, sign + whole(l.litres)})
		}
	}
	v.Usable = whole(*s.Usable)
	if s.Sigma != nil {
		v.Usable += " ± " + whole(*s.Sigma)
	}
	v.Room = kL(s.Capacity)
	return v
}

// tanksView is the tanks as they were last found, in the units of the plant's people.
type tanksView struct {
	Depth, Volume, Temperature string // units
	Rows                       []tankRow
	Assumed                    bool // a temperature was not read
}

type tankRow struct {
	Tank, Role                                               string
	Level, Temperature, Usable, Water, Below, Room, SafeFill string
	Gauged                                                   string
}

func tanksOf(p advice.Plant, display inventory.Display) tanksView {
	in := scalesOf(display)
	v := tanksView{Depth: in.depth.Label, Volume: in.volume.Label, Temperature: in.temperature.Label}
	for _, t := range p.Stock.Tanks {
		r := tankRow{
			Tank: t.Tank, Role: plain(string(t.Role)), Gauged: "never",
			Level: written(t.Depth, in.depth), Temperature: written(t.Temperature, in.temperature), Usable: written(t.Usable, in.volume),
			Water: written(t.Water, in.volume), Below: written(t.Below, in.volume), Room: written(t.Room, in.volume), SafeFill: written(&t.SafeFill, in.volume),
		}
		if !t.InService {
			r.Role += ", out of service"
		}
		if t.Assumed && t.Temperature != nil {
			r.Temperature, v.Assumed = r.Temperature+"*", true
		}
		if t.Gauged != nil {
			r.Gauged = ageText(*t.Gauged, p)
		}
		v.Rows = append(v.Rows, r)
	}
	return v
}

// ageText says when something was, with the days since.
func ageText(at time.Time, p advice.Plant) string {
	zone := zoneOf(p)
	text := moment(at, zone, p.AsOf)
	if age := int(p.AsOf - calendar.DayOf(at, zone)); age > 0 {
		text += ", " + days(age) + " ago"
	}
	return text
}

// written writes a stored quantity in a unit: whole numbers from a hundred up, else one decimal.
func written(stored *float64, scale units.Scale) string {
	if stored == nil {
		return none
	}
	x := scale.FromStored(*stored)
	if x >= 99.95 || x <= -99.95 || scale.Name == "mm" || scale.Name == "l" {
		return whole(x)
	}
	text := strconv.FormatFloat(x, 'f', 1, 64)
	if text == "-0.0" {
		return "0.0"
	}
	if text[0] == '-' {
		return "−" + text[1:]
	}
	return text
}

// figureRow is a day of the projection.
type figureRow struct{ Day, Low, Mid, High, Reserve string }

func figureRows(p advice.Plant) []figureRow {
	pr := p.Projection
	if pr == nil {
		return nil
	}
	at := func(values []int64, i int) string {
		if i >= len(values) {
			return none
		}
		return kilolitres(float64(values[i]))
	}
	var rows []figureRow
	for i := range pr.P50 {
		day := pr.From + calendar.Day(i*pr.Step)
		rows = append(rows, figureRow{shortDay(day, p.AsOf), at(pr.P10, i), at(pr.P50, i), at(pr.P90, i), at(pr.Reserve, i)})
	}
	return rows
}

// burnView is what the plant burns against its season.
type burnView struct {
	Text  string
	Chart template.HTML
	Rows  []burnRow
}

// fewDays is how many days of a month must be covered for it to be drawn beside whole months.
const fewDays = 7

type burnRow struct{ Month, Measured, Covered, Expected string }

func burnOf(p advice.Plant) burnView {
	var v burnView
	if b := p.Burn; b != nil {
		v.Text = "About " + whole(b.Next30PerDay) + joint + "L a day over the next 30 days, and " + kL(b.YearTotal) + " over the next 365. A single day usually takes " +
			whole(b.UsualLow) + " to " + whole(b.UsualHigh) + joint + "L."
	}
	if len(p.BurnByMonth) == 0 {
		return v
	}
	m := chart.Monthly{
		ID: "burn", Title: "Burn of " + p.Name + " by month against its season",
		Desc: "Litres at 15 °C a day: the curve is what the season lets expect, the strokes are what was measured. The figures are in the table below.", Unit: "L a day",
	}
	for _, b := range p.BurnByMonth {
		measured := b.Measured
		if b.DaysCovered < fewDays {
			measured = nil // the table has it
		}
		m.Months = append(m.Months, chart.Month{Label: monthLabel(b.Month), Measured: measured, Low: b.Expected, Expected: b.Expected, High: b.Expected})
		r := burnRow{Month: format(b.Month.First(), "Jan 2006"), Measured: none, Covered: none, Expected: whole(b.Expected)}
		if b.Measured != nil {
			r.Measured, r.Covered = whole(*b.Measured), strconv.FormatFloat(b.DaysCovered, 'f', 0, 64)
		}
		v.Rows = append(v.Rows, r)
	}
	v.Chart = m.Draw()
	return v
}
