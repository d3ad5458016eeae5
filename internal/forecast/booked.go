package forecast

import "math"

const (
	// bookedShare is the part of what litres are too many or too few by their energy that is taken for booked at the wrong time: a
	// dip misread, a delivery entered late. The meter of the energy knows nothing of it. Computed from monthly reports of
	// village plants before 2020: a quarter to seven tenths do equally well.
	bookedShare = 0.4
	bookedYears = 2 // either way that tell what a plant's energy takes in the long run. An assumption.
)

// reckonBooked gives each account with fuel and energy how far its specific consumption lies from that of the long run: the mean of
// the local levels up to bookedYears either way, between the steps.
func (s *specificLevel) reckonBooked(accounts []account) {
	own := make([]*account, 0, len(s.pairs))
	for i := range accounts {
		if a := &accounts[i]; !math.IsNaN(a.specific) {
			own = append(own, a)
		}
	}
	start := 0
	for n := range len(s.steps) + 1 {
		end := len(own)
		if n < len(s.steps) {
			end = s.steps[n]
		}
		reckonSegment(own[start:end], s.pairs[start:end])
		start = end
	}
}

// reckonSegment does so for the accounts between two steps.
func reckonSegment(own []*account, pairs []pair) {
	const reach = bookedYears * daysPerYear
	from, to, sum := 0, 0, 0.0
	for i, p := range pairs {
		for ; to < len(pairs) && pairs[to].at <= p.at+reach; to++ {
			sum += own[to].usual
		}
		for ; pairs[from].at < p.at-reach; from++ {
			sum -= own[from].usual
		}
		own[i].booked = p.specific - sum/float64(to-from)
	}
}
