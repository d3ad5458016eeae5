package forecast

import (
	"fmt"
	"math"
	"testing"

	"overwinter/internal/fault"
	"overwinter/internal/units"
)

// fleetWithNewcomer gives ten plants of five years in a group and one with three months.
func fleetWithNewcomer(newcomersGroup string) (fleet []Series, newcomer world) {
	r := random(51)
	for i := range 10 {
		life := alaska().vary(0.03, r).live(epoch, 1826, r)
		fleet = append(fleet, Series{Plant: fmt.Sprint("old ", i), Group: "coast", Intervals: life.every(30, 26, 1826)})
	}
	newcomer = alaska().vary(0.03, r)
	life := newcomer.live(epoch, 1826, r)
	return append(fleet, Series{Plant: "new", Group: newcomersGroup, Intervals: life.every(30, 1736, 1826)}), newcomer
}

func relativeSD(m Model) float64 {
	at := float64(epoch) + 1826
	litres, sd := m.Expected(at, at+365)
	return float64(sd / litres)
}

func TestAPlantWithThreeReadingsHasTheSeasonOfItsGroupAndAWideRange(t *testing.T) {
	fleet, newcomer := fleetWithNewcomer("coast")
	models := fitFleet(fleet, epoch+1825)
	m := models[10]
	// Plants differ by 0.03 in each of the first coefficients, and a median of ten by a third of that more;
	// three standard deviations over two coefficients and the smaller harmonics.
	if gap := seasonGap(m, newcomer); gap > 0.15 {
		t.Errorf("the season is off by up to %.3f in logs", gap)
	}
	if own, old := relativeSD(m), relativeSD(models[0]); own < old {
		t.Errorf("three readings give ± %.3f of a year, five years ± %.3f", own, old)
	}
	for _, code := range []string{"thin-history", "season-borrowed"} {
		if !hasNotice(m, code) {
			t.Errorf("no notice %s in %v", code, m.Notices())
		}
	}
	if hasNotice(models[0], "season-borrowed") || hasNotice(models[0], "thin-history") {
		t.Errorf("five years of readings have notices %v", models[0].Notices())
	}
}

func TestNoSeasonIsBorrowedFromAnotherClimate(t *testing.T) {
	fleet, _ := fleetWithNewcomer("inland")
	m := fitFleet(fleet, epoch+1825)[10]
	if !hasNotice(m, "season-unknown") {
		t.Errorf("notices %v", m.Notices())
	}
	fleet[10].Group = "coast"
	borrowed := fitFleet(fleet, epoch+1825)[10]
	if alone, pooled := relativeSD(m), relativeSD(borrowed); alone <= 1.5*pooled {
		t.Errorf("± %.3f without a season, ± %.3f with the group's", alone, pooled)
	}
}

func TestALongHistoryIsLeftToItself(t *testing.T) {
	fleet, _ := fleetWithNewcomer("coast")
	odd := alaska()
	odd.b[0], odd.a[1] = -0.2, 0.1
	fleet[0].Intervals = odd.live(epoch-1826, 3652, random(52)).every(30, 22, 3652)
	m := fitFleet(fleet, epoch+1825)[0]
	// Ten years tell the first harmonic to about 0.02; the group, 0.4 away, may pull it by a few per cent of that.
	if gap := seasonGap(m, odd); gap > 0.08 {
		t.Errorf("its own season is off by up to %.3f in logs", gap)
	}
}

func TestAPlantDoesNotBorrowFromItself(t *testing.T) {
	life := alaska().live(epoch, 1826, random(53))
	one := Series{Plant: "one", Intervals: life.every(30, 26, 1826)}
	alone := fitFleet([]Series{one}, epoch+1825)[0]
	young := Series{Plant: "young", Intervals: life.every(30, 1706, 1826)}
	beside := fitFleet([]Series{one, young}, epoch+1825)[0]
	if alone.season != beside.season || relativeSD(alone) != relativeSD(beside) {
		t.Errorf("season %v alone, %v beside a plant that lends nothing", alone.season, beside.season)
	}
}

func TestAPlantWithoutReadingsIsNotUsable(t *testing.T) {
	tests := map[string][]Interval{
		"none":           nil,
		"only zeros":     {{Start: float64(epoch), End: float64(epoch) + 30}, {Start: float64(epoch) + 30, End: float64(epoch) + 60}},
		"only later":     {{Start: float64(epoch) + 200, End: float64(epoch) + 230, Litres: 100}},
		"only backwards": {{Start: float64(epoch) + 20, End: float64(epoch), Litres: 100}},
	}
	for name, intervals := range tests {
		m := fitOne(intervals, 100)
		if m.Err() == nil || fault.KindOf(m.Err()) != fault.Invalid {
			t.Errorf("%s: error %v", name, m.Err())
		}
		litres, sd := m.Expected(float64(epoch), float64(epoch)+10)
		if paths := m.Simulate(epoch, 10, 10, 1); paths.Count() != 0 || m.Rate(epoch) != 0 || litres != 0 || sd != 0 {
			t.Errorf("%s: an unusable model answers", name)
		}
	}
	var zero Model
	if zero.Rate(epoch) != 0 || zero.Simulate(epoch, 1, 1, 1).Count() != 0 {
		t.Error("the zero model answers")
	}
}

func TestOneReadingGivesItsOwnRate(t *testing.T) {
	m := fitOne([]Interval{{Start: float64(epoch), End: float64(epoch) + 30, Litres: 30 * 1000}}, 30)
	if m.Err() != nil {
		t.Fatal(m.Err())
	}
	// The prior season is flat and the level free; the month's mean day lies sd²/2 or less above its median.
	within(t, "log of the rate", math.Log(float64(m.Rate(epoch+15))), math.Log(1000), 0.02)
	if r := relativeSD(m); r < 0.2 {
		t.Errorf("one reading gives a year ± %.3f", r)
	}
}

func TestResultsDoNotDependOnTheOrderOfIntervals(t *testing.T) {
	intervals := alaska().live(epoch, 700, random(54)).every(7, 0, 700)
	want := fitOne(intervals, 700)
	r := random(55)
	shuffled := append([]Interval(nil), intervals...)
	r.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
	if got := fitOne(shuffled, 700); got.Rate(epoch+800) != want.Rate(epoch+800) {
		t.Errorf("rate %v shuffled, %v in order", got.Rate(epoch+800), want.Rate(epoch+800))
	}
}

func TestRatesScaleWithTheUnit(t *testing.T) {
	intervals := alaska().live(epoch, 700, random(56)).every(7, 0, 700)
	want := fitOne(intervals, 700).Rate(epoch + 800)
	for i := range intervals {
		intervals[i].Litres *= units.LitresPerUSGallon
	}
	got := fitOne(intervals, 700).Rate(epoch + 800)
	within(t, "ratio", float64(got/want), units.LitresPerUSGallon, 1e-6)
}

// A fish plant burns most in July while its neighbours, all much alike, burn most in winter. Three years
// of its own days must outweigh them.
func TestAPlantUnlikeItsGroupKeepsItsOwnSeason(t *testing.T) {
	r := random(57)
	var fleet []Series
	for i := range 8 {
		life := alaska().vary(0.015, r).live(epoch, 1095, r)
		fleet = append(fleet, Series{Plant: fmt.Sprint("village ", i), Group: "coast", Intervals: life.every(1, 0, 1095)})
	}
	fish := alaska()
	fish.b = [3]float64{-0.25, 0.15, -0.05}
	fleet = append(fleet, Series{Plant: "fish", Group: "coast", Intervals: fish.live(epoch, 1095, r).every(1, 0, 1095)})
	// The season lies 0.44 from its neighbours' in the first cosine alone. Noise and drift of three years
	// leave about 0.02 in each coefficient: three of them over the six coefficients, added up at worst.
	if gap := seasonGap(fitFleet(fleet, epoch+1094)[8], fish); gap > 0.12 {
		t.Errorf("the season is off by up to %.3f in logs", gap)
	}
}
