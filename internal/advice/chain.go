package advice

import (
	"context"
	"runtime"
	"slices"
	"sync"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/forecast"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// Store is what the chain needs of a store: the ledger to read, and a place to keep what it says.
type Store interface {
	inventory.Reader
	inventory.IssuedStore
}

// Options says for when and how to advise.
type Options struct {
	AsOf *calendar.Day // nil: each plant's own today
	Now  time.Time
	Seed uint64
	// Paths is the number of simulated futures; 0 means DefaultPaths.
	Paths int
	// Progress, if set, is told of each plant done, one call at a time.
	Progress func(done, of int)
}

// DefaultPaths certifies a risk of 2 % with 12 paths to spare; a risk of 1 % still with 4.
const DefaultPaths = 1000

func (o Options) paths() int {
	if o.Paths == 0 {
		return DefaultPaths
	}
	return o.Paths
}

// Advise runs the chain for every plant and saves what it says as issued.
func Advise(ctx context.Context, store Store, o Options) (Fleet, error) {
	books, err := open(ctx, store, o)
	if err != nil {
		return Fleet{}, err
	}
	fleet := Fleet{AsOf: o.AsOf, ModelVersion: ModelVersion, Seed: o.Seed, Plants: make([]Plant, len(books.plants))}
	err = books.each(ctx, o.Progress, func(i int) error {
		advice, err := books.advise(ctx, i)
		if err != nil {
			return err
		}
		fleet.Plants[i] = advice
		return save(ctx, store, advice, o.Now)
	})
	if err != nil {
		return Fleet{}, err
	}
	slices.SortStableFunc(fleet.Plants, moreUrgent)
	return fleet, nil
}

// fitted is the fleet with its consumption models: what every answer starts from. Plants' rows are
// read again when their turn comes, so that a large fleet is never held in memory whole.
type fitted struct {
	store  inventory.Reader
	dir    *inventory.Directory
	plants []*inventory.Plant
	models []forecast.Model
	usage  map[string]string // identifies each climate group's usage
	opts   Options
}

func open(ctx context.Context, store inventory.Reader, o Options) (*fitted, error) {
	rows, err := store.Directory(ctx)
	if err != nil {
		return nil, err
	}
	if len(rows.Plants) == 0 {
		return nil, fault.New(fault.NotFound, "the ledger holds no plants: load a data folder first")
	}
	f := &fitted{store: store, dir: inventory.NewDirectory(rows), plants: rows.Plants, opts: o}
	series := make([]forecast.Series, len(f.plants))
	err = f.each(ctx, nil, func(i int) error {
		book, err := f.book(ctx, i)
		if err != nil {
			return err
		}
		usages, _ := book.Usages()
		series[i] = forecast.Series{Plant: book.Plant.ID, Group: book.Plant.Group, Intervals: intervals(book, usages)}
		return nil
	})
	if err != nil {
		return nil, err
	}
	f.models, f.usage = forecast.FitFleet(series, f.lastDay()), usageVersions(series)
	return f, nil
}

// lastDay is the latest as-of day of any plant: around the date line the plants' todays differ by one,
// and no plant's readings reach beyond its own.
func (f *fitted) lastDay() calendar.Day {
	last := calendar.Day(0)
	for _, p := range f.plants {
		if zone, err := p.Location(); err == nil {
			last = max(last, f.opts.day(zone))
		}
	}
	return last
}

func (o Options) day(zone *time.Location) calendar.Day {
	if o.AsOf != nil {
		return *o.AsOf
	}
	return calendar.DayOf(o.Now, zone)
}

func (f *fitted) book(ctx context.Context, i int) (*inventory.Book, error) {
	p := f.plants[i]
	zone, err := p.Location()
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "plant %s: unknown time zone %q", p.ID, p.Zone)
	}
	asOf := f.opts.day(zone)
	// Day-dated rows count by the day in UTC and moments by the plant's: the later end holds both, and the
	// book leaves out what lies beyond its own.
	_, end := asOf.Bounds(zone)
	if _, utc := asOf.Bounds(time.UTC); utc.After(end) {
		end = utc
	}
	rows, err := f.store.PlantRows(ctx, p.ID, end)
	if err != nil {
		return nil, err
	}
	return inventory.NewBook(f.dir, p.ID, rows, asOf)
}

// each does the plants' work on all cores and gives the first error.
func (f *fitted) each(ctx context.Context, progress func(done, of int), work func(i int) error) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	turns := make(chan int)
	var group sync.WaitGroup
	var mu sync.Mutex
	done := 0
	for range min(runtime.GOMAXPROCS(0), len(f.plants)) {
		group.Go(func() {
			for i := range turns {
				if err := work(i); err != nil {
					cancel(err)
					continue
				}
				mu.Lock()
				done++
				if progress != nil {
					progress(done, len(f.plants))
				}
				mu.Unlock()
			}
		})
	}
	for i := range f.plants {
		if ctx.Err() != nil {
			break
		}
		turns <- i
	}
	close(turns)
	group.Wait()
	return context.Cause(ctx)
}

// intervals puts usage on the plant's day line.
func intervals(b *inventory.Book, usages []inventory.Usage) []forecast.Interval {
	line := make([]forecast.Interval, len(usages))
	for i, u := range usages {
		line[i] = forecast.Interval{
			Start: calendar.Fraction(u.Start, b.Zone), End: calendar.Fraction(u.End, b.Zone), Litres: u.Litres, Sigma: u.Sigma,
		}
	}
	return line
}

// believed divides usages into those that the model fits and those that it names as faulty.
func believed(b *inventory.Book, usages []inventory.Usage, m forecast.Model) (good []inventory.Usage, faulty []Fault) {
	named := map[forecast.Interval]forecast.Fault{}
	for _, f := range m.Faults() {
		named[f.Interval] = f
	}
	for i, line := range intervals(b, usages) {
		u := usages[i]
		f, bad := named[line]
		if !bad {
			good = append(good, u)
			continue
		}
		faulty = append(faulty, Fault{u.Start.In(b.Zone), u.End.In(b.Zone), float64(u.Litres), float64(f.Expected), f.Reason})
	}
	return good, faulty
}

// quality grades an answer by its notices.
func quality(known bool, notes notice.List) Quality {
	if !known {
		return NoAnswer
	}
	for _, n := range notes {
		if n.Severity != notice.Info {
			return Weak
		}
	}
	return Sound
}
