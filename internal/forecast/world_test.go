package forecast

import (
	"math"
	"math/rand/v2"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// world makes plants that obey the model's law, by code that shares nothing with the package.
type world struct {
	level  float64 // ln litres per day at the start
	a, b   [3]float64
	sd     float64
	rho    float64
	yearly float64 // standard deviation of the level's change in a year
	// passing is the standard deviation of what fades to 1/e within 120 days.
	passing float64
}

// alaska is about what village plants show: winter 1.5 times summer, drift 8 % a year.
func alaska() world {
	return world{
		level: math.Log(900), a: [3]float64{0.08, 0.02, 0.01}, b: [3]float64{0.19, 0.03, -0.01},
		sd: 0.10, rho: 0.7, yearly: 0.08,
	}
}

// vary gives a neighbour: another level, and a season off by sd/k in harmonic k.
func (w world) vary(sd float64, r *rand.Rand) world {
	w.level += r.NormFloat64()
	for k := range 3 {
		w.a[k] += sd / float64(k+1) * r.NormFloat64()
		w.b[k] += sd / float64(k+1) * r.NormFloat64()
	}
	return w
}

func (w world) season(day int) (sum float64) {
	for k := range 3 {
		phase := 2 * math.Pi * float64(k+1) * float64(calendar.Day(day).YearDay()) / 365.25
		sum += w.a[k]*math.Sin(phase) + w.b[k]*math.Cos(phase)
	}
	return sum
}

// truth is one life of a plant, by day from first on.
type truth struct {
	first  int
	litres []float64
	level  []float64 // log level of the walk alone
	passes []float64 // log of what passes
}

func (w world) live(first calendar.Day, days int, r *rand.Rand) truth {
	t := truth{first: int(first)}
	level, e := w.level, w.sd*r.NormFloat64()
	passes, stay := 0.0, math.Exp(-1/120.0)
	if w.passing > 0 { // else nothing is drawn, so that lives stay what they were
		passes = w.passing * r.NormFloat64()
	}
	for d := range days {
		t.litres = append(t.litres, math.Exp(level+passes+w.season(int(first)+d)+e))
		t.level, t.passes = append(t.level, level), append(t.passes, passes)
		if w.passing > 0 {
			passes = stay*passes + w.passing*math.Sqrt(1-stay*stay)*r.NormFloat64()
		}
		level += w.yearly / math.Sqrt(365.25) * r.NormFloat64()
		e = w.rho*e + w.sd*math.Sqrt(1-w.rho*w.rho)*r.NormFloat64()
	}
	return t
}

// total gives the litres from day a up to, not including, day b, both counted from first.
func (t truth) total(a, b int) (sum float64) {
	for _, x := range t.litres[a:b] {
		sum += x
	}
	return sum
}

func (t truth) interval(a, b int) Interval {
	return Interval{Start: float64(t.first + a), End: float64(t.first + b), Litres: units.LitresAt15(t.total(a, b))}
}

// every gives intervals of so many days each over days from a to b.
func (t truth) every(step, a, b int) (out []Interval) {
	for ; a+step <= b; a += step {
		out = append(out, t.interval(a, a+step))
	}
	return out
}

// gappy gives daily intervals, of which now and then several run into one.
func (t truth) gappy(a, b int, r *rand.Rand) (out []Interval) {
	for a < b {
		step := 1
		if r.Float64() < 0.06 {
			step = min(2+r.IntN(12), b-a)
		}
		out = append(out, t.interval(a, a+step))
		a += step
	}
	return out
}

func random(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 20260101)) }

var epoch = calendar.Date(2020, 1, 1)

func fitOne(intervals []Interval, days int) Model {
	return fitFleet([]Series{{Plant: "one", Intervals: intervals}}, epoch+calendar.Day(days)-1)[0]
}

// asIs is the calibration of plants that obey the model.
func asIs() Calibration { return Calibration{Scales: []float64{1}, Laws: standardLaws()} }

// fitFleet fits every plant of a fleet, each with the seasons that the others of its group lend.
func fitFleet(series []Series, origin calendar.Day) []Model {
	lent, groups := lendAll(series, origin)
	models := make([]Model, len(series))
	for i, s := range series {
		models[i] = Fit(s, origin, lent[i], groups[s.Group], asIs())
	}
	return models
}

func lendAll(series []Series, origin calendar.Day) (lent []*Lent, groups map[string]*Group) {
	byGroup := map[string][]*Lent{}
	for _, s := range series {
		l := Lend(s, origin)
		lent, byGroup[s.Group] = append(lent, l), append(byGroup[s.Group], l)
	}
	groups = map[string]*Group{}
	for name, l := range byGroup {
		groups[name] = NewGroup(l)
	}
	return lent, groups
}

func seasonAt(m Model, day int) float64 {
	row := m.events.ofDay(day)
	return m.season.dot(&row)
}
