package intake

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

var nan = math.NaN()

func seen() Seen {
	return Seen{
		Bowl: inventory.BowlWater, Alarms: []inventory.Alarm{inventory.AlarmLow, inventory.AlarmPumpDown}, PumpRunning: p(false),
		RunningHours: p(40512.5), EnergyRegister: p(2.9e6), Note: "Float sticks.\nTapped it.",
	}
}

func TestAWholeRoundIsWritten(t *testing.T) {
	d, _ := newDesk(t)
	r := round("k", 0, 100, 50)
	r.Tanks, r.Seen = []TankEntry{{Tank: "a", Depth: p(units.Millimetres(1200)), Moving: true}}, seen()
	for _, want := range []inventory.Recorded{{New: 4}, {Known: 4}} {
		if got := must(t)(d.Round(t.Context(), r)); got.New != want.New || got.Known != want.Known {
			t.Errorf("%+v, want %+v", got, want)
		}
	}
	rows := ledger(t, d)
	want := &inventory.Round{
		Entry: inventory.Entry{Key: "round/bay/k", Who: "A. Operator"}, Plant: "bay", At: evening(0), Bowl: "water",
		Alarms: []inventory.Alarm{"low-level", "pump-down"}, PumpRunning: p(false), RunningHours: p(40512.5), EnergyRegister: p(2.9e6),
		Note: "Float sticks.\nTapped it.",
	}
	if diff := cmp.Diff([]*inventory.Round{want}, rows.Rounds); diff != "" {
		t.Error(diff)
	}
	if !rows.Gaugings[0].Moving {
		t.Error("that fuel ran is lost")
	}
	other := r
	other.Seen.Note = "Float sticks."
	_, err := d.Round(t.Context(), other)
	refused(t, err, fault.Conflict)
}

func TestWhatWasSeenAloneIsARoundAndIsCorrected(t *testing.T) {
	d, _ := newDesk(t)
	must(t)(d.Round(t.Context(), Round{Report: report("k"), At: evening(0), Seen: Seen{Bowl: inventory.BowlIce}}))
	before := version(t, d)
	right := Round{Report: because("right"), At: evening(0), Seen: Seen{Replaces: "round/bay/k", Bowl: inventory.BowlTrace}}
	must(t)(d.Round(t.Context(), right))
	got := only(t, ledger(t, d)).(*inventory.Round)
	if got.Bowl != inventory.BowlTrace || got.Replaces != "round/bay/k" || got.Why != "misread" {
		t.Errorf("%+v", got)
	}
	if then := only(t, asKnown(t, d, before)).(*inventory.Round); then.Bowl != inventory.BowlIce {
		t.Errorf("as known before: %+v", then)
	}
	must(t)(d.Withdraw(t.Context(), Withdrawal{because("gone"), inventory.KindRound, got.Key}))
	if n := ledgerLen(t, d); n != 0 {
		t.Errorf("%d rows in force", n)
	}
}

func TestWhatCannotBeSeenIsNamed(t *testing.T) {
	d, _ := newDesk(t)
	r := Round{Report: report("k"), At: evening(0), Seen: Seen{
		Bowl: "beer", Alarms: []inventory.Alarm{"leak", "leak", "fire"}, RunningHours: p(-1.0), EnergyRegister: p(nan), Note: "\x00",
	}}
	_, err := d.Round(t.Context(), r)
	want := []string{"filter_bowl", "alarms", "alarms", "running_hours", "energy_register_kwh", "note"}
	if diff := cmp.Diff(want, refused(t, err, fault.Invalid)); diff != "" {
		t.Error(diff)
	}
}
