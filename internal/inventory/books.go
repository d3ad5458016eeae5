package inventory

import (
	"context"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
)

// BooksLedger is what books are opened from.
type BooksLedger interface {
	RowReader
	VersionAt(ctx context.Context, at time.Time) (LedgerVersion, error)
	AsKnown(version int64) RowReader
}

// Bookkeeper opens the books of plants. Nothing of a balance is saved, since any two moments may be asked for: it is
// reckoned from the ledger's rows each time.
type Bookkeeper struct {
	Ledger BooksLedger
	Clock  calendar.Clock
	AsOf   *calendar.Day // at whose close the books stand; nil is each plant's own today
}

// BooksQuestion says which book is asked for, and over which stretch of time, in the words in which people and machines ask.
type BooksQuestion struct {
	Plant   string
	Product Product // "" is the plant's own
	// From and To are local days at the plant, YYYY-MM-DD, the first from its beginning and the second to its end; or
	// instants of RFC 3339. A blank To is the close of the as-of day, a blank From the first of the month a year before.
	From, To string
	KnownAt  string // an instant: only rows that were written by then count; "" is now
}

// Stretch is the book of one product of a plant over a stretch of time.
type Stretch struct {
	*Book
	dir      *Directory
	From, To time.Time
	Products []Product // all that the plant's tanks hold or once held
	// KnownAt is the moment whose knowledge was asked for, nil for the present; Version the ledger as it was by then.
	KnownAt *time.Time
	Version LedgerVersion
}

// Open opens a book. The error is fault.NotFound where there is no such plant, and fault.Invalid where the question makes
// no sense: its fields are named from, to, known_at and product.
func (k *Bookkeeper) Open(ctx context.Context, q BooksQuestion) (*Stretch, error) {
	s := &Stretch{}
	from, err := k.asKnown(ctx, q.KnownAt, s)
	if err != nil {
		return nil, err
	}
	rows, err := from.Directory(ctx)
	if err != nil {
		return nil, err
	}
	dir := NewDirectory(rows)
	s.dir = dir
	plant := dir.Plant(q.Plant)
	if plant == nil {
		if s.KnownAt != nil {
			return nil, fault.New(fault.NotFound, "there is no plant %q%s: check its id, or ask for a later moment", q.Plant, s.then())
		}
		return nil, fault.New(fault.NotFound, "there is no plant %q: check its id", q.Plant)
	}
	zone, err := plant.Location()
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "plant %s: unknown time zone %q", plant.ID, plant.Zone)
	}
	asOf := k.asOf(zone, s.KnownAt)
	_, end := asOf.Bounds(zone)
	if rows, err = from.PlantRows(ctx, plant.ID, end); err != nil {
		return nil, err
	}
	s.Products = ProductsOf(dir, plant.ID, rows)
	product, err := s.choose(plant, q.Product)
	if err != nil {
		return nil, err
	}
	if s.Book, err = NewProductBook(dir, plant.ID, product, rows, asOf); err != nil {
		return nil, err
	}
	return s, s.stretch(q)
}

// asKnown gives what the rows are read from.
func (k *Bookkeeper) asKnown(ctx context.Context, at string, s *Stretch) (RowReader, error) {
	if at == "" {
		return k.Ledger, nil
	}
	moment, ok := instant(at)
	if !ok {
		return nil, unasked("known_at", "%q is no moment: expected one such as 2026-03-02T12:00:00Z, with its offset from UTC", at)
	}
	if moment.After(k.Clock()) {
		return nil, unasked("known_at", "%s is still to come: nobody knows what will be known then; leave it out to have what is known now", at)
	}
	if year := moment.UTC().Year(); year < firstYear {
		return nil, unasked("known_at", "the year %d cannot be meant: expected %d or later", year, firstYear)
	}
	s.KnownAt = &moment
	var err error
	if s.Version, err = k.Ledger.VersionAt(ctx, moment); err != nil {
		return nil, err
	}
	return k.Ledger.AsKnown(s.Version.Number), nil
}

// asOf is the day at whose close a book stands: never later than that of the moment whose knowledge is asked for.
func (k *Bookkeeper) asOf(zone *time.Location, known *time.Time) calendar.Day {
	day := calendar.DayOf(k.Clock(), zone)
	if k.AsOf != nil {
		day = *k.AsOf
	}
	if known != nil {
		day = min(day, calendar.DayOf(*known, zone))
	}
	return day
}

// then adds to a message which knowledge it speaks of.
func (s *Stretch) then() string {
	if s.KnownAt == nil {
		return ""
	}
	return " in the ledger as it was known at " + s.KnownAt.Format(time.RFC3339)
}

func (s *Stretch) choose(p *Plant, asked Product) (Product, error) {
	if asked == "" || asked == p.Product {
		return p.Product, nil
	}
	if !slices.Contains(s.Products, asked) {
		return "", unasked("product", "no tank of plant %s holds %q or ever did%s: expected %s", p.ID, asked, s.then(), anyProduct(p, s.Products))
	}
	return asked, nil
}

func anyProduct(p *Plant, held []Product) string {
	names := []string{string(p.Product)}
	for _, h := range held {
		if h != p.Product {
			names = append(names, string(h))
		}
	}
	return strings.Join(names, " or ")
}

// stretch reads between which moments the book is asked for.
func (s *Stretch) stretch(q BooksQuestion) (err error) {
	s.To = s.close()
	if q.To != "" {
		if s.To, err = s.momentOf("to", q.To); err != nil {
			return err
		}
	}
	if s.To.After(s.close()) {
		return unasked("to", "%s lies after the close of %s, at which the books stand: ask for an earlier moment, or leave it out", q.To, s.AsOf)
	}
	last := calendar.DayOf(s.To.Add(-time.Millisecond), s.Zone)
	s.From, _ = calendar.MonthOf(last).Plus(-12).First().Bounds(s.Zone)
	if q.From != "" {
		if s.From, err = s.momentOf("from", q.From); err != nil {
			return err
		}
	}
	if !s.From.Before(s.To) {
		return unasked("from", "%s is not before the end of the stretch, %s: expected an earlier moment", q.From, s.To.In(s.Zone).Format(time.RFC3339))
	}
	return nil
}

// momentOf reads a local day, of which the name of the field says which end is meant, or an instant.
func (s *Stretch) momentOf(field, text string) (time.Time, error) {
	at, ok := instant(text)
	if day, err := calendar.ParseDay(text); err == nil {
		start, end := day.Bounds(s.Zone)
		if at, ok = start, true; field == "to" {
			at = end
		}
	}
	switch year := at.In(s.Zone).Year(); {
	case !ok:
		return at, unasked(field, "%q is neither a day nor a moment: expected a local day such as 2026-03-02, or a moment such as 2026-03-02T12:00:00Z", text)
	case year < firstYear:
		return at, unasked(field, "the year %d cannot be meant: expected %d or later", year, firstYear)
	}
	return at, nil
}

// InstantForm is that of an instant by RFC 3339, section 5.6. Go's reader alone would take an hour of one digit, a comma
// before the fraction and an offset of a day.
const InstantForm = `^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d+)?(Z|[+-]([01]\d|2[0-3]):[0-5]\d)$`

var instantForm = regexp.MustCompile(InstantForm)

func instant(text string) (at time.Time, ok bool) {
	at, err := time.Parse(time.RFC3339, text)
	return at, err == nil && instantForm.MatchString(text)
}

// unasked is the error of a question that makes no sense.
func unasked(field, format string, args ...any) error {
	return fault.New(fault.Invalid, "the books cannot be opened like this").With(fault.Field{Where: field, Message: fmt.Sprintf(format, args...)})
}
