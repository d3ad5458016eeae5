package scenario

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
)

// script is one scenario as read.
type script struct {
	title, happens, naive string
	plant                 *inventory.Plant
	zone                  *time.Location
	entries               []entry
	questions             []*question
	worked                []float64 // results of the sums in the script
	faults                []string
	last                  time.Time // the last moment of which the script tells
}

// entry is a row and when it was entered; without a row, all that was entered is sent again.
type entry struct {
	row inventory.Record
	at  time.Time
}

// question is what the books have to say at the close of a day, asked at a moment.
type question struct {
	number  int
	asOf    calendar.Day
	asked   time.Time // zero: when everything has been entered
	burn    float64   // L a day expected where nothing was read, give or take
	spread  float64
	answers []expectation
	naive   []naive
}

// before is when the equipment was entered, unless its line says otherwise.
var before = time.Date(2000, time.January, 1, 0, 0, 0, 0, time.UTC)

// read reads a script and gives all that is wrong with it among its faults.
func read(text string) *script {
	s := &script{zone: time.UTC, plant: &inventory.Plant{}}
	for i, l := range strings.Split(text, "\n") {
		if l = strings.TrimSpace(l); l != "" && !strings.HasPrefix(l, "#") {
			s.take(i+1, l)
		}
	}
	s.whole()
	return s
}

// take reads one line.
func (s *script) take(number int, text string) {
	name, said, _ := strings.Cut(text, ": ")
	switch name {
	case "title":
		s.title = said
		return
	case "happens":
		s.happens = said
		return
	case "naive":
		s.naive = said
		return
	case "work":
		result, err := work(said)
		s.worked = append(s.worked, result)
		s.note(number, err)
		return
	case "vcf":
		s.note(number, factor(said))
		return
	}
	for _, once := range repeated(text) {
		l := parse(number, once, s.zone)
		s.about(l)
		s.faults = append(s.faults, l.done()...)
	}
}

func (s *script) note(number int, err error) {
	if err != nil {
		s.faults = append(s.faults, fmt.Sprintf("line %d: %v", number, err))
	}
}

var (
	daily = regexp.MustCompile(`^(\d{4}-\d{2}-\d{2})( \d{2}:\d{2}) and every (\d+) days? to (\d{4}-\d{2}-\d{2}) `)
	steps = regexp.MustCompile(`([\d ]+(?:\.\d+)?) (more|less) by (\d+(?:\.\d+)?)( each)`)
)

// repeated writes a line that tells of several days out, one a day:
// "2026-01-01 08:00 and every 7 days to 2026-01-29 reading of M: 5 000 more by 700 each".
func repeated(text string) []string {
	m := daily.FindStringSubmatch(text)
	if m == nil {
		return []string{text}
	}
	day, err1 := calendar.ParseDay(m[1])
	end, err2 := calendar.ParseDay(m[4])
	every, _ := strconv.Atoi(m[3])
	if err1 != nil || err2 != nil || every < 1 {
		return []string{text} // found faulty as what it is
	}
	var all []string
	for i := 0; day <= end; i, day = i+1, day+calendar.Day(every) {
		all = append(all, day.String()+m[2]+" "+steps.ReplaceAllStringFunc(plain(text[len(m[0]):]), func(found string) string {
			p := steps.FindStringSubmatch(found)
			start, _ := strconv.ParseFloat(strings.TrimSpace(p[1]), 64)
			step, _ := strconv.ParseFloat(p[3], 64)
			if p[2] == "less" {
				step = -step
			}
			return " " + strconv.FormatFloat(math.Round(1000*(start+float64(i)*step))/1000, 'f', -1, 64)
		}))
	}
	return all
}

// about finds out what a line is about: equipment, something that happened, a question or an answer to it.
func (s *script) about(l *line) {
	switch {
	case len(l.head) == 0:
	case l.next("as", "of"):
		s.question(l)
	case s.questions != nil:
		s.answer(l)
	case strings.HasPrefix(l.head[0], "2"):
		s.happened(l)
	default:
		s.enter(l, s.equipment(l), before)
	}
}

// happened reads a dated line.
func (s *script) happened(l *line) {
	day := l.word()
	if len(l.head) > 0 && strings.Contains(l.head[0], ":") {
		at := l.momentOf(day, l.word())
		if l.next("everything", "is", "sent", "again") {
			s.entries = append(s.entries, entry{at: at})
			return
		}
		s.enter(l, s.event(l, at), at)
		return
	}
	first := l.dayOf(day)
	last := first
	if l.next("to") {
		last = l.dayOf(l.word())
	}
	_, end := last.Bounds(s.zone)
	s.enter(l, s.stretch(l, first, last), end)
}

// enter keeps a row; it was entered when it happened, unless the line says otherwise.
func (s *script) enter(l *line, row inventory.Record, at time.Time) {
	if row == nil {
		l.fault("nothing known happens here")
		return
	}
	e := row.Base()
	e.Key, e.Replaces, e.Why = l.text("key"), l.text("replaces"), l.text("why")
	if e.Key == "" {
		e.Key = fmt.Sprintf("%s %d", row.Kind(), len(s.entries)+1)
	}
	e.Key = s.keyOf(e.Key)
	if e.Replaces != "" {
		e.Replaces = s.keyOf(e.Replaces)
	}
	if entered := l.moment("entered"); entered != nil {
		at = *entered
	}
	if at.After(s.last) {
		s.last = at
	}
	s.entries = append(s.entries, entry{row, at})
}

// keyOf makes a script's key unique among all scripts.
func (s *script) keyOf(key string) string { return s.plant.ID + " " + key }

// question reads "as of DAY: asked MOMENT, burning 100 L, give or take 10 L".
func (s *script) question(l *line) {
	q := &question{number: l.number, asOf: l.dayOf(l.word()), asked: orZero(l.moment("asked"))}
	q.burn = orZero(quantity[float64](l, "burning", "L"))
	q.spread = orZero(quantity[float64](l, "give or take", "L"))
	s.questions = append(s.questions, q)
}

// answer reads what the last question is expected to be answered.
func (s *script) answer(l *line) {
	q := s.questions[len(s.questions)-1]
	if l.next("naive") {
		q.naive = append(q.naive, readNaive(l))
		return
	}
	q.answers = append(q.answers, readExpectation(l)...)
}

// whole finds out what a script leaves out.
func (s *script) whole() {
	add := func(format string, args ...any) { s.faults = append(s.faults, fmt.Sprintf(format, args...)) }
	if s.title == "" || s.happens == "" || s.naive == "" {
		add("a script begins with a title, with what happens, and with the naive reading of it")
	}
	if s.questions == nil {
		add("nothing is expected: a line that begins with 'as of' asks")
	}
	compared := false
	for _, q := range s.questions {
		if len(q.answers) == 0 {
			add("line %d: nothing is expected of this day", q.number)
			continue
		}
		if !slices.ContainsFunc(q.answers, func(x expectation) bool { return x.about == "notices" }) {
			add("line %d: say which notices come, or 'notices: none'", q.number)
		}
		doubts := 0
		for _, x := range q.answers {
			s.isWorked(x.number, x.figure)
			if x.about == "doubt" {
				doubts++
			}
		}
		q.answers = append(q.answers, expectation{q.number, "doubts", nil, doubtsAre(doubts)})
		for _, n := range q.naive {
			compared = true
			s.isWorked(n.number, &n.figure)
			s.note(n.number, n.differs(q.answers))
		}
	}
	if !compared {
		add("the naive figure is missing: a line that begins with 'naive' states it")
	}
}

// isWorked insists that a figure is worked out in the script, by a sum that comes to it.
func (s *script) isWorked(number int, f *stated) {
	if f != nil && !slices.Contains(s.worked, f.value) {
		s.faults = append(s.faults, fmt.Sprintf("line %d: no sum in the script comes to %v", number, f.value))
	}
}
