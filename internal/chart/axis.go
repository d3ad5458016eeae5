package chart

import (
	"math"
	"strconv"
	"time"

	"overwinter/internal/calendar"
)

// Axis is the stretch of days, both ends counted, that one or several charts are drawn against.
type Axis struct{ From, Until calendar.Day }

func (a Axis) empty() bool { return a.Until <= a.From }

// at gives the place of a day as a share of the axis; outside the axis it is below 0 or above 1.
func (a Axis) at(d calendar.Day) float64 {
	return (float64(d) - float64(a.From)) / (float64(a.Until) - float64(a.From))
}

// within tells whether a day lies on the axis.
func (a Axis) within(d calendar.Day) bool { return d >= a.From && d <= a.Until }

// clamp gives the place of a day as a share of the axis, kept to its ends.
func (a Axis) clamp(d calendar.Day) float64 { return min(max(a.at(d), 0), 1) }

// percent writes a share of the width.
func percent(share float64) string { return trimmed(100*share, 2) + "%" }

// trimmed writes a number with at most so many decimals and no zeros at its end.
func trimmed(x float64, decimals int) string {
	scale := math.Pow10(decimals)
	return strconv.FormatFloat(math.Round(x*scale)/scale, 'f', -1, 64)
}

// label is a month that is named under an axis.
type label struct {
	at   calendar.Day
	text string
}

// stride is how many months lie between two that are named, so that their names stand clear of each
// other on a telephone.
func (a Axis) stride() int {
	switch months := (float64(a.Until) - float64(a.From)) / 30.4; {
	case months <= 9:
		return 1
	case months <= 20:
		return 2
	case months <= 40:
		return 4
	}
	return 12
}

// months gives the first days of the months on the axis; those that are named have a text: January its
// year, the others their short name. January is always among the named.
func (a Axis) months() []label {
	var all []label
	stride := a.stride()
	for m := calendar.MonthOf(a.From); m.First() <= a.Until; m = m.Next() {
		if m.First() < a.From {
			continue
		}
		l := label{at: m.First()}
		switch {
		case m.Month == time.January:
			l.text = strconv.Itoa(m.Year)
		case (int(m.Month)-1)%stride == 0:
			l.text = m.Month.String()[:3]
		}
		all = append(all, l)
	}
	return all
}
