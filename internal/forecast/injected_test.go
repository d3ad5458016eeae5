package forecast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// inventedPlant is an invented plant: five years of calendar months with fuel and energy, each nil where not reported.
type inventedPlant struct {
	id     string
	bounds []calendar.Day // of the months
	fuel   []*float64
	kWh    []*float64
	hit    map[int]string // months that were spoiled, by what was done
	beside map[int]bool   // months that were spoiled along with them
}

// inventedPlants makes a fleet of plants of mixed size. What a kWh takes scatters from month to month by 3 to 4.5 % in large plants and
// by 7.5 to 18 % in small ones, as standard deviations: so computed from monthly reports of village plants (median absolute
// deviations of 2 to 3 % above 100 kW, of 5 to 12 % below 50 kW); a quarter of the plants is small, a quarter lies between.
func inventedPlants(count int, r *rand.Rand) (fleet []inventedPlant) {
	for n := range count {
		w := alaska().vary(0.05, r)
		w.sd, w.passing = 0.1, 0.04
		p := inventedPlant{id: fmt.Sprint(n), hit: map[int]string{}, beside: map[int]bool{}}
		scatter := []float64{0.03 + 0.015*r.Float64(), 0.03 + 0.015*r.Float64(), 0.045 + 0.03*r.Float64(), 0.075 + 0.105*r.Float64()}[n%4]
		first := calendar.Date(2015, 1, 1)
		life := w.live(first, 1827, r)
		for month := range 61 {
			p.bounds = append(p.bounds, calendar.Date(2015, time.Month(1+month), 1))
		}
		for i := range 60 {
			burned := life.total(int(p.bounds[i]-first), int(p.bounds[i+1]-first))
			litres, kWh := burned*math.Exp(scatter*r.NormFloat64()), burned/0.28
			p.fuel, p.kWh = append(p.fuel, &litres), append(p.kWh, &kWh)
		}
		fleet = append(fleet, p)
	}
	return fleet
}

// series gives what the model is told of a plant.
func (p *inventedPlant) series() Series {
	s := Series{Plant: p.id}
	for i := range p.fuel {
		start, end := float64(p.bounds[i]), float64(p.bounds[i+1])
		if p.fuel[i] != nil {
			s.Intervals = append(s.Intervals, Interval{Start: start, End: end, Litres: units.LitresAt15(*p.fuel[i])})
		}
		if p.kWh[i] != nil {
			s.Energy = append(s.Energy, Energy{start, end, *p.kWh[i]})
		}
	}
	return s
}

// spoilMonth does what a clerk may do to a month and its neighbours. It leaves alone what was spoiled before or beside it.
func (p *inventedPlant) spoilMonth(kind string, i int, r *rand.Rand) {
	if kind == "correction" || kind == "correction taken back" {
		i = 11 + 12*(i/12) // booked in December
	}
	if i == 0 || i >= len(p.fuel)-1 {
		return
	}
	for k := i - 1; k <= i+1; k++ {
		if p.hit[k] != "" || p.beside[k] {
			return
		}
	}
	times := func(x *float64, factor float64) *float64 { y := *x * factor; return &y }
	sum := func(x, y *float64) *float64 { z := *x + *y; return &z }
	share := 0.15 + 0.45*r.Float64()
	if r.IntN(2) == 0 {
		share = -share
	}
	other := i + 1 - 2*r.IntN(2)
	switch kind {
	case "ten times":
		p.fuel[i] = times(p.fuel[i], 10)
	case "a tenth":
		p.fuel[i] = times(p.fuel[i], 0.1)
	case "zero":
		p.fuel[i] = times(p.fuel[i], 0)
	case "two in one":
		p.fuel[i], p.fuel[other], p.beside[other] = sum(p.fuel[i], p.fuel[other]), nil, true
	case "two in one, energy too":
		p.fuel[i], p.fuel[other], p.beside[other] = sum(p.fuel[i], p.fuel[other]), nil, true
		p.kWh[i], p.kWh[other] = sum(p.kWh[i], p.kWh[other]), nil
	case "correction":
		p.fuel[i] = times(p.fuel[i], 1+share)
	case "correction taken back":
		p.fuel[i+1], p.beside[i+1] = sum(p.fuel[i+1], times(p.fuel[i], -share)), true
		p.fuel[i] = times(p.fuel[i], 1+share)
	}
	p.hit[i] = kind
}

// spoilFleet spoils one month in forty: zeros for five plants in one month, all else at random.
func spoilFleet(fleet []inventedPlant, r *rand.Rand) {
	kinds := []string{"ten times", "a tenth", "two in one", "two in one, energy too", "correction", "correction taken back"}
	months := len(fleet) * len(fleet[0].fuel)
	for range months / 40 / 7 / 5 {
		month := r.IntN(60)
		for _, n := range r.Perm(len(fleet))[:5] {
			fleet[n].spoilMonth("zero", month, r)
		}
	}
	for range months / 40 * 6 / 7 {
		fleet[r.IntN(len(fleet))].spoilMonth(kinds[r.IntN(len(kinds))], r.IntN(60), r)
	}
}

func TestFaultsInAFleetWithEnergyAreNamedAndHardlyMoveTheForecast(t *testing.T) {
	plants := 120 / min(thinning, 3)
	clean, spoiled := inventedPlants(plants, random(71)), inventedPlants(plants, random(71))
	spoilFleet(spoiled, random(72))
	series := func(fleet []inventedPlant) (all []Series) {
		for i := range fleet {
			all = append(all, fleet[i].series())
		}
		return all
	}
	origin := calendar.Date(2019, 12, 31)
	before, after := fitFleet(series(clean), origin), fitFleet(series(spoiled), origin)
	type tally struct{ named, of int }
	kinds, all, sound := map[string]tally{}, tally{}, tally{}
	var moves []float64
	for n := range spoiled {
		p, start := &spoiled[n], float64(origin)+1
		moves = append(moves, math.Abs(math.Log(float64(after[n].Quantiles(start, start+365, 0.5)[0]/before[n].Quantiles(start, start+365, 0.5)[0]))))
		named := map[float64]bool{}
		for _, f := range after[n].Faults() {
			named[f.Interval.Start] = true
		}
		for i := range p.fuel {
			k, hit := kinds[p.hit[i]], 0
			if named[float64(p.bounds[i])] {
				hit = 1
			}
			switch {
			case p.hit[i] != "":
				kinds[p.hit[i]] = tally{k.named + hit, k.of + 1}
				all = tally{all.named + hit, all.of + 1}
			case !p.beside[i]:
				sound = tally{sound.named + hit, sound.of + 1}
			}
		}
	}
	share := func(k tally) float64 { return 100 * float64(k.named) / float64(k.of) }
	for kind, k := range kinds {
		t.Logf("%s: %d of %d named", kind, k.named, k.of)
	}
	t.Logf("all: %.1f %% of %d; sound: %.2f %% of %d; the year's median moves by %.2f %% in the median plant, %.2f %% in one of ten",
		share(all), all.of, share(sound), sound.of, 100*median(moves), 100*Quantile(moves, 0.9))
	least := 90.0
	if thinning > 1 { // fewer plants: three binomial deviations less
		least -= 300 * math.Sqrt(0.9*0.1/float64(all.of))
	}
	if share(all) < least {
		t.Errorf("%.1f %% of the spoiled months are named", share(all))
	}
	if share(sound) > 2 {
		t.Errorf("%.2f %% of the sound months are named", share(sound))
	}
	if m := Quantile(moves, 0.9); m > 0.02 {
		t.Errorf("the median of the coming year moves by more than %.2f %% in one plant of ten", 100*m)
	}
}
