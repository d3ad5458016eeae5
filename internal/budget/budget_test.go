package budget

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"overwinter/internal/calendar"
)

// constant burns a fixed number of litres a day, one rate a path.
type constant []float64

func (c constant) Count() int                       { return len(c) }
func (c constant) Cumulative(path, day int) float64 { return c[path] * float64(day) }

var asOf = calendar.Date(2026, time.March, 2)

// At 100 L a day April has 3 000 L and May 3 100 L; eighteen months from April 2026 end with September
// 2027 and have 548 days. At 1.505 a litre April costs 4 515.00.
func TestMonthsAreWholeCalendarMonthsAfterTheDay(t *testing.T) {
	b := NewSheet(asOf, constant{100, 100, 100}, Months).Budget(1.505, time.July)
	if len(b.Months) != Months {
		t.Fatalf("%d months", len(b.Months))
	}
	same := func(l float64, m int64) Period { return Period{Range{l, l, l}, MoneyRange{m, m, m}} }
	want := []MonthPeriod{
		{calendar.Month{Year: 2026, Month: time.April}, 2026, same(3000, 451_500), same(3000, 451_500)},
		{calendar.Month{Year: 2026, Month: time.May}, 2026, same(3100, 466_550), same(6100, 918_050)},
		{calendar.Month{Year: 2026, Month: time.June}, 2026, same(3000, 451_500), same(9100, 1_369_550)},
		{calendar.Month{Year: 2026, Month: time.July}, 2027, same(3100, 466_550), same(12_200, 1_836_100)},
	}
	if diff := cmp.Diff(want, b.Months[:4]); diff != "" {
		t.Error(diff)
	}
	if last := b.Months[Months-1]; last.Month != (calendar.Month{Year: 2027, Month: time.September}) || last.FiscalYear != 2028 {
		t.Errorf("last month %v of fiscal year %d", last.Month, last.FiscalYear)
	}
	if diff := cmp.Diff(same(54_800, 8_247_400), b.Total); diff != "" {
		t.Error(diff)
	}
}

// At 100 L a day from April 2026 on, with years from July: 91 days are left of the first, the next has 365,
// and of the last July to September are in sight, 92 days.
func TestAFiscalYearHoldsItsMonthsThatAreCounted(t *testing.T) {
	month := func(year int, m time.Month) calendar.Month { return calendar.Month{Year: year, Month: m} }
	same := func(l float64) Period {
		return Period{Range{l, l, l}, MoneyRange{int64(200 * l), int64(200 * l), int64(200 * l)}}
	}
	want := []YearPeriod{
		{2026, month(2026, time.April), month(2026, time.June), 3, false, same(9_100)},
		{2027, month(2026, time.July), month(2027, time.June), 12, true, same(36_500)},
		{2028, month(2027, time.July), month(2027, time.September), 3, false, same(9_200)},
	}
	if diff := cmp.Diff(want, NewSheet(asOf, constant{100}, Months).Budget(2, time.July).Years); diff != "" {
		t.Error(diff)
	}
}

func TestTheYearAfterTheCurrentOneIsHeldWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		day := calendar.Day(rapid.IntRange(15_000, 30_000).Draw(t, "as of"))
		begins := time.Month(rapid.IntRange(1, 12).Draw(t, "begins"))
		next := calendar.MonthOf(day).FiscalYear(begins) + 1
		for _, y := range NewSheet(day, constant{1}, TwoYearMonths).Budget(1, begins).Years {
			if y.FiscalYear == next && y.Whole && y.Last.Next().FiscalYear(begins) == next+1 {
				return
			}
		}
		t.Fatalf("the fiscal year %d is not whole from %v on", next, day)
	})
}

// alternating burns 100 L a day on one path in even months and on the other in odd ones.
type alternating struct{}

func (alternating) Count() int { return 2 }
func (alternating) Cumulative(path, day int) float64 {
	sum := 0.0
	for d := asOf + 1; d <= asOf+calendar.Day(day); d++ {
		if int(calendar.MonthOf(d).Month)%2 == path {
			sum += 100
		}
	}
	return sum
}

// In the six months from April to September either path burns in three: 91 or 92 days of the 183. So
// the sums are nearly certain where each month is anything from nothing to everything.
func TestARunningSumIsAQuantileOfTheSum(t *testing.T) {
	b := NewSheet(asOf, alternating{}, 6).Budget(1, time.January)
	last := b.Months[5]
	if spread := last.Litres.P90 - last.Litres.P10; spread < 2000 {
		t.Fatalf("September is certain to %v L", spread)
	}
	if diff := cmp.Diff(b.Total, last.Cumulative); diff != "" {
		t.Error(diff)
	}
	if want := (Range{9110, 9150, 9190}); last.Cumulative.Litres != want { // 9100 and 9200 at 10, 50 and 90 %
		t.Errorf("the running sum is %v, want %v", last.Cumulative.Litres, want)
	}
}

func TestAnotherPriceGivesTheBudgetThatItWouldHaveGiven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := NewSheet(asOf, constant{rapid.Float64Range(0, 1e5).Draw(t, "a"), rapid.Float64Range(0, 1e5).Draw(t, "b")}, Months)
		first, second := rapid.Float64Range(0, 50).Draw(t, "first"), rapid.Float64Range(0, 50).Draw(t, "second")
		b := s.Budget(first, time.July)
		if diff := cmp.Diff(s.Budget(second, time.July), b.At(second)); diff != "" {
			t.Fatal(diff)
		}
		if diff := cmp.Diff(s.Budget(first, time.July), b); diff != "" {
			t.Fatalf("asking changed the budget: %s", diff)
		}
	})
}

func TestADayThatEndsAMonthBudgetsTheNextOneAtOnce(t *testing.T) {
	b := NewSheet(calendar.Date(2026, time.March, 31), constant{1}, Months).Budget(1, time.January)
	if first := b.Months[0].Month; first != (calendar.Month{Year: 2026, Month: time.April}) {
		t.Errorf("first month %v, want April", first)
	}
}

// Two plants that burn against each other have no range together: quantiles of the sum are not sums of
// quantiles.
func TestAFleetIsSummedPathByPath(t *testing.T) {
	a, b := NewSheet(asOf, constant{100, 200, 300}, Months), NewSheet(asOf, constant{300, 200, 100}, Months)
	total := a.Add(b).Budget(1, time.January).Total.Litres
	if want := 400.0 * 548; total != (Range{want, want, want}) {
		t.Errorf("total %v, want %v throughout", total, want)
	}
	if got := (Sheet{}).Add(a).Budget(1, time.January); !cmp.Equal(got, a.Budget(1, time.January)) {
		t.Error("an empty sheet changes the sum")
	}
	if got := (Sheet{}).Budget(1, time.January); len(got.Months) != 0 || len(got.Years) != 0 {
		t.Errorf("an empty sheet has the budget %v", got)
	}
}

func TestThePathsReachAsFarAsTheMonths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		day := calendar.Day(rapid.IntRange(15_000, 30_000).Draw(t, "as of"))
		s := NewSheet(day, constant{1}, Months)
		m := s.first
		for range Months {
			m = m.Next()
		}
		if need := int(m.First() - day); need > DaysNeeded(day, Months)+1 || need < 540 {
			t.Fatalf("the months end %d days after %v, DaysNeeded says %d", need, day, DaysNeeded(day, Months))
		}
	})
}

// The capital of ſ is S, and that of ı is I (Unicode Character Database): neither is a letter of a currency's code.
func TestACurrencyIsThreeLatinLetters(t *testing.T) {
	for text, want := range map[string]string{"CAD": "CAD", "usd": "USD", "uſd": "", "ıll": "", "": "", "US": "", "USDD": "", "U$D": "", " USD": ""} {
		if code, ok := CurrencyOf(text); ok != (want != "") || ok && code != want {
			t.Errorf("%q is %q, %v", text, code, ok)
		}
	}
}
