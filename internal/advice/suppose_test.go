package advice_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/demo"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/resupply"
)

func ptr[T any](v T) *T { return &v }

func suppose(t *testing.T, l *ledger, plant string, s advice.Supposition) advice.Supposed {
	t.Helper()
	got, err := adviser(l).Suppose(context.Background(), plant, s)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func near(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if !(math.Abs(got-want) <= by) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

// A tenth more of every day's use is a tenth more of each sum of days, and so of each quantile of it: 1.1 times.
func TestATenthMoreLoadFromTomorrowIsATenthMoreUse(t *testing.T) {
	got := suppose(t, newLedger(some("marten-spit")), "marten-spit", advice.Supposition{LoadPercent: ptr(10.0)})
	if len(got.Uses) != 3 {
		t.Fatalf("%d spans", len(got.Uses))
	}
	for i, days := range []int{30, 180, 365} {
		u := got.Uses[i]
		if u.Days != days || u.Without.P50 <= 0 {
			t.Fatalf("%+v, want %d days", u, days)
		}
		for _, q := range [][2]float64{{u.Without.P10, u.With.P10}, {u.Without.P50, u.With.P50}, {u.Without.P90, u.With.P90}} {
			near(t, "the use", q[1]/q[0], 1.1, 1e-6)
		}
		near(t, "the difference", u.Difference, u.Without.P50/10, 1e-3*u.Without.P50)
		near(t, "the difference in per cent", *u.Percent, 10, 1e-4)
	}
	if *got.Supposition.LoadFrom != demo.AsOf+1 || got.Load.Ratio != 1.1 || got.Load.MeanKW != nil {
		t.Errorf("supposed %+v, load %+v", got.Supposition, got.Load)
	}
	if after(got.With.ReserveDate.P50, got.Without.ReserveDate.P50) {
		t.Errorf("with more load the reserve is reached on %v, without on %v", got.With.ReserveDate.P50, got.Without.ReserveDate.P50)
	}
}

// after compares days of which nil is never.
func after(a, b *calendar.Day) bool {
	return a == nil && b != nil || a != nil && b != nil && *a > *b
}

func TestTheCaseWithoutIsTheAdviceItself(t *testing.T) {
	l := newLedger(some(four...))
	got := suppose(t, l, "cape-orrin", advice.Supposition{EnginesPercent: ptr(8.0)})
	p := plant(t, adviser(l), "cape-orrin")
	want := advice.SupposedOutcome{Status: p.Status, DaysToEmpty: p.DaysToEmpty, DaysToReserve: p.DaysToReserve,
		ReserveDate: p.ReserveDate, DryDate: p.DryDate, Order: p.Order, Short: p.Short, Notices: got.Without.Notices}
	if text(t, got.Without) != text(t, want) {
		t.Errorf("without: %s\nadvice:  %s", text(t, got.Without), text(t, want))
	}
	if n := len(got.Notices) + len(got.Without.Notices); n != len(p.Notices) {
		t.Errorf("%d notices, the advice has %d", n, len(p.Notices))
	}
	near(t, "the year's use", got.Uses[2].Without.P50, p.Burn.YearTotal, 1e-9)
	near(t, "with engines that need 8 % less", got.Uses[2].With.P50/got.Uses[2].Without.P50, 0.92, 1e-6)
}

func TestASuppositionSavesNothing(t *testing.T) {
	l := newLedger(some("marten-spit"))
	a := adviser(l)
	fleet(t, a)
	before, forecasts := text(t, inForce(t, l).Plants), len(l.forecasts)
	l.saving = func(i inventory.Issued) { t.Errorf("advice for %s is saved", i.Plant) }
	if _, err := a.Suppose(context.Background(), "marten-spit", advice.Supposition{LoadPercent: ptr(50.0)}); err != nil {
		t.Fatal(err)
	}
	if text(t, inForce(t, l).Plants) != before || len(l.forecasts) != forecasts {
		t.Error("a supposition changed what is in force")
	}
	l.saving = nil
	if again := text(t, plant(t, a, "marten-spit")); !strings.Contains(before, again) {
		t.Error("advice after a supposition is other than before")
	}
}

func TestAPlantThatStandsByAllTheYearBurnsNothingAndNeedsNoOrder(t *testing.T) {
	rows := some("marten-spit")
	rows.Draws, rows.Orders = nil, nil
	got := suppose(t, newLedger(rows), "marten-spit", advice.Supposition{StandbyFrom: ptr(demo.AsOf + 1)})
	for _, u := range got.Uses {
		if u.With != (advice.UseRange{}) || u.Difference != -u.Without.P50 || *u.Percent != -100 {
			t.Errorf("%d days use %+v", u.Days, u)
		}
	}
	if w := got.With; w.Status != resupply.InHand || w.Order != nil || w.Short != nil || w.DryDate.P10 != nil {
		t.Errorf("a plant that burns nothing: %+v", w)
	}
	if got.Without.Order == nil && got.Without.Short == nil {
		t.Error("without the standby nothing is to be ordered either: the check says nothing")
	}
}

// From the 31st day on for 60 days: the first 30 days are as they were, and the 180 lose what those 60 would have used.
func TestAStandbyTakesAwayItsOwnDays(t *testing.T) {
	l := newLedger(some("marten-spit"))
	got := suppose(t, l, "marten-spit", advice.Supposition{StandbyFrom: ptr(demo.AsOf + 31), StandbyUntil: ptr(demo.AsOf + 91)})
	if u := got.Uses[0]; u.With != u.Without || u.Difference != 0 {
		t.Errorf("before the standby: %+v", u)
	}
	if u := got.Uses[1]; !(u.Difference < -0.2*u.Without.P50 && u.Difference > -0.5*u.Without.P50) { // 60 of 180 days are a third
		t.Errorf("with a standby of 60 days: %+v", u)
	}
}

// 40 kW beside a mean load: the ratio is 1 + 40/mean, whatever the mean, and the mean is litres a day times kWh a litre over 24 h.
func TestAddedKilowattsAreAShareOfThePlantsMeanLoad(t *testing.T) {
	first, last := demo.AsOf-364, demo.AsOf
	rows := func(energy *float64) inventory.Rows {
		all := some("marten-spit")
		all.Readings, all.Totals = nil, nil
		for d := first; d <= last; d += 5 { // 73 totals of 5 days: 1 200 L a day
			e := energy
			if e != nil {
				e = ptr(5 * *energy)
			}
			all.Totals = append(all.Totals, &inventory.PeriodTotal{Entry: inventory.Entry{Key: d.String()}, Plant: "marten-spit", FirstDay: d, LastDay: d + 4,
				Measure: inventory.Measure{Volume: 6000, Basis: inventory.Basis15}, Energy: e})
		}
		return all
	}
	for _, tt := range []struct {
		name              string
		energy            *float64 // kWh a day
		yield, mean, more float64
	}{
		{"at the usual yield", nil, 3.6, 180, 1 + 40.0/180},       // 1 200 L/d × 3.6 kWh/L ÷ 24 h
		{"at its own yield", ptr(4800.0), 4.0, 200, 1 + 40.0/200}, // 4 800 kWh/d ÷ 1 200 L/d; ÷ 24 h
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := suppose(t, newLedger(rows(tt.energy)), "marten-spit", advice.Supposition{LoadKW: ptr(40.0)})
			if got.Load == nil || *got.Load.Measured != (tt.energy != nil) {
				t.Fatalf("load %+v", got.Load)
			}
			near(t, "the yield", *got.Load.Yield, tt.yield, 0.005)
			near(t, "the mean load", *got.Load.MeanKW, tt.mean, 0.3)
			near(t, "the ratio", got.Load.Ratio, tt.more, 1e-3)
			near(t, "the year's use", got.Uses[2].With.P50/got.Uses[2].Without.P50, got.Load.Ratio, 1e-6)
			if !slices.ContainsFunc(got.Assumptions, func(s string) bool { return strings.Contains(s, "kWh a litre") }) {
				t.Errorf("the yield is not stated: %q", got.Assumptions)
			}
		})
	}
}

func TestWhatCannotBeSupposedIsNamed(t *testing.T) {
	day, far := demo.AsOf+10, demo.AsOf+541
	tests := []struct {
		name   string
		s      advice.Supposition
		fields []string
		says   string
	}{
		{"nothing", advice.Supposition{}, nil, "nothing is supposed"},
		{"a winter above all years", advice.Supposition{Winter: ptr(1.5)}, []string{"winter"}, "0 to 1"},
		{"a winter that is no number", advice.Supposition{Winter: ptr(math.NaN())}, []string{"winter"}, "0 to 1"},
		{"a winter without degree days", advice.Supposition{Winter: ptr(0.9)}, []string{"winter"}, "load degree days"},
		{"a load of nothing", advice.Supposition{LoadKW: ptr(0.0)}, []string{"load_kw"}, "not 0"},
		{"a load that is no number", advice.Supposition{LoadKW: ptr(math.Inf(1))}, []string{"load_kw"}, "100000 kW"},
		{"more load lost than there is", advice.Supposition{LoadKW: ptr(-90_000.0)}, []string{"load_kw"}, "mean load of"},
		{"more load than ten plants", advice.Supposition{LoadKW: ptr(90_000.0)}, []string{"load_kw"}, "mean load of"},
		{"a load given twice", advice.Supposition{LoadKW: ptr(1.0), LoadPercent: ptr(1.0)}, []string{"load_percent"}, "leave the other out"},
		{"all load lost", advice.Supposition{LoadPercent: ptr(-100.0)}, []string{"load_percent"}, "stands by"},
		{"a load of which only the day is known", advice.Supposition{LoadFrom: &day}, []string{"load_from"}, "is missing"},
		{"a load from today on", advice.Supposition{LoadPercent: ptr(5.0), LoadFrom: ptr(demo.AsOf)}, []string{"load_from"}, (demo.AsOf + 1).String()},
		{"a load beyond the plan", advice.Supposition{LoadPercent: ptr(5.0), LoadFrom: &far}, []string{"load_from"}, (far - 1).String()},
		{"a standby without its beginning", advice.Supposition{StandbyUntil: &day}, []string{"standby_until"}, "first day of the standby is missing"},
		{"a standby that ends as it begins", advice.Supposition{StandbyFrom: &day, StandbyUntil: &day}, []string{"standby_until"}, "is not after"},
		{"engines that need no fuel", advice.Supposition{EnginesPercent: ptr(100.0)}, []string{"engines_less_percent"}, "less than 100"},
		{"two wrong at once", advice.Supposition{EnginesPercent: ptr(-1.0), Winter: ptr(-1.0)}, []string{"winter", "engines_less_percent"}, "found -1"},
	}
	a := adviser(newLedger(some("marten-spit")))
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := a.Suppose(context.Background(), "marten-spit", tt.s)
			var f *fault.Error
			if !errors.As(err, &f) || f.Kind != fault.Invalid || !strings.Contains(err.Error(), tt.says) {
				t.Fatalf("%v, want fault.Invalid that says %q", err, tt.says)
			}
			var fields []string
			for _, at := range f.Fields {
				fields = append(fields, at.Where)
			}
			if !slices.Equal(fields, tt.fields) {
				t.Errorf("%q are named, want %q", fields, tt.fields)
			}
		})
	}
	if _, err := a.Suppose(context.Background(), "nowhere", advice.Supposition{LoadPercent: ptr(5.0)}); fault.KindOf(err) != fault.NotFound {
		t.Errorf("an unknown plant: %v", err)
	}
}
