package advice

import (
	"context"
	"crypto/sha256"
	"encoding/binary"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/forecast"
	"overwinter/internal/inventory"
)

// fitAll reads every plant, learns from all what the fleet's calibration holds, and fits every plant.
func (r *run) fitAll(ctx context.Context) error {
	err := r.each(ctx, r.all(), nil, func(i int) error {
		_, err := r.read(ctx, i)
		return err
	})
	if err != nil {
		return err
	}
	r.calibrate()
	return r.each(ctx, r.all(), nil, func(i int) error {
		r.fit(i)
		return nil
	})
}

// calibrate learns from the whole fleet, for this run and for those after it that fit a plant alone.
func (r *run) calibrate() {
	lent, groups := make([]*forecast.Lent, len(r.plants)), map[string]*forecast.Group{}
	for i, p := range r.plants {
		lent[i], groups[p.Group] = r.lenders[i].lent, r.pool(p.Group)
	}
	r.fleet = forecast.Calibrate(r.series, r.origin, lent, groups)
	r.known.calibrate(r.fleet)
}

// fitOne reads and fits one plant. Of the others in its climate group it takes what is known of them,
// and reads those of which nothing is; the fleet's calibration is that of the last run over all plants, or is
// learned here from all where there was none. The book is nil where the plant cannot be reckoned with.
func (r *run) fitOne(ctx context.Context, i int) (book *inventory.Book, err error) {
	err = r.each(ctx, []int{i}, nil, func(i int) error {
		book, err = r.read(ctx, i)
		return err
	})
	if err != nil || r.failed[i] != nil {
		return book, err
	}
	wanted, fleet := r.group[r.plants[i].Group], r.known.calibration()
	if fleet == nil {
		wanted = r.all()
	}
	var unknown []int
	for _, j := range wanted {
		if j == i {
			continue
		}
		// The degree days are those of the group, and were read with the plant.
		if l, ok := r.known.get(r.plants[j].ID, r.made(j)); ok && fleet != nil && l.cold == r.lenders[i].cold {
			r.lenders[j] = l
		} else {
			unknown = append(unknown, j)
		}
	}
	err = r.each(ctx, unknown, nil, func(j int) error {
		_, err := r.read(ctx, j)
		return err
	})
	if err != nil {
		return nil, err
	}
	if fleet == nil {
		r.calibrate()
	} else {
		r.fleet = *fleet
	}
	err = r.each(ctx, []int{i}, nil, func(i int) error {
		r.fit(i)
		return nil
	})
	return book, err
}

// read takes a plant's usage from its book. One that cannot be reckoned with has none, and no book.
func (r *run) read(ctx context.Context, i int) (*inventory.Book, error) {
	p := r.plants[i]
	r.series[i] = forecast.Series{Plant: p.ID, Group: p.Group}
	book, err := r.book(ctx, i)
	switch {
	case err == nil:
		usages, _ := book.PlantUsages()
		tell(&r.series[i], book, usages)
	case fault.KindOf(err) == fault.Invalid:
		r.failed[i], book = err, nil
	default:
		return nil, err
	}
	r.lenders[i] = lender{made: r.made(i), read: r.version, usage: usageVersion(r.series[i]), cold: binaryDigest(r.series[i].Cold)}
	if len(r.group[p.Group]) > 1 { // else there is nobody to lend to
		r.lenders[i].lent = forecast.Lend(r.series[i], r.origin)
		r.known.put(p.ID, r.lenders[i])
	}
	return book, nil
}

// fit fits a plant with what the others of its climate group lend.
func (r *run) fit(i int) {
	r.models[i] = forecast.Fit(r.series[i], r.origin, r.lenders[i].lent, r.pool(r.plants[i].Group), r.fleet)
}

// pool gathers what the plants of a climate group lend; nil stands for those that failed.
func (r *run) pool(group string) *forecast.Group {
	r.pools.Lock()
	defer r.pools.Unlock()
	g, known := r.pools.group[group]
	if !known {
		var lent []*forecast.Lent
		for _, j := range r.group[group] {
			lent = append(lent, r.lenders[j].lent)
		}
		g = forecast.NewGroup(lent)
		r.pools.group[group] = g
	}
	return g
}

// made identifies what a plant's usage and season are made of, its readings, its load changes and the degree days of its
// group apart.
func (r *run) made(i int) string {
	return digest(r.dir.Version(r.plants[i].ID), r.asOf[i], r.origin)
}

// usageVersion identifies a plant's usage and what a forecast is told beside it.
func usageVersion(s forecast.Series) string {
	return binaryDigest(s.Intervals, s.Energy, s.Cold, s.Changes, s.Facts)
}

// binaryDigest identifies values of fixed size, and lists of them, apart from each other.
func binaryDigest(values ...any) string {
	var all []byte
	for _, v := range values {
		all = binary.LittleEndian.AppendUint64(all, uint64(binary.Size(v)))
		var err error
		if all, err = binary.Append(all, binary.LittleEndian, v); err != nil {
			panic("advice: " + err.Error()) // a value of no fixed size would be left out
		}
	}
	sum := sha256.Sum256(all)
	return string(sum[:])
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
