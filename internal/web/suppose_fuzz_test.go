package web

import (
	"context"
	"html"
	"net/http"
	"net/http/httptest"
	"net/url"
	"reflect"
	"strings"
	"testing"

	"overwinter/internal/advice"
)

// checking answers as an adviser does: it refuses what cannot be supposed, and fills the days that are left open.
type checking struct{ supposer }

func (c *checking) Suppose(ctx context.Context, plant string, s advice.Supposition) (advice.Supposed, error) {
	err := s.Check(asOf, asOf)
	if s.LoadFrom == nil && (s.LoadKW != nil || s.LoadPercent != nil) {
		s.LoadFrom = pointer(after(1))
	}
	if s.EnginesFrom == nil && s.EnginesPercent != nil {
		s.EnginesFrom = pointer(after(1))
	}
	got, _ := c.supposer.Suppose(ctx, plant, s)
	return got, err
}

// FuzzASuppositionIsShownAsItWasReadOrRefused asks the page for anything. It is a whole page and no failure; what it shows leads
// machines to the very supposition that was asked for.
func FuzzASuppositionIsShownAsItWasReadOrRefused(f *testing.F) {
	for _, query := range []string{
		"", "load_kw=", "winter=0.9", "winter=0%2C25&load_kw=-40&load_from=2031-05-01", "load_percent=10&load_percent=11", "load_kw=1%20200", "load_kw=1,200",
		"standby_from=2031-06-01&standby_until=2031-06-01", "standby_from=2031-06-01&standby_until=9999-12-31", "engines_less_percent=%E2%88%925", "load_from=2031-02-30&load_kw=%3Cb%3E",
		"load_kw=0.000001", "load_kw=99999.999999", "winter=1e5", "load_kw=12345678901234567890123456789", "colour=red", "%zz", "load_kw=;",
	} {
		f.Add(query)
	}
	p := orin()
	p.TakesWinter = true
	c := &checking{supposer{got: moreLoad()}}
	e := supposeServer(f, p, c)
	f.Fuzz(func(t *testing.T, query string) {
		at, err := url.ParseRequestURI("/plants/cape-orrin/suppose?" + query)
		if err != nil || strings.ContainsAny(query, " #") || at.RawQuery != query {
			t.Skip("no server hands this on")
		}
		c.asked = nil
		r := httptest.NewRequest(http.MethodGet, "/", nil)
		r.URL, r.RequestURI = at, at.String()
		w := httptest.NewRecorder()
		e.ServeHTTP(w, r)
		page := w.Body.String()
		if w.Code != http.StatusOK && w.Code != http.StatusUnprocessableEntity || !strings.Contains(page, "</html>") {
			t.Fatalf("%s: %d %s", at, w.Code, page)
		}
		if unescaped, _ := url.QueryUnescape(query); readable(unescaped) {
			checkPage(t, page)
		}
		_, link, linked := strings.Cut(page, `href="/json/cape-orrin/supposed?`)
		if linked != (w.Code == http.StatusOK && c.asked != nil) {
			t.Fatalf("%s: %d, asked for %+v, a link: %v", at, w.Code, c.asked, linked)
		}
		if !linked {
			return
		}
		link, _, _ = strings.Cut(link, `"`)
		v, err := url.ParseQuery(html.UnescapeString(link))
		form := supposeFormOf(p, v)
		if again := form.read(); err != nil || form.hasWrong() || !reflect.DeepEqual(again, *c.asked) {
			t.Fatalf("%s leads to %s, which is %+v: want %+v", at, link, again, *c.asked)
		}
	})
}
