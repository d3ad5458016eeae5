package inventory

import (
	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// WindowLimit bounds the lots that come through a window on certain days of each year: on a falling river, over a
// softening road.
type WindowLimit struct {
	Entry
	Route  string           `json:"route"`
	Name   string           `json:"name"` // of the window, of every year
	From   MonthDay         `json:"from"`
	Until  MonthDay         `json:"until"` // included; before From in the calendar means the year after
	LotMax units.LitresAt15 `json:"lot_max_l15"`
	Cause  LimitCause       `json:"cause"`
	Note   string           `json:"note,omitempty"`
}

// LimitCause says what keeps a lot small.
type LimitCause string

// The causes of window limits.
const (
	LimitDraft  LimitCause = "draft"  // the water is too low for a full vessel
	LimitWeight LimitCause = "weight" // road, ice or runway bear no more
	LimitTide   LimitCause = "tide"
	LimitOther  LimitCause = "other"
)

// SpendingLimit bounds what a plant may order from one day to another, in money, in litres, or in both.
type SpendingLimit struct {
	Entry
	Plant    string            `json:"plant"`
	Name     string            `json:"name"`
	Of       SpendingKind      `json:"kind"`
	From     calendar.Day      `json:"from"`
	Until    calendar.Day      `json:"until"`                // included
	Amount   *float64          `json:"amount,omitempty"`     // in major units of Currency; nil: not bounded in money
	Currency string            `json:"currency,omitempty"`   // ISO 4217
	Volume   *units.LitresAt15 `json:"volume_l15,omitempty"` // nil: not bounded in litres
}

// SpendingKind says whose limit it is.
type SpendingKind string

// The kinds of spending limits.
const (
	SpendingCredit   SpendingKind = "credit"   // a supplier's or bank's line of credit
	SpendingLoan     SpendingKind = "loan"     // money lent for fuel
	SpendingSupplier SpendingKind = "supplier" // what the supplier allots
)

// Kind tells that the row is a window limit.
func (l *WindowLimit) Kind() Kind { return KindWindowLimit }

// PlantID is empty: a window belongs to its route.
func (l *WindowLimit) PlantID() string { return "" }

// Kind tells that the row is a spending limit.
func (l *SpendingLimit) Kind() Kind { return KindSpendingLimit }

// PlantID gives the plant whose orders are bounded.
func (l *SpendingLimit) PlantID() string { return l.Plant }
