package inventory

import (
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// Delivery is fuel received from outside. Tank may be empty where the fuel was split over tanks.
type Delivery struct {
	Entry
	Measure
	Plant    string    `json:"plant"`
	Tank     string    `json:"tank,omitempty"`
	At       time.Time `json:"at"`
	Order    string    `json:"order,omitempty"`    // id of the order it fulfils
	Document string    `json:"document,omitempty"` // bill of lading or the like
	// Product is blank where it is that of the tank, or of the plant.
	Product Product `json:"product,omitempty"`
	// What the document and a meter said, and what was sent back; the row's own volume is what was agreed on.
	ByDocument DeliveryFigure `json:"by_document,omitzero"`
	ByMeter    DeliveryFigure `json:"by_meter,omitzero"`
	Refused    *units.Litres  `json:"refused_l,omitempty"`
	// Price of a litre as stated, in major units of the currency, and freight as an amount of it.
	PricePerLitre *float64 `json:"price_per_l,omitempty"`
	Freight       *float64 `json:"freight,omitempty"`
	Currency      string   `json:"currency,omitempty"`
}

// Transfer is fuel moved between a plant's own tanks by other ways than the metered line: a pump-down
// return out of a day tank, a day tank filled by hand pump, storage to intermediate tank. Fuel that
// went through a meter into a day tank stands in the meter's readings and is not entered again.
type Transfer struct {
	Entry
	Measure
	Plant string    `json:"plant"`
	From  string    `json:"from"`
	To    string    `json:"to"`
	At    time.Time `json:"at"`
	// Open tells that the fuel still runs: PlannedStop is when somebody means to stop it, and the volume is what has
	// been moved so far, 0 where that is not known. Its end is a row that replaces this one.
	Open        bool       `json:"open,omitempty"`
	PlannedStop *time.Time `json:"planned_stop,omitempty"`
}

// Draw is fuel that leaves for anything but generation, between two days, both included.
type Draw struct {
	Entry
	Measure
	Plant    string       `json:"plant"`
	FirstDay calendar.Day `json:"first_day"`
	LastDay  calendar.Day `json:"last_day"`
	Purpose  Purpose      `json:"purpose"`
	With     string       `json:"with,omitempty"` // who received it, or gave it back
}

// Purpose says what a draw is for.
type Purpose string

// The purposes of draws.
const (
	Heat     Purpose = "heat"
	Vehicles Purpose = "vehicles"
	Sale     Purpose = "sale"
	Loan     Purpose = "loan"
	// Repayment is a loan given back in kind: the fuel comes in.
	Repayment Purpose = "repayment"
)

// Kind tells that the row is a delivery.
func (d *Delivery) Kind() Kind { return KindDelivery }

// PlantID gives the plant that received the fuel.
func (d *Delivery) PlantID() string { return d.Plant }

// Kind tells that the row is a transfer.
func (t *Transfer) Kind() Kind { return KindTransfer }

// PlantID gives the plant in which the fuel was moved.
func (t *Transfer) PlantID() string { return t.Plant }

// Kind tells that the row is a draw.
func (d *Draw) Kind() Kind { return KindDraw }

// PlantID gives the plant that the fuel left.
func (d *Draw) PlantID() string { return d.Plant }
