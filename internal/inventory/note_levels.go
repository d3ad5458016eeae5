package inventory

import (
	"math"

	"overwinter/internal/notice"
)

// noteSuction names a tank whose fuel went on falling below its suction level: that must then lie lower.
func (b *Book) noteSuction(t *Tank, gaugings []measuredGauging) {
	if len(gaugings) < 2 || t.Role == DayTank {
		return
	}
	before, last := &gaugings[len(gaugings)-2], &gaugings[len(gaugings)-1]
	fell := before.fuel() - last.fuel()
	if before.content.Usable == 0 && last.content.Usable == 0 && b.measured[t.ID].Suction > 0 && fell > 3*math.Sqrt(before.ownVariance()+last.ownVariance()) {
		b.doubts.Add(notice.New(notice.Caution, "suction-lower", b.Plant.ID+" tank "+t.ID,
			"%.0f L more left it by %s though it stood below its suction level: is the suction lower than is written down, or was it drained?", fell, b.day(last.At)))
	}
}

// noteWater names the newest gauging of a tank whose water stands above the suction. It is no doubt: the dip may
// be right, and then water goes to the engines.
func (b *Book) noteWater() {
	for _, t := range b.Tanks {
		gaugings := b.gaugingsOf(t)
		if len(gaugings) == 0 {
			continue
		}
		last := gaugings[len(gaugings)-1]
		b.noteSuction(t, gaugings)
		if m := b.measured[t.ID]; last.Water != nil && m.Suction > 0 && last.content.Water >= m.Suction {
			b.doubts.Add(notice.New(notice.Serious, "water-above-suction", b.Plant.ID+" tank "+t.ID,
				"%s of water on %s reach the suction: drain it before more is drawn", amount(float64(*last.Water), "mm"), b.day(last.At)))
		}
	}
}
