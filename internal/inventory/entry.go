// Package inventory is the ledger and what follows from it. The ledger's rows are never changed: a
// correction is a new row that names the one it replaces. From the rows in force follow the stock
// now, with its uncertainty, and the usage intervals that the forecast is fitted to.
package inventory

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
)

// Entry is what every ledger row carries beside its content.
type Entry struct {
	Key      string `json:"key"`                // chosen by the client, unique among rows of one kind
	Replaces string `json:"replaces,omitempty"` // key of the row that this one corrects
	Void     bool   `json:"void,omitempty"`     // the replaced row is withdrawn and nothing stands in its place
	Who      string `json:"-"`                  // no part of the content: the same reading entered by another is the same reading
	Why      string `json:"-"`
}

// Base gives the row's entry, so that every record can be handled alike.
func (e *Entry) Base() *Entry { return e }

// Record is one ledger row of any kind.
type Record interface {
	Base() *Entry
	Kind() Kind
	// PlantID gives the plant that the row belongs to, or "" for a supply route and its windows, and for the
	// degree days of a climate group.
	PlantID() string
}

// Kind names a kind of ledger row; it is also the stem of the file that carries such rows.
type Kind string

// The kinds of ledger rows.
const (
	KindPlant    Kind = "plant"
	KindTank     Kind = "tank"
	KindMeter    Kind = "meter"
	KindReading  Kind = "meter reading"
	KindSwap     Kind = "meter swap"
	KindGauging  Kind = "gauging"
	KindTotal    Kind = "period total"
	KindDelivery Kind = "delivery"
	KindTransfer Kind = "transfer"
	KindDraw     Kind = "draw"
	KindOrder    Kind = "order"
	KindRoute    Kind = "supply route"
	KindService  Kind = "service"
	KindWindow   Kind = "window"

	KindRound           Kind = "round"
	KindProving         Kind = "meter proving"
	KindCountCorrection Kind = "count correction"
	KindProductChange   Kind = "product change"
	KindConfirmation    Kind = "confirmation"

	KindLoadChange Kind = "load change"
	KindDegreeDays Kind = "degree days"
	KindPastWindow Kind = "past window"
	KindClearance  Kind = "clearance"

	KindWindowLimit   Kind = "window limit"
	KindSpendingLimit Kind = "spending limit"
)

// Kinds lists every kind of row.
func Kinds() []Kind {
	return []Kind{KindPlant, KindTank, KindMeter, KindReading, KindSwap, KindGauging, KindTotal, KindDelivery, KindTransfer, KindDraw,
		KindOrder, KindRoute, KindService, KindWindow, KindRound, KindProving, KindCountCorrection, KindProductChange, KindConfirmation,
		KindLoadChange, KindDegreeDays, KindPastWindow, KindWindowLimit, KindSpendingLimit, KindClearance}
}

// Digest identifies a row's content: the same key with another digest is a conflict.
func Digest(r Record) string {
	text, err := json.Marshal(r)
	if err != nil { // rows hold only strings, finite numbers and times: Check refuses anything else
		panic("inventory: row cannot be written as JSON: " + err.Error())
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:16])
}
