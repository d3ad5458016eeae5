package inventory

import (
	"cmp"
	"math"
	"slices"
	"time"
)

// How a usual rate is found. Common practice, no source.
const (
	aroundDays  = 45 // on either side of a moment that intervals count for its rate
	fewestRates = 5  // below which nothing is usual
	// beyondTimes is how many times the usual rate is far beyond it, and beyondSpreads by how many robust standard
	// deviations of the rate's logarithm, whichever is more: a plant whose rates vary much is doubted less.
	beyondTimes   = 4
	beyondSpreads = 5
	madToSD       = 1.4826 // of a normal distribution: 1 / Φ⁻¹(3/4)
)

// rate is how fast something went over an interval around a moment.
type rate struct {
	mid    time.Time
	perDay float64
}

// usualRate is the middle rate around a moment and the one that is far beyond it; of a few rates alone the middle, which
// is then not known to be usual.
type usualRate struct {
	known  bool
	middle float64
	far    float64
}

// usualRates finds what is usual around a moment from intervals in order of time, bin by bin as asked.
type usualRates struct {
	rates []rate
	bins  map[int64]usualRate
	all   *usualRate
	bin   int64 // the one that was asked for last
	last  usualRate
}

func newUsualRates(rates []rate) *usualRates {
	slices.SortFunc(rates, func(x, y rate) int { return cmp.Or(x.mid.Compare(y.mid), cmp.Compare(x.perDay, y.perDay)) })
	return &usualRates{rates: rates, bins: map[int64]usualRate{}, bin: math.MinInt64}
}

const binSeconds = 30 * 24 * 3600

// at gives the usual rate around a moment: of the days about it or, where those are few, of all.
func (u *usualRates) at(when time.Time) usualRate {
	bin := floorDiv(when.Unix(), binSeconds)
	if bin != u.bin {
		u.bin, u.last = bin, u.around(bin)
	}
	return u.last
}

func (u *usualRates) around(bin int64) usualRate {
	if r, ok := u.bins[bin]; ok {
		return r
	}
	mid := time.Unix(bin*binSeconds+binSeconds/2, 0)
	const around = aroundDays * 24 * time.Hour
	after := func(t time.Time) int {
		i, _ := slices.BinarySearchFunc(u.rates, t, func(r rate, t time.Time) int { return r.mid.Compare(t) })
		return i
	}
	r := usualOf(u.rates[after(mid.Add(-around)):after(mid.Add(around))])
	if !r.known {
		if u.all == nil {
			all := usualOf(u.rates)
			u.all = &all
		}
		r = *u.all
	}
	u.bins[bin] = r
	return r
}

func floorDiv(a, b int64) int64 { return int64(math.Floor(float64(a) / float64(b))) }

func usualOf(rates []rate) usualRate {
	if len(rates) == 0 {
		return usualRate{far: math.Inf(1)}
	}
	logs := make([]float64, len(rates))
	for i, r := range rates {
		logs[i] = math.Log(r.perDay)
	}
	middle, spread := middleAndSpread(logs)
	if len(rates) < fewestRates {
		return usualRate{middle: math.Exp(middle), far: math.Inf(1)}
	}
	return usualRate{true, math.Exp(middle), math.Exp(middle) * math.Max(beyondTimes, math.Exp(beyondSpreads*spread))}
}

// middleAndSpread gives the median and the robust standard deviation, from the median absolute deviation. It
// sorts the values.
func middleAndSpread(values []float64) (middle, spread float64) {
	slices.Sort(values)
	middle = values[len(values)/2]
	for i, v := range values {
		values[i] = math.Abs(v - middle)
	}
	slices.Sort(values)
	return middle, madToSD * values[len(values)/2]
}

// days between two moments; readings of one moment are taken to lie an hour apart.
func daysBetween(from, to time.Time) float64 { return math.Max(to.Sub(from).Hours(), 1) / 24 }

func midway(from, to time.Time) time.Time { return from.Add(to.Sub(from) / 2) }
