package replay

import (
	"math"

	"overwinter/internal/backtest"
	"overwinter/internal/calendar"
)

// use is what a plant burned day by day: each interval's litres spread evenly. A day that no interval covers is NaN.
type use struct {
	first  calendar.Day
	litres []float64
}

func useOf(s *backtest.Series) use {
	if len(s.Usage) == 0 {
		return use{}
	}
	u := use{first: s.Usage[0].Start}
	for _, row := range s.Usage {
		for day := u.first + calendar.Day(len(u.litres)); day < row.Start; day++ {
			u.litres = append(u.litres, math.NaN())
		}
		daily := math.NaN()
		if row.Litres != nil {
			daily = float64(*row.Litres) / float64(row.End-row.Start)
		}
		for range row.End - row.Start {
			u.litres = append(u.litres, daily)
		}
	}
	return u
}

// on gives the litres of a day. After the last known day the year before is burned again: the reserve looks ahead.
func (u use) on(day calendar.Day) float64 {
	i := int(day - u.first)
	for i >= len(u.litres) {
		i -= 365
	}
	if i < 0 {
		return math.NaN()
	}
	return u.litres[i]
}

// coming gives what is burned in the days after a day.
func (u use) coming(day calendar.Day, days int) float64 {
	sum := 0.0
	for d := range calendar.Day(days) {
		sum += u.on(day + 1 + d)
	}
	return sum
}

// means is the mean use of a day by calendar month, January first.
type means [12]float64

// means gives those of the days up to a day; a month that is not known yet has the mean of all days.
func (u use) means(asOf calendar.Day) means {
	var sum, days [12]float64
	all, n := 0.0, 0.0
	for i, x := range u.litres {
		day := u.first + calendar.Day(i)
		if day > asOf {
			break
		}
		if !math.IsNaN(x) {
			_, month, _ := day.Civil()
			sum[month-1], days[month-1] = sum[month-1]+x, days[month-1]+1
			all, n = all+x, n+1
		}
	}
	for m := range sum {
		if days[m] > 0 {
			sum[m] /= days[m]
		} else {
			sum[m] = all / max(n, 1)
		}
	}
	return sum
}

// over gives the mean use from one day up to, not including, another.
func (m *means) over(from, to calendar.Day) (sum float64) {
	for day := from; day < to; day++ {
		_, month, _ := day.Civil()
		sum += m[month-1]
	}
	return sum
}

// knows tells whether the litres of a day are reported, and can be.
func (u use) knows(day calendar.Day) bool {
	i := int(day - u.first)
	return i >= 0 && i < len(u.litres) && u.litres[i] >= 0
}
