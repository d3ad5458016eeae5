package api

import (
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// rowBody is the body of a report that is one row of the ledger.
type rowBody interface {
	amends() AmendBody
	row(plant string) intake.Checked
}

func (b AmendBody) amends() AmendBody { return b }

// ReadingBody is what a meter's register showed.
type ReadingBody struct {
	AmendBody
	At          time.Time      `json:"at"`
	Meter       string         `json:"meter" minLength:"1" maxLength:"64"`
	Register    float64        `json:"register_counts" minimum:"0"`
	Temperature *units.Celsius `json:"temperature_c,omitempty" nullable:"true"`
}

func (b ReadingBody) row(plant string) intake.Checked {
	return &inventory.MeterReading{Plant: plant, Meter: b.Meter, At: b.At, Register: b.Register, Temperature: b.Temperature}
}

// SwapBody is the change of a meter for another, or a reset of its register.
type SwapBody struct {
	AmendBody
	At      time.Time `json:"at"`
	Meter   string    `json:"meter" minLength:"1" maxLength:"64"`
	Closing *float64  `json:"closing_counts,omitempty" nullable:"true" minimum:"0"`
	Opening *float64  `json:"opening_counts,omitempty" nullable:"true" minimum:"0"`
}

func (b SwapBody) row(plant string) intake.Checked {
	return &inventory.MeterSwap{Plant: plant, Meter: b.Meter, At: b.At, Closing: b.Closing, Opening: b.Opening}
}

// ProvingBody is a meter held against a known volume.
type ProvingBody struct {
	AmendBody
	At     time.Time `json:"at"`
	Meter  string    `json:"meter" minLength:"1" maxLength:"64"`
	Factor float64   `json:"factor"`
}

func (b ProvingBody) row(plant string) intake.Checked {
	return &inventory.Proving{Plant: plant, Meter: b.Meter, At: b.At, Factor: b.Factor}
}

// TotalBody is what a whole plant burned from one day to another.
type TotalBody struct {
	AmendBody
	FirstDay calendar.Day `json:"first_day" format:"date"`
	LastDay  calendar.Day `json:"last_day" format:"date"`
	VolumeBody
	Energy *float64 `json:"energy_kwh,omitempty" nullable:"true"`
}

func (b TotalBody) row(plant string) intake.Checked {
	return &inventory.PeriodTotal{Measure: b.measure(), Plant: plant, FirstDay: b.FirstDay, LastDay: b.LastDay, Energy: b.Energy}
}

// TransferBody is fuel moved between a plant's own tanks. Its volume may be missing while it is open.
type TransferBody struct {
	AmendBody
	At          time.Time      `json:"at"`
	From        string         `json:"from_tank" minLength:"1" maxLength:"64"`
	To          string         `json:"to_tank" minLength:"1" maxLength:"64"`
	Volume      *units.Litres  `json:"volume_l,omitempty" nullable:"true"`
	Temperature *units.Celsius `json:"temperature_c,omitempty" nullable:"true"`
	Basis       *string        `json:"basis,omitempty" nullable:"true" enum:"observed,15C"`
	Open        bool           `json:"open,omitempty"`
	PlannedStop *time.Time     `json:"planned_stop,omitempty" nullable:"true"`
}

func (b TransferBody) row(plant string) intake.Checked {
	t := &inventory.Transfer{Plant: plant, From: b.From, To: b.To, At: b.At, Open: b.Open, PlannedStop: b.PlannedStop}
	t.Temperature, t.Basis = b.Temperature, inventory.Basis(text(b.Basis))
	if b.Volume != nil {
		t.Volume = *b.Volume
	}
	return t
}

// DrawBody is fuel that leaves for anything but generation, or a loan that is given back.
type DrawBody struct {
	AmendBody
	FirstDay calendar.Day `json:"first_day" format:"date"`
	LastDay  calendar.Day `json:"last_day" format:"date"`
	VolumeBody
	Purpose string  `json:"purpose" enum:"heat,vehicles,sale,loan,repayment"`
	With    *string `json:"with,omitempty" nullable:"true" maxLength:"200"`
}

func (b DrawBody) row(plant string) intake.Checked {
	return &inventory.Draw{
		Measure: b.measure(), Plant: plant, FirstDay: b.FirstDay, LastDay: b.LastDay,
		Purpose: inventory.Purpose(b.Purpose), With: text(b.With),
	}
}

// CountBody is a correction of book stock after a count.
type CountBody struct {
	AmendBody
	Day     calendar.Day `json:"day" format:"date"`
	Product string       `json:"product" minLength:"1" maxLength:"64"`
	VolumeBody
}

func (b CountBody) row(plant string) intake.Checked {
	return &inventory.CountCorrection{Measure: b.measure(), Plant: plant, Day: b.Day, Product: inventory.Product(b.Product)}
}

// ProductChangeBody is another product in a tank.
type ProductChangeBody struct {
	AmendBody
	At      time.Time `json:"at"`
	Tank    string    `json:"tank" minLength:"1" maxLength:"64"`
	Product string    `json:"product" minLength:"1" maxLength:"64"`
}

func (b ProductChangeBody) row(plant string) intake.Checked {
	return &inventory.ProductChange{Plant: plant, Tank: b.Tank, At: b.At, Product: inventory.Product(b.Product)}
}

// LoadChangeBody is a change of a plant's use that is known without its readings.
type LoadChangeBody struct {
	AmendBody
	From        calendar.Day     `json:"from" format:"date"`
	Until       *calendar.Day    `json:"until,omitempty" nullable:"true" format:"date"`
	Times       *float64         `json:"times,omitempty" nullable:"true" minimum:"0"`
	Added       *units.Kilowatts `json:"added_kw,omitempty" nullable:"true"`
	Uncertainty *float64         `json:"uncertainty_percent,omitempty" nullable:"true" minimum:"0" maximum:"100"`
	Cause       string           `json:"cause" enum:"load-connected,load-lost,wind,sun,water,intertie,standby,engine,other"`
	Note        *string          `json:"note,omitempty" nullable:"true" maxLength:"2000"`
}

func (b LoadChangeBody) row(plant string) intake.Checked {
	return &inventory.LoadChange{
		Plant: plant, From: b.From, Until: b.Until, Times: b.Times, Added: b.Added, Uncertainty: b.Uncertainty,
		Cause: inventory.LoadCause(b.Cause), Note: text(b.Note),
	}
}

// DegreeDaysBody is how cold it was at the plants of a climate group.
type DegreeDaysBody struct {
	AmendBody
	FirstDay calendar.Day     `json:"first_day" format:"date"`
	LastDay  calendar.Day     `json:"last_day" format:"date"`
	Sum      units.DegreeDays `json:"degree_days_c" minimum:"0"`
	Under    units.Celsius    `json:"base_c"`
}

// row leaves the climate group to the desk, which knows the plant's.
func (b DegreeDaysBody) row(string) intake.Checked {
	return &inventory.DegreeDays{FirstDay: b.FirstDay, LastDay: b.LastDay, Sum: b.Sum, Under: b.Under}
}

// RowNameBody names a row of the ledger, and who says what about it, and why.
type RowNameBody struct {
	Who string `json:"who" minLength:"1" maxLength:"200"`
	Why string `json:"why" minLength:"1" maxLength:"2000"`
	Row string `json:"row" minLength:"1" maxLength:"400"`
}

// ConfirmationBody says that a row which looks doubtful is right.
type ConfirmationBody struct {
	RowNameBody
	Kind string `json:"kind" enum:"meter reading,gauging,period total,delivery,transfer,draw,round"`
}

// WithdrawalBody takes a row out of force.
type WithdrawalBody struct {
	RowNameBody
	Kind string `json:"kind" enum:"meter reading,meter swap,gauging,period total,delivery,transfer,draw,round,meter proving,count correction,product change,confirmation,load change,degree days,clearance"`
}
