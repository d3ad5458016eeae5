package advice

import (
	"context"
	"runtime"
	"sync"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/forecast"
	"overwinter/internal/inventory"
	"overwinter/internal/resupply"
)

// run is one pass over the fleet at one moment: what every answer starts from. Plants' rows are read
// again when their turn comes, so that a large fleet is never held in memory whole.
type run struct {
	store   inventory.Reader
	version int64 // of the ledger: all that is read holds it at least
	dir     *inventory.Directory
	plants  []*inventory.Plant
	asOf    []calendar.Day // by plant
	origin  calendar.Day   // see days
	opts    Options
	group   map[string][]int // plants by climate group, in order

	past    pastFits
	known   *lenders
	fleet   forecast.Calibration
	pools   pools
	lenders []lender // by plant, and so are the others
	series  []forecast.Series
	models  []forecast.Model
	failed  []error // why a plant cannot be reckoned with

	kept   inventory.ForecastStore     // nil where nothing is issued
	toKeep []*inventory.IssuedForecast // by plant: what is to be kept with its advice, nil where nothing is

	compare *comparison                                // what options are compared from, nil where none are asked for
	decided func(*resupply.Problem, resupply.Decision) // is told what was decided; nil where nobody asks
}

// beginIssuing begins a run whose answers are kept.
func beginIssuing(ctx context.Context, store Store, o Options, known *lenders) (*run, error) {
	r, err := begin(ctx, store, o, known)
	if err != nil {
		return nil, err
	}
	r.kept, r.toKeep = store, make([]*inventory.IssuedForecast, len(r.plants))
	return r, nil
}

// pools keeps what the plants of each climate group lend, gathered when first asked for.
type pools struct {
	sync.Mutex
	group map[string]*forecast.Group
}

// begin reads the directory.
func begin(ctx context.Context, store inventory.Reader, o Options, known *lenders) (*run, error) {
	version, err := store.Version(ctx)
	if err != nil {
		return nil, err
	}
	rows, err := store.Directory(ctx)
	if err != nil {
		return nil, err
	}
	n := len(rows.Plants)
	if n == 0 {
		return nil, fault.New(fault.NotFound, "the ledger holds no plants: load a data folder first")
	}
	r := &run{
		store: store, version: version, dir: inventory.NewDirectory(rows), plants: rows.Plants, opts: o, group: map[string][]int{},
		past: pastFits{done: map[windowAsOf]*pastFit{}}, known: known, pools: pools{group: map[string]*forecast.Group{}}, lenders: make([]lender, n), series: make([]forecast.Series, n), models: make([]forecast.Model, n),
		failed: make([]error, n),
	}
	r.asOf, r.origin = o.days(rows.Plants)
	for i, p := range r.plants {
		r.group[p.Group] = append(r.group[p.Group], i)
	}
	return r, nil
}

// days gives the as-of day of each plant, that of UTC where the zone is not known, and the last day of
// any plant whose zone is: around the date line the plants' todays differ by one, and no plant's
// readings reach beyond its own.
func (o Options) days(plants []*inventory.Plant) (asOf []calendar.Day, last calendar.Day) {
	zones := map[string]*time.Location{} // loading one takes a while
	any := false
	for _, p := range plants {
		zone, known := zones[p.Zone]
		if !known {
			zone, _ = p.Location() // nil where it is not known; the book says so
			zones[p.Zone] = zone
		}
		day := o.day(time.UTC)
		if zone != nil {
			day = o.day(zone)
		}
		asOf = append(asOf, day)
		if zone != nil && (!any || day > last) {
			last, any = day, true
		}
	}
	if !any {
		last = o.day(time.UTC)
	}
	return asOf, last
}

func (o Options) day(zone *time.Location) calendar.Day {
	if o.AsOf != nil {
		return *o.AsOf
	}
	return calendar.DayOf(o.Now, zone)
}

// all lists the plants by index.
func (r *run) all() []int {
	all := make([]int, len(r.plants))
	for i := range all {
		all[i] = i
	}
	return all
}

// book reads a plant's rows up to the close of its as-of day.
func (r *run) book(ctx context.Context, i int) (*inventory.Book, error) {
	p := r.plants[i]
	zone, err := p.Location()
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "unknown time zone %q", p.Zone)
	}
	// Day-dated rows count by the day in UTC and moments by the plant's: the later end holds both, and the
	// book leaves out what lies beyond its own.
	_, end := r.asOf[i].Bounds(zone)
	if _, utc := r.asOf[i].Bounds(time.UTC); utc.After(end) {
		end = utc
	}
	rows, err := r.store.PlantRows(ctx, p.ID, end)
	if err != nil {
		return nil, err
	}
	return inventory.NewBook(r.dir, p.ID, rows, r.asOf[i])
}

// each does work for the given plants on all cores. Where the store is not there the run stops and that is
// the error; any other failure is the plant's own and is noted in failed.
func (r *run) each(ctx context.Context, plants []int, progress func(done, of int), work func(i int) error) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	turns := make(chan int)
	var group sync.WaitGroup
	var mu sync.Mutex
	done := 0
	for range min(runtime.GOMAXPROCS(0), len(plants)) {
		group.Go(func() {
			for i := range turns {
				if err := guarded(i, work); stops(err) {
					cancel(err)
					continue
				} else if err != nil {
					r.failed[i] = err
				}
				mu.Lock()
				done++
				if progress != nil {
					progress(done, len(plants))
				}
				mu.Unlock()
			}
		})
	}
	for _, i := range plants {
		if ctx.Err() != nil {
			break
		}
		turns <- i
	}
	close(turns)
	group.Wait()
	return context.Cause(ctx)
}
