package jobs

import (
	"context"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"overwinter/internal/fault"
)

func count(text, part string) int { return strings.Count(text, part) }

func TestTheStartAdvisesTheWholeFleetAndTheHourWhatIsDue(t *testing.T) {
	tests := []struct {
		name   string
		due    []string
		fleets int
		plants []string
	}{
		{"nothing is due", nil, 1, nil},
		{"few are advised one by one", []string{"b", "a"}, 1, []string{"b", "a"}},
		{"many are advised together", []string{"a", "b", "c", "d"}, 2, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				a := &adviser{due: func() []string { return slices.Clone(tt.due) }}
				j, _ := begin(t, a, "Etc/GMT-12") // where the daily time is far
				j.Start()
				time.Sleep(90 * time.Minute)
				if fleets, plants := a.asked(); fleets != tt.fleets || !slices.Equal(plants, tt.plants) {
					t.Errorf("the fleet was advised %d times, plants %v; want %d and %v", fleets, plants, tt.fleets, tt.plants)
				}
			})
		})
	}
}

func TestARunThatPanicsDoesNotStopTheNext(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		a := new(adviser)
		a.fleet = func(context.Context) error {
			if fleets, _ := a.asked(); fleets < 3 {
				panic("a fault of the adviser")
			}
			return nil
		}
		j, log := begin(t, a, "Etc/GMT-12")
		j.Start()
		time.Sleep(5*time.Hour + time.Minute)
		if fleets, _ := a.asked(); fleets != 3 { // the start, an hour later, and the one that succeeds
			t.Errorf("the fleet was advised %d times, want 3", fleets)
		}
		if n := count(log.String(), "a fault of the adviser"); n != 2 {
			t.Errorf("the panics were logged %d times, want once each:\n%s", n, log)
		}
	})
}

func TestARunThatFailsIsMadeUpForWithinTheHour(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		a := new(adviser)
		a.fleet = func(context.Context) error {
			if fleets, _ := a.asked(); fleets == 1 {
				return fault.New(fault.Unavailable, "the ledger is away")
			}
			return nil
		}
		j, log := begin(t, a, "Etc/GMT-12")
		j.Start()
		time.Sleep(30 * time.Second) // before the first look, which makes up for it
		if j.CaughtUp() {
			t.Error("a run that failed has caught up")
		}
		time.Sleep(3 * time.Hour)
		if !j.CaughtUp() {
			t.Error("a run that succeeded has not caught up")
		}
		if fleets, _ := a.asked(); fleets != 2 || count(log.String(), "the ledger is away") != 1 {
			t.Errorf("the fleet was advised %d times, want 2:\n%s", fleets, log)
		}
	})
}

func TestOnePlantThatFailsKeepsNoOtherFromItsAdvice(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		a := &adviser{due: func() []string { return []string{"a", "b", "c"} }}
		a.plant = func(_ context.Context, id string) error {
			if id == "a" {
				return errors.New("no")
			}
			return nil
		}
		j, _ := begin(t, a, "Etc/GMT-12")
		j.Start()
		time.Sleep(90 * time.Minute)
		if _, plants := a.asked(); !slices.Equal(plants, []string{"a", "b", "c"}) {
			t.Errorf("advised: %v", plants)
		}
	})
}

func TestALongRunIsSkippedAndNotStacked(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var going atomic.Int32
		a := &adviser{due: func() []string { return []string{"a", "b", "c", "d"} }}
		a.fleet = func(context.Context) error {
			if going.Add(1) > 1 {
				t.Error("two runs went at once")
			}
			time.Sleep(150 * time.Minute)
			going.Add(-1)
			return nil
		}
		j, log := begin(t, a, "Etc/GMT-12")
		j.Start()
		time.Sleep(6*time.Hour - time.Minute)
		if fleets, _ := a.asked(); fleets != 2 { // at 0:00 and at 3:00
			t.Errorf("runs began at %v", a.fleets)
		}
		if n := count(log.String(), "skipped"); n != 4 { // 1:00, 2:00, 4:00, 5:00
			t.Errorf("%d runs were skipped, want 4", n)
		}
		if err := j.Stop(t.Context()); err != nil {
			t.Error(err)
		}
	})
}

func TestAStopWaitsForWhatRuns(t *testing.T) {
	for _, tt := range []struct {
		name  string
		limit time.Duration
		takes time.Duration
		ends  bool
	}{
		{"it ends in time", time.Minute, 10 * time.Second, true},
		{"it is given up", time.Minute, time.Hour, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				var cancelled atomic.Bool
				work := func(ctx context.Context) error {
					select {
					case <-time.After(tt.takes):
						return nil
					case <-ctx.Done():
						cancelled.Store(true)
						return ctx.Err()
					}
				}
				a := &adviser{fleet: work, plant: func(ctx context.Context, _ string) error { return work(ctx) }}
				j, log := begin(t, a, "UTC")
				j.Start()
				go func() { _ = j.Refresh(t.Context(), "a") }() // its answer is another test's
				synctest.Wait()
				ctx, cancel := context.WithTimeout(t.Context(), tt.limit)
				defer cancel()
				if err := j.Stop(ctx); (err == nil) != tt.ends {
					t.Errorf("Stop says %v", err)
				}
				synctest.Wait()
				if cancelled.Load() == tt.ends {
					t.Errorf("cancelled: %v", cancelled.Load())
				}
				if count(log.String(), `"ERROR"`) != 0 {
					t.Errorf("a stop is no error:\n%s", log)
				}
				if err := j.Refresh(t.Context(), "a"); fault.KindOf(err) != fault.Unavailable {
					t.Errorf("a refresh after the stop: %v", err)
				}
				j.Start() // does nothing any more
				time.Sleep(2 * time.Hour)
				if fleets, _ := a.asked(); fleets != 1 {
					t.Errorf("%d runs, want one", fleets)
				}
			})
		})
	}
}

func TestARunIsOneLineInTheLog(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		a := &adviser{fleet: func(context.Context) error { time.Sleep(1500 * time.Millisecond); return nil }}
		j, log := begin(t, a, "UTC", "Asia/Tokyo")
		j.Start()
		time.Sleep(time.Minute)
		var line struct {
			Msg        string
			Plants     int
			DurationMS int64 `json:"duration_ms"`
		}
		if err := json.Unmarshal([]byte(log.String()), &line); err != nil {
			t.Fatalf("not one JSON line: %v\n%s", err, log)
		}
		if line.Msg != "forecast" || line.Plants != 2 || line.DurationMS != 1500 {
			t.Errorf("the log says %s", log)
		}
	})
}
