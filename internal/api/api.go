// Package api is the JSON API under /api/v1: it shows the saved advice as it is, takes reports in, and
// says in problem documents (RFC 9457) what went wrong. One declaration of each operation gives its
// route, its checks and its part of the OpenAPI document.
package api

import (
	"context"
	"fmt"
	"log/slog"
	"net/http"
	"net/url"
	"runtime/debug"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humaecho"
	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
)

// Prefix is the path under which the operations stand.
const Prefix = "/api/v1"

// version is that of the API's contract: within 1, changes only add.
const version = "1.0.0"

// Intake takes reports in; *intake.Desk does.
type Intake interface {
	Round(context.Context, intake.Round) (intake.Receipt, error)
	Gauging(context.Context, intake.Report, time.Time, intake.TankEntry) (intake.Receipt, error)
	Delivery(context.Context, intake.Delivery) (intake.Receipt, error)
	Order(context.Context, intake.Order) (intake.Receipt, error)
	ChangeOrder(context.Context, intake.OrderChange) (intake.Receipt, error)
	Clear(context.Context, intake.Clearance) (intake.Receipt, error)
	Row(context.Context, intake.RowReport) (intake.Receipt, error)
	Confirm(context.Context, intake.Confirmation) (intake.Receipt, error)
	Withdraw(context.Context, intake.Withdrawal) (intake.Receipt, error)
}

// History gives a plant's advice as it was issued, newest first.
type History interface {
	Advice(ctx context.Context, plant string) ([]inventory.Issued, error)
}

// Deps is what the API needs.
type Deps struct {
	Desk     *advice.Desk
	Intake   Intake
	Ledger   Ledger
	Issued   History
	Books    Books
	Supposer Supposer
	Optioner Optioner
	Ping     func(context.Context) error // tells whether the ledger can be reached
	Log      *slog.Logger                // hears the causes that clients are not told; nil means the default
}

// API is the API, ready to be registered.
type API struct {
	Deps
	huma     huma.API
	fleet    fleetPages
	document document
}

// New makes the API.
func New(d Deps) *API {
	if d.Log == nil {
		d.Log = slog.Default()
	}
	return &API{Deps: d}
}

// huma keeps these for the whole program; no other room uses it.
func init() {
	huma.ValidateStrictCasing = true
	huma.DefaultArrayNullable = false
	huma.NewErrorWithContext = problemOf
	huma.NewError = func(int, string, ...error) huma.StatusError { return &Problem{} } // asked for its type alone
}

// Register adds the operations, the OpenAPI document and the explanations of the problems to a server,
// and answers its errors under /api and /problems; all others go to the error handler that it finds there.
func (a *API) Register(e *echo.Echo) {
	group := e.Group(Prefix) // without middleware: that would answer another method as an unknown path
	a.huma = humaecho.NewWithGroup(e, group, config())
	a.huma.UseMiddleware(a.mind)
	a.health()
	a.fleetOperations()
	a.plantOperations()
	a.adviceOperations()
	a.scoresOperation()
	a.budgetOperation()
	a.reportOperations()
	a.rowOperations()
	a.ordersOperations()
	a.changesOperation()
	a.booksOperations()
	a.supposedOperation()
	a.planOperations()
	a.sensitivitiesOperation()
	describe(a.huma.OpenAPI())
	a.document = write(a.huma.OpenAPI())
	group.GET("/openapi.json", a.document.json)
	group.GET("/openapi.yaml", a.document.yaml)
	e.GET(problemPrefix+":code", explainProblem)
	others := e.HTTPErrorHandler
	e.HTTPErrorHandler = func(err error, c echo.Context) {
		if ours(c.Request().URL.Path) {
			a.fail(err, c)
		} else {
			others(err, c)
		}
	}
}

func config() huma.Config {
	form := huma.Format{Marshal: huma.DefaultJSONFormat.Marshal, Unmarshal: strict}
	return huma.Config{
		OpenAPI: &huma.OpenAPI{
			OpenAPI: "3.1.0",
			Info: &huma.Info{
				Title:   "Overwinter",
				Version: version,
				Description: "When each plant must order fuel, how much, by which route, and how sure that is; and the readings that say so. " +
					"Volumes are litres at 15 °C where a name ends in l15, and litres at the temperature of the fuel where it ends in _l. " +
					"Absent values are null, lists never are. Instants are RFC 3339, days are local days at the plant.",
			},
			Servers:    []*huma.Server{{URL: Prefix}},
			Components: &huma.Components{Schemas: huma.NewMapRegistry(schemaPrefix, huma.DefaultSchemaNamer)},
			Tags: []*huma.Tag{
				{Name: "Advice", Description: "The saved advice in force. Nothing is computed anew on the way out."},
				{Name: "Reports", Description: "What people and machines report: rounds, gaugings, deliveries, orders and the other rows of the ledger, and corrections of them."},
				{Name: "Suppositions", Description: "What would follow if something were otherwise, reckoned when it is asked for and not saved."},
				{Name: "Books", Description: "What the records say against what the dips say, reckoned when it is asked for."},
				{Name: "Ledger", Description: "The rows behind the advice, as they were written."},
				{Name: "Service", Description: "The service itself."},
			},
		},
		Formats:                      map[string]huma.Format{jsonType: form, "json": form}, // the second is of all types that end in +json
		DefaultFormat:                jsonType,
		RejectUnknownQueryParameters: true,
	}
}

// mind gives each request its id and the API that its problems are told by, and answers a panic.
func (a *API) mind(ctx huma.Context, next func(huma.Context)) {
	c := humaecho.Unwrap(ctx)
	c.Set(contextKey, a)
	requestID(c)
	decodePath(c)
	defer func() {
		switch r := recover(); {
		case r == http.ErrAbortHandler:
			panic(r)
		case r != nil:
			a.fail(fmt.Errorf("panic: %v\n%s", r, debug.Stack()), c)
		}
	}()
	next(ctx)
}

// decodePath decodes the parameters of a path, which the router leaves as they came where the path holds
// an encoded slash or another mark that need not be encoded.
func decodePath(c echo.Context) {
	if c.Request().URL.RawPath == "" {
		return
	}
	values := c.ParamValues()
	for i, raw := range values {
		if value, err := url.PathUnescape(raw); err == nil {
			values[i] = value
		}
	}
	c.SetParamValues(values...)
}

// HealthAnswer says that the service and its ledger can be used. It holds no data.
type HealthAnswer struct {
	OK bool `json:"ok" doc:"Always true: a service that cannot be used answers 503."`
}

func (a *API) health() {
	register(a, huma.Operation{
		OperationID: "get-health", Path: "/health", Tags: []string{"Service"},
		Summary:     "Whether the service can be used",
		Description: "Answers 200 where the ledger can be reached, 503 otherwise.",
	}, []int{http.StatusServiceUnavailable}, func(ctx context.Context, _ *Conditional) (*HealthAnswer, error) {
		return &HealthAnswer{OK: true}, a.Ping(ctx)
	})
}
