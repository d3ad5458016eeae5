package forecast

import (
	"math"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.5g, want %.5g ± %.2g", what, got, want, tolerance)
	}
}

// seasonGap gives the largest difference over a year between the model's season and the world's.
func seasonGap(m Model, w world) (worst float64) {
	for d := range 365 {
		day := int(epoch) + d
		worst = max(worst, math.Abs(seasonAt(m, day)-w.season(day)))
	}
	return worst
}

func logYear(from, to Model) (worst float64) {
	for d := range 365 {
		worst = max(worst, math.Abs(seasonAt(from, d)-seasonAt(to, d)))
	}
	return worst
}

func TestLevelSeasonAndNoiseAreRecoveredFromTenYearsOfDays(t *testing.T) {
	w := alaska()
	life := w.live(epoch, 3652, random(11))
	m := fitOne(life.every(1, 0, 3652), 3652)
	// The level at the end rests on some 100 days: noise 0.10·sqrt(5.7/100) = 0.024 and as much again of
	// drift; three times their root sum of squares.
	within(t, "level", m.level[len(m.level)-1], life.level[3651], 0.10)
	// A drift of 8 % a year leaks into the first harmonic by about 0.08/(2π) a year of history, 0.013/sqrt(10)
	// times sqrt(2); three of them for each of six coefficients.
	if gap := seasonGap(m, w); gap > 0.06 {
		t.Errorf("the season is off by up to %.3f in logs", gap)
	}
	// 3,652 correlated days are about 640 independent ones: 0.10/sqrt(2·640) and sqrt(1-0.49)/sqrt(3652), four times.
	within(t, "daily deviation", m.noise.sd, w.sd, 0.012)
	within(t, "daily correlation", m.noise.rho, w.rho, 0.05)
}

func TestTheSpeedOfDriftIsFoundWithinItsGrid(t *testing.T) {
	for _, yearly := range []float64{0.02, 0.08, 0.32} {
		w := alaska()
		w.yearly = yearly
		m := fitOne(w.live(epoch, 3652, random(12)).every(7, 0, 3652), 3652)
		mean := 0.0
		for _, d := range m.posteriors {
			mean += d.weight * math.Log(d.drift)
		}
		// Ten years hold some twenty independent moves of the level: the estimate is good to a factor of
		// about 1.2, the grid is a factor of 2 wide and the prior pulls to its middle.
		within(t, "log of the drift", mean, math.Log(yearly), math.Log(2))
	}
}

func TestDaysAndMonthsOfTheSamePlantGiveTheSameSeason(t *testing.T) {
	life := alaska().live(epoch, 1826, random(13))
	daily, monthly := fitOne(life.every(1, 0, 1826), 1826), fitOne(life.every(30, 0, 1826), 1826)
	// The data are the same but for the grouping; months see the third harmonic, of four months, well, and leave
	// the sixth, of two, in good part to the prior.
	if gap := logYear(daily, monthly); gap > 0.05 {
		t.Errorf("the seasons differ by up to %.3f in logs", gap)
	}
}

func TestALongIntervalStandsForItsDays(t *testing.T) {
	life := alaska().live(epoch, 1096, random(14))
	days := life.every(1, 0, 1096)
	gap := append(append([]Interval(nil), days[:600]...), life.interval(600, 621))
	gap = append(gap, days[621:]...)
	whole, holed := fitOne(days, 1096), fitOne(gap, 1096)
	for d := 0; d < 1500; d += 7 {
		day := epoch + calendar.Day(d)
		// 21 of 1,096 days are seen as a sum: what is lost is how the noise fell inside it.
		if off := math.Abs(float64(whole.Rate(day)/holed.Rate(day)) - 1); off > 0.003 {
			t.Errorf("%s: rate moves by %.2f %%", day, 100*off)
		}
	}
}

func TestAMonthIsTheSumOfItsDaysNotTheMiddleOfThem(t *testing.T) {
	// Without noise and drift the fit must find a steep season from totals of two months: no linearisation about the
	// middle of an interval would.
	w := world{level: 6, b: [3]float64{0.8, 0, 0}, sd: 1e-9, yearly: 1e-9}
	life := w.live(epoch, 2922, random(15))
	m := fitOne(life.every(61, 0, 2867), 2867)
	// The prior pulls a coefficient of 0.8 by about sd²_row/(n·0.3²/2): less than a thousandth here. The
	// phase of the day line differs from that of the day of the year by up to a day: 0.8·2π/365 = 0.014.
	if gap := seasonGap(m, w); gap > 0.02 {
		t.Errorf("the season is off by up to %.4f in logs", gap)
	}
}

func TestSouthernAndTropicalPlantsAreFittedAsTheyAre(t *testing.T) {
	south := alaska()
	south.b[0] = -0.25
	m := fitOne(south.live(epoch, 1826, random(16)).every(30, 0, 1826), 1826)
	july, january := m.Rate(calendar.Date(2025, 7, 15)), m.Rate(calendar.Date(2025, 1, 15))
	// exp(0.5) = 1.65 by the first harmonic, 1 ± 0.1 by the rest and the drift.
	if ratio := float64(july / january); ratio < 1.4 || ratio > 2 {
		t.Errorf("July burns %.2f times January", ratio)
	}
	tropical := world{level: 7, sd: 0.08, rho: 0.5, yearly: 0.05}
	m = fitOne(tropical.live(epoch, 1826, random(17)).every(1, 0, 1826), 1826)
	if gap := seasonGap(m, tropical); gap > 0.05 {
		t.Errorf("a season of %.3f in logs is seen where there is none", gap)
	}
}

func TestNothingAfterTheOriginIsUsed(t *testing.T) {
	life := alaska().live(epoch, 1200, random(18))
	before := life.every(10, 0, 1000)
	known := fitOne(before, 1000)
	after := append(append([]Interval(nil), before...), life.every(10, 1000, 1200)...)
	after[100].Litres *= 3
	if got := fitOne(after, 1000); got.Rate(epoch+1100) != known.Rate(epoch+1100) {
		t.Errorf("rate %v with the future in the series, %v without", got.Rate(epoch+1100), known.Rate(epoch+1100))
	}
}

func TestACoarseMeasurementWeighsLess(t *testing.T) {
	life := alaska().live(epoch, 730, random(19))
	r := random(20)
	var exact, dips []Interval
	for _, i := range life.every(7, 0, 728) {
		exact = append(exact, i)
		i.Sigma = i.Litres / 2
		i.Litres += units.LitresAt15(float64(i.Sigma) * r.NormFloat64()) // now and then less than nothing
		dips = append(dips, i)
	}
	fine, coarse := fitOne(exact, 728), fitOne(dips, 728)
	if n := len(coarse.Faults()); n > 0 {
		t.Errorf("%d dips named as faulty within their uncertainty", n)
	}
	at := float64(epoch + 728)
	want, fineSD := fine.Expected(at, at+100)
	got, coarseSD := coarse.Expected(at, at+100)
	if coarseSD <= fineSD {
		t.Errorf("coarse dips give ± %.0f, exact readings ± %.0f", coarseSD, fineSD)
	}
	within(t, "expected total", float64(got), float64(want), 2.5*float64(coarseSD))
}
