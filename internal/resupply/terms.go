package resupply

// Terms is what fuel from a window costs and when it is paid. Money is in major units of Currency.
type Terms struct {
	Fixed   float64 // of a delivery of any size: stop, mobilisation
	Price   float64 // a litre today; 0 means not known
	Freight float64 // a litre, on top of the price
	Growth  float64 // of the price, expected, a share a year
	SD      float64 // of the price's logarithm after a year

	Deliveries int // the most in one window; 0 counts as 1
	Apart      int // days between two of them at least

	PayFromOrder bool // else from the delivery
	PayDays      int  // until the payment
	Currency     string
}

// Spending bounds what is ordered between two days, both included: a credit, a loan, a supplier's share.
type Spending struct {
	Name, Kind        string
	FromDay, UntilDay int
	Litres, Money     *float64 // nil: no bound
}
