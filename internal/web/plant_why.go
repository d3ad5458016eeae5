package web

import (
	"overwinter/internal/advice"
	"overwinter/internal/resupply"
)

// whyView is the arithmetic behind an answer, line by line, so that it adds up.
type whyView struct {
	Intro           string
	Draws, Received bool // whether any line has some: a column of nothing is left out
	Missing         bool // a line's stock lies below nothing
	Lines           []whyLine
	Steps           []string
}

type whyLine struct {
	Day, Event, Burn, Draws, Received, Stock, Reserve string
	Below                                             bool // the stock is below the reserve
}

func whyOf(p advice.Plant, risk float64) *whyView {
	x := p.Explanation
	if x == nil {
		return nil
	}
	v := &whyView{Intro: whyIntro(p, risk) + " Its stock today is a little above or below the best estimate, as far as a gauging may be off."}
	for _, l := range x.Lines {
		v.Draws, v.Received, v.Missing = v.Draws || l.Draws != 0, v.Received || l.Received != 0, v.Missing || l.Stock < 0
		v.Lines = append(v.Lines, whyLine{
			Day: shortDay(l.Day, p.AsOf), Event: eventsInWords(l.Events),
			Burn: less(l.Burn), Draws: less(l.Draws), Received: plus(l.Received),
			Stock: whole(float64(l.Stock)), Reserve: whole(float64(l.Reserve)), Below: l.Stock < l.Reserve,
		})
	}
	for _, s := range x.Steps {
		v.Steps = append(v.Steps, sentence(stepInWords(s, p)))
	}
	return v
}

// less writes what is taken off, plus what is added; nothing where there is none.
func less(litres int64) string {
	if litres == 0 {
		return ""
	}
	return whole(float64(-litres))
}

func plus(litres int64) string {
	if litres == 0 {
		return ""
	}
	return "+" + whole(float64(litres))
}

// whyIntro says which path the lines follow, and what that has to do with the answer.
func whyIntro(p advice.Plant, risk float64) string {
	if p.Explanation.Guard == resupply.DeadlineGuard {
		return "The supplier’s own deadline decides: it comes before the last day that the stock, or the window, would allow. The lines follow one path, a simulated future of daily consumption, until then."
	}
	one := oneIn(risk)
	decides := "The lines follow the path that decides: one simulated future of daily consumption. In " + one
	switch {
	case p.Short != nil:
		return decides + " the stock would fall below its reserve even earlier; that much risk is accepted."
	case p.Order == nil:
		return "The lines follow a path, a simulated future of daily consumption, in which the stock runs low early. Only in " + one + " would it be lower than this; that much risk is accepted."
	case p.Explanation.Guard == resupply.WindowGuard:
		return decides + " the window would close even earlier, or the fuel take longer; that much risk is accepted."
	}
	return decides + " the order would have to be placed even earlier; that much risk is accepted."
}

// oneIn writes a risk as people count: one path in twenty.
func oneIn(risk float64) string {
	for _, n := range []struct {
		of   float64
		word string
	}{{5, "five"}, {10, "ten"}, {20, "twenty"}, {50, "fifty"}, {100, "a hundred"}} {
		if d := risk*n.of - 1; d > -1e-9 && d < 1e-9 {
			return "one path in " + n.word
		}
	}
	return percent(risk) + " of paths"
}
