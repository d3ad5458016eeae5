package demo

import (
	"math"
	"slices"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// Percentiles of community-years of monthly reports to Alaska's rate-support programme, calendar years
// 2016 to 2025, computed from the public file
// data/l1_quality_checked/consolidated/l1_pce_header_consolidated.csv of
// github.com/acep-uaf/ak-energy-statistics at commit ea269ba5e546b1e46a92855d07dc147acd708cb8: 1151
// community-years, each with twelve months of diesel.
const (
	annualGallonsP5, annualGallonsP95   = 20343, 716858
	winterOverSummerP5                  = 0.71 // kWh of December to February over June to August
	winterOverSummerP25                 = 1.15
	winterOverSummerP90                 = 1.64
	winterOverSummerP95                 = 1.79
	yearOnYearLowestP5, yearOnYearUpP95 = -0.144, 0.221
)

func isCoast(p *inventory.Plant) bool { return p.Group == "kestrel-sound" }

func TestCoastalPlantsAreOfTheSizeOfRealOnes(t *testing.T) {
	eachSeed(t, func(t *testing.T, sc Scenario) {
		for _, p := range sc.Rows.Plants {
			gallons := total(sc.Truth[p.ID].Burn, AsOf-364, AsOf) / gal
			// The largest plant is meant to be of the 95 % point; a year's weather and drift take it beyond.
			if isCoast(p) && (gallons < annualGallonsP5 || gallons > 1.2*annualGallonsP95) {
				t.Errorf("%s burns %.0f US gal a year", p.ID, gallons)
			}
		}
	})
}

func TestWinterIsTheSeasonOfTheCoastButForTheFishingPort(t *testing.T) {
	eachSeed(t, func(t *testing.T, sc Scenario) {
		var coast []float64
		for _, p := range sc.Rows.Plants {
			ratio := winterOverSummer(sc.Truth[p.ID].Burn)
			low, high := winterOverSummerP5, winterOverSummerP95
			switch {
			case p.ID == "grayling-mouth":
				low, high = 0.5, 1
			case isCoast(p):
				coast = append(coast, ratio)
			case p.Group == "meridian":
				low, high = 0.8, 1.25 // a mild season; the rest is drift and weather
			}
			if ratio < low || ratio > high {
				t.Errorf("%s: winter over summer %.2f, want %.2f to %.2f", p.ID, ratio, low, high)
			}
		}
		slices.Sort(coast)
		if median := coast[len(coast)/2]; median < winterOverSummerP25 || median > winterOverSummerP90 {
			t.Errorf("winter over summer of the middle plant is %.2f", median)
		}
	})
}

func winterOverSummer(burn []units.LitresAt15) float64 {
	winter := total(burn, date(2024, time.December, 1), date(2025, time.February, 28)) / 90
	summer := total(burn, date(2024, time.June, 1), date(2024, time.August, 31)) / 92
	return winter / summer
}

func TestTheFishingPortPeaksInJuly(t *testing.T) {
	most, month := 0.0, time.January
	burn := scenarioOf(DefaultSeed).Truth["grayling-mouth"].Burn
	for m := time.January; m <= time.December; m++ {
		first := calendar.MonthOf(date(2025, m, 1))
		days := float64(first.Next().First() - first.First())
		if rate := total(burn, first.First(), first.Next().First()-1) / days; rate > most {
			most, month = rate, m
		}
	}
	if month != time.July {
		t.Errorf("it peaks in %s", month)
	}
}

func TestYearsDifferAsMuchAsRealOnesDo(t *testing.T) {
	inside, all := 0, 0
	for _, seed := range []uint64{DefaultSeed, 0, 1, 2} {
		for _, tr := range scenarioOf(seed).Truth {
			for last := AsOf; last-729 >= FirstDay; last -= 365 {
				change := total(tr.Burn, last-364, last)/total(tr.Burn, last-729, last-365) - 1
				all++
				if change > yearOnYearLowestP5 && change < yearOnYearUpP95 {
					inside++
				}
			}
		}
	}
	if share := float64(inside) / float64(all); share < 0.85 {
		t.Errorf("%.0f %% of the year-on-year changes lie between the 5 and 95 %% points of real ones, want about 90 or more", 100*share)
	}
}

// The noise is what is left of the log rate over a few days after its neighbours' mean is taken off; the
// weather they share shows as a correlation between plants of one group and as none between groups.
func TestPlantsOfOneGroupShareTheirWeather(t *testing.T) {
	sc := scenarioOf(DefaultSeed)
	steps := func(id string) []float64 {
		burn := sc.Truth[id].Burn
		d := make([]float64, len(burn)-1)
		for i := range d {
			d[i] = math.Log(float64(burn[i+1] / burn[i]))
		}
		return d
	}
	// 2098 days: the standard error of a correlation is 0.02.
	if got := correlation(steps("marten-spit"), steps("tern-landing")); math.Abs(got-sharedWeather) > 0.08 {
		t.Errorf("neighbours' steps correlate by %.2f, want %.2f", got, sharedWeather)
	}
	if got := correlation(steps("marten-spit"), steps("heron-point")); math.Abs(got) > 0.08 {
		t.Errorf("steps of two groups correlate by %.2f, want none", got)
	}
}

func TestDrawnBurnFollowsItsLaw(t *testing.T) {
	const years = 400
	l := law{litresPerYear: 365250, noiseSD: 0.12, rho: 0.65}
	random := stream(7, "law")
	sum, noise, lagged, drift := 0.0, 0.0, 0.0, 0.0
	for range years {
		burn := l.burn(random, normals(random, index(LastDay)+1))
		tied := index(AsOf)
		for i := tied - 15; i < tied+15; i++ { // no drift to speak of so near to AsOf
			x, y := math.Log(float64(burn[i])/1000), math.Log(float64(burn[i+1])/1000)
			sum += float64(burn[i]) / 30
			noise += x * x / 30
			lagged += x * y / 30
		}
		far := 0.0
		for i := range 200 {
			far += math.Log(float64(burn[tied+265+i])/float64(burn[tied+i-100])) / 200
		}
		drift += far * far
	}
	// 400 draws of nearly independent months: standard errors of about 0.3 %, 4 % and 3.5 %.
	near(t, "mean litres a day", sum/years, 1000, 15)
	near(t, "variance of the log rate", noise/years, l.noiseSD*l.noiseSD+levelSpread*levelSpread, 0.0016)
	near(t, "covariance of neighbouring days", lagged/years, l.rho*l.noiseSD*l.noiseSD+levelSpread*levelSpread, 0.0015)
	// Means of 200 days, 365 days apart: the variance of a random walk's change is (365 - 200/3)/365.25 years
	// of drift, and that of the means' noise 2·sd²·(1+rho)/(1-rho)/200.
	want := driftPerYear*driftPerYear*(365-200.0/3)/daysPerYear + 2*l.noiseSD*l.noiseSD*(1+l.rho)/(1-l.rho)/200
	near(t, "variance of a year's change", drift/years, want, 0.25*want)
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s: %.5f, want %.5f ± %.5f", what, got, want, tolerance)
	}
}

func correlation(x, y []float64) float64 {
	var xx, yy, xy float64
	for i := range x {
		xx += x[i] * x[i]
		yy += y[i] * y[i]
		xy += x[i] * y[i]
	}
	return xy / math.Sqrt(xx*yy)
}

func BenchmarkGenerate(b *testing.B) {
	for i := range b.N {
		Generate(uint64(i))
	}
}
