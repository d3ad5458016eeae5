package replay

import (
	"math"
	"testing"
	"time"

	"overwinter/internal/resupply"
)

// uncertainRoute opens about 1 June with a standard deviation of 10 days, closes about 1 October, and fails in four of a hundred years: invented.
func uncertainRoute() *route {
	return &route{id: "barge", terms: resupply.Route{ID: "barge", LeadDays: 45, LeadSDDays: 10, Recurring: []resupply.Recurring{{
		Name: window, Opens: resupply.YearDate{Month: time.June, Day: 1}, OpensSDDays: 10,
		Closes: resupply.YearDate{Month: time.October, Day: 1}, ClosesSDDays: 10, FailChance: 0.04,
	}}}}
}

// By Bayes' theorem a window that has not opened by the day on which it opens with chance F has failed with chance
// 0.04 / (0.04 + 0.96 (1 − F)): by 1 June F is about ½ (0.52 with the day itself, as days are whole), by 24 days later 0.993.
func TestAWindowThatDoesNotOpenIsMoreAndMoreLikelyToHaveFailed(t *testing.T) {
	const paths = 20_000
	notYet := map[int]season{2020: {opens: on("2020-07-20"), closes: on("2020-10-01")}}
	normal := func(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
	for _, asOf := range []string{"2020-03-01", "2020-06-01", "2020-06-12", "2020-06-25"} {
		o := uncertainRoute().outlooks(notYet, on(asOf), 100, paths, 1)[0]
		opened := normal((float64(on(asOf)-on("2020-06-01")) + 0.5) / 10)
		want := 0.04 / (0.04 + 0.96*(1-opened))
		if tolerance := 0.006 + 0.1*want; o.year != 2020 || math.Abs(o.LossChance-want) > tolerance {
			t.Errorf("as of %s: chance of failing %v, want %v", asOf, o.LossChance, want)
		}
		for p := range paths {
			if o.Opens[p] <= 0 {
				t.Fatalf("as of %s: opens on day %d, though it has not opened", asOf, o.Opens[p])
			}
		}
	}
}

func TestWhatHasHappenedIsKnownAndWhatIsToComeIsNot(t *testing.T) {
	went := map[int]season{2020: {opens: on("2020-05-25"), closes: on("2020-10-05")}, 2021: {fails: true}}
	r := uncertainRoute()
	all := r.outlooks(went, on("2020-09-25"), 400, 1000, 1)
	if len(all) != 2 || all[0].year != 2020 || all[1].year != 2021 {
		t.Fatalf("%d windows", len(all))
	}
	closes := map[int]bool{}
	for p, opens := range all[0].Opens {
		if opens != -123 || all[0].Closes[p] <= 0 { // 25 May to 25 September
			t.Fatalf("path %d opens on day %d, closes on day %d", p, opens, all[0].Closes[p])
		}
		closes[all[0].Closes[p]] = true
	}
	if len(closes) < 10 {
		t.Errorf("the closing to come is known: %v", closes)
	}
	if chance := all[1].LossChance; chance > 0.07 {
		t.Errorf("that the window of 2021 fails is known a year before: %v", chance)
	}
	if all = r.outlooks(went, on("2020-10-05"), 400, 1000, 1); all[0].year != 2021 {
		t.Error("a window that has closed is still counted on")
	}
	if all = r.outlooks(went, on("2021-09-15"), 100, 1000, 1); len(all) != 0 {
		t.Errorf("a window that has not opened by September may still open: %v", all[0].LossChance)
	}
}

// The seasons of a world are those of every policy and plant of the route, and other ones in another world.
func TestSeasonsAreOfTheWorldAlone(t *testing.T) {
	s := sureScenario()
	a, again, other := uncertainRoute().went(&s, 7), uncertainRoute().went(&s, 7), uncertainRoute().went(&s, 8)
	if a[2020] != again[2020] || a[2020] == other[2020] {
		t.Errorf("%+v, %+v, %+v", a[2020], again[2020], other[2020])
	}
}
