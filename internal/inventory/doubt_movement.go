package inventory

import (
	"math"

	"overwinter/internal/notice"
)

// doubtTransfers names transfers of more than their source can have held.
func (b *Book) doubtTransfers(lines map[string]*tankLine) {
	for _, t := range b.rows.Transfers {
		from := b.measuredTank(t.From)
		if b.leftOut[t] || !t.At.Before(b.close()) || from == nil {
			continue
		}
		var ignored notice.List
		v, held := b.at15(t.Measure, "", &ignored), b.capacityOf([]*Tank{from})
		if l := lines[t.From]; l != nil {
			if g := l.lastBefore(t.At.Add(-atOnce)); g != nil && !anyWithin(l.inflows, g.At, t.At) {
				held = g.fuel() + 3*float64(g.content.Sigma)
			}
		}
		if v > held*(1+dipMargin) {
			b.doubt(t, Doubt{
				At: t.At, Cause: BeyondSource, Found: v, High: &held, Unit: "L at 15 °C", Subject: "plant " + b.Plant.ID + ", transfers",
				Message: "the transfer of " + b.day(t.At) + " out of tank " + t.From + " is " + figure(math.Round(v)) + " L at 15 °C, expected at most " +
					figure(math.Round(held)) + ": " + causeWords[BeyondSource] + todo(WholeRow, ""),
			})
		}
	}
}

func (b *Book) measuredTank(id string) *Tank {
	for _, t := range b.Tanks {
		if t.ID == id {
			return t
		}
	}
	return nil
}

// drawSpreads is how many robust standard deviations of a purpose's draws, as logarithms, one may lie off. Common
// practice, no source.
const drawSpreads = 5

// doubtDraws holds the draws of one purpose that go on all the time against each other, each as litres a day. Sales
// and loans are of any size; more a day than all tanks hold is doubted in any.
func (b *Book) doubtDraws() {
	all := b.capacityOf(b.Tanks)
	for _, purpose := range []Purpose{Heat, Vehicles, Sale, Loan, Repayment} {
		var draws []*Draw
		var perDay series
		for _, d := range b.rows.Draws {
			var ignored notice.List
			if v := b.at15(d.Measure, "", &ignored); d.Purpose == purpose && d.LastDay <= b.AsOf && !b.leftOut[d] {
				draws = append(draws, d)
				perDay.middle = append(perDay.middle, (d.FirstDay+d.LastDay)/2)
				perDay.perDay = append(perDay.perDay, v/float64(d.LastDay-d.FirstDay+1))
			}
		}
		before, after := perDay.ratios()
		spread := spreadOf(before)
		for i, d := range draws {
			ratio := odd(before[i], after[i])
			cause := closestCause(ratio, volumeRatios, ratioTolerance)
			regular := purpose == Heat || purpose == Vehicles
			switch {
			case all > 0 && perDay.perDay[i] > all: // a day
				b.doubtDraw(d, BeyondSource, perDay.perDay[i], 0, all)
			case regular && cause != "" && math.Abs(math.Log(ratio)) > drawSpreads*spread && len(draws) >= seasonFewest:
				b.doubtDraw(d, cause, perDay.perDay[i], perDay.perDay[i]/ratio/dipsFar, perDay.perDay[i]/ratio*dipsFar)
			}
		}
	}
}

// spreadOf gives the robust standard deviation of the logarithms of ratios, those that are known.
func spreadOf(ratios []float64) float64 {
	logs := known(ratios)
	if len(logs) == 0 {
		return 0
	}
	for i, v := range logs {
		logs[i] = math.Log(v)
	}
	_, spread := middleAndSpread(logs)
	return spread
}

func (b *Book) doubtDraw(d *Draw, cause Cause, perDay, low, high float64) {
	b.doubt(d, Doubt{
		At: b.start(d.FirstDay), Cause: cause, Found: perDay, Low: low, High: &high, Unit: "L a day", Subject: "plant " + b.Plant.ID + ", draws",
		Message: "the draw for " + string(d.Purpose) + " from " + d.FirstDay.String() + " to " + d.LastDay.String() + " is " +
			figure(math.Round(perDay)) + " L a day, expected " + figure(math.Round(low)) + " to " + figure(math.Round(high)) + ": " +
			causeWords[cause] + todo(WholeRow, ""),
	})
}
