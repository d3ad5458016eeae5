package resupply

import "math"

// Projected is the stock to come on one day over paths: the 10, 50 and 90 % points, and the median of
// the reserve, in litres at 15 °C.
type Projected struct {
	Day           int // index
	P10, P50, P90 float64
	Reserve       float64
}

// Project gives the usable stock at the close of every step-th day from the as-of day to the horizon,
// with the orders on their way and no others. Stock is never less than nothing here: what could not be
// served shows in the shortage, not in a tank.
func (p *Problem) Project(step int) []Projected {
	p.hold()
	n := p.Burn.Count()
	days := make([]Projected, p.Horizon/step+1)
	stock, reserve := make([]float64, n*len(days)), make([]float64, n*len(days))
	for s := range n { // path by path, as the paths lie in memory
		for i := range days {
			stock[i*n+s] = math.Max(0, p.stock(s, i*step))
			reserve[i*n+s] = p.reserve(s, i*step)
		}
	}
	for i := range days {
		held := stock[i*n : (i+1)*n]
		days[i] = Projected{
			Day: i * step,
			P10: pick(held, rank(n, 0.1)), P50: pick(held, rank(n, 0.5)), P90: pick(held, rank(n, 0.9)),
			Reserve: pick(reserve[i*n:(i+1)*n], rank(n, 0.5)),
		}
	}
	return days
}

// pick gives the value of a rank, 0 for the smallest, and leaves the values in another order: Hoare,
// "Algorithm 65: Find", Communications of the ACM 4 (1961), which is several times faster than sorting.
func pick(values []float64, rank int) float64 {
	for low, high := 0, len(values)-1; low < high; {
		pivot := values[rank]
		i, j := low, high
		for i <= j {
			for values[i] < pivot {
				i++
			}
			for pivot < values[j] {
				j--
			}
			if i <= j {
				values[i], values[j] = values[j], values[i]
				i, j = i+1, j-1
			}
		}
		if j < rank {
			low = i
		}
		if rank < i {
			high = j
		}
	}
	return values[rank]
}
