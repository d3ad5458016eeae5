package web

import (
	"encoding/csv"
	"encoding/json"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/budget"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// steady burns a fixed number of litres a day on each of eleven paths, from so much to so much.
type steady struct{ from, to float64 }

func (s steady) Count() int { return 11 }
func (s steady) Cumulative(path, day int) float64 {
	return (s.from + (s.to-s.from)*float64(path)/10) * float64(day)
}

// fleetBudget is the budget of two plants and of one without usage, from 3 March 2031 on. The first
// plant's fiscal year begins in July; it burns 900 to 1 100 L a day, the second 90 to 110.
func fleetBudget(price advice.Price) advice.FleetBudget {
	b := advice.FleetBudget{AsOf: asOf, Price: price}
	first, second := budget.NewSheet(asOf, steady{900, 1100}, 24), budget.NewSheet(asOf, steady{90, 110}, 24)
	one, two := first.Budget(price.PerLitre, time.July), second.Budget(price.PerLitre, time.January)
	b.Plants = []advice.PlantBudget{
		{Plant: "cape-orrin", Name: "Cape Orrin", Budget: &one, Notices: notice.List{}},
		{Plant: "marten spit/2", Name: "=Marten <Spit>", Budget: &two, Notices: notice.List{notice.New(notice.Caution, "thin", "x", "data are thin")}},
		{Plant: "tern", Name: "Tern", Notices: notice.List{}},
	}
	b.Fleet = first.Add(second).Budget(price.PerLitre, time.July)
	return b
}

var cad = advice.Price{PerLitre: 1.5, Currency: "CAD"}

func budgetServer(t *testing.T, b advice.FleetBudget) *echo.Echo {
	t.Helper()
	body, err := json.Marshal(b)
	if err != nil {
		t.Fatal(err)
	}
	return server(kept{rows: []inventory.Current{{Issued: inventory.Issued{Body: body}, Revision: 1}}}, asOf)
}

// July 2031 to June 2032 has 366 days: at 1 100 L a day 402 600 L, at 1.5 a litre 603 900. April to June
// 2031 has 91 days: 100 100 L.
func TestTheHeadingIsTheNextFiscalYearWithItsRange(t *testing.T) {
	page := shown(t, get(budgetServer(t, fleetBudget(cad)), "/budget"), http.StatusOK)
	holds(t, page, "<h1>Fiscal year 2032: 403 kL, CAD 603 900</h1>",
		"Eight times in ten it is between 370 and 435 kL, CAD 555 588 and 652 212 (Jul 2031 to Jun 2032).",
		"What is left of fiscal year 2031, Apr 2031 to Jun 2031: 100 kL, CAD 150 150, between 92 and 108 kL",
		"Reckoned at CAD 1.5 a litre at 15 °C: the price that this service was set up with.",
		"Apr 2031 to Jun 2031, three months of it", "Cumulative cost", "CAD thousand", "Tern is not in the sum: its consumption is not known.",
		"Planning figures, not accounting", "as of 3 March 2031", `href="/budget.csv"`, `href="/budget?plant=marten&#43;spit%2F2"`, "=Marten &lt;Spit&gt;")
	lacks(t, page, "data are thin")
}

func TestAPriceInTheAddressMovesTheMoneyAlone(t *testing.T) {
	e := budgetServer(t, fleetBudget(cad))
	page := shown(t, get(e, "/budget?price=2,5&currency=usd"), http.StatusOK)
	holds(t, page, "Fiscal year 2032: 403 kL, USD 1 006 500", "the price that you wrote here", `href="/budget.csv?currency=USD&amp;price=2.5"`, `value="2,5"`)
	page = shown(t, get(e, "/budget?plant=marten+spit/2&price=2.5"), http.StatusOK)
	// The calendar year 2032 has 366 days: at 100 L a day 36 600 L.
	holds(t, page, "=Marten &lt;Spit&gt;, fiscal year 2032: 37 kL, CAD 91 500", "Apr 2031 to Dec 2031", "Data are thin")
	lacks(t, page, "Tern is not", "By plant")
}

func TestAWrongPriceIsSaidBesideItAndTheSavedOneStands(t *testing.T) {
	e := budgetServer(t, fleetBudget(cad))
	for address, says := range map[string]string{
		"/budget?price=1,234": "can be read in two ways", "/budget?price=abc": "is no number", "/budget?price=-1": "is no price of a litre",
		"/budget?price=1000000": "is no price of a litre", "/budget?price=1&currency=dollars": "three letters", "/budget?price=1&currency=%3Cb": "three letters",
	} {
		page := shown(t, get(e, address), http.StatusUnprocessableEntity)
		holds(t, page, says, "Fiscal year 2032: 403 kL, CAD 603 900")
		if w := get(e, strings.Replace(address, "budget", "budget.csv", 1)); w.Code != http.StatusUnprocessableEntity {
			t.Errorf("%s as CSV has status %d", address, w.Code)
		}
	}
}

func TestWithoutAPriceTheBudgetIsInLitres(t *testing.T) {
	page := shown(t, get(budgetServer(t, fleetBudget(advice.Price{})), "/budget"), http.StatusOK)
	holds(t, page, "<h1>Fiscal year 2032: 403 kL</h1>", "No price is set", "Cumulative litres", "Litres summed up")
	lacks(t, page, "CAD")
}

func TestWhereNothingIsBudgetedThePageSaysWhatToDo(t *testing.T) {
	holds(t, shown(t, get(server(kept{}, asOf), "/budget"), http.StatusOK), "No budget has been worked out yet")
	if w := get(server(kept{}, asOf), "/budget.csv"); w.Code != http.StatusNotFound {
		t.Errorf("the table has status %d", w.Code)
	}
	e := budgetServer(t, fleetBudget(cad))
	holds(t, shown(t, get(e, "/budget?plant=tern"), http.StatusOK), "There is nothing to budget Tern from yet", "Enter meter readings")
	if w := get(e, "/budget?plant=nowhere"); w.Code != http.StatusNotFound {
		t.Errorf("a plant that is not there has status %d", w.Code)
	}
}

func TestTheTableHoldsEveryPlantAndMonth(t *testing.T) {
	w := get(budgetServer(t, fleetBudget(cad)), "/budget.csv")
	if kind := w.Header().Get("Content-Type"); w.Code != http.StatusOK || kind != "text/csv; charset=utf-8" {
		t.Fatalf("status %d, %s", w.Code, kind)
	}
	rows, err := csv.NewReader(w.Body).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 1+3*(24+3) {
		t.Fatalf("%d rows, want a header, and 24 months in three fiscal years of two plants and of all", len(rows))
	}
	// April has 30 days; the 10 and 90 % points of eleven paths are the second and the tenth.
	want := []string{"2031-03-03", "plant", "marten spit/2", "'=Marten <Spit>", "month", "2031-04", "2031", "2760", "3000", "3240", "4140.00", "4500.00", "4860.00", "CAD", "1.5"}
	if diff := cmp.Diff(want, rows[1+24+3]); diff != "" {
		t.Error(diff)
	}
	if last := rows[len(rows)-1]; last[1] != "all plants" || last[2] != "" || last[4] != "part of a fiscal year" || last[6] != "2033" {
		t.Errorf("%v", last)
	}
	one := get(budgetServer(t, fleetBudget(advice.Price{})), "/budget.csv?plant=cape-orrin").Body.String()
	if n := strings.Count(one, "\n"); n != 25+3 || !strings.Contains(one, ",,,,\n") {
		t.Errorf("%d lines of one plant without a price: %s", n, one)
	}
}
