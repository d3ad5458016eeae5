package web

import (
	"context"
	"html/template"
	"net/http"
	"net/url"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// Books opens the book of a plant; *inventory.Bookkeeper does.
type Books interface {
	Open(ctx context.Context, q inventory.BooksQuestion) (*inventory.Stretch, error)
}

// booksPage is what a plant's records say against its dips.
type booksPage struct {
	Frame
	Name, Product, Heading string
	Act                    bool
	Lead                   string
	Then                   string // the moment whose knowledge is shown, "" for the present
	Done, Wrong            string // what became of a confirmation
	Plant, Path, Receipts  string
	RoundPath, JSON        string
	Ask                    booksForm
	Doubts                 []doubtView
	Earlier                string
	OpenTransfers          []string
	Unit                   string
	Whole                  balanceView
	Usages                 usagesView
	Months                 monthsView
	Chart                  template.HTML
	Sources                []sourceRow
	Deliveries             []deliveryRow
	Notices                []noticeRow
	Screen                 string
	Assumptions            []string
}

// booksForm is the stretch that is shown, as it stands in the form, and as it was asked for.
type booksForm struct {
	From, To, AskedFrom, AskedTo string
	Known, Product               string
	Products                     []inventory.Product
}

var booksTemplate = load[booksPage]("books")

func (s *Site) registerBooks(e *echo.Echo) {
	shows(e, "/books", s.choose(toBooks))
	shows(e, "/plants/:id/books", s.books)
	e.POST("/plants/:id/books/confirm", s.confirmRow)
	shows(e, "/plants/:id/receipts", s.receipts)
	shows(e, "/plants/:id/receipts/:document", s.receipts)
}

func booksPath(id string) string { return plantPath(id) + "/books" }

func receiptsPath(id string) string { return plantPath(id) + "/receipts" }

// toBooks leads to a plant's books.
var toBooks = destination{
	place: "books", title: "Which plant’s books?", path: booksPath,
	lead:  "What the records say against what the dips say: what looks wrong, what is missing, and what each delivery brought.",
	empty: "Load a data folder with your plants, tanks and meters first; then their books are kept here.",
}

func (s *Site) books(c echo.Context) error {
	stretch, err := s.openBooks(c, c.QueryParams())
	if err != nil {
		return err
	}
	page := s.booksOf(c, stretch, c.QueryParams())
	if c.QueryParam("done") == "confirmed" {
		page.Done = "It is written down: the row counts now, and the balances with it."
	}
	return booksTemplate.render(c, http.StatusOK, page)
}

// openBooks opens the book that the fields of an address or a form ask for.
func (s *Site) openBooks(c echo.Context, v url.Values) (*inventory.Stretch, error) {
	ctx := c.Request().Context()
	q := inventory.BooksQuestion{
		Plant: plantID(c), Product: inventory.Product(v.Get("product")), From: strings.TrimSpace(v.Get("from")), To: strings.TrimSpace(v.Get("to")),
	}
	if known := v.Get("known"); known != "" {
		rows, err := s.deps.Ledger.Directory(ctx)
		if err != nil {
			return nil, err
		}
		if q.KnownAt, err = knownMoment(known, recordOf(rows, q.Plant)); err != nil {
			return nil, err
		}
	}
	return s.deps.Books.Open(ctx, q)
}

// knownMoment reads a moment as a plant's clocks show it, in the form in which browsers send one.
func knownMoment(text string, p *inventory.Plant) (string, error) {
	zone, err := p.Location()
	if err != nil {
		zone = time.UTC
	}
	day, clock, _ := strings.Cut(strings.Replace(text, " ", "T", 1), "T")
	at, problem := wallMoment(day, clock, zone)
	if problem != "" {
		return "", fault.New(fault.Invalid, "the books cannot be opened like this").With(fault.Field{Where: "known at", Message: problem})
	}
	return at.UTC().Format(time.RFC3339), nil
}

func (s *Site) booksOf(c echo.Context, b *inventory.Stretch, v url.Values) booksPage {
	w := bookWordsOf(b)
	table := b.Table()
	path := booksPath(b.Plant.ID)
	page := booksPage{
		Name: b.Plant.Name, Product: string(b.Product), Heading: w.heading(table.Finding), Then: w.then(b), Unit: w.scale.Label,
		Act: table.Finding.Verdict == inventory.FuelMissing || table.Finding.Verdict == inventory.FuelOver, Path: path,
		Plant: plantPath(b.Plant.ID), Receipts: receiptsPath(b.Plant.ID) + asked(v, "from", "to", "known", "product"), RoundPath: roundPath(b.Plant.ID),
		Ask: formOf(b, v), Whole: w.balance(table.Whole), Months: w.months(table), Sources: w.sources(table),
		Screen: strings.ReplaceAll(inventory.ScreenScope, "'", "’"), Assumptions: b.Assumptions(),
	}
	page.Frame = s.booksFrame(c, b, page.Heading)
	if s.deps.JSON != nil {
		page.JSON = s.deps.JSON(b.Plant.ID) + "/books"
	}
	doubts, before := b.Inside()
	page.Doubts = w.doubts(doubts)
	if before > 0 {
		page.Earlier = capital(count(before, "row looks wrong", "rows look wrong")) + " in the time before this stretch: begin it earlier to see them."
	}
	page.Lead = w.lead(table, len(doubts))
	for _, n := range b.OpenTransfers() {
		page.OpenTransfers = append(page.OpenTransfers, sentence(w.message(n.Subject+" "+n.Message)))
	}
	if page.Chart = w.chart(table.Months); page.Chart != "" {
		page.Months.Charted = true
	}
	receipts, notes := b.Delivered(0)
	page.Deliveries = w.deliveries(receipts)
	all := b.SetAside()
	all.AddOnce(table.Notices...)
	all.AddOnce(notes...)
	page.Usages, notes = w.usages(b)
	all.AddOnce(notes...)
	for _, n := range all {
		page.Notices = append(page.Notices, w.notice(n))
	}
	return page
}

// booksFrame is the frame of a page about a plant's books.
func (s *Site) booksFrame(c echo.Context, b *inventory.Stretch, heading string) Frame {
	f := s.frame(c, "books", b.Plant.Name+": "+heading)
	f.AsOf = "at the close of " + fullDay(b.AsOf) + " · " + scalesOf(b.Plant.Display).volume.Label + " at 15" + joint + "°C"
	return f
}

// formOf fills the form with what is shown: its days, since a browser drops a moment from a field for a day.
func formOf(b *inventory.Stretch, v url.Values) booksForm {
	day := func(at time.Time) string { return calendar.DayOf(at, b.Zone).String() }
	return booksForm{From: day(b.From), To: day(b.To.Add(-time.Millisecond)), AskedFrom: v.Get("from"), AskedTo: v.Get("to"), Known: v.Get("known"),
		Product: string(b.Product), Products: b.Products}
}

// asked gives those fields of an address that are filled, as the end of another address.
func asked(v url.Values, names ...string) string {
	kept := url.Values{}
	for _, n := range names {
		if v.Get(n) != "" {
			kept.Set(n, v.Get(n))
		}
	}
	if len(kept) == 0 {
		return ""
	}
	return "?" + kept.Encode()
}
