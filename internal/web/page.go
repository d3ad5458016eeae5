package web

import (
	"bytes"
	"embed"
	"html/template"
	"net/http"
	"net/url"

	"github.com/labstack/echo/v4"

	"overwinter/internal/fault"
)

// Frame is what every page shows around its own content; each page's struct embeds one.
type Frame struct {
	Title string // of the document: the answer
	Place string // which of the places in the navigation the page belongs to, "" for none
	AsOf  string // the day and basis of what is shown, "" for none
	CSRF  string // the token that a form must send back
	Demo  bool
}

// place is an entry of the navigation.
type place struct{ ID, Path, Name string }

// Places lists the navigation.
func (Frame) Places() []place {
	return []place{{"fleet", "/", "Fleet"}, {"round", "/round", "Round"}, {"budget", "/budget", "Budget"}, {"books", "/books", "Books"}}
}

// frame makes a page's frame.
func (s *Site) frame(c echo.Context, place, title string) Frame {
	token, _ := c.Get("csrf").(string)
	return Frame{Title: title, Place: place, CSRF: token, Demo: s.deps.Demo}
}

//go:embed templates
var templates embed.FS

// page is one page's template, which takes its own struct and no other.
type page[T any] struct{ set *template.Template }

// load reads the template of a page with the layout and the shared parts. A page is a file of its own,
// so that names of blocks cannot collide.
func load[T any](name string) page[T] {
	set := template.New("layout.html").Funcs(template.FuncMap{"static": staticPath})
	return page[T]{template.Must(set.ParseFS(templates, "templates/layout.html", "templates/parts.html", "templates/"+name+".html"))}
}

// plantPath and roundPath are the addresses of a plant's page and of the form of its rounds.
func plantPath(id string) string { return "/plants/" + url.PathEscape(id) }

func roundPath(id string) string { return plantPath(id) + "/round" }

// plantID gives the plant that a path names. A path with an escaped slash is matched escaped, and then
// its parameters are still escaped.
func plantID(c echo.Context) string { return pathParam(c, "id") }

func pathParam(c echo.Context, name string) string {
	value := c.Param(name)
	if c.Request().URL.RawPath == "" {
		return value
	}
	if plain, err := url.PathUnescape(value); err == nil {
		return plain
	}
	return value
}

// render executes the page into a buffer and sends it whole, so that a template that fails never sends
// half a page.
func (p page[T]) render(c echo.Context, status int, data T) error {
	var b bytes.Buffer
	if err := p.set.Execute(&b, data); err != nil {
		return fault.Wrap(fault.Internal, err, "this page could not be set")
	}
	guard(c.Response().Header())
	return c.HTMLBlob(status, b.Bytes())
}

// guard forbids the browser everything that the pages do not need.
func guard(h http.Header) {
	h.Set(echo.HeaderContentSecurityPolicy, "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; "+
		"form-action 'self'; frame-ancestors 'none'; base-uri 'none'")
	h.Set(echo.HeaderXContentTypeOptions, "nosniff")
	h.Set(echo.HeaderReferrerPolicy, "same-origin")
}
