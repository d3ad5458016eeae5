package web

import (
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/budget"
	"overwinter/internal/fault"
)

// budgetPage is the coming consumption in litres and money.
type budgetPage struct {
	Frame
	Lead  []string
	First bool // no budget has been worked out yet

	Price, Currency           string // as they stand in the form
	PriceWrong, CurrencyWrong string
	Source                    string // what price is used, and where it comes from
	Money                     string // the currency of the table's columns, "" where there is no price
	CSV                       string

	Plant  string // id of the plant that is shown alone, "" for all
	Choice []budgetChoice
	Chart  template.HTML
	Years  []budgetRow
	Plants []plantRow
	Months []budgetRow
	Mixed  string // why the plants' table does not add up to the heading, "" where it may
	Next   string // the fiscal year that the heading and the plants' table speak of
	Notes  []string
}

// budgetChoice is a plant that the page can be narrowed to.
type budgetChoice struct {
	ID, Name string
	Chosen   bool
}

// budgetRow is one line of a table.
type budgetRow struct {
	Name, Note string
	Litres     rangeCells
	Money      rangeCells
	Sum        string // money since the first month, litres where there is no price
}

// plantRow is one plant's next fiscal year and what is left of the current one.
type plantRow struct {
	Name, Path string
	Next, Rest budgetRow
}

// rangeCells is a quantity: its median, and the span from its 10 to its 90 % point.
type rangeCells struct{ Mid, Span string }

var budgetTemplate = load[budgetPage]("budget")

func (s *Site) registerBudget(e *echo.Echo) {
	shows(e, "/budget", s.budget)
	shows(e, "/budget.csv", s.budgetCSV)
}

// priced is what a request asks for: the saved budget at the price that holds for it, and the plant or
// the fleet that it is narrowed to.
type priced struct {
	advice.FleetBudget
	shown budget.Budget
	name  string // of the plant, "" for all
	plant string
	given bool // the price was given in the address

	price, currency           string // as given, or as saved
	priceWrong, currencyWrong string
}

// ask reads the address against the saved budget. The error is fault.NotFound for a plant that is not in it.
func (s *Site) ask(c echo.Context, saved *advice.FleetBudget) (priced, error) {
	q := priced{FleetBudget: *saved, price: strings.TrimSpace(c.QueryParam("price")), currency: c.QueryParam("currency")}
	q.reprice()
	q.shown = q.Fleet
	if q.plant = c.QueryParam("plant"); q.plant == "" {
		return q, nil
	}
	for _, p := range q.Plants {
		if p.Plant == q.plant {
			q.name = p.Name
			if q.shown = (budget.Budget{}); p.Budget != nil {
				q.shown = *p.Budget
			}
			return q, nil
		}
	}
	return q, fault.New(fault.NotFound, "there is no budget for a plant %q: choose one from the Budget page", q.plant)
}

// reprice takes the price of the address, where there is one that can be used.
func (q *priced) reprice() {
	saved := q.FleetBudget.Price
	if q.currency = strings.TrimSpace(q.currency); q.currency == "" {
		q.currency = saved.Currency
	}
	currency, known := budget.CurrencyOf(q.currency)
	if known {
		q.currency = currency
	}
	if q.price == "" {
		q.currency = saved.Currency
		if saved.PerLitre > 0 {
			q.price = strconv.FormatFloat(saved.PerLitre, 'f', -1, 64)
		}
		return
	}
	value, problem := figure(q.price)
	switch {
	case problem != "":
		q.priceWrong = problem
	case value < 0 || value >= budget.MostPerLitre:
		q.priceWrong = fmt.Sprintf("%s is no price of a litre: expected 0 or more and less than %s", read(plainScale, value), whole(budget.MostPerLitre))
	}
	if !known {
		q.currencyWrong = "expected a currency’s three letters, such as CAD or USD"
	}
	if q.priceWrong == "" && q.currencyWrong == "" {
		q.FleetBudget, q.given = q.FleetBudget.At(advice.Price{PerLitre: value, Currency: currency}), true
	}
}

func (s *Site) budget(c echo.Context) error {
	now, err := s.deps.Desk.InForce(c.Request().Context())
	if err != nil {
		return err
	}
	if now.Budget == nil {
		return budgetTemplate.render(c, http.StatusOK, budgetPage{
			Frame: s.frame(c, "budget", "No budget has been worked out yet"), First: true,
			Lead: []string{"It comes with the first forecast of all plants, which the service makes when it starts and once a day. Reload this page in a minute; if it stays like this, the log says why."},
		})
	}
	q, err := s.ask(c, now.Budget)
	if err != nil {
		return err
	}
	page := q.page()
	title := page.Title
	page.Frame = s.frame(c, "budget", title)
	page.AsOf = "as of " + fullDay(q.AsOf) + " · litres at 15" + joint + "°C"
	status := http.StatusOK
	if q.priceWrong != "" || q.currencyWrong != "" {
		status = http.StatusUnprocessableEntity
	}
	return budgetTemplate.render(c, status, page)
}

// source says what price is used and where it comes from.
func (q priced) source() string {
	p := q.FleetBudget.Price
	switch {
	case p.PerLitre == 0 && !q.given:
		return "No price is set, so this is in litres alone. Write a price to see money."
	case q.given:
		return "Reckoned at " + priceText(p) + " a litre at 15" + joint + "°C: the price that you wrote here. It is in this page’s address and nowhere else."
	}
	return "Reckoned at " + priceText(p) + " a litre at 15" + joint + "°C: the price that this service was set up with."
}

func priceText(p advice.Price) string {
	return p.Currency + joint + strconv.FormatFloat(p.PerLitre, 'f', -1, 64)
}

// query is the part of an address that keeps the price, with a plant.
func (q priced) query(plant string) string {
	v := url.Values{}
	if q.given {
		v.Set("price", strconv.FormatFloat(q.FleetBudget.Price.PerLitre, 'f', -1, 64))
		v.Set("currency", q.FleetBudget.Price.Currency)
	}
	if plant != "" {
		v.Set("plant", plant)
	}
	if len(v) == 0 {
		return ""
	}
	return "?" + v.Encode()
}
