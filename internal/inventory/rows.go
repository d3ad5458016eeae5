package inventory

import "iter"

// Rows is a set of ledger rows: a batch to be written, or what the store holds. The order inside a
// kind is that of time, then key, where it comes from the store.
type Rows struct {
	Plants      []*Plant
	Tanks       []*Tank
	Meters      []*Meter
	Readings    []*MeterReading
	Swaps       []*MeterSwap
	Gaugings    []*Gauging
	Totals      []*PeriodTotal
	Deliveries  []*Delivery
	Transfers   []*Transfer
	Draws       []*Draw
	Orders      []*Order
	Clearances  []*Clearance
	Routes      []*Route
	Services    []*Service
	Windows     []*Window
	PastWindows []*PastWindow

	WindowLimits   []*WindowLimit
	SpendingLimits []*SpendingLimit

	Rounds           []*Round
	Provings         []*Proving
	CountCorrections []*CountCorrection
	ProductChanges   []*ProductChange
	Confirmations    []*Confirmation
	LoadChanges      []*LoadChange
	DegreeDays       []*DegreeDays
}

// All goes through the rows of every kind; what a row refers to comes before it.
func (r *Rows) All() iter.Seq[Record] {
	return func(yield func(Record) bool) {
		_ = each(r.Plants, yield) && each(r.Routes, yield) && each(r.Services, yield) && each(r.Windows, yield) && each(r.PastWindows, yield) &&
			each(r.WindowLimits, yield) && each(r.SpendingLimits, yield) &&
			each(r.Tanks, yield) && each(r.Meters, yield) && each(r.Readings, yield) && each(r.Swaps, yield) &&
			each(r.Gaugings, yield) && each(r.Totals, yield) && each(r.Deliveries, yield) &&
			each(r.Transfers, yield) && each(r.Draws, yield) && each(r.Orders, yield) && each(r.Clearances, yield) &&
			each(r.Rounds, yield) && each(r.Provings, yield) && each(r.CountCorrections, yield) &&
			each(r.ProductChanges, yield) && each(r.Confirmations, yield) &&
			each(r.LoadChanges, yield) && each(r.DegreeDays, yield)
	}
}

func each[T Record](rows []T, yield func(Record) bool) bool {
	for _, r := range rows {
		if !yield(r) {
			return false
		}
	}
	return true
}

// Add puts a record among the rows of its kind.
func (r *Rows) Add(record Record) {
	switch v := record.(type) {
	case *Plant:
		r.Plants = append(r.Plants, v)
	case *Tank:
		r.Tanks = append(r.Tanks, v)
	case *Meter:
		r.Meters = append(r.Meters, v)
	case *MeterReading:
		r.Readings = append(r.Readings, v)
	case *MeterSwap:
		r.Swaps = append(r.Swaps, v)
	case *Gauging:
		r.Gaugings = append(r.Gaugings, v)
	case *PeriodTotal:
		r.Totals = append(r.Totals, v)
	case *Delivery:
		r.Deliveries = append(r.Deliveries, v)
	case *Transfer:
		r.Transfers = append(r.Transfers, v)
	case *Draw:
		r.Draws = append(r.Draws, v)
	case *Order:
		r.Orders = append(r.Orders, v)
	case *Clearance:
		r.Clearances = append(r.Clearances, v)
	case *Route:
		r.Routes = append(r.Routes, v)
	case *Service:
		r.Services = append(r.Services, v)
	case *Window:
		r.Windows = append(r.Windows, v)
	case *PastWindow:
		r.PastWindows = append(r.PastWindows, v)
	case *WindowLimit:
		r.WindowLimits = append(r.WindowLimits, v)
	case *SpendingLimit:
		r.SpendingLimits = append(r.SpendingLimits, v)
	case *Round:
		r.Rounds = append(r.Rounds, v)
	case *Proving:
		r.Provings = append(r.Provings, v)
	case *CountCorrection:
		r.CountCorrections = append(r.CountCorrections, v)
	case *ProductChange:
		r.ProductChanges = append(r.ProductChanges, v)
	case *Confirmation:
		r.Confirmations = append(r.Confirmations, v)
	case *LoadChange:
		r.LoadChanges = append(r.LoadChanges, v)
	case *DegreeDays:
		r.DegreeDays = append(r.DegreeDays, v)
	default:
		panic("inventory: a record of unknown kind")
	}
}

// Len counts the rows of every kind.
func (r *Rows) Len() int {
	n := 0
	for range r.All() {
		n++
	}
	return n
}
