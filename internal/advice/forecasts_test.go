package advice_test

import (
	"math"
	"testing"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/demo"
)

// evening is a late hour of a day at the demo's coast.
func evening(day calendar.Day) time.Time {
	y, m, d := day.Civil()
	return time.Date(y, m, d+1, 6, 0, 0, 0, time.UTC)
}

// adviseOn advises one plant on the evening of a day, as the service does.
func adviseOn(t *testing.T, l *ledger, plant string, day calendar.Day) advice.Plant {
	t.Helper()
	a, err := advice.NewAdviser(l, advice.Options{Seed: 1, Paths: 200}, calendar.At(evening(day))).Plant(t.Context(), plant)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestTheFirstForecastOfAMonthIsKept(t *testing.T) {
	l := newLedger(some("marten-spit"))
	for _, day := range []string{"2026-02-10", "2026-02-11", "2026-02-27", "2026-02-28", "2026-03-01"} {
		d, _ := calendar.ParseDay(day)
		adviseOn(t, l, "marten-spit", d)
	}
	kept := l.forecasts["marten-spit"]
	// The last day of February begins March.
	if len(kept) != 2 || kept[0].Origin.String() != "2026-02-10" || kept[1].Origin.String() != "2026-02-28" ||
		kept[1].ModelVersion != advice.ModelVersion || kept[1].Ledger != l.version || !kept[1].IssuedAt.Equal(evening(kept[1].Origin)) {
		t.Errorf("kept are %+v", kept)
	}
}

func TestWhatIsSaidForADayOfChoiceIsNotKeptAsAForecast(t *testing.T) {
	l := newLedger(some("marten-spit"))
	day := calendar.Date(2025, time.June, 30)
	if _, err := advice.Advise(t.Context(), l, advice.Options{AsOf: &day, Now: demo.Now, Seed: 1, Paths: 100}); err != nil {
		t.Fatal(err)
	}
	if len(l.forecasts) != 0 {
		t.Errorf("kept are %+v", l.forecasts)
	}
	if _, err := advice.Advise(t.Context(), l, advice.Options{Now: demo.Now, Seed: 1, Paths: 100}); err != nil {
		t.Fatal(err)
	}
	if len(l.forecasts["marten-spit"]) != 1 {
		t.Errorf("of today's advice kept are %+v", l.forecasts)
	}
}

// The demo's plant is advised at the end of each month of a year, by what had happened until then; what its scores take for burned
// is held against the burn that the demo keeps as its truth. A meter is right to a few per cent.
func TestScoresHoldForecastsAgainstWhatWasReallyBurned(t *testing.T) {
	l, truth := newLedger(some("marten-spit")), demo.Generate(demo.DefaultSeed).Truth["marten-spit"]
	for month := (calendar.Month{Year: 2025, Month: time.February}); month.First() < demo.AsOf; month = month.Next() {
		if end := month.Next().First() - 1; end < demo.AsOf {
			adviseOn(t, l, "marten-spit", end)
		}
	}
	before := l.forecasts["marten-spit"][0].Body
	a := adviseOn(t, l, "marten-spit", demo.AsOf)
	if a.Scores == nil || a.Scores.Issued != 13 || len(a.Scores.Lengths) != 4 {
		t.Fatalf("%+v", a.Scores)
	}
	scored := 0
	for _, length := range a.Scores.Lengths {
		t.Logf("%d months: %d of %d scored, %+v", length.Months, length.Scored, length.Due, length.Unscored)
		for _, o := range length.Newest {
			scored++
			start := float64(o.Origin+1) + o.Shift
			if want := burnedIn(truth, start, start+o.Days); math.Abs(o.Actual/want-1) > 0.04 {
				t.Errorf("%d months from %s: %.0f L, and %.0f were burned", length.Months, o.Origin, o.Actual, want)
			}
		}
	}
	if scored < 4 {
		t.Errorf("no more than %d outcomes are shown", scored)
	}
	if string(l.forecasts["marten-spit"][0].Body) != string(before) {
		t.Error("scoring has changed a forecast")
	}
	if again := adviseOn(t, l, "marten-spit", demo.AsOf); again.InputsVersion != a.InputsVersion {
		t.Error("the same rows and forecasts are other inputs")
	}

	l.forecasts["marten-spit"][0].Body = []byte(`{"days":[7]}`)
	spoilt := adviseOn(t, l, "marten-spit", demo.AsOf)
	if notes := spoilt.Scores.Notices; spoilt.Scores.Issued != 12 || notes[len(notes)-1].Code != "forecast-unreadable" || spoilt.InputsVersion == a.InputsVersion {
		t.Errorf("a forecast that cannot be read: %+v", spoilt.Scores)
	}
}

// burnedIn is the true burn between two moments, days taken as level.
func burnedIn(truth demo.Truth, from, to float64) (litres float64) {
	for i, burn := range truth.Burn {
		day := float64(truth.FirstDay) + float64(i)
		if share := min(to, day+1) - max(from, day); share > 0 {
			litres += share * float64(burn)
		}
	}
	return litres
}
