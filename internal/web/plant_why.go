package web

import (
	"regexp"
	"strconv"
	"strings"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
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
			Day: shortDay(l.Day, p.AsOf), Event: eventInWords(l.Event),
			Burn: less(l.Burn), Draws: less(l.Draws), Received: plus(l.Received),
			Stock: whole(float64(l.Stock)), Reserve: whole(float64(l.Reserve)), Below: l.Stock < l.Reserve,
		})
	}
	for _, s := range x.Steps {
		v.Steps = append(v.Steps, sentence(inWords(s, p)))
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

// whyIntro says which future the lines follow, and what that has to do with the answer.
func whyIntro(p advice.Plant, risk float64) string {
	if p.Explanation.Guard == resupply.DeadlineGuard {
		return "The supplier’s own deadline decides: it comes before the last day that the stock, or the window, would allow. The lines follow one simulated future until then."
	}
	one := oneIn(risk)
	switch {
	case p.Short != nil:
		return "The lines follow the future that decides. In " + one + " the stock would fall below its reserve even earlier; that much risk is accepted."
	case p.Order == nil:
		return "The lines follow a future in which the stock runs low early. Only in " + one + " would it be lower than this; that much risk is accepted."
	case p.Explanation.Guard == resupply.WindowGuard:
		return "The lines follow the future that decides. In " + one + " the window would shut even earlier, or the fuel take longer; that much risk is accepted."
	}
	return "The lines follow the future that decides. In " + one + " the order would have to be placed even earlier; that much risk is accepted."
}

// oneIn writes a risk as people count: one future in twenty.
func oneIn(risk float64) string {
	for _, n := range []struct {
		of   float64
		word string
	}{{5, "five"}, {10, "ten"}, {20, "twenty"}, {50, "fifty"}, {100, "a hundred"}} {
		if d := risk*n.of - 1; d > -1e-9 && d < 1e-9 {
			return "one future in " + n.word
		}
	}
	return percent(risk) + " of futures"
}

// events puts the events of an explanation as a coordinator would say them.
var events = map[string]string{
	"stock now":                  "stock now",
	"month ends":                 "month ends",
	"order by":                   "last day to order",
	"window shuts":               "the window shuts",
	"below the reserve":          "first day below the reserve",
	"last day above the reserve": "last day above the reserve",
	"farthest below the reserve before fuel ordered today can come": "farthest below the reserve before fuel can come",
	"an order placed today arrives":                                 "fuel ordered today would arrive",
	"end of the horizon":                                            "last day looked at",
}

func eventInWords(event string) string {
	parts := strings.Split(event, "; ")
	for i, part := range parts {
		if said, ok := events[part]; ok {
			parts[i] = said
		}
	}
	return capital(strings.Join(parts, "; "))
}

var (
	isoDate   = regexp.MustCompile(`\b\d{4}-\d{2}-\d{2}\b`)
	longCount = regexp.MustCompile(`\b\d{5,}\b`)
	oneDay    = regexp.MustCompile(`\b1 days\b`)
	machine   = strings.NewReplacer("on this path", "in this future", " of paths", " of futures", "over all paths", "over all futures", "the paths", "the futures", "on many paths", "in many futures",
		"the window shuts after", "the last day before the window shuts",
		"of the horizon", "of the time looked at", "within the horizon", "within the time looked at")
)

// inWords sets a sentence of the advice for people: days and long numbers as everywhere on the pages, and
// windows by name and not by id.
func inWords(text string, p advice.Plant) string {
	text = isoDate.ReplaceAllStringFunc(text, func(iso string) string {
		d, err := calendar.ParseDay(iso)
		if err != nil {
			return iso
		}
		return longDay(d, p.AsOf)
	})
	text = longCount.ReplaceAllStringFunc(text, func(digits string) string {
		n, err := strconv.ParseFloat(digits, 64)
		if err != nil {
			return digits
		}
		return whole(n)
	})
	if p.Order != nil && strings.Contains(p.Order.Window, "-") {
		text = strings.ReplaceAll(text, p.Order.Window, plain(p.Order.Window))
	}
	return machine.Replace(oneDay.ReplaceAllString(text, "1 day"))
}
