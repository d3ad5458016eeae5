package demo

import (
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// plantSpec is one invented plant: how it is built, how its people work, and what happens to it.
type plantSpec struct {
	plant   inventory.Plant
	climate climate
	burn    law
	tanks   []*inventory.Tank // in the order in which storage is drawn down
	meter   *meterSpec        // nil: gauging balance only
	habits  habits
	draws   []drawSpec
	calls   []call
	orders  []*inventory.Order
	// Of the orders among them that are not over.
	clearances []*inventory.Clearance
	events     []event
	opening    float64 // share of safe fill that at least stands in the tanks on FirstDay
	airL15     float64 // one load of the fallback, litres at 15 °C
}

// climate sets the temperature of fuel: a damped yearly cycle which tanks follow.
type climate struct {
	meanC, swingC, warmestDay float64
	indoorsC                  float64 // at which day tanks stand
}

type meterSpec struct {
	row     inventory.Meter
	opening float64
}

// habits are how a plant's people read and write.
type habits struct {
	roundHour    int
	imperial     bool // dips to 1/8 in, temperatures to 1 °F
	noThermo     bool // temperatures are not taken
	dips         cadence
	monthly      bool // no rounds: month totals and dips on the first of the month
	splitByTank  bool // deliveries are written down tank by tank
	silentAfter  calendar.Day
	gaugeSDMM    float64 // of the day tank's gauge, as stated; 0: as a hand dip
	noGapsInside bool    // a staffed plant: no gaps of weeks
}

type cadence string

const (
	weekly       cadence = "weekly"
	firstOfMonth cadence = "first of the month"
)

// drawSpec is a steady draw, written down by month.
type drawSpec struct {
	purpose       inventory.Purpose
	litresPerYear float64
	season        []wave
}

// call is how a route's deliveries come to a plant in each of its seasons.
type call struct {
	route, window string
	afterDays     float64 // after the opening: sailing order and usual slip
	spreadDays    float64
	times         int     // deliveries in one season; 0 means 1
	everyDays     float64 // between them
	lotL15        float64 // of one delivery; 0: as much as there is room for
	arrivesC      float64
	separate      bool // each delivery is an order of its own
}

// event is something scripted that happens on a day.
type event struct {
	day    calendar.Day
	kind   eventKind
	litres float64 // at 15 °C
	tank   string
	carry  calendar.Day
	call   *call  // of a delivery
	order  string // of a delivery
}

type eventKind int

const (
	handFill        eventKind = iota // the day tank is filled by hand pump
	pumpDown                         // fuel returned from the day tank
	meterSwap                        // another meter with register `litres`
	lend                             // a draw that nobody writes down
	leaveEmpty                       // a tank is no longer filled
	lightDelivery                    // the next delivery only reaches `carry`
	digitSlip                        // the next reading has two digits exchanged
	correctedSlip                    // the same, noticed and replaced
	misreadDip                       // the next dip of `tank` is one foot off
	countCorrection                  // the next month total is negative
	delivery                         // made of past seasons, not scripted
)

const gal = units.LitresPerUSGallon

func moment(year int, month time.Month, d, hour int) *time.Time {
	return new(time.Date(year, month, d, hour, 0, 0, 0, time.UTC))
}

func date(year int, month time.Month, d int) calendar.Day { return calendar.Date(year, month, d) }
