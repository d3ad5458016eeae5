package store_test

import (
	"context"
	"sync/atomic"
	"testing"
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/store"
	"overwinter/internal/store/pgtest"
	"overwinter/internal/store/storetest"
)

func TestTheSQLiteStoreKeepsItsContract(t *testing.T) {
	storetest.Run(t, func(t *testing.T) storetest.Store { return store.OpenNew(t) })
}

func TestThePostgresStoreKeepsItsContract(t *testing.T) {
	storetest.Run(t, func(t *testing.T) storetest.Store {
		return openTwice(t, store.NewPostgresLedger(t, pgtest.Shared(t)))
	})
}

// instances is one ledger opened twice, as two instances of a service on one database have it. Calls go
// to them by turns.
type instances struct {
	all  [2]*store.DB
	last atomic.Uint32
}

func openTwice(t *testing.T, url string) *instances {
	var s instances
	for i := range s.all {
		s.all[i] = store.OpenAndClose(t, url)
	}
	return &s
}

func (s *instances) next() *store.DB { return s.all[int(s.last.Add(1))%len(s.all)] }

func (s *instances) Record(ctx context.Context, rows inventory.Rows, at time.Time) (inventory.Recorded, error) {
	return s.next().Record(ctx, rows, at)
}

func (s *instances) Rehearse(ctx context.Context, rows inventory.Rows, at time.Time) (inventory.Recorded, error) {
	return s.next().Rehearse(ctx, rows, at)
}

func (s *instances) RecordStream(ctx context.Context, rows inventory.Stream, at time.Time) (inventory.Recorded, error) {
	return s.next().RecordStream(ctx, rows, at)
}

func (s *instances) RehearseStream(ctx context.Context, rows inventory.Stream, at time.Time) (inventory.Recorded, error) {
	return s.next().RehearseStream(ctx, rows, at)
}

func (s *instances) RecordReport(ctx context.Context, report inventory.Report, rows inventory.Rows, at time.Time) (inventory.Recorded, error) {
	return s.next().RecordReport(ctx, report, rows, at)
}

func (s *instances) Reported(ctx context.Context, report inventory.Report) (bool, error) {
	return s.next().Reported(ctx, report)
}

func (s *instances) VersionAt(ctx context.Context, at time.Time) (inventory.LedgerVersion, error) {
	return s.next().VersionAt(ctx, at)
}

func (s *instances) AsKnown(version int64) inventory.RowReader { return s.next().AsKnown(version) }

func (s *instances) RowsWritten(ctx context.Context, after int64, limit int) ([]inventory.Written, error) {
	return s.next().RowsWritten(ctx, after, limit)
}

func (s *instances) OrdersWritten(ctx context.Context, plant string) ([]inventory.OrderWritten, error) {
	return s.next().OrdersWritten(ctx, plant)
}

func (s *instances) Version(ctx context.Context) (int64, error) { return s.next().Version(ctx) }

func (s *instances) Changes(ctx context.Context) (map[string]int64, error) {
	return s.next().Changes(ctx)
}

func (s *instances) CountsIn(ctx context.Context, seed uint64, plant string) (bool, error) {
	return s.next().CountsIn(ctx, seed, plant)
}

func (s *instances) Directory(ctx context.Context) (inventory.Rows, error) {
	return s.next().Directory(ctx)
}

func (s *instances) PlantRows(ctx context.Context, plant string, before time.Time) (inventory.Rows, error) {
	return s.next().PlantRows(ctx, plant, before)
}

func (s *instances) RecentRows(ctx context.Context, plant string, from, before time.Time) (inventory.Rows, error) {
	return s.next().RecentRows(ctx, plant, from, before)
}

func (s *instances) SaveAdvice(ctx context.Context, issued inventory.Issued) error {
	return s.next().SaveAdvice(ctx, issued)
}

func (s *instances) Advice(ctx context.Context, plant string) ([]inventory.Issued, error) {
	return s.next().Advice(ctx, plant)
}

func (s *instances) CurrentAdvice(ctx context.Context, seed uint64, after int64) ([]inventory.Current, error) {
	return s.next().CurrentAdvice(ctx, seed, after)
}

func (s *instances) AdviceInForce(ctx context.Context, seed uint64) ([]inventory.Issued, error) {
	return s.next().AdviceInForce(ctx, seed)
}

func (s *instances) AdviceRevision(ctx context.Context, seed uint64) (int64, error) {
	return s.next().AdviceRevision(ctx, seed)
}

func (s *instances) SaveForecast(ctx context.Context, issued inventory.IssuedForecast) error {
	return s.next().SaveForecast(ctx, issued)
}

func (s *instances) Forecasts(ctx context.Context, plant string) ([]inventory.IssuedForecast, error) {
	return s.next().Forecasts(ctx, plant)
}
