package resupply

// Terms is what a delivery by a route costs and when it is paid, in major units of Currency. A zero is a term
// that is not stated: no cost, no growth, a price known for sure.
type Terms struct {
	Fixed   float64 // of one delivery, whatever its litres
	Price   float64 // a litre at 15 °C as of today; 0: not known
	Freight float64 // a litre, on top of the price
	Growth  float64 // share by which the price is expected to grow in a year
	SD      float64 // standard deviation of the price's natural logarithm after a year

	Deliveries int // most in one window, at least 1
	Apart      int // least days between two of them

	PayFromOrder bool // the time to pay counts from the day of the order, else from the day of delivery
	PayDays      int
	Currency     string // ISO 4217; empty where no price is known
}

// Spending bounds what is ordered from one day to another, both included, in litres, in money, or in both. Day
// indexes may be negative: what was ordered since counts.
type Spending struct {
	Name, Kind        string
	FromDay, UntilDay int
	Litres            *float64 // at 15 °C; nil: not bounded in litres
	Money             *float64 // in major units of Currency; nil: not bounded in money
	Currency          string   // ISO 4217
}
