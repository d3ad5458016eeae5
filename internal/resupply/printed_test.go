package resupply

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"time"
)

// printed is an explanation as a reader finds it in JSON. What is worked out from it here knows nothing of the
// problem that it is of.
type printed struct {
	Guard string
	printedPath
	Need, Room *printedPath
}

type printedPath struct {
	Lines []struct {
		Day      string
		Events   []struct{ Code string }
		Burn     int64 `json:"burn_l15"`
		Draws    int64 `json:"draws_l15"`
		Received int64 `json:"received_l15"`
		Stock    int64 `json:"stock_l15"`
		Reserve  int64 `json:"reserve_l15"`
	}
	Steps []printedStep
}

type printedStep struct {
	Code   string
	Day    string
	Days   int
	Litres int64   `json:"litres_l15"`
	Limit  float64 `json:"limit_l15"`
	Lot    int64   `json:"lot_l15"`
}

func read(x Explanation) (printed, error) {
	body, err := json.Marshal(x)
	if err != nil {
		return printed{}, err
	}
	var p printed
	return p, json.Unmarshal(body, &p)
}

// later gives the day so many days after another.
func later(day string, days int) string {
	t, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return "no day: " + day
	}
	return t.AddDate(0, 0, days).Format(time.DateOnly)
}

// adds tells which line is not the one before less burn and draws plus received.
func (p *printedPath) adds() error {
	for i := 1; i < len(p.Lines); i++ {
		was, is := p.Lines[i-1], p.Lines[i]
		if want := was.Stock - is.Burn - is.Draws + is.Received; is.Stock != want || is.Day <= was.Day {
			return fmt.Errorf("%s: stock %d, the line of %s and the movements give %d", is.Day, is.Stock, was.Day, want)
		}
	}
	return nil
}

// line finds the line of an event, −1 where it is not told.
func (p *printedPath) line(code string) int {
	for i, l := range p.Lines {
		for _, e := range l.Events {
			if e.Code == code {
				return i
			}
		}
	}
	return -1
}

func (p *printedPath) step(code string) *printedStep {
	for i := range p.Steps {
		if p.Steps[i].Code == code {
			return &p.Steps[i]
		}
	}
	return nil
}

// lost is the first day that is printed below the reserve; the day before it must be printed too.
func (p *printedPath) lost() (string, error) {
	for i, l := range p.Lines {
		if l.Stock < l.Reserve {
			if i > 0 && p.Lines[i-1].Day != later(l.Day, -1) {
				return "", fmt.Errorf("the day before %s is not printed", l.Day)
			}
			return l.Day, nil
		}
	}
	return "", fmt.Errorf("no line is below the reserve")
}

// turning gives the guard that a step begins the subtraction of.
var turning = map[string]string{
	"reserve-lost": "reserve", "window-closes-after": "window", "supplier-deadline": "deadline", "soonest-from-opening": "soonest",
}

// orderBy works the last day to order out: from the day that the steps begin with, less slip and lead time.
func (p *printed) orderBy() (string, error) {
	today, steps := p.Lines[0].Day, p.Steps
	if i := slices.IndexFunc(steps, func(s printedStep) bool { return s.Code == "covers-shortage" }); i >= 0 {
		steps = steps[i+1:]
	}
	day := ""
	for _, s := range steps {
		if guard, turns := turning[s.Code]; turns && guard != p.Guard {
			return "", fmt.Errorf("%s, but the guard is %q", s.Code, p.Guard)
		}
		switch s.Code {
		case "reserve-lost":
			lost, err := p.lost()
			if err != nil || lost != s.Day {
				return "", fmt.Errorf("the reserve is lost on %s, the lines say %s: %v", s.Day, lost, err)
			}
			day = lost
		case "window-closes-after", "soonest-from-opening", "supplier-deadline":
			day = s.Day
		case "less-slip", "less-lead-time":
			if day = later(day, -s.Days); day != s.Day {
				return "", fmt.Errorf("%s leads to %s, not to %s", s.Code, day, s.Day)
			}
		case "due-today":
			if day != "" && day >= today || s.Day != today {
				return "", fmt.Errorf("%s has not passed on %s", day, today)
			}
			return today, nil
		}
	}
	if day < today {
		return "", fmt.Errorf("%s has passed, and nothing says that the order is due on %s", day, today)
	}
	return day, nil
}

// need works the least lot out: the most that is missing from the lot's arrival until the following delivery.
func (p *printed) need() (int64, error) {
	n := p.Need
	from, until := n.line("lot-arrives"), n.line("following-arrives")
	if until < 0 {
		until = len(n.Lines)
	}
	most, day := int64(math.MinInt64), ""
	for _, l := range n.Lines[from:until] {
		if missing := l.Reserve - l.Stock; missing > most {
			most, day = missing, l.Day
		}
	}
	if i := n.line("most-missing"); n.Lines[i].Day != day {
		return 0, fmt.Errorf("the most is missing on %s, not on %s", day, n.Lines[i].Day)
	}
	if i := n.line("lowest-before-lot"); i >= 0 {
		kept := n.line("fallback-kept-reserve")
		if bridge := n.Lines[i].Reserve - n.Lines[i].Stock; n.Lines[kept].Received < bridge {
			return 0, fmt.Errorf("a fallback has closed a gap of %d L, but %d L were received", bridge, n.Lines[kept].Received)
		}
	}
	reserve, stock := n.step("reserve-then"), n.step("less-stock-then")
	if reserve.Day != day || stock.Day != day || reserve.Litres-stock.Litres != most {
		return 0, fmt.Errorf("the steps say %+v less %+v, the lines %d on %s", *reserve, *stock, most, day)
	}
	if so := n.step("missing-then"); so.Litres != most {
		return 0, fmt.Errorf("%d L are said to be missing, the lines give %d", so.Litres, most)
	}
	return max(0, most), nil
}

// room works the room out: what the tanks hold, less what is in them before the day's outflow.
func (p *printed) room() (int64, error) {
	r := p.Room
	i := r.line("least-room")
	l, hold, held := r.Lines[i], r.step("tanks-hold"), r.step("less-held-before-outflow")
	before := l.Stock + l.Burn + l.Draws
	if i > 0 {
		if before = r.Lines[i-1].Stock + l.Received; r.Lines[i-1].Day != later(l.Day, -1) {
			return 0, fmt.Errorf("the day before %s is not printed", l.Day)
		}
	}
	if hold.Day != l.Day || held.Day != l.Day || held.Litres != before {
		return 0, fmt.Errorf("the tanks hold %d L before the outflow of %s, the lines say %d", held.Litres, l.Day, before)
	}
	if so := r.step("free-then"); so.Litres != hold.Litres-before {
		return 0, fmt.Errorf("there is said to be room for %d L, the lines give %d", so.Litres, hold.Litres-before)
	}
	return max(0, hold.Litres-before), nil
}

// lot works the lot out from need and room by the limits that are printed.
func (p *printed) lot() (int64, error) {
	if p.step("lot-never-arrives") != nil {
		return 0, nil
	}
	need, err := p.need()
	if err != nil {
		return 0, err
	}
	room, err := p.room()
	if err != nil {
		return 0, err
	}
	if p.step("no-lot-needed") != nil {
		if need > 0 {
			return 0, fmt.Errorf("no lot is needed, but %d L are missing", need)
		}
		return 0, nil
	}
	lot, least, step := -1.0, 0.0, 0.0
	cut := func(most float64) {
		switch {
		case lot <= most:
		case step > 0:
			lot = step * math.Floor(most/step+1e-9)
		default:
			lot = most
		}
	}
	for _, s := range p.Steps {
		switch s.Code {
		case "least-to-following-window", "least-to-horizon":
			if s.Litres != need {
				return 0, fmt.Errorf("least %d L, the path of need gives %d", s.Litres, need)
			}
			lot = float64(need)
			continue
		case "route-smallest-lot":
			least = s.Limit
			lot = max(lot, least)
		case "route-step":
			step = s.Limit
			lot = step * math.Ceil(lot/step-1e-9)
		case "room-on-arrival":
			if s.Litres != room {
				return 0, fmt.Errorf("room %d L, the path of room gives %d", s.Litres, room)
			}
			cut(float64(room))
		case "route-largest-lot":
			cut(s.Limit)
		case "window-largest-lot":
			cut(float64(s.Litres))
		default:
			continue
		}
		if float64(s.Lot) != math.RoundToEven(lot) {
			return 0, fmt.Errorf("after %s %d L are printed, expected %v", s.Code, s.Lot, lot)
		}
	}
	if lot < least {
		lot = 0
	}
	if last := p.Steps[len(p.Steps)-1]; float64(last.Litres) != math.RoundToEven(lot) {
		return 0, fmt.Errorf("%s says %d L, the steps give %v", last.Code, last.Litres, lot)
	}
	return int64(math.RoundToEven(lot)), nil
}
