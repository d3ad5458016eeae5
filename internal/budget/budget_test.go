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
	b := NewSheet(asOf, constant{100, 100, 100}).Budget(1.505, time.July)
	if len(b.Months) != Months {
		t.Fatalf("%d months", len(b.Months))
	}
	same := func(l float64, m int64) Period { return Period{Range{l, l, l}, MoneyRange{m, m, m}} }
	want := []MonthPeriod{
		{calendar.Month{Year: 2026, Month: time.April}, 2026, same(3000, 451_500)},
		{calendar.Month{Year: 2026, Month: time.May}, 2026, same(3100, 466_550)},
		{calendar.Month{Year: 2026, Month: time.June}, 2026, same(3000, 451_500)},
		{calendar.Month{Year: 2026, Month: time.July}, 2027, same(3100, 466_550)},
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

func TestADayThatEndsAMonthBudgetsTheNextOneAtOnce(t *testing.T) {
	b := NewSheet(calendar.Date(2026, time.March, 31), constant{1}).Budget(1, time.January)
	if first := b.Months[0].Month; first != (calendar.Month{Year: 2026, Month: time.April}) {
		t.Errorf("first month %v, want April", first)
	}
}

// Two plants that burn against each other have no range together: quantiles of the sum are not sums of
// quantiles.
func TestAFleetIsSummedPathByPath(t *testing.T) {
	a, b := NewSheet(asOf, constant{100, 200, 300}), NewSheet(asOf, constant{300, 200, 100})
	total := a.Add(b).Budget(1, time.January).Total.Litres
	if want := 400.0 * 548; total != (Range{want, want, want}) {
		t.Errorf("total %v, want %v throughout", total, want)
	}
	if got := (Sheet{}).Add(a).Budget(1, time.January); !cmp.Equal(got, a.Budget(1, time.January)) {
		t.Error("an empty sheet changes the sum")
	}
	if got := (Sheet{}).Budget(1, time.January); got.Months != nil {
		t.Errorf("an empty sheet has the budget %v", got)
	}
}

func TestThePathsReachAsFarAsTheMonths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		day := calendar.Day(rapid.IntRange(15_000, 30_000).Draw(t, "as of"))
		s := NewSheet(day, constant{1})
		m := s.first
		for range Months {
			m = m.Next()
		}
		if need := int(m.First() - day); need > DaysNeeded(day)+1 || need < 540 {
			t.Fatalf("the months end %d days after %v, DaysNeeded says %d", need, day, DaysNeeded(day))
		}
	})
}
