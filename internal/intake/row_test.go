package intake

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/store"
	"overwinter/internal/units"
)

// litres is a volume that was observed at 4 °C.
func litres(v units.Litres) inventory.Measure {
	return inventory.Measure{Volume: v, Temperature: p(units.Celsius(4)), Basis: inventory.BasisObserved}
}

// everyRow makes a row of each kind that is reported by itself, with all that it can say and a figure of the caller's.
var everyRow = []func(figure float64) Checked{
	func(n float64) Checked {
		return &inventory.MeterReading{Plant: "bay", Meter: "one", At: evening(1), Register: n, Temperature: p(units.Celsius(-3))}
	},
	func(n float64) Checked {
		return &inventory.MeterSwap{Plant: "bay", Meter: "one", At: evening(1), Closing: p(n), Opening: p(0.0)}
	},
	func(n float64) Checked {
		return &inventory.Proving{Plant: "bay", Meter: "two", At: evening(1), Factor: 1 + n/1000}
	},
	func(n float64) Checked {
		return &inventory.PeriodTotal{Measure: litres(units.Litres(n)), Plant: "bay", FirstDay: march - 28, LastDay: march - 1, Energy: p(3.5 * n)}
	},
	func(n float64) Checked {
		return &inventory.Transfer{Measure: litres(units.Litres(n)), Plant: "bay", From: "a", To: "d", At: evening(1), Open: true, PlannedStop: p(now.Add(time.Hour))}
	},
	func(n float64) Checked {
		return &inventory.Draw{Measure: litres(units.Litres(n)), Plant: "bay", FirstDay: march - 3, LastDay: march - 1, Purpose: inventory.Repayment, With: "School"}
	},
	func(n float64) Checked {
		return &inventory.CountCorrection{Measure: litres(units.Litres(-n)), Plant: "bay", Product: "diesel-1-s15", Day: march - 1}
	},
	func(n float64) Checked {
		products := inventory.Products()
		return &inventory.ProductChange{Plant: "bay", Tank: "a", At: evening(1), Product: products[int(n)%len(products)]}
	},
	func(n float64) Checked {
		return &inventory.LoadChange{Plant: "bay", From: march + 60, Until: p(march + 90), Added: p(units.Kilowatts(n)), Uncertainty: p(15.0),
			Cause: inventory.LoadConnected, Note: "Cannery."}
	},
	func(n float64) Checked {
		return &inventory.DegreeDays{FirstDay: march - 28, LastDay: march - 1, Sum: units.DegreeDays(10 * n), Under: 18}
	},
}

func only(t testing.TB, rows inventory.Rows) inventory.Record {
	t.Helper()
	if rows.Len() != 1 {
		t.Fatalf("%d rows in force, want one", rows.Len())
	}
	for r := range rows.All() {
		return r
	}
	return nil
}

func asKnown(t testing.TB, d *Desk, version int64) inventory.Rows {
	t.Helper()
	rows, err := d.Ledger.(*store.DB).AsKnown(version).PlantRows(t.Context(), "bay", now.Add(48*time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func version(t testing.TB, d *Desk) int64 {
	t.Helper()
	v, err := d.Ledger.Version(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func because(key string) Report {
	r := report(key)
	r.Who, r.Why = "A. Clerk", "misread"
	return r
}

func TestEveryKindOfRowIsWrittenAsItWasSentOnce(t *testing.T) {
	for _, row := range everyRow {
		t.Run(string(row(1).Kind()), func(t *testing.T) {
			d, _ := newDesk(t)
			got := must(t)(d.Row(t.Context(), RowReport{Report: report("k"), Row: row(40)}))
			if got.New != 1 || got.Known != 0 || !got.Advised {
				t.Errorf("first: %+v", got)
			}
			want := row(40)
			want.Base().Key, want.Base().Who = strings.ReplaceAll(string(want.Kind()), " ", "-")+"/bay/k", report("k").Who
			if diff := cmp.Diff(inventory.Record(want), only(t, ledger(t, d))); diff != "" {
				t.Error(diff)
			}
			if got = must(t)(d.Row(t.Context(), RowReport{Report: report("k"), Row: row(40)})); got.New != 0 || got.Known != 1 {
				t.Errorf("again: %+v", got)
			}
			_, err := d.Row(t.Context(), RowReport{Report: report("k"), Row: row(41)})
			if refused(t, err, fault.Conflict); ledgerLen(t, d) != 1 {
				t.Error("another content under the key was written")
			}
		})
	}
}

func TestACorrectionAndAWithdrawalKeepWhatWasKnownBefore(t *testing.T) {
	for _, row := range everyRow {
		kind := row(1).Kind()
		t.Run(string(kind), func(t *testing.T) {
			d, _ := newDesk(t)
			must(t)(d.Row(t.Context(), RowReport{Report: report("wrong"), Row: row(40)}))
			first := only(t, ledger(t, d))
			atFirst := version(t, d)
			correction := func() RowReport {
				return RowReport{Report: because("right"), Replaces: first.Base().Key, Row: row(44)}
			}
			must(t)(d.Row(t.Context(), correction()))
			second, corrected := only(t, ledger(t, d)), version(t, d)
			if e := second.Base(); e.Replaces != first.Base().Key || e.Who != "A. Clerk" || e.Why != "misread" {
				t.Errorf("the correction is %+v", e)
			}
			withdrawal := Withdrawal{Report: because("gone"), Kind: kind, Row: second.Base().Key}
			if got := must(t)(d.Withdraw(t.Context(), withdrawal)); got.New != 1 {
				t.Errorf("withdrawn: %+v", got)
			}
			if got := must(t)(d.Withdraw(t.Context(), withdrawal)); got.New != 0 || got.Known != 1 {
				t.Errorf("withdrawn again: %+v", got)
			}
			got := must(t)(d.Row(t.Context(), correction()))
			if says := "not in force: it was withdrawn by "; got.Known != 1 || !slices.Contains(codes(got), "known-not-in-force") || !strings.Contains(got.Notices[0].Message, says) {
				t.Errorf("the correction sent again: %+v", got)
			}
			if got := ledgerLen(t, d); got != 0 {
				t.Errorf("%d rows in force after the withdrawal", got)
			}
			if diff := cmp.Diff(first, only(t, asKnown(t, d, atFirst))); diff != "" {
				t.Errorf("as known at first: %s", diff)
			}
			if diff := cmp.Diff(second, only(t, asKnown(t, d, corrected))); diff != "" {
				t.Errorf("as known after the correction: %s", diff)
			}
		})
	}
}

func TestAnOpenTransferIsClosedByARowThatReplacesIt(t *testing.T) {
	d, _ := newDesk(t)
	open := &inventory.Transfer{Plant: "bay", From: "a", To: "d", At: evening(0), Open: true, PlannedStop: p(now.Add(time.Hour))}
	must(t)(d.Row(t.Context(), RowReport{Report: report("starts"), Row: open}))
	closed := &inventory.Transfer{Measure: litres(90), Plant: "bay", From: "a", To: "d", At: evening(0)}
	end := because("ends")
	end.Why = "stopped"
	must(t)(d.Row(t.Context(), RowReport{Report: end, Replaces: "transfer/bay/starts", Row: closed}))
	got := only(t, ledger(t, d)).(*inventory.Transfer)
	if got.Open || got.PlannedStop != nil || got.Volume != 90 || got.Why != "stopped" {
		t.Errorf("%+v", got)
	}
}

func TestWhatIsImpossibleInARowIsNamed(t *testing.T) {
	tests := []struct {
		name string
		row  Checked
		want []string
	}{
		{"a meter that is not there", &inventory.MeterReading{Plant: "bay", Meter: "three", At: evening(0)}, []string{"meter"}},
		{"more digits than the register", &inventory.MeterReading{Plant: "bay", Meter: "one", At: evening(0), Register: 1e6}, []string{"register"}},
		{"a swap to come", &inventory.MeterSwap{Plant: "bay", Meter: "one", At: now.Add(time.Hour)}, []string{"at"}},
		{"registers that no meter shows", &inventory.MeterSwap{Plant: "bay", Meter: "one", At: evening(0), Closing: p(1e6), Opening: p(-1.0)}, []string{"closing", "opening"}},
		{"a factor of a slipped point", &inventory.Proving{Plant: "bay", Meter: "one", At: evening(0), Factor: 10.02}, []string{"factor"}},
		{"a total of days that are not over", &inventory.PeriodTotal{Plant: "bay", Measure: litres(5), FirstDay: march, LastDay: march + 9}, []string{"last_day"}},
		{"energy below nothing", &inventory.PeriodTotal{Plant: "bay", Measure: litres(5), FirstDay: march - 9, LastDay: march - 1, Energy: p(-1.0)}, []string{"energy_kwh"}},
		{"a transfer into the same tank", &inventory.Transfer{Plant: "bay", Measure: litres(5), From: "a", To: "a", At: evening(0)}, []string{"to_tank"}},
		{"a transfer between tanks that are not there", &inventory.Transfer{Plant: "bay", Measure: litres(5), From: "x", To: "y", At: evening(0)}, []string{"from_tank", "to_tank"}},
		{"a transfer that is over, of nothing", &inventory.Transfer{Plant: "bay", From: "a", To: "d", At: evening(0)}, []string{"volume"}},
		{"a stop before the beginning", &inventory.Transfer{Plant: "bay", From: "a", To: "d", At: evening(0), Open: true, PlannedStop: p(evening(1))}, []string{"planned_stop"}},
		{"a planned stop of what is over", &inventory.Transfer{Plant: "bay", Measure: litres(5), From: "a", To: "d", At: evening(0), PlannedStop: p(now)}, []string{"planned_stop"}},
		{"a draw of less than nothing", &inventory.Draw{Plant: "bay", Measure: litres(-5), FirstDay: march, LastDay: march, Purpose: inventory.Heat}, []string{"volume"}},
		{"a draw for no purpose, days out of order", &inventory.Draw{Plant: "bay", Measure: litres(5), FirstDay: march, LastDay: march - 1}, []string{"first_day", "purpose"}},
		{"a draw too hot, of no basis", &inventory.Draw{Plant: "bay", Measure: inventory.Measure{Volume: 5, Temperature: p(units.Celsius(400)), Basis: "60F"},
			FirstDay: march, LastDay: march, Purpose: inventory.Heat}, []string{"temperature", "basis"}},
		{"no number", &inventory.Draw{Plant: "bay", Measure: litres(units.Litres(math.NaN())), FirstDay: march, LastDay: march, Purpose: inventory.Heat}, []string{"volume"}},
		{"a correction of nothing, of an unknown product", &inventory.CountCorrection{Plant: "bay", Day: march, Product: "peat"}, []string{"product", "volume"}},
		{"a change of load that ends before it begins, of two kinds", &inventory.LoadChange{Plant: "bay", From: march, Until: p(march), Times: p(1.1), Added: p(units.Kilowatts(5)), Cause: "whim"},
			[]string{"until", "times", "cause"}},
		{"degree days to come, under a base in kelvin", &inventory.DegreeDays{FirstDay: march, LastDay: march + 9, Sum: 90, Under: 291}, []string{"last_day", "base"}},
		{"another product in no tank", &inventory.ProductChange{Plant: "bay", At: evening(0), Product: "peat"}, []string{"tank", "product"}},
	}
	d, _ := newDesk(t)
	for _, tt := range tests {
		_, err := d.Row(t.Context(), RowReport{Report: report("k"), Row: tt.row})
		if diff := cmp.Diff(tt.want, refused(t, err, fault.Invalid)); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
	if got := ledgerLen(t, d); got != 0 {
		t.Errorf("%d rows of refused reports", got)
	}
}

func TestNobodyCorrectsConfirmsOrWithdrawsWithoutANameAndAReason(t *testing.T) {
	d, _ := newDesk(t)
	must(t)(d.Row(t.Context(), RowReport{Report: report("k"), Row: everyRow[0](40)}))
	key := only(t, ledger(t, d)).Base().Key
	nobody := Report{Key: "x", Plant: "bay"}
	for name, send := range map[string]func() (Receipt, error){
		"correction": func() (Receipt, error) {
			return d.Row(t.Context(), RowReport{Report: nobody, Replaces: key, Row: everyRow[0](41)})
		},
		"delivery": func() (Receipt, error) {
			return d.Delivery(t.Context(), Delivery{Report: nobody, Replaces: "delivery/bay/k", Measure: litres(5), At: evening(0)})
		},
		"confirmation": func() (Receipt, error) {
			return d.Confirm(t.Context(), Confirmation{Report: nobody, Kind: inventory.KindReading, Row: key})
		},
		"withdrawal": func() (Receipt, error) {
			return d.Withdraw(t.Context(), Withdrawal{Report: nobody, Kind: inventory.KindReading, Row: key})
		},
	} {
		_, err := send()
		if diff := cmp.Diff([]string{"who", "why"}, refused(t, err, fault.Invalid)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	if ledgerLen(t, d) != 1 {
		t.Error("something was written")
	}
}

func TestOnlyARowInForceIsConfirmed(t *testing.T) {
	d, _ := newDesk(t)
	must(t)(d.Row(t.Context(), RowReport{Report: report("k"), Row: everyRow[0](40)}))
	c := Confirmation{Report: because("yes"), Kind: inventory.KindReading, Row: "meter-reading/bay/k"}
	must(t)(d.Confirm(t.Context(), c))
	if got := ledger(t, d).Confirmations; len(got) != 1 || got[0].Of != c.Kind || got[0].Row != c.Row || got[0].Who != "A. Clerk" || got[0].Why != "misread" {
		t.Fatalf("%+v", got)
	}
	for name, c := range map[string]Confirmation{
		"never written":      {Report: because("other"), Kind: inventory.KindReading, Row: "nothing"},
		"of another kind":    {Report: because("other"), Kind: inventory.KindGauging, Row: c.Row},
		"that has no doubts": {Report: because("other"), Kind: inventory.KindSwap, Row: c.Row},
		"without a key":      {Report: because("other"), Kind: inventory.KindReading},
	} {
		_, err := d.Confirm(t.Context(), c)
		if got := refused(t, err, fault.Invalid); len(got) != 1 {
			t.Errorf("%s: %v", name, got)
		}
	}
	must(t)(d.Withdraw(t.Context(), Withdrawal{Report: because("gone"), Kind: inventory.KindReading, Row: c.Row}))
	_, err := d.Confirm(t.Context(), Confirmation{Report: because("late"), Kind: c.Kind, Row: c.Row})
	if diff := cmp.Diff([]string{"row"}, refused(t, err, fault.Invalid)); diff != "" {
		t.Error(diff)
	}
	if got := must(t)(d.Confirm(t.Context(), c)); got.Known != 1 {
		t.Errorf("%+v, want what came before to stay known", got)
	}
}

func TestARowThatIsNotInForceIsNotReplacedAndTheOneInForceIsNamed(t *testing.T) {
	eachEngine(t, func(t *testing.T, d *Desk) {
		row := everyRow[5]
		must(t)(d.Row(t.Context(), RowReport{Report: report("1"), Row: row(1)}))
		for i, step := range []string{"2", "3"} {
			must(t)(d.Row(t.Context(), RowReport{Report: because(step), Replaces: "draw/bay/" + string(rune('1'+i)), Row: row(float64(i + 2))}))
		}
		replace := func(key string) error {
			_, err := d.Row(t.Context(), RowReport{Report: because("late"), Replaces: key, Row: row(9)})
			return err
		}
		withdraw := func(key, by string) error {
			_, err := d.Withdraw(context.Background(), Withdrawal{Report: because(by), Kind: inventory.KindDraw, Row: key})
			return err
		}
		told := func(err error, where, text string) {
			t.Helper()
			if diff := cmp.Diff([]string{where}, refused(t, err, fault.Conflict)); diff != "" || !strings.Contains(err.Error(), text) {
				t.Errorf("%s%v, want it to say %q", diff, err, text)
			}
		}
		told(replace("draw/bay/2"), "replaces", "already replaced by draw/bay/3: replace that one")
		told(replace("draw/bay/1"), "replaces", "draw/bay/3 is in force by now: replace that one")
		told(replace("draw/bay/0"), "replaces", "not in the ledger")
		told(withdraw("draw/bay/1", "w"), "row", "draw/bay/3 is in force by now")
		if err := withdraw("draw/bay/3", "gone"); err != nil {
			t.Fatal(err)
		}
		told(replace("draw/bay/1"), "replaces", "withdrawn by withdrawal/bay/gone")
		told(withdraw("draw/bay/3", "w"), "row", "withdrawn by withdrawal/bay/gone")
		if ledgerLen(t, d) != 0 {
			t.Error("a row is in force")
		}
	})
}
