package demo

import (
	"math"
	"math/rand/v2"
	"strconv"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
)

// route is a supply route with the plants it reaches and its windows.
type route struct {
	row     *inventory.Route
	plants  []string
	windows []*inventory.Window
}

// shortestSeason is the least number of days that a window stays open.
const shortestSeason = 10

// drawSeasons draws the true dates of every window from FirstDay's year to LastDay's. Opening and
// closing are independent and normal about the stated medians. Only coming windows are ever lost: the
// past is scripted.
func drawSeasons(routes []route, seed uint64) []Season {
	var seasons []Season
	first, _, _ := FirstDay.Civil()
	last, _, _ := LastDay.Civil()
	for _, r := range routes {
		for _, w := range r.windows {
			for year := first; year <= last; year++ {
				random := stream(seed, "season", w.Route, w.Name, strconv.Itoa(year))
				seasons = append(seasons, drawSeason(w, year, random))
			}
		}
	}
	return seasons
}

func drawSeason(w *inventory.Window, year int, random *rand.Rand) Season {
	opens := calendar.Date(year, w.Opens.Month, w.Opens.Day)
	closes := calendar.Date(year, w.Closes.Month, w.Closes.Day)
	if closes < opens {
		closes = calendar.Date(year+1, w.Closes.Month, w.Closes.Day)
	}
	coming := opens > AsOf
	opens += days(w.OpensSDDays * random.NormFloat64())
	closes += days(w.ClosesSDDays * random.NormFloat64())
	return Season{
		Route: w.Route, Window: w.Name, Year: year,
		Opens: opens, Closes: max(closes, opens+shortestSeason),
		Lost: random.Float64() < w.FailChance && coming,
	}
}

func days(n float64) calendar.Day { return calendar.Day(math.Round(n)) }

// arrival draws the day on which an open order really comes: normal about the likely day, with the
// spread of the early side below it and that of the late side above, so that early, likely and late are its
// 10, 50 and 90 % points; never before the day after AsOf.
func arrival(o *inventory.Order, random *rand.Rand) calendar.Day {
	z := random.NormFloat64()
	spread := float64(o.Late - o.Likely)
	if z < 0 {
		spread = float64(o.Likely - o.Early)
	}
	return max(o.Likely+days(z*spread/tenPercentPoint), AsOf+1)
}

// tenPercentPoint is the upper 10 % point of the standard normal distribution.
const tenPercentPoint = 1.2815515655446004
