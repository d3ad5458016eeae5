package advice_test

import (
	"cmp"
	"context"
	"maps"
	"slices"
	"sync"
	"time"

	"overwinter/internal/demo"
	"overwinter/internal/inventory"
)

// ledger is a ledger with what was issued on it, held in memory. It keeps the contract of
// inventory.IssuedStore, and counts what is read.
type ledger struct {
	mu        sync.Mutex
	directory inventory.Rows
	rows      map[string]*inventory.Rows // by plant
	reads     map[string]int             // by plant
	broken    error                      // what reading a plant's rows gives, if set
	panics    string                     // the plant whose rows cannot be read for a panic
	changes   map[string]int64           // by plant
	version   int64
	saving    func(inventory.Issued) // called before advice is saved, if set

	current  map[string]inventory.Current
	revision int64

	forecasts map[string][]inventory.IssuedForecast // by plant, in order of month
}

func newLedger(rows inventory.Rows) *ledger {
	l := &ledger{
		rows: map[string]*inventory.Rows{}, reads: map[string]int{},
		current: map[string]inventory.Current{}, changes: map[string]int64{},
		forecasts: map[string][]inventory.IssuedForecast{},
	}
	for r := range rows.All() {
		l.add(r)
	}
	return l
}

func (l *ledger) add(r inventory.Record) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.changed(r.PlantID())
	switch r.Kind() {
	case inventory.KindPlant, inventory.KindTank, inventory.KindMeter, inventory.KindRoute, inventory.KindService, inventory.KindWindow, inventory.KindPastWindow,
		inventory.KindWindowLimit, inventory.KindSpendingLimit:
		l.directory.Add(r)
	default:
		if l.rows[r.PlantID()] == nil {
			l.rows[r.PlantID()] = &inventory.Rows{}
		}
		l.rows[r.PlantID()].Add(r)
	}
}

// edit changes the directory; what was handed out stays as it was.
func (l *ledger) edit(change func(*inventory.Rows)) {
	l.mu.Lock()
	defer l.mu.Unlock()
	change(&l.directory)
	l.changed("")
}

func (l *ledger) changed(plant string) {
	l.version++
	l.changes[plant] = l.version
}

func (l *ledger) Version(context.Context) (int64, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.version, nil
}

func (l *ledger) Changes(context.Context) (map[string]int64, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return maps.Clone(l.changes), nil
}

func (l *ledger) CountsIn(_ context.Context, _ uint64, plant string) (bool, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.current[plant].Ledger >= max(l.changes[plant], l.changes[""]), nil
}

// withdraw takes a plant out of the directory.
func (l *ledger) withdraw(plant string) {
	l.edit(func(d *inventory.Rows) {
		d.Plants = slices.DeleteFunc(slices.Clone(d.Plants), func(p *inventory.Plant) bool { return p.ID == plant })
	})
}

func (l *ledger) Directory(context.Context) (inventory.Rows, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.directory, nil
}

func (l *ledger) PlantRows(_ context.Context, plant string, _ time.Time) (inventory.Rows, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.reads[plant]++
	if plant == l.panics {
		panic("a fault of the ledger")
	}
	var of inventory.Rows
	if rows := l.rows[plant]; rows != nil {
		of = *rows
	}
	if cold := l.rows[""]; cold != nil {
		of.DegreeDays = ofGroup(l.directory.Plants, plant, cold.DegreeDays)
	}
	return of, l.broken
}

// ofGroup gives the degree days of a plant's climate group.
func ofGroup(plants []*inventory.Plant, plant string, all []*inventory.DegreeDays) (its []*inventory.DegreeDays) {
	for _, p := range plants {
		for _, d := range all {
			if p.ID == plant && d.Group == p.Group {
				its = append(its, d)
			}
		}
	}
	return its
}

func (l *ledger) RecentRows(ctx context.Context, plant string, _, before time.Time) (inventory.Rows, error) {
	return l.PlantRows(ctx, plant, before)
}

// readSince gives the plants whose rows were read since it was last asked.
func (l *ledger) readSince() []string {
	l.mu.Lock()
	defer l.mu.Unlock()
	read := slices.Sorted(maps.Keys(l.reads))
	clear(l.reads)
	return read
}

func (l *ledger) SaveAdvice(_ context.Context, a inventory.Issued) error {
	if l.saving != nil {
		l.saving(a)
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	c, ok := l.current[a.Plant]
	same := a.AsOf == c.AsOf && a.ModelVersion == c.ModelVersion && a.InputsVersion == c.InputsVersion
	if ok && (a.Ledger < c.Ledger || a.Ledger == c.Ledger && same) {
		return nil
	}
	l.revision++
	l.current[a.Plant] = inventory.Current{Issued: a, Revision: l.revision}
	return nil
}

func (l *ledger) SaveForecast(_ context.Context, f inventory.IssuedForecast) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	at, there := slices.BinarySearchFunc(l.forecasts[f.Plant], f, func(a, b inventory.IssuedForecast) int {
		return cmp.Compare(a.Month().First(), b.Month().First())
	})
	if !there {
		l.forecasts[f.Plant] = slices.Insert(slices.Clone(l.forecasts[f.Plant]), at, f)
	}
	return nil
}

func (l *ledger) Forecasts(_ context.Context, plant string) ([]inventory.IssuedForecast, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.Clone(l.forecasts[plant]), nil
}

func (l *ledger) CurrentAdvice(_ context.Context, _ uint64, after int64) ([]inventory.Current, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	var news []inventory.Current
	for _, c := range l.current {
		if c.Revision > after {
			news = append(news, c)
		}
	}
	slices.SortFunc(news, func(a, b inventory.Current) int { return cmp.Compare(a.Revision, b.Revision) })
	return news, nil
}

func (l *ledger) AdviceInForce(context.Context, uint64) ([]inventory.Issued, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	var all []inventory.Issued
	for _, id := range slices.Sorted(maps.Keys(l.current)) {
		a := l.current[id].Issued
		a.Body = nil
		all = append(all, a)
	}
	return all, nil
}

func (l *ledger) AdviceRevision(context.Context, uint64) (int64, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.revision, nil
}

// some is the demo scenario with some of its plants only.
func some(plants ...string) inventory.Rows {
	return only(demo.Generate(demo.DefaultSeed).InForce(), plants)
}

// someWritten is the same with the rows that others replace, as a database wants them.
func someWritten(plants ...string) inventory.Rows {
	return only(demo.Generate(demo.DefaultSeed).Rows, plants)
}

func only(whole inventory.Rows, plants []string) inventory.Rows {
	var rows inventory.Rows
	for r := range whole.All() {
		if r.PlantID() == "" || slices.Contains(plants, r.PlantID()) {
			rows.Add(r)
		}
	}
	return rows
}
