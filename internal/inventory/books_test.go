package inventory

import (
	"context"
	"math"
	"strings"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/units"
)

// shelf is a ledger that holds one plant: rows now, and past as its first version knew it.
type shelf struct {
	dir  *Directory
	rows Rows
	past Rows
	then time.Time
}

func (s shelf) Directory(context.Context) (Rows, error) { return s.dir.rows, nil }
func (s shelf) PlantRows(context.Context, string, time.Time) (Rows, error) {
	return s.rows, nil
}
func (s shelf) RecentRows(context.Context, string, time.Time, time.Time) (Rows, error) {
	return s.rows, nil
}
func (s shelf) VersionAt(_ context.Context, at time.Time) (LedgerVersion, error) {
	return LedgerVersion{Number: 1, RecordedAt: s.then}, nil
}
func (s shelf) AsKnown(int64) RowReader { return shelf{dir: s.dir, rows: s.past} }

func keeper(rows, past Rows) *Bookkeeper {
	s := shelf{directoryOf(volumeTank("bulk", Storage, 50_000), volumeTank("day", DayTank, 1000)), rows, past, at(time.March, 10, 0)}
	return &Bookkeeper{Ledger: s, Clock: calendar.At(at(time.March, 31, 12))}
}

// 40 000 − 7 000 = 33 000 L, against what the dips find.
func TestTheFindingIsTheRunningSumBesideItsUncertainty(t *testing.T) {
	for _, x := range []struct {
		name    string
		closing units.Litres
		want    Verdict
		less    float64
	}{{"nothing", 32_990, NothingMissing, -10}, {"missing", 31_000, FuelMissing, -2000}, {"over", 35_000, FuelOver, 2000}} {
		s, err := keeper(march(40_000, x.closing), Rows{}).Open(t.Context(), BooksQuestion{Plant: "P"})
		if err != nil {
			t.Fatal(err)
		}
		got := s.Table()
		if f := got.Finding; f.Verdict != x.want || !near(float64(f.Variance), x.less) || f.Since != at(time.March, 1, 8) || f.Until != at(time.March, 29, 8) {
			t.Errorf("%s: %+v", x.name, f)
		}
		if len(got.Months) != 1 || got.Whole.Variance != got.Months[0].Variance || got.Whole.Book != 33_000 {
			t.Errorf("%s: whole %+v, months %d", x.name, got.Whole, len(got.Months))
		}
	}
}

// 250 L a day through the meter and as much out of the tank, until 5 000 L more are gone in March: 14 750 L to 1 March,
// and then 7 500 + 5 000 L. The sum since January says the same 5 000 L, less surely.
func TestMissingFuelIsDatedByTheMonthInWhichItWentMissing(t *testing.T) {
	rows := Rows{}
	for _, x := range []struct {
		at     time.Time
		run, v units.Litres
	}{{at(1, 1, 8), 0, 45_000}, {at(2, 1, 8), 7750, 37_250}, {at(3, 1, 8), 14_750, 30_250}, {at(3, 31, 8), 22_250, 17_750}} {
		rows.Readings = append(rows.Readings, reading(x.at, float64(x.run)))
		rows.Gaugings = append(rows.Gaugings, gauged("bulk", x.at, x.v))
	}
	s, err := keeper(rows, Rows{}).Open(t.Context(), BooksQuestion{Plant: "P"})
	if err != nil {
		t.Fatal(err)
	}
	got := s.Table()
	if f := got.Finding; f.Verdict != FuelMissing || f.Since != at(3, 1, 8) || !near(float64(f.Variance), -5000) || math.Abs(f.Z) <= math.Abs(got.Whole.Z) {
		t.Errorf("%+v, whole %v, doubts %v", f, got.Whole.Variance, s.Doubtful())
	}
}

// One in 20 variances of a sound plant lies beyond 1.96; of 12 months one may do so 46 times in 100. The two-sided 0.05/12
// point of the normal distribution is 2.865 (tables: Φ(2.8653) = 0.99792).
func TestOfManyMonthsOnlyOneThatStandsOutIsAFinding(t *testing.T) {
	months := func(z float64) []BalanceLine {
		var all []BalanceLine
		for i := range 12 {
			all = append(all, BalanceLine{Balance: Balance{Known: true, From: at(time.Month(1+i), 1, 8), To: at(time.Month(2+i), 1, 8)}, Since: at(1, 1, 8)})
		}
		all[4].Z, all[4].Variance, all[4].Sigma = z, units.LitresAt15(100*z), 100
		return all
	}
	if got := findingOf(Balance{}, months(-2.86)); got.Verdict != NothingMissing {
		t.Errorf("2.86: %+v", got)
	}
	got := findingOf(Balance{}, months(-2.87))
	if got.Verdict != FuelMissing || !got.OneMonth || got.Since != at(time.May, 1, 8) || !near(float64(got.Variance), -287) {
		t.Errorf("2.87: %+v", got)
	}
}

func TestWithoutAVarianceTheFindingSaysWhy(t *testing.T) {
	s, err := keeper(Rows{}, Rows{}).Open(t.Context(), BooksQuestion{Plant: "P"})
	if err != nil {
		t.Fatal(err)
	}
	if f := s.Table().Finding; f.Verdict != NoVariance || f.Why != "there are no two counts of stock" {
		t.Errorf("%+v", f)
	}
}

func TestTheBooksAreThoseThatWereKnownThen(t *testing.T) {
	k := keeper(march(40_000, 32_900), march(40_000, 32_700))
	now, err := k.Open(t.Context(), BooksQuestion{Plant: "P"})
	if err != nil {
		t.Fatal(err)
	}
	then, err := k.Open(t.Context(), BooksQuestion{Plant: "P", KnownAt: "2026-03-30T12:00:00Z"})
	if err != nil {
		t.Fatal(err)
	}
	if a, b := now.Table().Whole.Variance, then.Table().Whole.Variance; !near(float64(a), -100) || !near(float64(b), -300) {
		t.Errorf("now %v, then %v", a, b)
	}
	if h := then.Head(); h.Version == nil || *h.Version != 1 || then.AsOf != day(30) {
		t.Errorf("%+v as of %s", h, then.AsOf)
	}
}

// A blank From is the first of the month a year before To; days are local and whole.
func TestAStretchIsReadInLocalDays(t *testing.T) {
	k := keeper(march(40_000, 32_900), Rows{})
	for _, x := range []struct{ from, to, wantFrom, wantTo string }{
		{"", "", "2025-03-01T00:00:00Z", "2026-04-01T00:00:00Z"},
		{"2026-03-01", "2026-03-29", "2026-03-01T00:00:00Z", "2026-03-30T00:00:00Z"},
		{"2026-03-01T06:00:00+02:00", "", "2026-03-01T04:00:00Z", "2026-04-01T00:00:00Z"},
	} {
		s, err := k.Open(t.Context(), BooksQuestion{Plant: "P", From: x.from, To: x.to})
		if err != nil {
			t.Fatal(err)
		}
		if from, to := s.From.UTC().Format(time.RFC3339), s.To.UTC().Format(time.RFC3339); from != x.wantFrom || to != x.wantTo {
			t.Errorf("%q to %q: %s to %s", x.from, x.to, from, to)
		}
	}
}

func TestAQuestionThatMakesNoSenseIsRefusedWithItsField(t *testing.T) {
	k := keeper(march(40_000, 32_900), Rows{})
	for _, x := range []struct {
		q           BooksQuestion
		field, says string
	}{
		{BooksQuestion{From: "March"}, "from", "neither a day nor a moment"},
		{BooksQuestion{To: "2026-13-01"}, "to", "neither a day nor a moment"},
		{BooksQuestion{To: "2026-05-01"}, "to", "lies after the close of 2026-03-31"},
		{BooksQuestion{From: "2026-03-02", To: "2026-03-01"}, "from", "not before the end"},
		{BooksQuestion{From: "2026-03-02T6:00:00Z"}, "from", "neither a day nor a moment"},
		{BooksQuestion{To: "2026-03-02T06:00:00,5Z"}, "to", "neither a day nor a moment"},
		{BooksQuestion{From: "2026-03-02T06:00:00+24:00"}, "from", "neither a day nor a moment"},
		{BooksQuestion{From: "1899-12-31"}, "from", "the year 1899 cannot be meant"},
		{BooksQuestion{From: "0000-01-01T00:00:00+14:00"}, "from", "the year -1 cannot be meant"},
		{BooksQuestion{To: "0000-01-01"}, "to", "the year 0 cannot be meant"},
		{BooksQuestion{KnownAt: "0000-01-01T00:00:00Z"}, "known_at", "the year 0 cannot be meant"},
		{BooksQuestion{KnownAt: "2026-03-02"}, "known_at", "is no moment"},
		{BooksQuestion{KnownAt: "2026-03-02T1:00:00Z"}, "known_at", "is no moment"},
		{BooksQuestion{KnownAt: "2026-06-02T00:00:00Z"}, "known_at", "still to come"},
		{BooksQuestion{Product: "jet-a1"}, "product", "expected diesel-2-s15"},
	} {
		x.q.Plant = "P"
		_, err := k.Open(t.Context(), x.q)
		f, ok := err.(*fault.Error)
		if !ok || f.Kind != fault.Invalid || len(f.Fields) != 1 || f.Fields[0].Where != x.field || !strings.Contains(f.Fields[0].Message, x.says) {
			t.Errorf("%+v: %v", x.q, err)
		}
	}
	if _, err := k.Open(t.Context(), BooksQuestion{Plant: "Q"}); fault.KindOf(err) != fault.NotFound {
		t.Errorf("another plant: %v", err)
	}
}

// BenchmarkAPlantsBooks opens the book of a plant with three years of daily rounds, dipped daily, and reckons its year,
// and all three years.
func BenchmarkAPlantsBooks(b *testing.B) {
	rows := Rows{}
	start := time.Date(2023, time.April, 1, 8, 0, 0, 0, time.UTC)
	for i := range 3 * 365 {
		when := start.AddDate(0, 0, i)
		rows.Readings = append(rows.Readings, reading(when, float64(1000+250*i)))
		for _, tank := range []string{"bulk", "day"} {
			g := gauged(tank, when, units.Litres(500))
			if tank == "bulk" {
				g = gauged(tank, when, units.Litres(45_000-250*(i%150)))
			}
			rows.Gaugings = append(rows.Gaugings, g)
		}
		if i%150 == 149 {
			rows.Deliveries = append(rows.Deliveries, &Delivery{Plant: "P", Tank: "bulk", At: when.Add(4 * time.Hour), Measure: at15(37_500)})
		}
	}
	k := keeper(rows, Rows{})
	for _, x := range []struct{ name, from string }{{"a year", ""}, {"three years", "2023-04-01"}} {
		b.Run(x.name, func(b *testing.B) {
			for b.Loop() {
				s, err := k.Open(b.Context(), BooksQuestion{Plant: "P", From: x.from})
				if err != nil {
					b.Fatal(err)
				}
				s.Table()
				s.Delivered(0)
				s.Used()
			}
		})
	}
}

// At most 5 of 100 tables have a sum beyond by chance, and at most 5 a month that stands out: 8 of 80 plants, and 5 more for
// the luck of the draw (twice the standard deviation √(80·0.1·0.9) = 2.7).
func TestTheBooksOfPlantsThatLoseNothingSeldomFindAnything(t *testing.T) {
	blank := truthBook(t, Rows{})
	plants, enough := simulatedPlants(t, 80)
	found := 0
	for plant := range plants {
		world := newTruth(uint64(1000+plant/40), uint64(plant%40))
		world.live(blank)
		s := &Stretch{Book: truthBook(t, world.rows), From: at(time.January, 1, 0).AddDate(-1, 0, 0), To: at(time.January, 1, 0)}
		switch f := s.Table().Finding; f.Verdict {
		case NoVariance:
			t.Fatalf("plant %d: %s", plant, f.Why)
		case FuelMissing, FuelOver:
			found++
		}
	}
	t.Logf("%d of %d", found, plants)
	if enough && found > plants/10+5 {
		t.Errorf("%d of %d plants that lose nothing have a finding, want a tenth at most", found, plants)
	}
}
