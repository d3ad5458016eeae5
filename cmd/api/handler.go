package main

import (
	"context"
	"crypto/rand"
	"fmt"
	"log/slog"
	"net/http"
	"net/url"
	"strings"

	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"

	"overwinter/internal/advice"
	"overwinter/internal/api"
	"overwinter/internal/gate"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
	"overwinter/internal/jobs"
	"overwinter/internal/web"
)

// bodyLimit is the largest body that a request may have.
const bodyLimit = "256K"

// rooms are what the service is wired from.
type rooms struct {
	config  config
	ledger  ledger
	desk    *advice.Desk
	reports *intake.Desk
	books   *inventory.Bookkeeper
	adviser *advice.Adviser
	work    *jobs.Jobs
	door    *gate.Gate
	log     *slog.Logger
}

// handler puts pages, API and health checks behind what every request passes.
func (r rooms) handler() http.Handler {
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	through(e, r.door, r.log)
	pages := web.New(web.Deps{
		Desk: r.desk, Intake: r.reports, Ledger: r.ledger, Books: r.books, Supposer: r.adviser, Optioner: r.adviser, Clock: r.ledger.clock, Demo: r.config.demo, AsOf: r.ledger.asOf,
		JSON: func(plant string) string { return api.Prefix + "/plants/" + url.PathEscape(plant) },
	})
	e.HTTPErrorHandler = failed(r.log, pages.Error)
	health{r}.register(e)
	pages.Register(e)
	api.New(api.Deps{
		Desk: r.desk, Intake: r.reports, Ledger: r.ledger, Issued: r.ledger, Books: r.books, Supposer: r.adviser, Optioner: r.adviser, Ping: r.ledger.Ping, Log: r.log,
	}).Register(e)
	return headAsGet(e)
}

// through sets up what every request passes.
func through(e *echo.Echo, door *gate.Gate, log *slog.Logger) {
	e.IPExtractor = echo.ExtractIPDirect() // forwarded addresses are what anyone writes
	e.Use(numbered, logged(log), recovered(), door.Middleware, middleware.BodyLimit(bodyLimit), compressed(), ownForms())
}

// headAsGet has a HEAD of the API answered as GET is; the server leaves the body out (RFC 9110, section 9.3.2).
// Pages take HEAD themselves.
func headAsGet(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method == http.MethodHead && strings.HasPrefix(r.URL.Path, machines) {
			get := *r // the server keeps its own
			get.Method = http.MethodGet
			r = &get
		}
		next.ServeHTTP(w, r)
	})
}

// numbered gives each request a number, by which the log is searched. A number that a client sends is not taken over.
func numbered(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		c.Response().Header().Set(echo.HeaderXRequestID, rand.Text())
		return next(c)
	}
}

// logged has errors answered and writes one line a request. What caused a failure is logged where it is answered.
func logged(log *slog.Logger) echo.MiddlewareFunc {
	line := middleware.RequestLoggerWithConfig(middleware.RequestLoggerConfig{
		HandleError: true, LogLatency: true, LogMethod: true, LogURIPath: true, LogStatus: true, LogResponseSize: true, LogRemoteIP: true,
		LogValuesFunc: func(c echo.Context, v middleware.RequestLoggerValues) error {
			log.LogAttrs(c.Request().Context(), slog.LevelInfo, "request",
				slog.String("method", v.Method), slog.String("path", v.URIPath), slog.Int("status", v.Status),
				slog.Int64("latency_ms", v.Latency.Milliseconds()), slog.Int64("bytes", v.ResponseSize),
				slog.String("remote_ip", v.RemoteIP), slog.String("request_id", requestID(c)))
			return nil
		},
	})
	return func(next echo.HandlerFunc) echo.HandlerFunc {
		handle := line(next)
		return func(c echo.Context) error {
			_ = handle(c) // answered already; the server would answer it once more
			return nil
		}
	}
}

func requestID(c echo.Context) string { return c.Response().Header().Get(echo.HeaderXRequestID) }

// recovered turns a panic into an error that holds the stack.
func recovered() echo.MiddlewareFunc {
	return middleware.RecoverWithConfig(middleware.RecoverConfig{
		DisableErrorHandler: true, DisableStackAll: true, StackSize: 16 << 10,
		LogErrorFunc: func(_ echo.Context, err error, stack []byte) error {
			return fmt.Errorf("panic: %w\n%s", err, stack)
		},
	})
}

// compressed makes pages small on the way; the API does so itself.
func compressed() echo.MiddlewareFunc {
	return middleware.GzipWithConfig(middleware.GzipConfig{Skipper: forMachines, MinLength: 1400})
}

// machines begins the paths of the API.
const machines = "/api/"

// forMachines tells the API's requests from those of pages.
func forMachines(c echo.Context) bool { return strings.HasPrefix(c.Request().URL.Path, machines) }

// ownForms lets a page's form through if it comes from a page of ours. The API reads no forms: it
// wants JSON, which another site's page cannot send without being asked for its origin.
func ownForms() echo.MiddlewareFunc {
	return middleware.CSRFWithConfig(middleware.CSRFConfig{
		Skipper:        withoutForms,
		TokenLookup:    "form:csrf",
		CookieName:     "csrf",
		CookiePath:     "/",
		CookieHTTPOnly: true,
		CookieSameSite: http.SameSiteStrictMode,
		CookieMaxAge:   7 * 24 * 3600, // a page may stay open on a plant's desk for days
		ErrorHandler: func(err error, _ echo.Context) error {
			return echo.NewHTTPError(http.StatusForbidden).SetInternal(err) // a missing token is as a wrong one
		},
	})
}

// staticPrefix begins the addresses of the pages' files.
const staticPrefix = "/static/"

// withoutForms tells the requests that no form of ours brings about: those of the API, of health checks and of
// files, and those by a method that the path does not take, which are answered as such.
func withoutForms(c echo.Context) bool {
	path := c.Request().URL.Path
	return forMachines(c) || path == healthPath || path == readyPath || strings.HasPrefix(path, staticPrefix) ||
		c.Get(echo.ContextKeyHeaderAllow) != nil
}

// failed logs what a page answers as a failure of the service.
func failed(log *slog.Logger, answer echo.HTTPErrorHandler) echo.HTTPErrorHandler {
	return func(err error, c echo.Context) {
		answer(err, c)
		r := c.Request()
		if c.Response().Status < http.StatusInternalServerError || r.Context().Err() == context.Canceled {
			return
		}
		log.Error("request failed", "request_id", requestID(c), "method", r.Method, "path", r.URL.Path,
			"status", c.Response().Status, "error", err)
	}
}
