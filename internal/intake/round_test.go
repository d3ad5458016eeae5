package intake

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

func TestARoundIsWrittenWholeOnce(t *testing.T) {
	d, refresh := newDesk(t)
	r := round("k", 0, 100, 50)
	r.At = r.At.Add(1234567 * time.Nanosecond)
	r.Tanks = []TankEntry{{Tank: "a", Depth: p(units.Millimetres(1200)), Temperature: p(units.Celsius(2))}}
	got := must(t)(d.Round(t.Context(), r))
	if got.New != 3 || got.Known != 0 || !got.Advised {
		t.Errorf("first: %+v", got)
	}
	got = must(t)(d.Round(t.Context(), r))
	if got.New != 0 || got.Known != 3 || !got.Advised {
		t.Errorf("again: %+v", got)
	}
	if refresh.calls != 1 {
		t.Errorf("advised %d times, want once", refresh.calls)
	}
	rows := ledger(t, d)
	if rows.Len() != 3 {
		t.Errorf("%d rows in the ledger, want 3", rows.Len())
	}
	if at := rows.Readings[0].At; !at.Equal(evening(0).Add(time.Millisecond)) {
		t.Errorf("kept for %v, want whole milliseconds", at)
	}
}

func TestWhatIsWrongWithARoundIsNamedAllAtOnce(t *testing.T) {
	good := func() Round { return round("k", 0, 100, 50) }
	tests := []struct {
		name string
		with func(*Round)
		want []string
	}{
		{"no value", func(r *Round) { r.Meters = nil }, []string{"meters"}},
		{"no key", func(r *Round) { r.Key = "" }, []string{"key"}},
		{"key with a slash", func(r *Round) { r.Key = "a/b" }, []string{"key"}},
		{"no moment", func(r *Round) { r.At = time.Time{} }, []string{"at"}},
		{"in the future", func(r *Round) { r.At = now.Add(time.Second) }, []string{"at"}},
		{"more digits than the register", func(r *Round) { r.Meters[0].Register = 1e6 }, []string{"meters/one/register"}},
		{"no number", func(r *Round) { r.Meters[1].Register = math.NaN() }, []string{"meters/two/register"}},
		{"meter that is not there", func(r *Round) { r.Meters[1].Meter = "three" }, []string{"meters/three"}},
		{"meter without a name", func(r *Round) { r.Meters[1].Meter = "" }, []string{"meters/2"}},
		{"meter given twice", func(r *Round) { r.Meters[1].Meter = "one" }, []string{"meters/one"}},
		{"tank given twice", func(r *Round) {
			r.Tanks = []TankEntry{{Tank: "a", Depth: p(units.Millimetres(1))}, {Tank: "a", Depth: p(units.Millimetres(2))}}
		}, []string{"tanks/a"}},
		{"deeper than the tank", func(r *Round) { r.Tanks = []TankEntry{{Tank: "a", Depth: p(units.Millimetres(4001))}} }, []string{"tanks/a/depth"}},
		{"a depth where only the volume can be known", func(r *Round) { r.Tanks = []TankEntry{{Tank: "d", Depth: p(units.Millimetres(10))}} }, []string{"tanks/d/depth"}},
		{"in the future and deeper than the tank", func(r *Round) {
			r.At, r.Tanks = now.Add(time.Hour), []TankEntry{{Tank: "a", Depth: p(units.Millimetres(4001))}}
		}, []string{"at", "tanks/a/depth"}},
		{"several at once", func(r *Round) {
			r.Who, r.Meters[0].Register, r.Meters[1].Register = "tab\there", -1, -1
			r.Tanks = []TankEntry{{Tank: "x", Depth: p(units.Millimetres(1))}}
		}, []string{"who", "meters/one/register", "meters/two/register", "tanks/x"}},
	}
	d, refresh := newDesk(t)
	for _, tt := range tests {
		r := good()
		tt.with(&r)
		_, err := d.Round(t.Context(), r)
		if diff := cmp.Diff(tt.want, refused(t, err, fault.Invalid)); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
	if rows := ledger(t, d); rows.Len() != 0 || refresh.calls != 0 {
		t.Errorf("%d rows, advised %d times: want nothing of refused rounds", rows.Len(), refresh.calls)
	}
}

func TestAnUnknownPlantIsNotFound(t *testing.T) {
	d, _ := newDesk(t)
	r := round("k", 0, 1, 1)
	r.Plant = "nowhere"
	_, err := d.Round(t.Context(), r)
	refused(t, err, fault.NotFound)
}

// What a key stands for is the whole round: a value changed, added, left out or moved in time is
// another one.
func TestAKeyStandsForOneRound(t *testing.T) {
	tests := []struct {
		name string
		with func(*Round)
	}{
		{"another register", func(r *Round) { r.Meters[1].Register++ }},
		{"another moment", func(r *Round) { r.At = r.At.Add(-time.Millisecond) }},
		{"a meter less", func(r *Round) { r.Meters = r.Meters[:1] }},
		{"a tank more", func(r *Round) { r.Tanks = []TankEntry{{Tank: "a", Depth: p(units.Millimetres(5))}} }},
		{"nothing in common", func(r *Round) {
			r.Meters, r.Tanks = nil, []TankEntry{{Tank: "a", Depth: p(units.Millimetres(5))}}
		}},
		{"nothing in common, a year earlier", func(r *Round) {
			r.At = r.At.AddDate(-1, 0, 0)
			r.Meters, r.Tanks = nil, []TankEntry{{Tank: "a", Depth: p(units.Millimetres(5))}}
		}},
		{"in the place of an older row", func(r *Round) { r.Meters[0].Replaces = rowKey("round", "bay", "older", "one") }},
	}
	d, _ := newDesk(t)
	must(t)(d.Round(t.Context(), round("older", 2, 90, 49)))
	must(t)(d.Round(t.Context(), round("k", 1, 100, 50)))
	for _, tt := range tests {
		r := round("k", 1, 100, 50)
		tt.with(&r)
		_, err := d.Round(t.Context(), r)
		if refused(t, err, fault.Conflict); ledgerLen(t, d) != 4 {
			t.Errorf("%s: the ledger has changed", tt.name)
		}
	}
}

func ledgerLen(t testing.TB, d *Desk) int {
	rows := ledger(t, d)
	return rows.Len()
}

func TestWhoSentItIsNoPartOfAReport(t *testing.T) {
	d, _ := newDesk(t)
	must(t)(d.Round(t.Context(), round("k", 1, 100, 50)))
	r := round("k", 1, 100, 50)
	r.Who = "somebody else"
	if got := must(t)(d.Round(t.Context(), r)); got.Known != 2 {
		t.Errorf("%+v, want it known", got)
	}
}

func TestARoundThatCameBeforeStaysKnown(t *testing.T) {
	d, _ := newDesk(t)
	old := round("old", 3, 100, 50)
	must(t)(d.Round(t.Context(), old))
	must(t)(d.Round(t.Context(), round("new", 1, 900, 90)))
	d.Clock = calendar.At(now.AddDate(0, 2, 0))
	// The meter has been taken for a shorter one since: the round would be refused today.
	shorter := &inventory.Meter{Entry: inventory.Entry{Key: "one-2", Replaces: "one"}, Plant: "bay", ID: "one", Digits: 2, LitresPerCount: 1}
	if _, err := d.Ledger.Record(t.Context(), inventory.Rows{Meters: []*inventory.Meter{shorter}}, now); err != nil {
		t.Fatal(err)
	}
	if got := must(t)(d.Round(t.Context(), old)); got.Known != 2 || got.New != 0 {
		t.Errorf("%+v, want both rows known", got)
	}
}

func TestACorrectedRoundTakesTheOldOnesPlace(t *testing.T) {
	d, _ := newDesk(t)
	wrong := round("wrong", 0, 100, 50)
	must(t)(d.Round(t.Context(), wrong))
	right := round("right", 0, 110, 50)
	right.Meters[0].Replaces = rowKey("round", "bay", "wrong", "one")
	right.Meters[1].Correction = Correction{Replaces: rowKey("round", "bay", "wrong", "two"), Withdraw: true}
	for _, want := range []inventory.Recorded{{New: 2}, {Known: 2}} {
		got := must(t)(d.Round(t.Context(), right))
		if got.New != want.New || got.Known != want.Known || codes(got) != nil {
			t.Errorf("%+v, want %+v and nothing doubtful", got, want)
		}
	}
	rows := ledger(t, d)
	if rows.Len() != 1 || rows.Readings[0].Register != 110 {
		t.Errorf("%d rows in force, want the corrected one alone", rows.Len())
	}
	if got := must(t)(d.Round(t.Context(), wrong)); got.Known != 2 {
		t.Errorf("the old round sent again: %+v, want it known", got)
	}
	late := round("late", 0, 120, 50)
	late.Meters[0].Replaces = rowKey("round", "bay", "wrong", "one")
	_, err := d.Round(t.Context(), late)
	refused(t, err, fault.Conflict)
}

func TestAWrittenRoundIsFoundAgain(t *testing.T) {
	d, _ := newDesk(t)
	r := round("k", 1, 100, 50)
	r.Tanks = []TankEntry{{Tank: "a", Depth: p(units.Millimetres(1200)), Water: p(units.Millimetres(3)), Temperature: p(units.Celsius(2)), Precision: 1}}
	must(t)(d.Round(t.Context(), r))
	must(t)(d.Round(t.Context(), round("k2", 0, 200, 60)))
	got, err := d.RoundOf(t.Context(), r.Report)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(r, got); diff != "" {
		t.Error(diff)
	}
	_, err = d.RoundOf(t.Context(), report("never"))
	refused(t, err, fault.NotFound)
}

func TestTheLastValuesAreThoseBeforeTheMoment(t *testing.T) {
	d, _ := newDesk(t)
	for i, key := range []string{"0", "1", "2"} {
		must(t)(d.Round(t.Context(), round(key, i, 300-float64(i)*100, 50)))
	}
	got, err := d.LastBefore(t.Context(), "bay", evening(0), map[string]bool{RoundRow(report("1"), "one"): true})
	if err != nil {
		t.Fatal(err)
	}
	if one, two := got.Meters["one"], got.Meters["two"]; one.Register != 100 || !two.At.Equal(evening(1)) {
		t.Errorf("%+v and %+v", one, two)
	}
}
