package api

import (
	"fmt"
	"strings"
	"time"

	"overwinter/internal/intake"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// RoundBody is one visit: what meters and tanks showed and what else was seen, all at one moment.
type RoundBody struct {
	AmendBody
	At             time.Time   `json:"at"`
	Meters         []MeterBody `json:"meters,omitempty" maxItems:"100"`
	Tanks          []TankBody  `json:"tanks,omitempty" maxItems:"100"`
	FilterBowl     *string     `json:"filter_bowl,omitempty" nullable:"true" enum:"clear,trace,water,residue,ice"`
	Alarms         []string    `json:"alarms,omitempty" maxItems:"6" enum:"fill-time,low-level,high-level,pump-down,leak,other"`
	PumpRunning    *bool       `json:"pump_running,omitempty" nullable:"true"`
	RunningHours   *float64    `json:"running_hours,omitempty" nullable:"true"`
	EnergyRegister *float64    `json:"energy_register_kwh,omitempty" nullable:"true"`
	Note           *string     `json:"note,omitempty" nullable:"true" maxLength:"2000"`
	// Confirmed says that somebody looked once more: what looks wrong counts all the same.
	Confirmed bool `json:"confirmed,omitempty"`
}

// AmendBody says who reports, and of a row that stands in the place of an earlier one which that is, and why.
type AmendBody struct {
	Who      *string `json:"who,omitempty" nullable:"true" maxLength:"200"`
	Why      *string `json:"why,omitempty" nullable:"true" maxLength:"2000"`
	Replaces *string `json:"replaces,omitempty" nullable:"true" maxLength:"400"`
}

// CorrectionBody says that an entry stands in the place of an earlier one.
type CorrectionBody struct {
	Replaces *string `json:"replaces,omitempty" nullable:"true" maxLength:"400"`
	Withdraw bool    `json:"withdraw,omitempty"`
}

// MeterBody is what a meter's register showed.
type MeterBody struct {
	Meter       string         `json:"meter" minLength:"1" maxLength:"64"`
	Register    float64        `json:"register_counts" minimum:"0"`
	Temperature *units.Celsius `json:"temperature_c,omitempty" nullable:"true"`
	CorrectionBody
}

// ReadBody is what a tank's gauge or dip showed: a depth, an ullage or a volume.
type ReadBody struct {
	Depth       *units.Millimetres `json:"depth_mm,omitempty" nullable:"true"`
	Ullage      *units.Millimetres `json:"ullage_mm,omitempty" nullable:"true"`
	Volume      *units.Litres      `json:"volume_l,omitempty" nullable:"true"`
	Water       *units.Millimetres `json:"water_mm,omitempty" nullable:"true"`
	Temperature *units.Celsius     `json:"temperature_c,omitempty" nullable:"true"`
	Precision   *units.Millimetres `json:"precision_mm,omitempty" nullable:"true"`
	Gauge       *string            `json:"gauge,omitempty" nullable:"true" enum:"stick,tape,float-eighths,sight-glass,automatic-inventory,automatic-custody,drum-count"`
	Moving      bool               `json:"moving,omitempty"`
}

// MeasureBody is what a tank's gauge or dip showed, and what it corrects.
type MeasureBody struct {
	ReadBody
	CorrectionBody
}

// TankBody is one tank of a round.
type TankBody struct {
	Tank string `json:"tank" minLength:"1" maxLength:"64"`
	MeasureBody
}

// GaugingBody is one measurement of one tank.
type GaugingBody struct {
	Who  *string   `json:"who,omitempty" nullable:"true" maxLength:"200"`
	Why  *string   `json:"why,omitempty" nullable:"true" maxLength:"2000"`
	At   time.Time `json:"at"`
	Tank string    `json:"tank" minLength:"1" maxLength:"64"`
	MeasureBody
}

// VolumeBody is a volume as somebody stated it.
type VolumeBody struct {
	Volume      units.Litres   `json:"volume_l"`
	Temperature *units.Celsius `json:"temperature_c,omitempty" nullable:"true"`
	Basis       *string        `json:"basis,omitempty" nullable:"true" enum:"observed,15C"`
}

func (b RoundBody) round(r intake.Report) intake.Round {
	round := intake.Round{Report: r, At: b.At, Seen: b.seen(), Confirmed: b.Confirmed}
	for _, m := range b.Meters {
		round.Meters = append(round.Meters, intake.MeterEntry{
			Correction: m.correction(), Meter: m.Meter, Register: m.Register, Temperature: m.Temperature,
		})
	}
	for _, t := range b.Tanks {
		round.Tanks = append(round.Tanks, t.entry(t.Tank))
	}
	return round
}

func (b RoundBody) seen() intake.Seen {
	seen := intake.Seen{
		Replaces: text(b.Replaces), Bowl: inventory.Bowl(text(b.FilterBowl)), PumpRunning: b.PumpRunning,
		RunningHours: b.RunningHours, EnergyRegister: b.EnergyRegister, Note: text(b.Note),
	}
	for _, a := range b.Alarms {
		seen.Alarms = append(seen.Alarms, inventory.Alarm(a))
	}
	return seen
}

func (b CorrectionBody) correction() intake.Correction {
	return intake.Correction{Replaces: text(b.Replaces), Withdraw: b.Withdraw}
}

func (b MeasureBody) entry(tank string) intake.TankEntry {
	e := b.read(tank)
	e.Correction = b.correction()
	return e
}

func (b ReadBody) read(tank string) intake.TankEntry {
	e := intake.TankEntry{
		Tank: tank, Depth: b.Depth, Ullage: b.Ullage, Gauge: text(b.Gauge), Volume: b.Volume, Water: b.Water, Temperature: b.Temperature, Moving: b.Moving,
	}
	if b.Precision != nil {
		e.Precision = *b.Precision
	}
	return e
}

func (b VolumeBody) measure() inventory.Measure {
	return inventory.Measure{Volume: b.Volume, Temperature: b.Temperature, Basis: inventory.Basis(text(b.Basis))}
}

// text gives "" for an absent text.
func text(s *string) string {
	if s == nil {
		return ""
	}
	return *s
}

// field turns a field as the intake names it, meters/M1/register, into its place in the body. An entry
// is found by its id, or by its number from 1 where that is blank.
func (b *RoundBody) field(name string) string {
	for i := len(b.Meters) - 1; i >= 0; i-- {
		if place, ok := entryPlace(name, "meters", b.Meters[i].Meter, i); ok {
			return place
		}
	}
	for i := len(b.Tanks) - 1; i >= 0; i-- {
		if place, ok := entryPlace(name, "tanks", b.Tanks[i].Tank, i); ok {
			return place
		}
	}
	return name
}

func entryPlace(name, list, id string, i int) (string, bool) {
	column, ok := strings.CutPrefix(name, list+"/"+id)
	if !ok || strings.LastIndex(column, "/") > 0 || (column != "" && column[0] != '/') {
		return "", false
	}
	place := fmt.Sprintf("%s[%d]", list, i)
	if column != "" {
		place += "." + withUnit(column[1:])
	}
	return place, true
}

// withUnit gives the body's name for a column: the ledger names the quantity, the body its unit too.
func withUnit(column string) string {
	switch column {
	case "depth", "ullage", "water", "precision":
		return column + "_mm"
	case "volume":
		return "volume_l"
	case "temperature", "degree_days", "base":
		return column + "_c"
	case "register", "closing", "opening":
		return column + "_counts"
	case "void":
		return "withdraw"
	case "of":
		return "kind"
	}
	return column
}
