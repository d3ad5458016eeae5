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

// fitAll reads and fits every plant.
func (r *run) fitAll(ctx context.Context) error {
	err := r.each(ctx, r.all(), nil, func(i int) error {
		_, err := r.read(ctx, i)
		return err
	})
	if err != nil {
		return err
	}
	return r.each(ctx, r.all(), nil, func(i int) error {
		r.fit(i)
		return nil
	})
}

// fitOne reads and fits one plant. Of the others in its climate group it takes what is known of them,
// and reads those of which nothing is. The book is nil where the plant cannot be reckoned with.
func (r *run) fitOne(ctx context.Context, i int) (book *inventory.Book, err error) {
	var unknown []int
	for _, j := range r.group[r.plants[i].Group] {
		if j == i {
			continue
		}
		if l, ok := r.known.get(r.plants[j].ID, r.made(j)); ok {
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
	err = r.each(ctx, []int{i}, nil, func(i int) error {
		if book, err = r.read(ctx, i); err == nil {
			r.fit(i)
		}
		return err
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
		r.series[i].Intervals = intervals(book, usages)
	case fault.KindOf(err) == fault.Invalid:
		r.failed[i], book = err, nil
	default:
		return nil, err
	}
	r.lenders[i] = lender{made: r.made(i), read: r.version, usage: usageVersion(r.series[i])}
	if len(r.group[p.Group]) > 1 { // else there is nobody to lend to
		r.lenders[i].lent = forecast.Lend(r.series[i], r.origin)
		r.known.put(p.ID, r.lenders[i])
	}
	return book, nil
}

// fit fits a plant with what the others of its climate group lend.
func (r *run) fit(i int) {
	var others []*forecast.Lent
	for _, j := range r.group[r.plants[i].Group] {
		if j != i && r.lenders[j].lent != nil { // nil where it failed
			others = append(others, r.lenders[j].lent)
		}
	}
	r.models[i] = forecast.Fit(r.series[i], r.origin, r.lenders[i].lent, others)
}

// made identifies what a plant's usage and season are made of, its readings apart.
func (r *run) made(i int) string {
	return digest(r.dir.Version(r.plants[i].ID), r.asOf[i], r.origin)
}

// usageVersion identifies a plant's usage.
func usageVersion(s forecast.Series) string {
	var all []byte
	for _, i := range s.Intervals {
		all, _ = binary.Append(all, binary.LittleEndian, [...]float64{i.Start, i.End, float64(i.Litres), float64(i.Sigma)})
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
