// Package intake takes what people and machines report of a plant, a round, a gauging, a delivery, an
// order and its states, and writes it to the ledger: checked, held against the last readings for
// plausibility, idempotent by a key that the sender chose, all of it or nothing. Then the plant is
// advised anew at once. Pages and the API both come through here.
package intake

import (
	"context"
	"reflect"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// Ledger is what intake needs of a store.
type Ledger interface {
	inventory.Recorder
	inventory.Reader
}

// Refresher advises a plant anew.
type Refresher interface {
	Refresh(ctx context.Context, plant string) error
}

// Advice tells what is in force; advice.Desk is one.
type Advice interface {
	InForce(ctx context.Context) (*advice.InForce, error)
	// CountsIn tells whether a plant's advice in force counts in all that the ledger holds of it.
	CountsIn(ctx context.Context, plant string) (bool, error)
}

// Desk takes reports in. It may be used from several goroutines.
type Desk struct {
	Ledger  Ledger
	Refresh Refresher // nil: plants are not advised anew
	Advice  Advice    // nil: nothing is known of what is usual
	Clock   calendar.Clock
	// AsOf is the day that advice stands at; nil is each plant's own today. A state that is reported later is one of that day.
	AsOf *calendar.Day
}

// Report is what every report says beside its content.
type Report struct {
	Key   string // the sender's, unique among its reports: the same key and content twice is one report
	Plant string
	Who   string
	Why   string // of a correction
}

// Round is one visit: what the meters and the tanks' gauges showed, and what else was seen, all at one moment.
type Round struct {
	Report
	At     time.Time
	Meters []MeterEntry
	Tanks  []TankEntry
	Seen   Seen
	// Confirmed says that somebody looked once more at what seemed doubtful: every value counts as it stands.
	Confirmed bool
}

// Correction says that an entry of a round stands in the place of a row of the ledger.
type Correction struct {
	Replaces string // key of the reading or gauging that it corrects, "" for none
	Withdraw bool   // nothing stands in its place
}

// Seen is what an operator saw on a visit beside the meters and the tanks.
type Seen struct {
	Replaces       string // key of the round's row that it corrects, "" for none
	Bowl           inventory.Bowl
	Alarms         []inventory.Alarm
	PumpRunning    *bool
	RunningHours   *float64
	EnergyRegister *float64 // kWh
	Note           string
}

// nothing tells whether nothing was looked at.
func (s Seen) nothing() bool { return reflect.ValueOf(s).IsZero() }

// MeterEntry is what a meter's register showed, in counts.
type MeterEntry struct {
	Correction
	Meter       string
	Register    float64
	Temperature *units.Celsius
}

// TankEntry is what a tank's gauge or dip showed: a depth or a volume.
type TankEntry struct {
	Correction
	Tank        string
	Depth       *units.Millimetres
	Volume      *units.Litres
	Water       *units.Millimetres
	Temperature *units.Celsius
	Ullage      *units.Millimetres
	Gauge       string            // what it was read with: one of tanks.Gauges
	Precision   units.Millimetres // 0 means that of the gauge
	Moving      bool              // fuel ran in or out while it was read
}

// Order is fuel ordered for a plant.
type Order struct {
	Report
	inventory.Measure
	ID                  string
	Route               string
	State               inventory.OrderState // not over yet
	StateAt             *time.Time           // when it came into it; nil: not stated
	OrderBy             *calendar.Day        // the last day to place it; nil: as its route's lead says
	OrderedOn           calendar.Day
	Early, Likely, Late calendar.Day // 10, 50 and 90 % points of the arrival
}

// OrderChange moves an order to another state, and its expected arrival where that has changed.
type OrderChange struct {
	Report
	ID                  string
	State               inventory.OrderState
	StateAt             *time.Time    // when it came into the state; nil: now, where the state is another than before
	OrderBy             *calendar.Day // nil: as before
	Early, Likely, Late *calendar.Day // nil: as before
}

// Clearance says how a clearance of an order stands: it stands in the place of what was said of it before.
type Clearance struct {
	Report
	Order, Name           string
	LastSafeOn, ClearedOn *calendar.Day // nil: as before
	TakesDays             *int          // nil: as before
	By, Note              string        // "": as before
}

// Receipt says what became of a report.
type Receipt struct {
	New     int         // rows that were written
	Known   int         // rows that were there already: the report had come before
	Notices notice.List // what is doubtful about it; it is kept all the same
	// Doubts are those that the books hold, after the report, of its rows, and of others where the report changed
	// them. Settled were doubtful before it and are no more.
	Doubts  []inventory.Doubt
	Settled []Settled
	// Advised tells that the plant's advice in force counts the report in. Where it is false the next
	// forecast will.
	Advised bool
}
