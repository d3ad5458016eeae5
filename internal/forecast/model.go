package forecast

import (
	"math"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// Model is one plant's fitted consumption model. The zero Model is not usable.
type Model struct {
	plant, group string
	origin       float64 // end of the origin day on the day line
	err          error
	faults       []Fault
	notices      notice.List

	knots       knots
	level       []float64 // posterior mean of the log level at the knots with what passes, ln(L at 15 °C per day)
	events      events
	known       known
	season      season // posterior mean of the seasonal coefficients
	noise       noise
	erratic     bool
	posteriors  []posterior // under each law; weights sum to 1
	calibration Calibration
	evidence    []float64 // of each law: see weighLaws

	span, used float64 // days from the first fitted interval to the last, and those covered
}

// Err says why the model cannot be used: a fault.Invalid error, or nil when it can.
func (m Model) Err() error { return m.err }

// Faults lists the intervals that were named as faulty and not fitted.
func (m Model) Faults() []Fault { return m.faults }

// Notices lists what weakens the model: thin data, a borrowed season, no recent report.
func (m Model) Notices() notice.List { return m.notices }

// Rate gives the median litres at 15 °C per day on a day, of an erratic plant those of the mean day; 0 if the model is not usable or the
// plant stands by.
func (m Model) Rate(day calendar.Day) units.LitresAt15 {
	if m.err != nil || len(m.posteriors) == 0 {
		return 0
	}
	return units.LitresAt15(math.Exp(m.logRate(int(day))))
}

// logRate gives the posterior mean of ln rate on a day, drift and day-to-day noise apart.
func (m Model) logRate(day int) (sum float64) {
	span := m.blocks(Span{float64(day), float64(day) + 1})
	for i := range m.posteriors {
		sum += m.posteriors[i].weight * m.posteriors[i].logRate(&span[0])
	}
	return sum
}
