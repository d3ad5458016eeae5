package main

import (
	"errors"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"github.com/labstack/echo/v4"

	"overwinter/internal/fault"
	"overwinter/internal/gate"
)

// guarded is a server with what every request passes and a few pages.
func guarded(log *watched) *echo.Echo {
	e := echo.New()
	door, err := gate.New("8080", "example.com") // the host of httptest's requests
	if err != nil {
		panic(err)
	}
	through(e, door, slog.New(slog.NewJSONHandler(log, nil)))
	e.HTTPErrorHandler = failed(slog.New(slog.NewJSONHandler(log, nil)), func(err error, c echo.Context) {
		status := http.StatusInternalServerError
		var h *echo.HTTPError
		if errors.As(err, &h) {
			status = h.Code
		} else if kind := fault.KindOf(err); kind != fault.Internal {
			status = kind.Status()
		}
		_ = c.String(status, "no")
	})
	e.GET("/form", func(c echo.Context) error { return c.String(http.StatusOK, c.Get("csrf").(string)) })
	e.POST("/form", func(c echo.Context) error { return c.String(http.StatusOK, "taken") })
	e.POST("/api/v1/x", func(c echo.Context) error { return c.String(http.StatusOK, "taken") })
	e.GET("/panic", func(echo.Context) error { panic("a fault of the page") })
	e.GET("/away", func(echo.Context) error {
		return fault.Wrap(fault.Unavailable, errors.New("connection refused"), "the ledger is away")
	})
	return e
}

func ask(e *echo.Echo, method, path, body string, headers ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	if body != "" {
		r.Header.Set(echo.HeaderContentType, echo.MIMEApplicationForm)
	}
	for i := 0; i < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	w := httptest.NewRecorder()
	e.ServeHTTP(w, r)
	return w
}

func TestAFormIsTakenFromOurOwnPagesOnly(t *testing.T) {
	e := guarded(newWatched())
	page := ask(e, http.MethodGet, "/form", "")
	token, cookie := page.Body.String(), page.Result().Cookies()[0]
	if !cookie.HttpOnly || cookie.SameSite != http.SameSiteStrictMode || cookie.Name != "csrf" {
		t.Errorf("the cookie: %v", cookie)
	}
	form, held := "csrf="+url.QueryEscape(token), cookie.Name+"="+cookie.Value
	tests := []struct {
		name       string
		path, body string
		headers    []string
		want       int
	}{
		{"with the token", "/form", form, []string{"Cookie", held}, http.StatusOK},
		{"without the token", "/form", "x=1", []string{"Cookie", held}, http.StatusForbidden},
		{"with another token", "/form", "csrf=abc", []string{"Cookie", held}, http.StatusForbidden},
		{"without the cookie", "/form", form, nil, http.StatusForbidden},
		{"from another site", "/form", form, []string{"Cookie", held, "Sec-Fetch-Site", "cross-site"}, http.StatusForbidden},
		{"from a page of ours, by a browser that says so", "/form", "x=1", []string{"Sec-Fetch-Site", "same-origin"}, http.StatusOK},
		{"the API reads no forms", "/api/v1/x", "x=1", nil, http.StatusOK},
	}
	for _, tt := range tests {
		if w := ask(e, http.MethodPost, tt.path, tt.body, tt.headers...); w.Code != tt.want {
			t.Errorf("%s: %d, want %d", tt.name, w.Code, tt.want)
		}
	}
}

func TestAFailureIsAnsweredOnceAndLoggedOnce(t *testing.T) {
	for path, want := range map[string]struct {
		status int
		cause  string
	}{
		"/panic": {http.StatusInternalServerError, "a fault of the page"},
		"/away":  {http.StatusServiceUnavailable, "connection refused"},
	} {
		log := newWatched()
		w := ask(guarded(log), http.MethodGet, path, "", echo.HeaderXRequestID, "chosen by the client")
		if w.Code != want.status || w.Body.String() != "no" {
			t.Errorf("%s: %d %q", path, w.Code, w.Body)
		}
		if n := strings.Count(log.String(), want.cause); n < 1 || strings.Count(log.String(), `"ERROR"`) != 1 {
			t.Errorf("%s: the log says\n%s", path, log)
		}
		id := w.Header().Get(echo.HeaderXRequestID)
		if len(id) < 20 || strings.Count(log.String(), id) != 2 { // the failure and the request
			t.Errorf("%s: request id %q, the log says\n%s", path, id, log)
		}
	}
}

func TestARequestIsOneLineInTheLogWithoutItsQuery(t *testing.T) {
	log := newWatched()
	ask(guarded(log), http.MethodGet, "/form?name=secret", "", echo.HeaderXForwardedFor, "203.0.113.9")
	line := log.String()
	for _, want := range []string{`"msg":"request"`, `"path":"/form"`, `"status":200`, `"latency_ms":0`, `"remote_ip":"192.0.2.1"`} {
		if !strings.Contains(line, want) {
			t.Errorf("it lacks %s: %s", want, line)
		}
	}
	if strings.Count(line, "\n") != 1 || strings.Contains(line, "secret") || strings.Contains(line, "203.0.113.9") {
		t.Errorf("the log says %s", line)
	}
}

func TestARequestForAnotherHostIsRefusedAndLogged(t *testing.T) {
	log := newWatched()
	e := guarded(log)
	r := httptest.NewRequest(http.MethodGet, "/form", nil)
	r.Host = "rebound.example:8080"
	w := httptest.NewRecorder()
	e.ServeHTTP(w, r)
	if w.Code != http.StatusMisdirectedRequest || !strings.Contains(log.String(), `"status":421`) {
		t.Errorf("%d, the log says %s", w.Code, log)
	}
}

func TestALargeBodyIsRefused(t *testing.T) {
	w := ask(guarded(newWatched()), http.MethodPost, "/api/v1/x", strings.Repeat("x", 300<<10))
	if w.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("%d", w.Code)
	}
}

// What no form of ours brings about is answered as what it is, and is given no cookie.
func TestOnlyPagesWithFormsHaveATokenAndOtherMethodsAreSaidToBe(t *testing.T) {
	e := guarded(newWatched())
	for _, path := range []string{healthPath, readyPath, "/static/page.css"} {
		e.GET(path, func(c echo.Context) error { return c.String(http.StatusOK, "") })
	}
	e.GET("/api/v1/x", func(c echo.Context) error { return c.String(http.StatusOK, "all of it") })
	for _, tt := range []struct {
		method, path string
		status       int
		cookie       bool
	}{
		{"GET", "/form", 200, true},
		{"POST", "/form", 403, false},
		{"PUT", "/form", 405, false},
		{"DELETE", "/form", 405, false},
		{"POST", "/panic", 405, false},
		{"GET", healthPath, 200, false},
		{"GET", readyPath, 200, false},
		{"GET", "/static/page.css", 200, false},
		{"PUT", "/api/v1/x", 405, false},
	} {
		w := ask(e, tt.method, tt.path, "")
		if w.Code != tt.status || tt.cookie != (w.Header().Get("Set-Cookie") != "") {
			t.Errorf("%s %s is answered with %d and the cookie %q", tt.method, tt.path, w.Code, w.Header().Get("Set-Cookie"))
		}
	}
}

func TestAHeadOfTheAPIIsAnsweredAsAGetIs(t *testing.T) {
	e := guarded(newWatched())
	e.GET("/api/v1/x", func(c echo.Context) error { return c.String(http.StatusOK, "all of it") })
	server := httptest.NewServer(headAsGet(e))
	defer server.Close()
	r, err := http.NewRequest(http.MethodHead, server.URL+"/api/v1/x", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Host = "example.com"
	a, err := server.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = a.Body.Close() }()
	if body, err := io.ReadAll(a.Body); a.StatusCode != http.StatusOK || len(body) > 0 || a.ContentLength != 9 || err != nil {
		t.Errorf("%d, %q, a length of %d, %v", a.StatusCode, body, a.ContentLength, err)
	}
}
