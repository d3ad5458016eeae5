package replay

// Score is what became of one plant under a policy in one of the worlds.
type Score struct {
	Plant  *Plant
	Policy string
	World  int // from 1

	Fuel, Stops, Flown, Carrying float64 // money; Flown is the fallback's
	Left                         float64 // worth of the closing stock at the route's price

	Opening, Delivered, Fallback, Burned, Closing float64 // litres
	Unserved                                      float64 // litres not burned for want of fuel
	Deliveries                                    int

	Days, Below, Dry int // Below: closes of a day that found less than the reserve; Dry: days with fuel unserved
	BelowAfterFailed int // of those below, in the time after a window that failed and before the next delivery
}

// Cost is what the supply cost, what is left in the tanks taken off.
func (s *Score) Cost() float64 { return s.Fuel + s.Stops + s.Flown + s.Carrying - s.Left }
