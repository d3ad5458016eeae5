package inventory

import (
	"slices"
	"time"

	"overwinter/internal/calendar"
)

// OrderState is where an order stands in its life.
type OrderState string

// The states of an order, in the order of its life; it may be cancelled out of any of them.
const (
	Proposed  OrderState = "proposed"   // thought of
	Cleared   OrderState = "cleared"    // all clearances are given
	Ordered   OrderState = "ordered"    // placed with the supplier
	Loaded    OrderState = "loaded"     // aboard
	InTransit OrderState = "in-transit" // under way
	Received  OrderState = "received"   // in the plant's tanks, by its deliveries
	Closed    OrderState = "closed"     // held against its deliveries, and settled
	Cancelled OrderState = "cancelled"
	// Committed is an earlier word for Ordered. Rows keep the word that they were written with.
	Committed OrderState = "committed"
)

var orderLife = []OrderState{Proposed, Cleared, Ordered, Loaded, InTransit, Received, Closed}

// OrderStates lists the states, each by its present word.
func OrderStates() []OrderState { return append(slices.Clone(orderLife), Cancelled) }

// Means gives the state that a word stands for: Committed is Ordered.
func (s OrderState) Means() OrderState {
	if s == Committed {
		return Ordered
	}
	return s
}

// place counts the states of a life from 0; −1 is none of them.
func (s OrderState) place() int { return slices.Index(orderLife, s.Means()) }

// Planned tells that the order is not placed yet: nothing is counted on.
func (s OrderState) Planned() bool { return s == Proposed || s == Cleared }

// Open tells that the order is placed and still to arrive: it is counted on.
func (s OrderState) Open() bool {
	return slices.Contains([]OrderState{Ordered, Loaded, InTransit}, s.Means())
}

// Arrived tells that the order has come: its deliveries count, and nothing else of it.
func (s OrderState) Arrived() bool { return s == Received || s == Closed }

// Over tells that nothing more is to come of the order.
func (s OrderState) Over() bool { return s.Arrived() || s == Cancelled }

// Order is fuel ordered for a plant, or meant to be. A change of state is a row that replaces the one before.
// Early, Likely and Late are the 10, 50 and 90 % points of the expected arrival.
type Order struct {
	Entry
	Measure
	Plant string     `json:"plant"`
	ID    string     `json:"id"`
	Route string     `json:"route,omitempty"`
	State OrderState `json:"state"`
	// StateAt is when the order came into its state; nil where only the writing of the row is known.
	StateAt *time.Time `json:"state_at,omitempty"`
	// OrderBy is the last day on which it may be placed so that its dates hold; nil: as its route's lead says.
	OrderBy   *calendar.Day `json:"order_by,omitempty"`
	OrderedOn calendar.Day  `json:"ordered_on"` // of an order that is not placed yet, the day of the proposal
	Early     calendar.Day  `json:"early"`
	Likely    calendar.Day  `json:"likely"`
	Late      calendar.Day  `json:"late"`
}

// Open tells whether the order is placed and still to arrive.
func (o *Order) Open() bool { return o.State.Open() }

// Kind tells that the row is an order.
func (o *Order) Kind() Kind { return KindOrder }

// PlantID gives the plant that the order is for.
func (o *Order) PlantID() string { return o.Plant }
