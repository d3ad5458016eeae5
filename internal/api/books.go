package api

import (
	"context"
	"errors"
	"slices"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/advice"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// Books opens the book of a plant; *inventory.Bookkeeper does.
type Books interface {
	Open(ctx context.Context, q inventory.BooksQuestion) (*inventory.Stretch, error)
}

// BooksQuestion asks for a plant's books over a stretch of time.
type BooksQuestion struct {
	PlantQuestion
	Product string `query:"product" maxLength:"64" doc:"The code of a product; the plant's own where it is left out." example:"diesel-1-s15"`
	From    string `query:"from" maxLength:"40" doc:"Beginning of the stretch: a local day at the plant, from its beginning, or an instant. Left out, the first of the month a year before the end." example:"2025-09-01"`
	To      string `query:"to" maxLength:"40" doc:"End of the stretch: a local day at the plant, to its end, or an instant. Left out, the close of the as-of day." example:"2026-03-02"`
	KnownAt string `query:"known_at" maxLength:"40" doc:"An instant that has passed: only rows that were written by then count. Left out, all do." example:"2026-03-04T00:00:00Z"`
}

// ReceiptsQuestion asks for the deliveries of a stretch.
type ReceiptsQuestion struct {
	BooksQuestion
	Tolerance float64 `query:"tolerance" minimum:"0.0001" maximum:"0.5" default:"0.005" doc:"How far two figures may lie apart, as a share of what was agreed on." example:"0.005"`
}

// Resolve checks the query.
func (q *ReceiptsQuestion) Resolve(ctx huma.Context) []error {
	return q.number(ctx, "tolerance", "0.005")
}

// BooksAnswer is what a plant's books say.
type BooksAnswer struct {
	Head
	Subject
	inventory.BooksStatement
}

// ReceiptsAnswer is a plant's deliveries, each figure against the others.
type ReceiptsAnswer struct {
	Head
	Subject
	inventory.BooksHead
	Receipts []inventory.BooksReceipt `json:"receipts"`
}

// UsagesAnswer is a plant's usage intervals.
type UsagesAnswer struct {
	Head
	Subject
	inventory.BooksHead
	Usages []inventory.BooksUsage `json:"usages"`
}

// reckoned is said of every operation on the books.
const reckoned = " Reckoned from the ledger when it is asked for, and not saved: any stretch can be asked for, also with what was known at an earlier moment."

func (a *API) booksOperations() {
	register(a, huma.Operation{
		OperationID: "get-books", Path: "/plants/{plant}/books", Tags: []string{"Books"},
		Summary: "What a plant's records say against its dips",
		Description: "The balances of one product, over the stretch and by month: opening + received − consumed − drawn + repaid + changed + moved − out of service = book; " +
			"the variance is physical less book; what count corrections wrote off of it stands beside it. Rows that look wrong and are left out, and transfers that still run. " +
			"No leak test, no custody-transfer record and no legal record of a spill: report a spill by the local rule at once." + reckoned,
	}, plantErrors(), a.getBooks)
	register(a, huma.Operation{
		OperationID: "list-receipts", Path: "/plants/{plant}/receipts", Tags: []string{"Books"},
		Summary:     "A plant's deliveries by document, meter and dips",
		Description: "All figures of each delivery at 15 °C, with their differences. No custody-transfer record." + reckoned,
	}, plantErrors(), a.listReceipts)
	register(a, huma.Operation{
		OperationID: "list-usages", Path: "/plants/{plant}/usages", Tags: []string{"Books"},
		Summary:     "What a plant burned, interval by interval",
		Description: "Usage intervals of one product that lie at least in part in the stretch, with their exact ends: nothing is shared out over days. Of a product that no meter measures they are the fall of its own tanks." + reckoned,
	}, plantErrors(), a.listUsages)
}

func (a *API) getBooks(ctx context.Context, q *BooksQuestion) (*BooksAnswer, error) {
	s, err := a.openBooks(ctx, q)
	if err != nil {
		return nil, err
	}
	table := s.Table()
	answer := &BooksAnswer{BooksStatement: s.Statement(table)}
	answer.Head, answer.Subject = headOfBooks(s, table.Notices)
	switch {
	case table.Finding.Verdict == inventory.NoVariance:
		answer.Quality = advice.NoAnswer
	case len(answer.Doubts)+len(answer.OpenTransfers) > 0:
		answer.Quality = advice.Weak
	}
	return answer, nil
}

func (a *API) listReceipts(ctx context.Context, q *ReceiptsQuestion) (*ReceiptsAnswer, error) {
	s, err := a.openBooks(ctx, &q.BooksQuestion)
	if err != nil {
		return nil, err
	}
	all, notes := s.Delivered(q.Tolerance)
	answer := &ReceiptsAnswer{BooksHead: s.Head(), Receipts: inventory.ReceiptStatements(all)}
	answer.Head, answer.Subject = headOfBooks(s, notes)
	return answer, nil
}

func (a *API) listUsages(ctx context.Context, q *BooksQuestion) (*UsagesAnswer, error) {
	s, err := a.openBooks(ctx, q)
	if err != nil {
		return nil, err
	}
	all, notes := s.Used()
	answer := &UsagesAnswer{BooksHead: s.Head(), Usages: inventory.UsageStatements(all)}
	answer.Head, answer.Subject = headOfBooks(s, notes)
	return answer, nil
}

// openBooks opens the book; what is wrong with the question is named as a parameter.
func (a *API) openBooks(ctx context.Context, q *BooksQuestion) (*inventory.Stretch, error) {
	s, err := a.Books.Open(ctx, inventory.BooksQuestion{
		Plant: q.Plant, Product: inventory.Product(q.Product), From: q.From, To: q.To, KnownAt: q.KnownAt,
	})
	var f *fault.Error
	if errors.As(err, &f) && f.Kind == fault.Invalid {
		for i := range f.Fields {
			f.Fields[i].Where = "query." + f.Fields[i].Where
		}
	}
	return s, err
}

// headOfBooks is the head of an answer from the books: what weakens it is in its notices.
func headOfBooks(s *inventory.Stretch, more notice.List) (Head, Subject) {
	notes := notice.List{}
	notes.AddOnce(s.SetAside()...)
	notes.AddOnce(more...)
	h := Head{AsOf: &s.AsOf, Basis: basis15, Quality: advice.Sound, Assumptions: s.Assumptions(), Notices: notes}
	if slices.ContainsFunc(notes, func(n notice.Notice) bool { return n.Severity != notice.Info }) {
		h.Quality = advice.Weak
	}
	return h, Subject{s.Plant.ID, s.Plant.Name, s.Plant.Zone}
}
