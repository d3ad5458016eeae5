package inventory

import (
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// Basis says what temperature a stated volume refers to.
type Basis string

// The bases. An unknown basis is reckoned at the plant's assumed temperature, with a notice; it is
// never silently taken as 15 °C.
const (
	BasisUnknown  Basis = ""         // no temperature and no statement
	BasisObserved Basis = "observed" // at the temperature stated beside it
	Basis15       Basis = "15C"      // already corrected to 15 °C
)

// Measure is a volume as somebody stated it: with its temperature, its basis, or neither.
type Measure struct {
	Volume      units.Litres   `json:"volume_l"`
	Temperature *units.Celsius `json:"temperature_c,omitempty"`
	Basis       Basis          `json:"basis,omitempty"`
}

// Meter is a totalising fuel meter on the line into the day tanks.
type Meter struct {
	Entry
	Plant string `json:"plant"`
	ID    string `json:"id"`
	// Digits is the number of digits before the register rolls over to zero; 0 means it never does.
	Digits int `json:"digits,omitempty"`
	// LitresPerCount converts one count of the register to litres, before the meter factor.
	LitresPerCount float64 `json:"litres_per_count"`
	// Factor is true volume / indicated volume; 0 means 1.
	Factor float64 `json:"factor,omitempty"`
	// Compensated means that the register already shows litres at 15 °C.
	Compensated bool `json:"compensated,omitempty"`
}

// MeterReading is what a meter's register showed at a moment.
type MeterReading struct {
	Entry
	Plant       string         `json:"plant"`
	Meter       string         `json:"meter"`
	At          time.Time      `json:"at"`
	Register    float64        `json:"register"` // counts
	Temperature *units.Celsius `json:"temperature_c,omitempty"`
}

// MeterSwap is the change of a meter for another, or a reset of its register, under the same id.
type MeterSwap struct {
	Entry
	Plant   string    `json:"plant"`
	Meter   string    `json:"meter"`
	At      time.Time `json:"at"`
	Closing *float64  `json:"closing,omitempty"` // last register of the old meter, counts
	Opening *float64  `json:"opening,omitempty"` // first register of the new one, counts
}

// Gauging is one measurement of one tank: a depth, an ullage, or a volume read off a gauge.
type Gauging struct {
	Entry
	Plant       string             `json:"plant"`
	Tank        string             `json:"tank"`
	At          time.Time          `json:"at"`
	Depth       *units.Millimetres `json:"depth_mm,omitempty"`
	Water       *units.Millimetres `json:"water_mm,omitempty"`
	Volume      *units.Litres      `json:"volume_l,omitempty"`
	Temperature *units.Celsius     `json:"temperature_c,omitempty"`
	// Gauge is the instrument that it was read with, blank where nobody said; it decides how precise the reading is.
	Gauge tanks.Gauge `json:"gauge,omitempty"`
	// Ullage is counted from the tank's reference height down to the surface.
	Ullage *units.Millimetres `json:"ullage_mm,omitempty"`
	// Precision is one standard deviation of the depth or the ullage; 0 means that of the gauge.
	Precision units.Millimetres `json:"precision_mm,omitempty"`
	// Moving tells that fuel ran in or out while it was read: it is no opening and no closing of a balance.
	Moving bool `json:"moving,omitempty"`
}

// PeriodTotal is the consumption of a whole plant from one day to another, both included, as a plant
// without daily readings reports it.
type PeriodTotal struct {
	Entry
	Measure
	Plant    string       `json:"plant"`
	FirstDay calendar.Day `json:"first_day"`
	LastDay  calendar.Day `json:"last_day"`
	Energy   *float64     `json:"energy_kwh,omitempty"` // generated in the same days
}

// Kind tells that the row is a meter.
func (m *Meter) Kind() Kind { return KindMeter }

// PlantID gives the meter's plant.
func (m *Meter) PlantID() string { return m.Plant }

// Kind tells that the row is a meter reading.
func (r *MeterReading) Kind() Kind { return KindReading }

// PlantID gives the reading's plant.
func (r *MeterReading) PlantID() string { return r.Plant }

// Kind tells that the row is a meter swap.
func (s *MeterSwap) Kind() Kind { return KindSwap }

// PlantID gives the swapped meter's plant.
func (s *MeterSwap) PlantID() string { return s.Plant }

// Kind tells that the row is a gauging.
func (g *Gauging) Kind() Kind { return KindGauging }

// PlantID gives the gauged tank's plant.
func (g *Gauging) PlantID() string { return g.Plant }

// Kind tells that the row is a period total.
func (t *PeriodTotal) Kind() Kind { return KindTotal }

// PlantID gives the plant that the total is of.
func (t *PeriodTotal) PlantID() string { return t.Plant }
