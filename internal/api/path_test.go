package api_test

import (
	"fmt"
	"net/url"
	"strings"
	"testing"
)

// Ids that a path can hold encoded alone, or encoded as well: RFC 3986, sections 2.2 and 3.3.
func TestIdsInAPathAreDecodedOnce(t *testing.T) {
	c := open(t).client
	for i, id := range []string{
		"a/b", "a:b", "a&b", "a+b", "a@b", "a,b", "a;b", "a=b", "a$b", "a b", "100%", "a%2Fb", "é", "a?b", "a#b", "(a)", "a!*'b", "~a_.-",
	} {
		order := fmt.Sprintf(`{"order":%q,"volume_l":1000,"basis":"15C","state":"committed","ordered_on":"2026-02-01","early":"2026-06-01","likely":"2026-06-10","late":"2026-06-20"}`, id)
		if a := c.post("/api/v1/plants/marten-spit/orders", fmt.Sprint("order-", i), order); a.StatusCode != 201 {
			t.Fatalf("%q: the order is answered with %d %s", id, a.StatusCode, a.body)
		}
		for form, path := range map[string]string{"as needed": url.PathEscape(id), "every byte": everyByte(id)} {
			key := fmt.Sprint("state-", i, "-", len(form))
			if a := c.post("/api/v1/plants/marten-spit/orders/"+path+"/state", key, `{"state":"in-transit"}`); a.StatusCode != 201 {
				t.Errorf("%q %s: the state is answered with %d %s", id, form, a.StatusCode, a.body)
			}
		}
	}
}

// everyByte encodes each byte of a text.
func everyByte(text string) string {
	var b strings.Builder
	for i := range len(text) {
		fmt.Fprintf(&b, "%%%02X", text[i])
	}
	return b.String()
}

func TestAPriceIsAPlainNumberGivenOnce(t *testing.T) {
	c := reading(t).client
	for query, want := range map[string]int{
		"price=1.62&currency=CAD": 200, "price=2&currency=USD": 200,
		"price=NaN&currency=CAD": 422, "price=Inf&currency=CAD": 422, "price=1_000&currency=CAD": 422, "price=0x1p3&currency=CAD": 422,
		"price=1e2&currency=CAD": 422, "price=%2B1.5&currency=CAD": 422, "price=+1&currency=CAD": 422, "price=-1&currency=CAD": 422, "price=1.&currency=CAD": 422,
		"price=1&price=2&currency=CAD": 422, "price=1&currency=CAD&currency=USD": 422, "price=0&currency=CAD": 422,
	} {
		if a := c.get("/api/v1/budget?" + query); a.StatusCode != want {
			t.Errorf("%s is answered with %d, want %d: %.200s", query, a.StatusCode, want, a.body)
		}
	}
}

// What is passed over in a query would be another question: RFC 3986 has no percent sign without its two digits.
func TestAQueryIsReadWholeOrRefused(t *testing.T) {
	c := reading(t).client
	for query, parameter := range map[string]string{
		"plants?order=plant;limit=1": "", "plants?limit=%zz": "", "plants?status=short&status=unknown": "status", "plants?status=": "status", "plants?limit=": "limit",
		"changes?after=1&after=2": "after", "plants/marten-spit/books?from=2026-03-01;to=2026-03-02": "", "plants/marten-spit/books?to=2026-03-01&to=2026-03-02": "to",
		"plants/marten-spit/receipts?tolerance=NaN": "tolerance", "plants/marten-spit/receipts?tolerance=0x1p-5": "tolerance",
		"plants/marten-spit/receipts?tolerance=": "tolerance", "plants/marten-spit/usages?from=0000-01-01": "from",
	} {
		p := c.get("/api/v1/"+query).want(t, 422).problem(t)
		if len(p.Errors) == 0 || p.Errors[0].In != "query" || p.Errors[0].Parameter == nil || *p.Errors[0].Parameter != parameter {
			t.Errorf("%s: %+v", query, p.Errors)
		}
	}
	c.get("/api/v1/plants?order=plant&after=").want(t, 200) // the first page
}
