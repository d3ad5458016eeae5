package web

import (
	"encoding/xml"
	"io"
	"net/http"
	"slices"
	"strings"
	"testing"
	"unicode"
)

// void elements have no end tag.
var void = []string{"meta", "link", "input", "br", "hr", "img", "wbr"}

// tag is a start tag of a page.
type tag struct {
	name string
	attr map[string]string
}

// tags reads a page's start tags, and fails where tags do not close in the order in which they opened.
func tags(t *testing.T, page string) []tag {
	t.Helper()
	var all []tag
	var open []string
	d := xml.NewDecoder(strings.NewReader(page))
	d.Strict, d.Entity = false, xml.HTMLEntity
	for {
		token, err := d.RawToken()
		if err == io.EOF {
			if len(open) > 0 {
				t.Errorf("never closed: %v", open)
			}
			return all
		}
		if err != nil {
			t.Fatalf("%v in %s", err, page)
		}
		switch x := token.(type) {
		case xml.StartElement:
			e := tag{x.Name.Local, map[string]string{}}
			for _, a := range x.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			all = append(all, e)
			if !slices.Contains(void, e.name) {
				open = append(open, e.name)
			}
		case xml.EndElement:
			if len(open) == 0 || open[len(open)-1] != x.Name.Local {
				t.Fatalf("</%s> closes %v", x.Name.Local, open)
			}
			open = open[:len(open)-1]
		}
	}
}

// checkPage holds what every page must keep.
func checkPage(t *testing.T, page string) {
	t.Helper()
	ids, headings := map[string]bool{}, 0
	all := tags(t, page)
	for _, e := range all {
		if id, ok := e.attr["id"]; ok {
			if ids[id] || strings.ContainsFunc(id, unicode.IsSpace) {
				t.Errorf("the id %q is there twice, or has a space", id)
			}
			ids[id] = true
		}
		if _, ok := e.attr["style"]; ok || e.name == "style" || (e.name == "script" && e.attr["src"] == "") {
			t.Errorf("<%s> holds a style or a script that the browser will refuse", e.name)
		}
		if e.name == "th" && e.attr["scope"] == "" {
			t.Error("a th has no scope")
		}
		if e.name == "h1" {
			headings++
		}
	}
	if headings != 1 {
		t.Errorf("%d main headings, want 1", headings)
	}
	for _, e := range all {
		refs := strings.Fields(e.attr["aria-labelledby"])
		if to, ok := strings.CutPrefix(e.attr["href"], "#"); ok {
			refs = append(refs, to)
		}
		for _, ref := range refs {
			if !ids[ref] {
				t.Errorf("<%s> refers to %q, which is not there", e.name, ref)
			}
		}
	}
	for _, flaw := range []string{"ZgotmplZ", "<no value>", "NaN", "%!", "<nil>"} {
		if strings.Contains(page, flaw) {
			t.Errorf("the page holds %q", flaw)
		}
	}
}

func TestEveryPageIsWellSet(t *testing.T) {
	all := server(keep(t, everyStatus()...), asOf)
	tests := []struct {
		name, path string
		from       http.Handler
		status     int
	}{
		{"fleet", "/", all, 200},
		{"fleet filtered to nothing", "/?q=nowhere", all, 200},
		{"fleet of a later day", "/", server(keep(t, everyStatus()...), asOf+2), 200},
		{"large fleet", "/", server(keep(t, large(40)...), asOf), 200},
		{"no plants", "/", server(keep(t), asOf), 200},
		{"plants without advice", "/", server(kept{plants: keep(t, orin()).plants}, asOf), 200},
		{"order now", "/plants/cape-orrin", all, 200},
		{"short", "/plants/northgate", all, 200},
		{"order soon", "/plants/tern", all, 200},
		{"in hand", "/plants/reef", all, 200},
		{"nothing known", "/plants/marten%20spit%2F2", all, 200},
		{"no such plant", "/plants/nowhere", all, 404},
		{"no such page", "/nowhere", all, 404},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := get(tt.from, tt.path)
			if w.Code != tt.status {
				t.Fatalf("status %d, want %d: %s", w.Code, tt.status, w.Body)
			}
			checkPage(t, w.Body.String())
			if got := w.Header().Get("Content-Security-Policy"); !strings.Contains(got, "default-src 'none'") || strings.Contains(got, "unsafe") {
				t.Errorf("content security policy %q", got)
			}
		})
	}
}

func TestANameIsNeverMarkup(t *testing.T) {
	e := server(keep(t, marten()), asOf)
	for _, path := range []string{"/", "/plants/marten%20spit%2F2"} {
		if page := get(e, path).Body.String(); strings.Contains(page, "<Spit>") || !strings.Contains(page, "&lt;Spit&gt;") {
			t.Errorf("%s shows a name as markup", path)
		}
	}
}

func TestStaticFilesCarryTheirContentInTheirName(t *testing.T) {
	e := server(keep(t, orin()), asOf)
	page := get(e, "/").Body.String()
	_, rest, _ := strings.Cut(page, `rel="stylesheet" href="`)
	path, _, _ := strings.Cut(rest, `"`)
	w := get(e, path)
	if w.Code != 200 || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/css") || !strings.Contains(w.Header().Get("Cache-Control"), "immutable") {
		t.Errorf("%s answers %d %v", path, w.Code, w.Header())
	}
	for _, other := range []string{"/static/notebook.css", "/static/notebook.000000000000.css", "/static/..%2Fsite.go"} {
		if w := get(e, other); w.Code != 404 {
			t.Errorf("%s answers %d, want 404", other, w.Code)
		}
	}
}
