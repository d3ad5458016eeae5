package advice_test

import (
	"context"
	"math"
	"testing"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/demo"
	"overwinter/internal/inventory"
	"overwinter/internal/resupply"
)

// memory is a ledger held in memory: the demo's rows in force, and nothing kept of what is issued.
type memory struct{ rows inventory.Rows }

func (m memory) Directory(context.Context) (inventory.Rows, error) { return m.rows, nil }

func (m memory) Version(context.Context) (int64, error) { return 1, nil }

func (m memory) Changes(context.Context) (map[string]int64, error) { return nil, nil }

func (m memory) RecentRows(ctx context.Context, plant string, _, before time.Time) (inventory.Rows, error) {
	return m.PlantRows(ctx, plant, before)
}

func (m memory) PlantRows(_ context.Context, plant string, before time.Time) (inventory.Rows, error) {
	var of inventory.Rows
	for r := range m.rows.All() {
		switch r.Kind() {
		case inventory.KindPlant, inventory.KindTank, inventory.KindMeter, inventory.KindRoute, inventory.KindService, inventory.KindWindow:
		default:
			if r.PlantID() == plant {
				of.Add(r)
			}
		}
	}
	of.DegreeDays = ofGroup(m.rows.Plants, plant, m.rows.DegreeDays)
	return of, nil
}

func (m memory) SaveAdvice(context.Context, inventory.Issued) error { return nil }

func (m memory) SaveForecast(context.Context, inventory.IssuedForecast) error { return nil }

func (m memory) Forecasts(context.Context, string) ([]inventory.IssuedForecast, error) {
	return nil, nil
}

// outcome counts how often the truth lay inside a plant's range. A truth on an end of the range counts
// half: days are whole, so the closed range from the 10 to the 90 % point holds more than 80 %, the open
// one less.
type outcome struct{ inside, of float64 }

func (o *outcome) add(r resupply.Dates, truth *calendar.Day) {
	o.of++
	day := func(d *calendar.Day) float64 {
		if d == nil {
			return math.Inf(1)
		}
		return float64(*d)
	}
	early, late, true := day(r.P10), day(r.P90), day(truth)
	switch {
	case true > early && true < late:
		o.inside++
	case true == early && true == late:
		o.inside++
	case true == early || true == late:
		o.inside += 0.5
	}
}

// width is by how much the share inside may be above what it says.
const width = 0.05

// The demo's true reserve date, whose burn, readings, windows and arrivals are drawn anew for each seed,
// must lie between the 10 and the 90 % points as often as 80 % says. The plants of a seed share their
// weather, so they are no independent trials; whole seeds are. The share of a seed therefore counts as
// one observation, and its spread over the seeds gives the standard error of the mean: with a fraction p
// of plants inside, that is the binomial test with an effective number of trials instead of all plants.
// It may be somewhat more often: the spread stands also for what no invented world has, years in which
// the plants of a fleet err together, and on monthly reports of village plants it is none too wide.
func TestTheTrueReserveDateLiesInsideTheRangeAsOftenAsItSays(t *testing.T) {
	all := make([]outcome, seeds)
	byPlant := map[string]*outcome{}
	for i := range all {
		seed := uint64(i + 1)
		scenario := demo.Generate(seed)
		day := demo.AsOf
		fleet, err := advice.Advise(context.Background(), memory{scenario.InForce()},
			advice.Options{AsOf: &day, Now: demo.Now, Seed: seed, Paths: 300})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range fleet.Plants {
			if p.Status == resupply.Unknown {
				continue
			}
			if byPlant[p.Plant] == nil {
				byPlant[p.Plant] = &outcome{}
			}
			truth := scenario.Truth[p.Plant].ReserveDate
			all[i].add(p.ReserveDate, truth)
			byPlant[p.Plant].add(p.ReserveDate, truth)
		}
	}
	mean, sd := spread(all)
	effective := mean * (1 - mean) / (sd * sd / seeds)
	bound := 1.96 * math.Sqrt(0.8*0.2/effective)
	t.Logf("inside %.1f %% of the time; %.0f effective trials; 95 %% of the time within %.1f %% of 80 %%", 100*mean, effective, 100*bound)
	if mean < 0.8-bound || mean > 0.8+bound+width {
		t.Errorf("the true reserve date lies inside p10 to p90 %.1f %% of the time: outside 80 - %.1f to 80 + %.1f %%", 100*mean, 100*bound, 100*(bound+width))
	}
	for plant, o := range byPlant {
		// One plant over the seeds: independent trials. 3.1 standard deviations leave 0.2 % to chance, for
		// a dozen plants together.
		if share, limit := o.inside/o.of, 3.1*math.Sqrt(0.8*0.2/o.of); math.Abs(share-0.8) > limit {
			t.Errorf("%s: inside %.0f %% of the time, outside 80 ± %.0f %%", plant, 100*share, 100*limit)
		} else {
			t.Logf("%-16s inside %.0f %% of %.0f", plant, 100*share, o.of)
		}
	}
}

func spread(all []outcome) (mean, sd float64) {
	for _, o := range all {
		mean += o.inside / o.of / float64(len(all))
	}
	for _, o := range all {
		d := o.inside/o.of - mean
		sd += d * d / float64(len(all)-1)
	}
	return mean, math.Sqrt(sd)
}
