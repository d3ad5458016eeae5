package chart

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"overwinter/internal/calendar"
)

var march = calendar.Date(2026, time.March, 2)

func day(offset int) *calendar.Day {
	d := march + calendar.Day(offset)
	return &d
}

// element is a drawn element with the numbers of its attributes.
type element struct {
	name string
	attr map[string]string
}

// parse reads the markup, which must be well-formed, and gives its elements.
func parse(t interface{ Fatalf(string, ...any) }, markup string) []element {
	var all []element
	for d := xml.NewDecoder(strings.NewReader(markup)); ; {
		token, err := d.Token()
		if err == io.EOF {
			return all
		}
		if err != nil {
			t.Fatalf("the markup is not well-formed: %v\n%s", err, markup)
		}
		if start, ok := token.(xml.StartElement); ok {
			e := element{start.Name.Local, map[string]string{}}
			for _, a := range start.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			all = append(all, e)
		}
	}
}

// inside fails where a number of an element is none, or lies outside the box: 0 to 100 % across, 0 to the
// height downward; inner drawings have a box of their own.
func inside(t *rapid.T, markup string, height float64) {
	var box [2]float64
	for _, e := range parse(t, markup) {
		for name, value := range e.attr {
			switch name {
			case "x", "x1", "x2", "width":
				within(t, e, name, strings.TrimSuffix(value, "%"), 100)
			case "y", "y1", "y2", "height":
				within(t, e, name, value, height)
			case "viewBox":
				if _, err := fmt.Sscanf(value, "0 0 %g %g", &box[0], &box[1]); err != nil {
					t.Fatalf("viewBox %q: %v", value, err)
				}
			}
		}
		if d, ok := e.attr["d"]; ok {
			for _, p := range follow(t, d) {
				if p.x < 0 || p.x > box[0] || p.y < 0 || p.y > box[1] {
					t.Fatalf("the path %q leaves its box %v at %v", d, box, p)
				}
			}
		}
	}
}

func within(t *rapid.T, e element, name, value string, most float64) {
	x, err := strconv.ParseFloat(value, 64)
	if err != nil || math.IsNaN(x) || x < 0 || x > most {
		t.Fatalf("%s has %s=%q: expected 0 to %g", e.name, name, value, most)
	}
}

// follow gives the points of a path of the form M x y l dx dy ...
func follow(t interface{ Fatalf(string, ...any) }, d string) []point {
	d = strings.TrimSuffix(d, "z")
	fields := strings.Fields(strings.NewReplacer("M", " ", "l", " ", "-", " -").Replace(d))
	if len(fields)%2 != 0 {
		t.Fatalf("the path %q has half a point", d)
	}
	var all []point
	for i := 0; i < len(fields); i += 2 {
		x, errX := strconv.ParseFloat(fields[i], 64)
		y, errY := strconv.ParseFloat(fields[i+1], 64)
		if errX != nil || errY != nil {
			t.Fatalf("the path %q has something else than numbers", d)
		}
		if len(all) > 0 {
			x, y = all[len(all)-1].x+x, all[len(all)-1].y+y
		}
		all = append(all, point{x, y})
	}
	return all
}

func anyDay(t *rapid.T, name string) calendar.Day {
	return march + calendar.Day(rapid.IntRange(-900, 2000).Draw(t, name))
}

func anyReach(t *rapid.T) Reached {
	maybe := func(name string) *calendar.Day {
		if rapid.Bool().Draw(t, name+" known") {
			d := anyDay(t, name)
			return &d
		}
		return nil
	}
	return Reached{maybe("p10"), maybe("p50"), maybe("p90")}
}

func anyStock(t *rapid.T) Stock {
	litres := rapid.SliceOfN(rapid.OneOf(rapid.Int64Range(-1000, 1e6), rapid.Int64()), 0, 90)
	curve := func(name string) Curve {
		return Curve{march + calendar.Day(rapid.IntRange(-3, 3).Draw(t, name+" from")), rapid.IntRange(-1, 20).Draw(t, name+" step"), litres.Draw(t, name)}
	}
	s := Stock{
		ID: "a", Title: rapid.String().Filter(printable).Draw(t, "title"), Desc: "<&>",
		Axis: Axis{anyDay(t, "axis from"), anyDay(t, "axis until")},
		Low:  curve("p10"), Mid: curve("p50"), High: curve("p90"), Reserve: curve("reserve"),
		Unknown: rapid.Bool().Draw(t, "unknown"), Full: float64(rapid.Int64Range(-5, 1e9).Draw(t, "full")),
		Reached: anyReach(t),
	}
	for range rapid.IntRange(0, 6).Draw(t, "windows") {
		s.Windows = append(s.Windows, Window{anyDay(t, "opening"), anyDay(t, "open"), anyDay(t, "closing"), anyDay(t, "closed")})
	}
	for range rapid.IntRange(0, 6).Draw(t, "orders") {
		s.Orders = append(s.Orders, Order{anyDay(t, "order"), "+" + rapid.StringMatching(`[0-9]{1,9}`).Draw(t, "label")})
	}
	if rapid.Bool().Draw(t, "order by known") {
		d := anyDay(t, "order by")
		s.OrderBy = &d
	}
	return s
}

// printable tells that XML can carry a text.
func printable(text string) bool {
	return strings.IndexFunc(text, func(r rune) bool { return r < ' ' || r == 0xfffd || r > 0xfffd }) < 0
}

func TestNothingIsDrawnOutsideItsBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyStock(t)
		inside(t, string(Ribbon(s)), 70)
		inside(t, string(Sheet(s)), 330)
		inside(t, string(Months(s.Axis)), 70)
	})
}

func TestNothingOfAChartByMonthsIsDrawnOutsideItsBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		litres := rapid.OneOf(rapid.Float64Range(-10, 1e7), rapid.Just(0.0))
		m := Monthly{ID: "b", Title: "burn", Unit: "kL", Per: 1000, Ends: rapid.Bool().Draw(t, "ends")}
		for range rapid.IntRange(0, 30).Draw(t, "months") {
			x := Month{Label: "Jan", Low: litres.Draw(t, "low"), Expected: litres.Draw(t, "expected"), High: litres.Draw(t, "high")}
			if rapid.Bool().Draw(t, "known") {
				found := litres.Draw(t, "measured")
				x.Measured = &found
			}
			m.Months = append(m.Months, x)
		}
		inside(t, string(m.Draw()), 200)
	})
}

func TestASimplifiedCurveStaysWithinTheTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var points []point
		x := 0.0
		for _, y := range rapid.SliceOfN(rapid.Float64Range(0, 88), 2, 60).Draw(t, "y") {
			points = append(points, point{x, math.Round(y)})
			x += float64(rapid.IntRange(1, 20).Draw(t, "dx"))
		}
		kept := simplify(points)
		for i := 1; i < len(kept); i++ {
			for _, p := range points {
				a, b := kept[i-1], kept[i]
				if p.x < a.x || p.x > b.x {
					continue
				}
				if y := a.y + (b.y-a.y)*(p.x-a.x)/(b.x-a.x); math.Abs(y-p.y) > tolerance+1e-9 {
					t.Fatalf("%v is %v away from the line %v to %v", p, math.Abs(y-p.y), a, b)
				}
			}
		}
	})
}

func TestLabelsOfOrdersStandClearOfEachOther(t *testing.T) {
	taken := shelf{}
	for i, want := range []struct {
		from, until float64
		row         int
		free        bool
	}{{0.1, 0.2, 0, true}, {0.15, 0.25, 1, true}, {0.19, 0.3, 2, true}, {0.4, 0.5, 0, true}, {0.195, 0.3, 0, false}, {0.31, 0.35, 0, true}} {
		if row, free := taken.place(want.from, want.until); row != want.row || free != want.free {
			t.Errorf("label %d: row %d, %v; want %d, %v", i, row, free, want.row, want.free)
		}
	}
}

func TestJanuaryIsNamedByItsYearWhateverTheStride(t *testing.T) {
	for _, days := range []int{100, 300, 540, 900, 2000} {
		a := Axis{march, march + calendar.Day(days)}
		for _, m := range a.months() {
			if _, month, _ := m.at.Civil(); month == time.January && len(m.text) != 4 {
				t.Errorf("over %d days January is named %q", days, m.text)
			}
		}
	}
}

func TestAScaleHasRoundLevelsThatReachNearTheMost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		most := rapid.Float64Range(0.001, 1e12).Draw(t, "most")
		ticks, top := levels(most, 5)
		if len(ticks) < 2 || len(ticks) > 7 || top < most || ticks[len(ticks)-1] > most {
			t.Fatalf("levels for %v: %v, top %v", most, ticks, top)
		}
	})
}

func TestTheMarksOfARibbonAreWhereTheirDaysAre(t *testing.T) {
	s := Stock{
		ID: "r1", Title: "Cape Orrin", Axis: Axis{march, march + 100},
		Low: Curve{march, 50, []int64{90, 45, 0}}, Mid: Curve{march, 50, []int64{100, 50, 0}}, High: Curve{march, 50, []int64{100, 70, 10}},
		Reserve: Curve{march, 50, []int64{20, 20, 20}},
		Windows: []Window{{*day(40), *day(50), *day(60), *day(70)}},
		Orders:  []Order{{*day(55), "+70"}},
		OrderBy: day(25),
		Reached: Reached{day(75), day(80), day(85)},
	}
	want := `<svg class="ribbon" role="img" aria-labelledby="r1-t"><title id="r1-t">Cape Orrin</title>` +
		`<rect fill="url(#perhaps)" x="40%" width="10%" y="10" height="48"/>` +
		`<rect fill="url(#open)" x="50%" width="10%" y="10" height="48"/>` +
		`<rect fill="url(#perhaps)" x="60%" width="10%" y="10" height="48"/>` +
		`<use href="#ticks"/>` +
		`<svg y="14" height="44" viewBox="0 0 1000 88" preserveAspectRatio="none">` +
		`<path class="wash" d="M0 0l500 26 500 53 0 9-1000-79z"/>` +
		`<path class="reserve" d="M0 70l1000 0"/><path class="mid" d="M0 0l1000 88"/></svg>` +
		`<g class="by"><line x1="25%" x2="25%" y1="1" y2="58"/><use href="#flag" x="25%" y="1"/></g>` +
		`<line class="due" x1="55%" x2="55%" y1="6" y2="58"/><text class="t clear due" x="55%" dx="3" y="10">+70</text>` +
		`<line class="span" x1="75%" x2="85%" y1="62" y2="62"/><line class="half" x1="80%" x2="80%" y1="58.5" y2="65.5"/></svg>`
	if got := string(Ribbon(s)); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestAnUnknownStockIsDottedAndHasNoCurve(t *testing.T) {
	got := string(Ribbon(Stock{ID: "r", Title: "x", Axis: Axis{march, march + 100}, Unknown: true}))
	if !strings.Contains(got, `fill="url(#dots)"`) || strings.Contains(got, "<path") {
		t.Errorf("an unknown stock is drawn as %s", got)
	}
}

func TestAMonthIsDrawnAsExpectedAndAsFound(t *testing.T) {
	found := 150.0
	m := Monthly{ID: "b", Title: "Burn", Unit: "L a day", Months: []Month{
		{Label: "2026", Low: 100, Expected: 100, High: 100, Measured: &found}, {Low: 150, Expected: 200, High: 200},
	}}
	want := `<svg class="monthly" role="img" aria-labelledby="b-t"><title id="b-t">Burn</title>` +
		`<line class="base" x2="100%" y1="180" y2="180"/><text class="t" x="0" dx="-6" y="180" dy="3.5" text-anchor="end">0</text>` +
		`<line class="rule" x2="100%" y1="141.3" y2="141.3"/><text class="t" x="0" dx="-6" y="141.3" dy="3.5" text-anchor="end">50</text>` +
		`<line class="rule" x2="100%" y1="102.5" y2="102.5"/><text class="t" x="0" dx="-6" y="102.5" dy="3.5" text-anchor="end">100</text>` +
		`<line class="rule" x2="100%" y1="63.8" y2="63.8"/><text class="t" x="0" dx="-6" y="63.8" dy="3.5" text-anchor="end">150</text>` +
		`<line class="rule" x2="100%" y1="25.1" y2="25.1"/><text class="t" x="0" dx="-6" y="25.1" dy="3.5" text-anchor="end">200</text>` +
		`<text class="t" x="0" dx="-40" y="12">L a day</text>` +
		`<line class="tick" x1="0%" x2="0%" y1="180" y2="183"/><text class="t" x="0%" y="195">2026</text>` +
		`<line class="tick" x1="50%" x2="50%" y1="180" y2="183"/>` +
		`<svg y="22" height="158" viewBox="0 0 2000 316" preserveAspectRatio="none">` +
		`<path class="wash" d="M500 161l1000-155 0 78-1000 77z"/><path class="mid" d="M500 161l1000-155"/></svg>` +
		`<line class="found" x1="4%" x2="46%" y1="63.8" y2="63.8"/></svg>`
	if got := string(m.Draw()); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
