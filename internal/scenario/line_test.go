package scenario

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// line is one line of a script: what it is about, and what is said of that in clauses set apart by commas. A
// clause that nobody has asked for is a mistake, found by done.
type line struct {
	number  int
	head    []string
	clauses []string
	zone    *time.Location
	faults  []string
}

// thousands are set apart by spaces, for the eye.
var thousands = regexp.MustCompile(`\b\d{1,3}(?: \d{3})+\b`)

func plain(text string) string {
	text = strings.ReplaceAll(text, "−", "-")
	return thousands.ReplaceAllStringFunc(text, func(n string) string { return strings.ReplaceAll(n, " ", "") })
}

// parse takes a line apart. The clock in a time has a colon too, but no space after it.
func parse(number int, text string, zone *time.Location) *line {
	head, said, _ := strings.Cut(strings.TrimSuffix(text, ":")+" ", ": ")
	l := &line{number: number, head: strings.Fields(head), zone: zone}
	for clause := range strings.SplitSeq(said, ",") {
		if clause = plain(strings.TrimSpace(clause)); clause != "" {
			l.clauses = append(l.clauses, clause)
		}
	}
	return l
}

func (l *line) fault(format string, args ...any) {
	l.faults = append(l.faults, fmt.Sprintf("line %d: ", l.number)+fmt.Sprintf(format, args...))
}

// done gives what was wrong with the line, what nobody asked for included.
func (l *line) done() []string {
	if len(l.head) > 0 {
		l.fault("%q is not understood", strings.Join(l.head, " "))
	}
	for _, c := range l.clauses {
		l.fault("%q is not understood", c)
	}
	return l.faults
}

// next takes words off the head where they stand there.
func (l *line) next(words ...string) bool {
	if len(l.head) < len(words) || !slices.Equal(l.head[:len(words)], words) {
		return false
	}
	l.head = l.head[len(words):]
	return true
}

// word takes the next word of the head.
func (l *line) word() string {
	if len(l.head) == 0 {
		l.fault("a word is missing before the colon")
		return ""
	}
	w := l.head[0]
	l.head = l.head[1:]
	return w
}

// take gives what follows a name among the clauses; without a name, the clause that begins with a digit.
func (l *line) take(name string) (said string, ok bool) {
	for i, c := range l.clauses {
		rest, found := strings.CutPrefix(c, name+" ")
		if name == "" {
			rest, found = c, strings.ContainsAny(c[:1], "-0123456789")
		}
		if found {
			l.clauses = slices.Delete(l.clauses, i, i+1)
			return rest, true
		}
	}
	return "", false
}

func (l *line) flag(name string) bool {
	i := slices.Index(l.clauses, name)
	if i >= 0 {
		l.clauses = slices.Delete(l.clauses, i, i+1)
	}
	return i >= 0
}

func (l *line) text(name string) string {
	said, _ := l.take(name)
	return said
}

// quantity gives a number in a unit, nil where the line does not state it.
func quantity[T ~float64](l *line, name, unit string) *T {
	said, ok := l.take(name)
	if !ok {
		return nil
	}
	said, scale, offset := metric(said, unit)
	n, err := strconv.ParseFloat(strings.TrimSuffix(said, " "+unit), 64)
	n = (n - offset) * scale
	if err != nil || unit != "" && !strings.HasSuffix(said, " "+unit) {
		l.fault("%q: expected a number%s", said, strings.TrimSuffix(" and "+unit, " and "))
		return nil
	}
	return new(T(n))
}

// metric takes the US unit off a quantity and gives what turns the number into the unit that is asked for.
func metric(said, unit string) (text string, scale, offset float64) {
	for _, u := range []struct {
		us, si        string
		scale, offset float64
	}{{"gal", "L", 3.785411784, 0}, {"in", "mm", 25.4, 0}, {"ft", "mm", 304.8, 0}, {"F", "C", 5.0 / 9, 32}} {
		if n, ok := strings.CutSuffix(said, " "+u.us); ok && u.si == unit {
			return n + " " + unit, u.scale, u.offset
		}
	}
	return said, 1, 0
}

// needed is a quantity that has to be there.
func needed[T ~float64](l *line, name, unit string) T {
	v := quantity[T](l, name, unit)
	if v == nil {
		l.fault("%s is missing", strings.TrimSpace(name+" in "+unit))
		return 0
	}
	return *v
}

func (l *line) temperature() *units.Celsius { return quantity[units.Celsius](l, "at", "C") }

func (l *line) day(name string) *calendar.Day {
	said, ok := l.take(name)
	if !ok {
		return nil
	}
	return new(l.dayOf(said))
}

func (l *line) dayOf(text string) calendar.Day {
	d, err := calendar.ParseDay(text)
	if err != nil {
		l.fault("%q is no day", text)
	}
	return d
}

func (l *line) moment(name string) *time.Time {
	said, ok := l.take(name)
	if !ok {
		return nil
	}
	day, clock, _ := strings.Cut(said, " ")
	return new(l.momentOf(day, clock))
}

// momentOf reads a moment by the clocks at the plant, or with its offset where those show a time twice.
func (l *line) momentOf(day, clock string) time.Time {
	at, err := time.ParseInLocation("2006-01-02 15:04", day+" "+clock, l.zone)
	if err != nil {
		at, err = time.Parse("2006-01-02 15:04-07:00", day+" "+clock)
	}
	if err != nil {
		l.fault("%q is no moment", day+" "+clock)
	}
	return at
}

// stated is a figure that a script expects, and how near it has to be met.
type stated struct{ value, within float64 }

func (s stated) met(v float64) bool { return v >= s.value-s.within && v <= s.value+s.within }

// figure gives "VALUE UNIT within TOLERANCE"; ok is false where the line does not state it.
func (l *line) figure(name, unit string) (s stated, ok bool) {
	said, ok := l.take(name)
	if !ok {
		return s, false
	}
	value, within, _ := strings.Cut(said, " within ")
	v, err1 := strconv.ParseFloat(strings.TrimSuffix(value, " "+unit), 64)
	w, err2 := strconv.ParseFloat(within, 64)
	if err1 != nil || err2 != nil || w <= 0 || !strings.HasSuffix(value, " "+unit) {
		l.fault("%q: expected a number, %s, and how near it has to be met, as in 450 %s within 1", said, unit, unit)
	}
	return stated{v, w}, true
}
