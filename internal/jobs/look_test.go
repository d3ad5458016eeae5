package jobs

import (
	"context"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"overwinter/internal/fault"
)

// asIfDue makes an adviser to which a plant is due while its row is of a later version than it was advised
// from.
func asIfDue(l *ledger, plant string, row *atomic.Int64) *adviser {
	a := new(adviser)
	var advised atomic.Int64
	advised.Store(1)
	a.plant = func(context.Context, string) error {
		version, err := l.Version(context.Background())
		advised.Store(version)
		return err
	}
	a.upTo = func(version int64) []string {
		if min(row.Load(), version) > advised.Load() {
			return []string{plant}
		}
		return nil
	}
	return a
}

func TestARowThatCameByAnotherWayIsCountedInWithinMinutes(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var row atomic.Int64
		l := &ledger{zones: []string{"Etc/GMT-12"}, version: 1}
		a := asIfDue(l, "a", &row)
		j, _ := beginOn(t, a, l)
		j.Start()
		time.Sleep(10*time.Minute + time.Second)
		if fleets, plants := a.asked(); fleets != 1 || plants != nil {
			t.Fatalf("without news the fleet was advised %d times, plants %v", fleets, plants)
		}
		l.set(func(l *ledger) { l.version++; row.Store(l.version) })
		time.Sleep(time.Minute)
		if _, plants := a.asked(); plants != nil {
			t.Errorf("%v were advised before whoever wrote the row had a minute for it", plants)
		}
		time.Sleep(time.Minute)
		if _, plants := a.asked(); !slices.Equal(plants, []string{"a"}) {
			t.Errorf("%v were advised", plants)
		}
		time.Sleep(30 * time.Minute)
		if fleets, plants := a.asked(); fleets != 1 || len(plants) != 1 {
			t.Errorf("afterwards the fleet was advised %d times, plants %v", fleets, plants)
		}
	})
}

func TestAPlantThatIsBeingRefreshedIsNotAdvisedBeside(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var row atomic.Int64
		l := &ledger{zones: []string{"Etc/GMT-12"}, version: 1}
		a := asIfDue(l, "a", &row)
		whenDone := a.plant
		a.plant = func(ctx context.Context, id string) error {
			time.Sleep(5 * time.Minute)
			return whenDone(ctx, id)
		}
		j, _ := beginOn(t, a, l)
		j.Start()
		time.Sleep(10 * time.Minute)
		l.set(func(l *ledger) { l.version++; row.Store(l.version) })
		if err := j.Refresh(t.Context(), "a"); err != nil {
			t.Error(err)
		}
		time.Sleep(30 * time.Minute)
		if _, plants := a.asked(); len(plants) != 1 {
			t.Errorf("advised: %v", plants)
		}
	})
}

// The ledger is away when the service starts, and again later: no run is tried while it is, and one begins
// within a minute once it is back.
func TestAfterAnOutageARunBeginsAsSoonAsTheLedgerAnswers(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := &ledger{zones: []string{"Etc/GMT-12"}, version: 1, away: fault.New(fault.Unavailable, "away")}
		var lost atomic.Bool
		a := &adviser{due: func() []string {
			if lost.Load() {
				return []string{"a"}
			}
			return nil
		}}
		a.plant = func(context.Context, string) error {
			_, err := l.Version(context.Background())
			lost.Store(err != nil)
			return err
		}
		j, log := beginOn(t, a, l)
		j.Start()
		time.Sleep(10*time.Minute + time.Second)
		if fleets, _ := a.asked(); fleets != 0 || strings.Count(log.String(), `"ERROR"`) != 1 {
			t.Errorf("while the ledger is away the fleet was advised %d times:\n%s", fleets, log)
		}
		l.set(func(l *ledger) { l.away = nil })
		time.Sleep(time.Minute)
		if fleets, _ := a.asked(); fleets != 1 || !j.CaughtUp() {
			t.Errorf("when it was back the fleet was advised %d times", fleets)
		}

		l.set(func(l *ledger) { l.away = fault.New(fault.Unavailable, "away") })
		if err := j.Refresh(t.Context(), "a"); fault.KindOf(err) != fault.Unavailable {
			t.Errorf("Refresh says %v", err)
		}
		time.Sleep(5 * time.Minute)
		l.set(func(l *ledger) { l.away = nil })
		time.Sleep(time.Minute)
		if lost.Load() {
			t.Error("the plant whose refresh was lost is not advised a minute after the ledger is back")
		}
	})
}
