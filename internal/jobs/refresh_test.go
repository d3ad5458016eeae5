package jobs

import (
	"context"
	"errors"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"overwinter/internal/fault"
)

func TestRefreshesOfOnePlantAreMerged(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var going atomic.Int32
		a := &adviser{plant: func(context.Context, string) error {
			if going.Add(1) > 1 {
				t.Error("two refreshes of one plant went at once")
			}
			time.Sleep(time.Second)
			going.Add(-1)
			return nil
		}}
		j, _ := begin(t, a, "UTC")
		var callers sync.WaitGroup
		begun := time.Now()
		ask := func(want time.Duration) {
			callers.Go(func() {
				if err := j.Refresh(t.Context(), "a"); err != nil {
					t.Error(err)
				}
				if took := time.Since(begun); took != want {
					t.Errorf("an answer came after %v, want %v", took, want)
				}
			})
		}
		ask(time.Second)
		time.Sleep(500 * time.Millisecond)
		for range 20 { // their rows may have come too late for the refresh that is going
			ask(2 * time.Second)
		}
		callers.Wait()
		if _, plants := a.asked(); len(plants) != 2 {
			t.Errorf("21 callers caused %d refreshes, want 2", len(plants))
		}
		if err := j.Refresh(t.Context(), "a"); err != nil {
			t.Error(err)
		}
		if _, plants := a.asked(); len(plants) != 3 {
			t.Errorf("a later refresh: %d in all, want 3", len(plants))
		}
		synctest.Wait()
		j.mu.Lock()
		defer j.mu.Unlock()
		if len(j.turns) != 0 {
			t.Errorf("%d plants are still held to be busy", len(j.turns))
		}
	})
}

func TestNoMoreRefreshesGoAtOnceThanThereAreCores(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var going, most atomic.Int32
		a := &adviser{plant: func(context.Context, string) error {
			most.Store(max(most.Load(), going.Add(1)))
			time.Sleep(time.Second)
			going.Add(-1)
			return nil
		}}
		j, _ := begin(t, a, "UTC")
		j.slots = make(chan struct{}, 2)
		var callers sync.WaitGroup
		for _, id := range []string{"a", "b", "c", "d", "e"} {
			callers.Go(func() { _ = j.Refresh(t.Context(), id) })
		}
		callers.Wait()
		if most.Load() != 2 {
			t.Errorf("%d refreshes went at once, want 2", most.Load())
		}
	})
}

func TestARefreshThatFailsIsTriedAgainWithinTheHour(t *testing.T) {
	for _, tt := range []struct {
		name  string
		fail  func() error
		kind  fault.Kind
		again bool
	}{
		{"the ledger is away", func() error { return fault.New(fault.Unavailable, "away") }, fault.Unavailable, true},
		{"a panic", func() error { panic("a fault of the adviser") }, fault.Internal, true},
		{"an error of another kind", func() error { return errors.New("no") }, fault.Internal, true},
		{"no such plant", func() error { return fault.New(fault.NotFound, "no such plant") }, fault.NotFound, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				a := new(adviser)
				var due atomic.Bool
				a.plant = func(context.Context, string) error {
					if _, plants := a.asked(); len(plants) == 1 {
						due.Store(tt.again)
						return tt.fail()
					}
					due.Store(false)
					return nil
				}
				a.due = func() []string {
					if due.Load() {
						return []string{"a"}
					}
					return nil
				}
				j, log := begin(t, a, "Etc/GMT-12")
				j.Start()
				time.Sleep(time.Minute)
				if err := j.Refresh(t.Context(), "a"); err == nil || fault.KindOf(err) != tt.kind {
					t.Errorf("Refresh says %v", err)
				}
				want := []string{"a"}
				if time.Sleep(3 * time.Minute); tt.kind == fault.Unavailable {
					want = append(want, "a")
				}
				if _, plants := a.asked(); !slices.Equal(plants, want) {
					t.Errorf("advised after some minutes: %v, want %v", plants, want)
				}
				want = []string{"a"}
				if time.Sleep(3 * time.Hour); tt.again {
					want = []string{"a", "a"}
				}
				if _, plants := a.asked(); !slices.Equal(plants, want) {
					t.Errorf("advised: %v, want %v", plants, want)
				}
				if n := count(log.String(), `"ERROR"`); n != 1 {
					t.Errorf("%d errors were logged, want one:\n%s", n, log)
				}
			})
		})
	}
}

func TestARefreshGoesOnWhenItsCallerLeaves(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var ended atomic.Bool
		a := &adviser{plant: func(ctx context.Context, _ string) error {
			time.Sleep(time.Minute)
			ended.Store(ctx.Err() == nil)
			return nil
		}}
		j, _ := begin(t, a, "UTC")
		ctx, cancel := context.WithTimeout(t.Context(), time.Second)
		defer cancel()
		if err := j.Refresh(ctx, "a"); fault.KindOf(err) != fault.Unavailable || !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("Refresh says %v", err)
		}
		time.Sleep(2 * time.Minute)
		if !ended.Load() {
			t.Error("the refresh did not end")
		}
	})
}
