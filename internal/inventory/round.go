package inventory

import (
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// Round is what an operator saw on one visit beside the meters and the tanks, whose readings are rows of their
// own.
type Round struct {
	Entry
	Plant string    `json:"plant"`
	At    time.Time `json:"at"`
	Bowl  Bowl      `json:"filter_bowl,omitempty"`
	// Alarms are those seen since the last round, each once.
	Alarms      []Alarm `json:"alarms,omitempty"`
	PumpRunning *bool   `json:"pump_running,omitempty"` // the fill pump of the day tank
	// RunningHours is the sum of the engines' hour counters; EnergyRegister what the meter of generated energy
	// shows, in kWh. Both run on from round to round.
	RunningHours   *float64 `json:"running_hours,omitempty"`
	EnergyRegister *float64 `json:"energy_register_kwh,omitempty"`
	Note           string   `json:"note,omitempty"`
}

// Bowl is what was seen in the filter's bowl.
type Bowl string

// What a filter bowl may show; blank is not looked at.
const (
	BowlClear   Bowl = "clear"
	BowlTrace   Bowl = "trace" // a trace of water or dirt
	BowlWater   Bowl = "water"
	BowlResidue Bowl = "residue"
	BowlIce     Bowl = "ice"
)

// Alarm is an alarm of the fuel line.
type Alarm string

// The alarms of a day tank and its line.
const (
	AlarmFillTime Alarm = "fill-time" // the pump ran longer than a fill may take
	AlarmLow      Alarm = "low-level"
	AlarmHigh     Alarm = "high-level"
	AlarmPumpDown Alarm = "pump-down" // an overfill was pumped back
	AlarmLeak     Alarm = "leak"
	AlarmOther    Alarm = "other"
)

// Proving is a meter held against a known volume: the factor counts from then on.
type Proving struct {
	Entry
	Plant  string    `json:"plant"`
	Meter  string    `json:"meter"`
	At     time.Time `json:"at"`
	Factor float64   `json:"factor"` // true volume / indicated volume
}

// CountCorrection is a correction of book stock on a line and a day of its own, as after a stock count at
// the year's end: it is neither consumption nor a draw. Its volume may be below 0.
type CountCorrection struct {
	Entry
	Measure
	Plant   string       `json:"plant"`
	Product Product      `json:"product"`
	Day     calendar.Day `json:"day"` // at whose end it counts
}

// ProductChange is another product in a tank from a moment on. What the tank still held is mixed into it.
type ProductChange struct {
	Entry
	Plant   string    `json:"plant"`
	Tank    string    `json:"tank"`
	At      time.Time `json:"at"`
	Product Product   `json:"product"`
}

// Confirmation says that a row which looked wrong is right: it counts from then on, whatever looks wrong
// about it.
type Confirmation struct {
	Entry
	Plant string `json:"plant"`
	Of    Kind   `json:"of"`  // kind of the row
	Row   string `json:"row"` // its key
}

// DeliveryFigure is a volume in which a delivery was stated besides the one that was agreed on: by the document
// or by a meter. Its temperature and basis are its own.
type DeliveryFigure struct {
	Volume      *units.Litres  `json:"volume_l,omitempty"`
	Temperature *units.Celsius `json:"temperature_c,omitempty"`
	Basis       Basis          `json:"basis,omitempty"`
}

// Measure gives the figure as a measure; ok is false where none was stated.
func (f DeliveryFigure) Measure() (m Measure, ok bool) {
	if f.Volume == nil {
		return Measure{}, false
	}
	return Measure{Volume: *f.Volume, Temperature: f.Temperature, Basis: f.Basis}, true
}

// Kind tells that the row is a round.
func (r *Round) Kind() Kind { return KindRound }

// PlantID gives the plant that was visited.
func (r *Round) PlantID() string { return r.Plant }

// Kind tells that the row is a proving.
func (p *Proving) Kind() Kind { return KindProving }

// PlantID gives the meter's plant.
func (p *Proving) PlantID() string { return p.Plant }

// Kind tells that the row is a count correction.
func (c *CountCorrection) Kind() Kind { return KindCountCorrection }

// PlantID gives the plant whose stock was counted.
func (c *CountCorrection) PlantID() string { return c.Plant }

// Kind tells that the row is a change of product.
func (c *ProductChange) Kind() Kind { return KindProductChange }

// PlantID gives the tank's plant.
func (c *ProductChange) PlantID() string { return c.Plant }

// Kind tells that the row is a confirmation.
func (c *Confirmation) Kind() Kind { return KindConfirmation }

// PlantID gives the plant of the confirmed row.
func (c *Confirmation) PlantID() string { return c.Plant }
