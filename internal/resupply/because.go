package resupply

import "overwinter/internal/calendar"

// Because is why a delivery fills up to its level: on the path that decides it, what goes out from its arrival to
// the day on which the stock comes nearest to the reserve, and the reserve of that day. Asked is outflow less what orders
// on their way bring, and the reserve; Raised is what more the plan carries because that is cheaper.
type Because struct {
	Path     int
	From     calendar.Day // arrival on that path
	Tightest calendar.Day
	Outflow  float64 // from the arrival on, its day included, to the close of the tightest day
	Brought  float64 // by orders on their way in that time
	Reserve  float64
	Asked    float64
	Raised   float64
	Room     float64 // the level for which there is room at the risk target; +Inf where there is no limit
}

// because finds the path that decides the level of the k-th used delivery.
func (f *futures) because(c *course, k int) Because {
	from, to := c.used[k], f.next(c, k)
	asked := f.of(from, to).least(f.left(to))
	b := Because{Asked: asked, Raised: c.upTo[k] - asked, Room: f.of(from, to).most(f.p.Risk)}
	sc := f.p.scanner()
	for s, legs := range f.legs {
		i, j := place(legs, from), place(legs, to)
		if i < 0 || j <= i || highest(legs[i:j])-legs[i].gone != asked {
			continue
		}
		sc.read(s)
		day := sc.tightest(legs[i].day, legs[j].day)
		b.Path, b.From, b.Tightest = s, f.p.AsOf+calendar.Day(legs[i].day), f.p.AsOf+calendar.Day(day)
		b.Outflow = sc.out[day] - sc.out[max(legs[i].day-1, 0)]
		b.Brought = sc.brought[day] - sc.brought[legs[i].day]
		b.Reserve = sc.kept(f.p.Reserve, day)
		break
	}
	return b
}

// highest is the greatest of the positions that legs ask for.
func highest(legs []leg) float64 {
	most := legs[0].reserve
	for _, l := range legs {
		most = max(most, l.reserve)
	}
	return most
}

// tightest is the day from one to before another on which the most is asked for.
func (sc *scanner) tightest(from, before int) int {
	asks := func(t int) float64 { return sc.out[t] - sc.brought[t] + sc.kept(sc.p.Reserve, t) }
	day := from
	for t := from; t < before; t++ {
		if asks(t) > asks(day) {
			day = t
		}
	}
	return day
}
