package web

import (
	"overwinter/internal/advice"
	"overwinter/internal/resupply"
)

// whyView is the arithmetic behind an answer.
type whyView struct {
	Intro string
	sumView
}

// sumView is a path line by line, so that it adds up, and the steps to what it decides.
type sumView struct {
	Label           string
	Draws, Received bool // whether any line has some: a column of nothing is left out
	Missing         bool // a line's stock lies below nothing
	Lines           []whyLine
	Steps           []string
}

type whyLine struct {
	Day, Event, Burn, Draws, Received, Stock, Reserve string
	Below                                             bool // the stock is below the reserve
}

// lotView is the arithmetic behind a lot.
type lotView struct {
	Steps      []string
	Need, Room *sumView // nil in advice that was issued before it told them
}

func whyOf(p advice.Plant, risk float64) *whyView {
	x := p.Explanation
	if x == nil {
		return nil
	}
	return &whyView{
		Intro:   whyIntro(p, risk) + " Its stock today is a little above or below the best estimate, as far as a gauging may be off.",
		sumView: sumOf(p, "The arithmetic", resupply.Deciding{Lines: x.Lines, Steps: x.Steps[:lotFrom(x.Steps)]}),
	}
}

// whyLotOf is nil where the steps come to no lot.
func whyLotOf(p advice.Plant) *lotView {
	x := p.Explanation
	if x == nil || lotFrom(x.Steps) == len(x.Steps) {
		return nil
	}
	v := &lotView{Steps: stepsInWords(p, x.Steps[lotFrom(x.Steps):])}
	if x.Need != nil && x.Room != nil {
		need, room := sumOf(p, "What is needed", *x.Need), sumOf(p, "The room", *x.Room)
		v.Need, v.Room = &need, &room
	}
	return v
}

// lotFrom is where the steps turn from the day of the order to its lot.
func lotFrom(steps []resupply.Step) int {
	for i, s := range steps {
		switch s.Kind {
		case resupply.NoLotNeeded, resupply.LeastFollowing, resupply.LeastHorizon, resupply.NothingArrives:
			return i
		}
	}
	return len(steps)
}

func sumOf(p advice.Plant, label string, d resupply.Deciding) sumView {
	v := sumView{Label: label, Steps: stepsInWords(p, d.Steps)}
	for _, l := range d.Lines {
		v.Draws, v.Received, v.Missing = v.Draws || l.Draws != 0, v.Received || l.Received != 0, v.Missing || l.Stock < 0
		v.Lines = append(v.Lines, whyLine{
			Day: shortDay(l.Day, p.AsOf), Event: eventsInWords(l.Events),
			Burn: less(l.Burn), Draws: less(l.Draws), Received: plus(l.Received),
			Stock: whole(float64(l.Stock)), Reserve: whole(float64(l.Reserve)), Below: l.Stock < l.Reserve,
		})
	}
	return v
}

func stepsInWords(p advice.Plant, steps []resupply.Step) []string {
	var said []string
	for _, s := range steps {
		said = append(said, sentence(stepInWords(s, p)))
	}
	return said
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
	if p.Short == nil && p.Explanation.Guard == resupply.DeadlineGuard {
		return "The supplier’s own deadline decides: it comes before the last day that the stock, or the window, would allow. The lines follow one path, a simulated future of daily consumption, until then."
	}
	one := oneIn(risk)
	decides := "The lines follow the path that decides: one simulated future of daily consumption. In " + one
	switch {
	case p.Short != nil:
		return decides + " the stock would fall below its reserve even earlier; that much risk is accepted."
	case p.Order == nil:
		return "The lines follow a path, a simulated future of daily consumption, in which the stock runs low early. Only in " + one + " would it be lower than this; that much risk is accepted."
	case p.Explanation.Guard == resupply.SoonestGuard:
		return "The lines follow a path, a simulated future of daily consumption, in which the window opens early. In " + one + " it would open even earlier, or the order take longer; that much risk is accepted."
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
