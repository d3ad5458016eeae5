package jobs

import (
	"bytes"
	"context"
	"log/slog"
	"slices"
	"sync"
	"testing"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/inventory"
)

// adviser is an adviser that a test tells what to do, and that notes what it was asked for and when.
type adviser struct {
	fleet func(context.Context) error
	plant func(context.Context, string) error
	due   func() []string
	upTo  func(int64) []string // what is due up to a version, if set

	mu     sync.Mutex
	fleets []time.Time
	plants []string
}

func (a *adviser) Fleet(ctx context.Context) error {
	a.mu.Lock()
	a.fleets = append(a.fleets, time.Now())
	a.mu.Unlock()
	if a.fleet == nil {
		return nil
	}
	return a.fleet(ctx)
}

func (a *adviser) Plant(ctx context.Context, id string) (advice.Plant, error) {
	a.mu.Lock()
	a.plants = append(a.plants, id)
	a.mu.Unlock()
	if a.plant == nil {
		return advice.Plant{}, nil
	}
	return advice.Plant{}, a.plant(ctx, id)
}

func (a *adviser) Due(_ context.Context, upTo int64) ([]string, error) {
	if a.upTo != nil {
		return a.upTo(upTo), nil
	}
	if a.due == nil {
		return nil, nil
	}
	return a.due(), nil
}

// asked gives how often the fleet was advised, and the plants that were by themselves.
func (a *adviser) asked() (fleets int, plants []string) {
	a.mu.Lock()
	defer a.mu.Unlock()
	return len(a.fleets), slices.Clone(a.plants)
}

// ledger holds plants, one in each of the zones.
type ledger struct {
	mu      sync.Mutex
	zones   []string
	version int64
	away    error // what the ledger answers, if set
}

func (l *ledger) Version(context.Context) (int64, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.version, l.away
}

// set changes the ledger.
func (l *ledger) set(change func(*ledger)) {
	l.mu.Lock()
	defer l.mu.Unlock()
	change(l)
}

func (l *ledger) Directory(context.Context) (rows inventory.Rows, err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	for _, zone := range l.zones {
		rows.Plants = append(rows.Plants, &inventory.Plant{ID: "plant of " + zone, Zone: zone})
	}
	return rows, l.away
}

// written is a log that a test reads.
type written struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (w *written) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.text.Write(p)
}

func (w *written) String() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.text.String()
}

// begin makes jobs that end with the test.
func begin(t *testing.T, a *adviser, zones ...string) (*Jobs, *written) {
	t.Helper()
	return beginOn(t, a, &ledger{zones: zones, version: 1})
}

func beginOn(t *testing.T, a *adviser, l *ledger) (*Jobs, *written) {
	t.Helper()
	log := new(written)
	j := New(a, l, slog.New(slog.NewJSONHandler(log, nil)))
	t.Cleanup(func() {
		ctx, cancel := context.WithCancel(context.Background())
		cancel()
		_ = j.Stop(ctx) // what a test leaves running is given up
	})
	return j, log
}
