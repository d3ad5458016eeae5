package web

import (
	"encoding/csv"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strconv"
	"strings"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// FuzzAnyAddressIsAPageOrARefusal asks for any page with any query. No answer is a failure of the service; the fleet shows the plants
// that the test finds in it, and the budget its price.
func FuzzAnyAddressIsAPageOrARefusal(f *testing.F) {
	fleet := large(12)
	of := keep(f, fleet...)
	of.rows = append(of.rows, inventory.Current{Issued: inventory.Issued{Body: fleetBudgetOf(f, fleet)}, Revision: int64(len(of.rows) + 1)})
	s := server(of, asOf)
	pages := []string{"/", "/budget", "/budget.csv", "/plants/%", "/static/%", "/nowhere"}
	for i, query := range []string{"", "q=north&status=short", "group=&status=in%20hand", "q=%C3%89", "status=x", "q=a&q=b", "q=%zz", "q=a;b", "price=1,62&currency=eur",
		"price=1.234,5", "price=-0", "price=1e3&currency=CAD", "price=999&plant=cape-orrin-1", "price=2&currency=u%C5%BFd", "price=2&currency=%C4%B1ll", "plant=tern-3", "plant=nobody", "price=+2", "price=0,1&currency="} {
		f.Add(uint8(i), fleet[0].Plant, query)
		f.Add(uint8(1+i%2), "../x", query)
	}
	f.Add(uint8(0), "", "group="+url.QueryEscape(fleet[0].Group))
	f.Fuzz(func(t *testing.T, which uint8, segment, query string) {
		path := strings.Replace(pages[int(which)%len(pages)], "%", url.PathEscape(segment), 1)
		at, err := url.ParseRequestURI(path + "?" + query)
		if err != nil || strings.ContainsAny(query, " #") || at.RawQuery != query {
			t.Skip("no server hands this on")
		}
		r := httptest.NewRequest(http.MethodGet, "/", nil)
		r.URL, r.RequestURI = at, path+"?"+query
		w := httptest.NewRecorder()
		s.ServeHTTP(w, r)
		page := w.Body.String()
		isPage := strings.HasPrefix(w.Header().Get("Content-Type"), "text/html")
		if w.Code >= 500 || isPage && !strings.Contains(page, "</html>") {
			t.Fatalf("%s: %d %s", at, w.Code, page)
		}
		unescaped, _ := url.QueryUnescape(query)
		if isPage && readable(unescaped+segment) {
			checkPage(t, page)
		}
		form, whole := readForm(query)
		if w.Code != http.StatusOK || strings.HasPrefix(path, "/static/") {
			return
		}
		if !whole {
			t.Fatalf("%s is answered, and a part of it was passed over", at)
		}
		switch path {
		case "/":
			for _, p := range fleet {
				want := wanted(p, strings.TrimSpace(form["status"]), strings.TrimSpace(form["group"]), strings.TrimSpace(form["q"]))
				if got := strings.Contains(page, `href="`+plantPath(p.Plant)+`"`); got != want {
					t.Fatalf("%s shows %s: %v, want %v", at, p.Plant, got, want)
				}
			}
		case "/budget.csv":
			checkPrice(t, page, form)
		}
	})
}

// fleetBudgetOf writes a budget of these plants, all with the same figures.
func fleetBudgetOf(f *testing.F, plants []advice.Plant) []byte {
	b := fleetBudget(cad)
	figures := b.Plants[0].Budget
	b.Plants = nil
	for _, p := range plants {
		b.Plants = append(b.Plants, advice.PlantBudget{Plant: p.Plant, Name: p.Name, Budget: figures, Notices: notice.List{}})
	}
	body, err := json.Marshal(b)
	if err != nil {
		f.Fatal(err)
	}
	return body
}

func wanted(p advice.Plant, status, group, text string) bool {
	found := false
	for _, in := range []string{p.Name, p.Plant, p.Group} {
		found = found || strings.Contains(strings.ToLower(in), strings.ToLower(text))
	}
	return found && (status == "" || status == string(p.Status)) && (group == "" || group == p.Group)
}

// checkPrice holds that each row is reckoned at the price that was typed: what cannot be read in one way is refused.
func checkPrice(t *testing.T, table string, form map[string]string) {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil || len(rows) == 0 {
		t.Fatalf("%v: %s", err, table)
	}
	want, currency := cad.PerLitre, cad.Currency
	if typed := strings.TrimSpace(form["price"]); typed != "" {
		typed = strings.NewReplacer(",", ".", " ", "", "\t", "", "\u00a0", "", "\u2009", "", "\u202f", "", "−", "-").Replace(typed)
		if want, err = strconv.ParseFloat(typed, 64); err != nil || want < 0 {
			t.Fatalf("%q is taken as a price", form["price"])
		}
		if given := strings.TrimSpace(form["currency"]); given != "" {
			if currency = given; len(given) != 3 {
				t.Fatalf("%q is taken as a currency", given)
			}
		}
	}
	for _, row := range rows[1:] {
		price, err := strconv.ParseFloat(row[len(row)-1], 64)
		if err != nil && row[len(row)-1] != "" || price != want || row[len(row)-2] != "" && !strings.EqualFold(row[len(row)-2], currency) {
			t.Fatalf("%v: %v, want %v %s", form, row, want, currency)
		}
	}
}
