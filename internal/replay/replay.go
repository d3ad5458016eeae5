// Package replay supplies plants over past years, on what they really burned, under several policies of ordering, so that a
// policy's cost and risk can be held against those of simple rules. Each policy decides with what was known at the time; the world
// it meets (use, windows, lead times) is the same for all. Tables and a scenario go in, scores come out.
package replay

import (
	"overwinter/internal/backtest"
	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
)

// Case is what is replayed.
type Case struct {
	Scenario Scenario
	Plants   []*Plant
	fleet    *backtest.Fleet // of all series of the history: those that are not replayed lend
}

// Plant is one plant that is replayed.
type Plant struct {
	ID     string
	Usable float64 // litres that its tanks hold
	route  *route
	use    use
	series int // its place in the fleet
}

// route is one supply route with its past windows fitted.
type route struct {
	id    string
	terms resupply.Route
}

// Scenario is what the tables do not say. Litres are on the basis of the history, money is in major units of Currency.
type Scenario struct {
	Start, End   calendar.Day // first and last day
	Seed         uint64
	Currency     string
	OpeningShare float64 // of the usable stock, in the tanks at the start
	ReserveDays  int     // of the coming burn
	Risk         float64
	Carrying     float64 // of the price, a year
	Window       WindowRules
	Delivery     DeliveryRules
	Fallback     FallbackRules
}

// WindowRules is how the windows of all routes follow from their past dates.
type WindowRules struct {
	Deliveries, Apart   int     // at most in one window, at least so many days apart
	OpensLag, ClosesLag float64 // days from the past dates to the opening and closing
	FailChance          float64
}

// DeliveryRules is what a delivery takes and costs.
type DeliveryRules struct {
	Lead, LeadSD    float64 // days from order to arrival: median and standard deviation
	StopCost, Price float64 // of a delivery of any size; a litre
	Lot             resupply.Lot
}

// FallbackRules is when the fallback is bought, and what it costs.
type FallbackRules struct {
	Lead, LeadSD, Price, Load float64
	AtDays                    int // bought when the stock falls below so many days of the coming burn
}
