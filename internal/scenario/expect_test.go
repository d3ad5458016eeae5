package scenario

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// books is all that is asked of a plant's books for one question.
type books struct {
	*inventory.Book
	usages  []inventory.Usage
	stock   inventory.Stock
	notices notice.List
	another func(inventory.Product) (*inventory.Book, error) // the book of another product
}

// expectation is one thing that the books have to say. Figure is what it expects, nil where it is no figure.
type expectation struct {
	number int
	about  string // the words of the script, by which a naive figure finds its like
	figure *stated
	check  func(*books) string // says what is amiss, or nothing
}

// readExpectation reads one line of what is expected. A deviation beside a figure is an expectation of its own.
func readExpectation(l *line) []expectation {
	about := strings.Join(l.head, " ")
	if about == "" {
		return nil
	}
	say := func(check func(*books) string) []expectation {
		return []expectation{{l.number, strings.Fields(about)[0], nil, check}}
	}
	switch {
	case l.next("notices"):
		return say(noticesAre(strings.Fields(l.text("are")), l.flag("none")))
	case l.next("doubt", "of"):
		return say(doubtOf(l.word(), inventory.Cause(l.text("cause")), inventory.Scope(l.text("scope"))))
	case l.next("usages"):
		return say(usagesAre(l.product(), int(needed[float64](l, "", ""))))
	case l.next("stock") && l.flag("unknown"):
		return say(func(b *books) string { return unless(!b.stock.Known, "the stock is known: %.1f", b.stock.Usable) })
	case about == "stock":
		return l.pair(about, func(b *books) (v, sigma float64, err string) {
			return float64(b.stock.Usable), float64(b.stock.Sigma), unless(b.stock.Known, "the stock is unknown")
		})
	case l.next("consumed"):
		return l.pair(about, consumed(l.span()))
	case l.next("usage"):
		return l.pair(about, usage(l.product(), l.span()))
	case l.next("tank"):
		return l.pair(about, inTank(l.word()))
	case l.next("burn", "a", "day"):
		return l.pair(about, burn(l.span(), l.days))
	case l.next("burn", "an", "hour"):
		return l.pair(about, burn(l.span(), span.hours))
	case l.next("on", "order"):
		return l.pair(about, onOrder)
	}
	if judged := l.judged(); judged != nil {
		return judged
	}
	return l.balance(about)
}

// pair reads a figure and the deviation that may stand beside it.
func (l *line) pair(about string, of func(*books) (v, sigma float64, err string)) []expectation {
	value, ok := l.figure("", "L")
	if !ok {
		l.fault("a figure is missing")
	}
	all := []expectation{{l.number, about, &value, func(b *books) string {
		v, _, err := of(b)
		return err + unless(err != "" || value.met(v), "%s: %.3f L", about, v)
	}}}
	if sigma, ok := l.figure("sigma", "L"); ok {
		all = append(all, expectation{l.number, about + " sigma", &sigma, func(b *books) string {
			_, s, err := of(b)
			return err + unless(err != "" || sigma.met(s), "%s, sigma: %.3f L", about, s)
		}})
	}
	return all
}

func unless(ok bool, format string, args ...any) string {
	if ok {
		return ""
	}
	return fmt.Sprintf(format, args...)
}

// span is a stretch of time, open at an end that the script does not state.
type span struct{ from, to time.Time }

// span reads "DAY TIME to DAY TIME", where it stands there.
func (l *line) span() (s span) {
	if len(l.head) == 0 {
		return s
	}
	s.from = l.momentOf(l.word(), l.word())
	if !l.next("to") {
		l.fault("the end is missing: expected 'to' and a moment")
		return s
	}
	s.to = l.momentOf(l.word(), l.word())
	return s
}

// consumed is the sum of the usage intervals inside a stretch of time. They do not know of each other's errors, so no
// deviation goes with it.
func consumed(s span) func(*books) (v, sigma float64, err string) {
	return func(b *books) (v, sigma float64, err string) {
		for _, u := range b.usages {
			if !u.Start.Before(s.from) && (s.to.IsZero() || !u.End.After(s.to)) {
				v += float64(u.Litres)
			}
		}
		return v, 0, ""
	}
}

// usage is the interval of a product with just these ends.
func usage(p inventory.Product, s span) func(*books) (v, sigma float64, err string) {
	return func(b *books) (v, sigma float64, err string) {
		for _, u := range b.usagesOf(p) {
			if u.Start.Equal(s.from) && u.End.Equal(s.to) {
				return float64(u.Litres), float64(u.Sigma), ""
			}
		}
		return 0, 0, fmt.Sprintf("there is no usage interval from %v to %v", s.from, s.to)
	}
}

// burn is the rate of one usage interval.
func burn(s span, length func(span) float64) func(*books) (v, sigma float64, err string) {
	litres := usage("", s)
	return func(b *books) (v, sigma float64, err string) {
		v, sigma, err = litres(b)
		return v / length(s), sigma / length(s), err
	}
}

// days is the length of a stretch in days of the plant, be they of 23, 24 or 25 hours.
func (l *line) days(s span) float64 {
	return calendar.Fraction(s.to, l.zone) - calendar.Fraction(s.from, l.zone)
}

func (s span) hours() float64 { return s.to.Sub(s.from).Hours() }

// onOrder is what open orders are still to bring.
func onOrder(b *books) (v, sigma float64, err string) {
	var notes notice.List // they come with the other notices
	for _, o := range b.OpenOrders(&notes) {
		v += float64(o.Litres)
	}
	return v, 0, ""
}

// inTank is the usable fuel of one tank as last gauged.
func inTank(id string) func(*books) (v, sigma float64, err string) {
	return func(b *books) (v, sigma float64, err string) {
		held, failure := b.Held()
		for _, h := range held {
			if h.ID == id && h.Gauging != nil {
				return float64(h.Content.UsableAt15), float64(h.Content.Sigma), ""
			}
		}
		return 0, 0, fmt.Sprintf("tank %s was not gauged (%v)", id, failure)
	}
}

func usagesAre(p inventory.Product, n int) func(*books) string {
	return func(b *books) string {
		all := b.usagesOf(p)
		return unless(len(all) == n, "%d usage intervals: %v", len(all), all)
	}
}

// doubtOf expects a row to look wrong, and why, and what of it is left out, where the script says so. The
// script's own name of the row ends its key.
func doubtOf(row string, cause inventory.Cause, scope inventory.Scope) func(*books) string {
	return func(b *books) string {
		found := slices.ContainsFunc(b.Doubtful(), func(d inventory.Doubt) bool {
			return d.Cause == cause && d.Scope == cmp.Or(scope, d.Scope) && strings.HasSuffix(d.Key, " "+row)
		})
		return unless(found, "no doubt of %s as %s: %v", row, cause, b.Doubtful())
	}
}

// doubtsAre expects no more doubts than the script states.
func doubtsAre(n int) func(*books) string {
	return func(b *books) string { return unless(len(b.Doubtful()) == n, "doubts: %v", b.Doubtful()) }
}

// noticesAre expects the codes of all notices, each as often as it is raised about another thing.
func noticesAre(codes []string, none bool) func(*books) string {
	slices.Sort(codes)
	return func(b *books) string {
		var raised []string
		for _, n := range b.notices {
			raised = append(raised, n.Code)
		}
		slices.Sort(raised)
		return unless(slices.Equal(raised, codes) && none == (len(raised) == 0), "notices: %v", b.notices)
	}
}

// naive is the figure that a hasty reading of the case would give.
type naive struct {
	number int
	about  string
	figure stated
}

func readNaive(l *line) naive {
	n := naive{number: l.number, about: strings.Join(l.head, " ")}
	l.head = nil
	said, _ := l.take("")
	v, err := strconv.ParseFloat(strings.TrimSuffix(said, " L"), 64)
	if err != nil {
		l.fault("the naive figure is missing, as in 450 L")
	}
	n.figure.value = v
	return n
}

// visible is by how much a naive figure has to miss the right one, as a share of the greater, and in tolerances.
const visible, tolerances = 0.015, 10

// differs tells whether the naive figure is visibly another than the one expected.
func (n naive) differs(expected []expectation) error {
	i := slices.IndexFunc(expected, func(x expectation) bool { return x.about == n.about && x.figure != nil })
	if i < 0 {
		return fmt.Errorf("nothing is expected of %q, with which the naive figure could be compared", n.about)
	}
	right := expected[i].figure
	off := max(n.figure.value-right.value, right.value-n.figure.value)
	if off < tolerances*right.within || off < visible*max(n.figure.value, right.value) {
		return fmt.Errorf("the naive figure %v can hardly be told from %v", n.figure.value, right.value)
	}
	return nil
}
