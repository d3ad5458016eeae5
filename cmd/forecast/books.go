package main

import (
	"context"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/store"
)

// booksCommand shows the books of plants.
type booksCommand struct {
	sourceFlags
	Plant     []string `placeholder:"ID" help:"Only this plant; may be repeated."`
	Product   string   `placeholder:"CODE" help:"Only this product. Default: each that the plant's tanks hold or once held."`
	From      string   `placeholder:"DAY" help:"From the beginning of this local day, or from a moment such as 2026-03-02T12:00:00Z. Default: the first of the month a year before the end."`
	To        string   `placeholder:"DAY" help:"To the end of this local day, or to a moment. Default: the close of the as-of day."`
	KnownAt   string   `name:"known-at" placeholder:"MOMENT" help:"With what the ledger held at this moment, such as 2026-03-02T12:00:00Z, and no row that was written later."`
	Tolerance float64  `default:"0.005" help:"How far two figures of a delivery may lie apart, as a share of what was agreed on."`
	Usage     bool     `help:"List the usage intervals, too."`
}

// bookOfPlant is one product's book at one plant.
type bookOfPlant struct {
	Plant       string       `json:"plant"`
	Name        string       `json:"name"`
	Zone        string       `json:"zone"`
	AsOf        calendar.Day `json:"as_of"`
	Basis       string       `json:"basis"`
	Assumptions []string     `json:"assumptions"`
	Notices     notice.List  `json:"notices"`
	inventory.BooksStatement
	Receipts []inventory.BooksReceipt `json:"receipts"`
	Usages   []inventory.BooksUsage   `json:"usages,omitempty"`

	zone     *time.Location
	receipts []inventory.Receipt
	table    inventory.BalanceTable
}

// Run shows the books.
func (b *booksCommand) Run(ctx context.Context, c *console) error {
	if !(b.Tolerance >= inventory.LeastTolerance && b.Tolerance <= inventory.MostTolerance) {
		return fault.New(fault.Invalid, "--tolerance: %v is out of range: expected a share from %v to %v, such as 0.005 for 0.5 %%",
			b.Tolerance, inventory.LeastTolerance, inventory.MostTolerance)
	}
	books, err := b.ask(ctx)
	if err != nil {
		return err
	}
	if b.JSON {
		return c.json(struct {
			Books []bookOfPlant `json:"books"`
		}{books})
	}
	for _, one := range books {
		c.book(one)
	}
	c.booksCautions()
	return nil
}

// ask reads the books and closes the ledger again.
func (b *booksCommand) ask(ctx context.Context) ([]bookOfPlant, error) {
	now := time.Now()
	day, err := b.day(now)
	if err != nil {
		return nil, err
	}
	db, done, err := b.open(ctx)
	if err != nil {
		return nil, err
	}
	defer done()
	plants, err := b.plants(ctx, db)
	if err != nil {
		return nil, err
	}
	keeper := &inventory.Bookkeeper{Ledger: db, Clock: calendar.At(now), AsOf: day}
	books := []bookOfPlant{}
	for _, id := range plants {
		of, err := b.booksOf(ctx, keeper, id)
		if err != nil {
			return nil, err
		}
		books = append(books, of...)
	}
	if len(books) == 0 {
		return nil, fault.New(fault.NotFound, "no tank of any plant holds %q or ever did: the products are %v", b.Product, inventory.Products())
	}
	return books, nil
}

// plants gives the ids that are asked for, or all.
func (b *booksCommand) plants(ctx context.Context, db *store.DB) ([]string, error) {
	if len(b.Plant) > 0 {
		return b.Plant, nil
	}
	rows, err := db.Directory(ctx)
	if err != nil {
		return nil, err
	}
	if len(rows.Plants) == 0 {
		return nil, fault.New(fault.NotFound, "the ledger holds no plants: load a data folder first")
	}
	ids := make([]string, len(rows.Plants))
	for i, p := range rows.Plants {
		ids[i] = p.ID
	}
	return ids, nil
}

// booksOf opens the books of a plant. A product that was asked for of all plants is passed over where none is held.
func (b *booksCommand) booksOf(ctx context.Context, k *inventory.Bookkeeper, plant string) ([]bookOfPlant, error) {
	q := inventory.BooksQuestion{Plant: plant, From: b.From, To: b.To, KnownAt: b.KnownAt}
	first, err := k.Open(ctx, q)
	if err != nil {
		return nil, err
	}
	asked := inventory.Product(b.Product)
	if asked != "" && len(b.Plant) == 0 && !slices.Contains(first.Products, asked) {
		return nil, nil
	}
	var all []bookOfPlant
	for _, q.Product = range b.products(first) {
		s, err := k.Open(ctx, q)
		if err != nil {
			return nil, err
		}
		all = append(all, b.bookOf(s))
	}
	return all, nil
}

// products are those that are asked for: the plant's own first.
func (b *booksCommand) products(s *inventory.Stretch) []inventory.Product {
	if b.Product != "" {
		return []inventory.Product{inventory.Product(b.Product)}
	}
	all := []inventory.Product{s.Product}
	for _, p := range s.Products {
		if p != s.Product {
			all = append(all, p)
		}
	}
	return all
}

func (b *booksCommand) bookOf(s *inventory.Stretch) bookOfPlant {
	one := bookOfPlant{Plant: s.Plant.ID, Name: s.Plant.Name, Zone: s.Plant.Zone, AsOf: s.AsOf, Basis: "15C",
		Assumptions: s.Assumptions(), Notices: notice.List{}, zone: s.Zone, table: s.Table()}
	one.BooksStatement = s.Statement(one.table)
	notes := notice.List{}
	notes.AddOnce(s.SetAside()...)
	notes.AddOnce(one.table.Notices...)
	var more notice.List
	one.receipts, more = s.Delivered(b.Tolerance)
	notes.AddOnce(more...)
	one.Receipts = inventory.ReceiptStatements(one.receipts)
	if b.Usage {
		used, more := s.Used()
		notes.AddOnce(more...)
		one.Usages = inventory.UsageStatements(used)
	}
	one.Notices = notes
	return one
}
