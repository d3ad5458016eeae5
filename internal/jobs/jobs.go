// Package jobs keeps the advice in force up to date: it advises every plant once a day by the plant's own
// clocks, catches up on what was missed, and advises a plant at once when a reading of it comes in. What came
// into the ledger by another way, or while it could not be reached, it finds within minutes.
//
// Advice is kept under what it was made from. So any number of instances on one database may do the same
// at the same time: the work is done twice and kept once.
package jobs

import (
	"context"
	"log/slog"
	"runtime"
	"sync"
	"sync/atomic"

	"github.com/robfig/cron/v3"

	"overwinter/internal/advice"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// Adviser makes advice and puts it in force.
type Adviser interface {
	Fleet(ctx context.Context) error
	Plant(ctx context.Context, id string) (advice.Plant, error)
	Due(ctx context.Context, upTo int64) ([]string, error)
}

// Ledger tells which plants there are, and how far the ledger has moved on.
type Ledger interface {
	Directory(ctx context.Context) (inventory.Rows, error)
	Version(ctx context.Context) (int64, error)
}

// Jobs are the runs of one process.
type Jobs struct {
	adviser Adviser
	ledger  Ledger
	log     *slog.Logger

	cron  *cron.Cron
	job   cron.Job        // a run: see run.go
	zones map[string]bool // those that the schedule knows; of the run that is going
	whole atomic.Bool     // the next run advises the whole fleet

	caughtUp atomic.Bool
	going    atomic.Bool // a run is going
	looks    looks

	ctx     context.Context // of every run: it ends when a stop has waited long enough
	cancel  context.CancelFunc
	running sync.WaitGroup // runs outside the schedule

	mu      sync.Mutex
	stopped bool
	turns   map[string]*turn // by plant that is being refreshed: the turn that waits, nil for none
	slots   chan struct{}    // holds the refreshes that go at once
}

// New makes the jobs of a ledger. The schedule begins with Start; Refresh works from now on.
func New(adviser Adviser, ledger Ledger, log *slog.Logger) *Jobs {
	j := &Jobs{
		adviser: adviser, ledger: ledger, log: log,
		cron:  cron.New(cron.WithLogger(cron.DiscardLogger), cron.WithChain()),
		zones: map[string]bool{}, turns: map[string]*turn{},
		slots: make(chan struct{}, runtime.GOMAXPROCS(0)),
	}
	j.ctx, j.cancel = context.WithCancel(context.Background())
	// Skip stands outside: a panic that passed through it would never give its token back, and every later
	// run would be skipped.
	chain := cron.NewChain(cron.SkipIfStillRunning(events{log}), cron.Recover(events{log}))
	j.job = chain.Then(cron.FuncJob(j.run))
	return j
}

// Start catches up with the whole fleet at once, in the background, and begins the schedule.
func (j *Jobs) Start() {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.stopped {
		return
	}
	j.whole.Store(true)
	j.cron.Schedule(hourly, j.job)
	j.cron.Schedule(minutely, cron.FuncJob(j.look))
	j.cron.Start()
	j.running.Go(j.job.Run)
}

// CaughtUp tells whether the whole fleet has been advised since the start.
func (j *Jobs) CaughtUp() bool { return j.caughtUp.Load() }

// Stop ends the schedule and waits for what is running, which goes on until the context ends and is
// given up then.
func (j *Jobs) Stop(ctx context.Context) error {
	j.mu.Lock()
	j.stopped = true
	j.mu.Unlock()
	scheduled := j.cron.Stop()
	idle := make(chan struct{})
	go func() {
		<-scheduled.Done()
		j.running.Wait()
		close(idle)
	}()
	defer j.cancel()
	select {
	case <-idle:
		return nil
	case <-ctx.Done():
		return fault.Wrap(fault.Unavailable, ctx.Err(), "a forecast was still running and was given up; it is made up for at the next start")
	}
}

// events writes what the wrappers of a run report to the log.
type events struct{ log *slog.Logger }

// Info is called when a run is skipped.
func (e events) Info(string, ...any) {
	e.log.Info("a run was skipped: the last one is still going")
}

// Error is called when a run panics.
func (e events) Error(err error, _ string, about ...any) {
	e.log.Error("a run failed of a fault in the program", append([]any{"error", err}, about...)...)
}
