package web

import (
	"math"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// receiptsPage is a plant's deliveries, each a sheet of its own when printed.
type receiptsPage struct {
	Frame
	Name, Heading, Lead, Then string
	Books, All                string // the other pages
	Unit                      string
	Sheets                    []receiptSheet
}

// receiptSheet is one delivery, each figure against the others.
type receiptSheet struct {
	Title, Rows, Product, Refused string
	Figures                       []figureLine
	Differences                   []differenceLine
}

// figureLine is what one way of measuring says of a delivery.
type figureLine struct{ Name, Amount, Off, Why string }

// differenceLine is one figure less another.
type differenceLine struct {
	Name, Amount, Off, Share, Says string
	Act                            bool
}

// deliveryRow is a delivery in the books' list.
type deliveryRow struct {
	When, Document, Path, Agreed, Says string
	Act                                bool
}

var receiptsTemplate = load[receiptsPage]("receipts")

// longAgo is before any delivery: a receipt that is asked for by its document may be of any year.
const longAgo = "1900-01-01"

func (s *Site) receipts(c echo.Context) error {
	v, one := c.QueryParams(), pathParam(c, "document")
	if one != "" && v.Get("from") == "" {
		v.Set("from", longAgo)
	}
	b, err := s.openBooks(c, v)
	if err != nil {
		return err
	}
	all, _ := b.Delivered(0)
	if one != "" {
		all = slices.DeleteFunc(all, func(r inventory.Receipt) bool { return r.Document != one && !slices.Contains(r.Keys, one) })
		if len(all) == 0 {
			return fault.New(fault.NotFound, "plant %s has no delivery %q: choose one from its books", b.Plant.ID, one)
		}
	}
	w := bookWordsOf(b)
	page := receiptsPage{Name: b.Plant.Name, Heading: w.receiptsHeading(all), Then: w.then(b), Books: booksPath(b.Plant.ID), Unit: w.scale.Label,
		Lead: "Each figure at 15" + joint + "°C. A difference is held against " + percent(inventory.AgreedTolerance) + " of what was agreed on, and against the figures’ own errors."}
	if one != "" {
		page.All = receiptsPath(b.Plant.ID)
	}
	page.Frame = s.booksFrame(c, b, page.Heading)
	for _, r := range all {
		page.Sheets = append(page.Sheets, w.sheet(r))
	}
	return receiptsTemplate.render(c, http.StatusOK, page)
}

// receiptsHeading counts the deliveries whose figures do not agree.
func (w bookWords) receiptsHeading(all []inventory.Receipt) string {
	apart, compared := 0, 0
	for _, r := range all {
		if len(r.Differences) > 0 {
			compared++
		}
		if slices.ContainsFunc(r.Differences, func(d inventory.Difference) bool { return !d.Within }) {
			apart++
		}
	}
	deliveries := capital(count(len(all), "delivery", "deliveries"))
	switch {
	case len(all) == 0:
		return "No delivery in this stretch"
	case compared == 0 && len(all) == 1:
		return "One delivery: one figure, nothing to hold it against"
	case compared == 0:
		return deliveries + ": one figure each, nothing to hold it against"
	case apart == 0:
		return deliveries + ": the figures agree"
	}
	return deliveries + ": the figures of " + number(apart) + " lie farther apart than agreed"
}

func documentName(r inventory.Receipt) string {
	if r.Document == "" {
		return "without a document"
	}
	return r.Document
}

func (w bookWords) sheet(r inventory.Receipt) receiptSheet {
	s := receiptSheet{Title: "Delivery " + documentName(r) + ", " + w.day(r.First), Product: string(r.Product),
		Rows: capital(count(len(r.Keys), "row", "rows")) + " of the ledger: " + strings.Join(r.Keys, ", ")}
	if r.Last != r.First {
		s.Title += " to " + w.day(r.Last)
	}
	if r.Refused != 0 {
		s.Refused = "Sent back, as stated: " + read(w.scale, float64(r.Refused)) + joint + w.scale.Label + "."
	}
	for _, f := range []struct {
		name string
		of   inventory.Figure
	}{{"agreed on, and counted", r.Agreed}, {"by the document", r.ByDocument}, {"by the delivery’s meter", r.ByMeter}, {"by the dips before and after", r.ByDips}} {
		line := figureLine{Name: f.name, Why: w.message(f.of.Why)}
		if f.of.Known {
			line.Amount, line.Off = w.amount(f.of.Litres), w.amount(f.of.Sigma)
		}
		s.Figures = append(s.Figures, line)
	}
	for _, d := range r.Differences {
		s.Differences = append(s.Differences, differenceLine{Name: d.Of + " less " + d.Less, Amount: w.amount(d.Litres), Off: w.amount(d.Sigma),
			Share: signedShare(d.Share), Says: differenceSays(d, r.Tolerance), Act: !d.Within})
	}
	return s
}

// differenceSays judges a difference twice: by what was agreed, and by what the figures themselves can show.
func differenceSays(d inventory.Difference, tolerance float64) string {
	text := "within " + percent(tolerance)
	if !d.Within {
		text = "beyond " + percent(tolerance)
	}
	if d.Certain {
		return text + "; more than the figures’ own errors make"
	}
	return text + "; no more than the figures’ own errors make"
}

// deliveries lists the receipts, each with the difference that lies farthest out.
func (w bookWords) deliveries(all []inventory.Receipt) []deliveryRow {
	var rows []deliveryRow
	for _, r := range all {
		row := deliveryRow{When: w.short(r.First), Document: documentName(r), Agreed: w.amount(r.Agreed.Litres), Says: "one figure: nothing to hold it against"}
		name := r.Document
		if name == "" {
			name = r.Keys[0]
		}
		row.Path = receiptsPath(w.plant) + "/" + url.PathEscape(name)
		farthest := 0.0
		for i, d := range r.Differences {
			if far := math.Abs(d.Share); i == 0 || far > farthest {
				farthest = far
				row.Says = d.Of + " less " + d.Less + " " + w.amount(d.Litres) + " (" + signedShare(d.Share) + "), " + differenceSays(d, r.Tolerance)
				row.Act = !d.Within
			}
		}
		rows = append(rows, row)
	}
	return rows
}
