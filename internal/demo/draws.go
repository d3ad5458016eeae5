package demo

import (
	"math/rand/v2"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// drawSD is the standard deviation of a daily draw about its season, as a share. An assumption, no source.
const drawSD = 0.15

// drawFuel draws the true daily draws from FirstDay to LastDay, scripted loans included.
func (s *site) drawFuel(random *rand.Rand) {
	n := len(s.burned)
	s.drawn = make([]units.LitresAt15, n)
	s.recorded = make([][]float64, len(s.spec.draws))
	for k, d := range s.spec.draws {
		s.recorded[k] = make([]float64, n)
		for i := range s.recorded[k] {
			litres := d.litresPerYear / daysPerYear * (1 + at(d.season, i)) * max(0, 1+drawSD*random.NormFloat64())
			s.recorded[k][i] = litres
			s.drawn[i] += units.LitresAt15(litres)
		}
	}
	for _, e := range s.spec.events {
		if e.kind == lend {
			s.drawn[e.day-FirstDay] += units.LitresAt15(e.litres)
		}
	}
}

// drawToday takes the day's written-down draws out of the bulk tanks.
func (s *site) drawToday() {
	for k := range s.recorded {
		s.take(s.bulk(), s.recorded[k][s.today-FirstDay], func(*tank, float64) {})
	}
}

// bookDraws writes the draws down by month, as far as months have ended and reports have come.
func (s *site) bookDraws() {
	for k, d := range s.spec.draws {
		for m := calendar.MonthOf(FirstDay); m.Next().First() <= AsOf; m = m.Next() {
			s.bookDraw(d, s.recorded[k], m)
		}
	}
}

func (s *site) bookDraw(d drawSpec, daily []float64, m calendar.Month) {
	first, last := max(m.First(), FirstDay), m.Next().First()-1
	if silent := s.spec.habits.silentAfter; silent != 0 && last > silent {
		return
	}
	litres15 := 0.0
	for day := first; day <= last; day++ {
		litres15 += daily[day-FirstDay]
	}
	temperatureC := s.ambient((first + last) / 2)
	observed := around(s.reading, litres15/vcf(s.corrector, temperatureC), drawErrorShare)
	s.rows.Add(&inventory.Draw{
		Entry:   inventory.Entry{Key: s.key(string(d.purpose), m.String())},
		Measure: s.measure(observed, temperatureC),
		Plant:   s.spec.plant.ID, FirstDay: first, LastDay: last, Purpose: d.purpose,
	})
}
