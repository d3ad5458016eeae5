package api_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"log/slog"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/api"
	"overwinter/internal/fault"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
)

// secret stands for what must stay inside: it is in every cause that the broken parts below give.
const secret = "dial tcp 10.1.2.3: password=hunter2"

// broken is an intake, a ledger and a store of advice that fail alike.
type broken struct{ fail func() error }

func (b broken) receipt() (intake.Receipt, error) { return intake.Receipt{}, b.fail() }

func (b broken) Round(context.Context, intake.Round) (intake.Receipt, error) { return b.receipt() }
func (b broken) Gauging(context.Context, intake.Report, time.Time, intake.TankEntry) (intake.Receipt, error) {
	return b.receipt()
}
func (b broken) Delivery(context.Context, intake.Delivery) (intake.Receipt, error) {
	return b.receipt()
}
func (b broken) Order(context.Context, intake.Order) (intake.Receipt, error) { return b.receipt() }
func (b broken) ChangeOrder(context.Context, intake.OrderChange) (intake.Receipt, error) {
	return b.receipt()
}
func (b broken) Clear(context.Context, intake.Clearance) (intake.Receipt, error) { return b.receipt() }
func (b broken) Row(context.Context, intake.RowReport) (intake.Receipt, error)   { return b.receipt() }
func (b broken) Confirm(context.Context, intake.Confirmation) (intake.Receipt, error) {
	return b.receipt()
}
func (b broken) Withdraw(context.Context, intake.Withdrawal) (intake.Receipt, error) {
	return b.receipt()
}
func (b broken) Directory(context.Context) (inventory.Rows, error) { return inventory.Rows{}, b.fail() }
func (b broken) PlantRows(context.Context, string, time.Time) (inventory.Rows, error) {
	return inventory.Rows{}, b.fail()
}
func (b broken) RecentRows(context.Context, string, time.Time, time.Time) (inventory.Rows, error) {
	return inventory.Rows{}, b.fail()
}
func (b broken) CurrentAdvice(context.Context, uint64, int64) ([]inventory.Current, error) {
	return nil, b.fail()
}
func (b broken) CountsIn(context.Context, uint64, string) (bool, error) { return false, b.fail() }
func (b broken) RowsWritten(context.Context, int64, int) ([]inventory.Written, error) {
	return nil, b.fail()
}
func (b broken) Open(context.Context, inventory.BooksQuestion) (*inventory.Stretch, error) {
	return nil, b.fail()
}
func (b broken) Suppose(context.Context, string, advice.Supposition) (advice.Supposed, error) {
	return advice.Supposed{}, b.fail()
}
func (b broken) Options(context.Context, string) (advice.PlanOptions, error) {
	return advice.PlanOptions{}, b.fail()
}
func (b broken) OrdersWritten(context.Context, string) ([]inventory.OrderWritten, error) {
	return nil, b.fail()
}
func (b broken) Sensitivities(context.Context, string) (advice.Sensitive, error) {
	return advice.Sensitive{}, b.fail()
}
func (b broken) Version(context.Context) (int64, error)                { return 0, b.fail() }
func (b broken) Changes(context.Context) (map[string]int64, error)     { return nil, b.fail() }
func (b broken) AdviceRevision(context.Context, uint64) (int64, error) { return 0, b.fail() }

// into puts the broken parts in the place of the sound ones.
func (b broken) into(log io.Writer) func(*api.Deps) {
	return func(d *api.Deps) {
		d.Intake, d.Ledger, d.Books, d.Supposer, d.Optioner, d.Desk = b, b, b, b, b, advice.NewDesk(b, seed)
		d.Ping = func(context.Context) error { return b.fail() }
		d.Log = slog.New(slog.NewTextHandler(log, nil))
	}
}

func TestOnlyTheMessageOfAFailureReachesTheClient(t *testing.T) {
	cause := errors.New(secret)
	tests := []struct {
		name   string
		fail   func() error
		status int
		detail string
		logged bool
	}{
		{"the ledger is away", func() error { return fault.Wrap(fault.Unavailable, cause, "the ledger is busy: try again") }, 503, "the ledger is busy: try again", true},
		{"a failure of our own", func() error { return fault.Wrap(fault.Internal, cause, "the row cannot be read") }, 500, "the row cannot be read", true},
		{"an error that nobody named", func() error { return cause }, 500, "", true},
		{"a panic", func() error { panic(secret) }, 500, "", true},
	}
	paths := []string{"/plants", "/plants/a", "/plants/a/stock", "/plants/a/projection", "/plants/a/advice", "/plants/a/advice/issued", "/plants/a/forecast-scores", "/budget", "/changes", "/health",
		"/plants/a/books", "/plants/a/orders", "/plants/a/receipts", "/plants/a/usages", "/plants/a/supposed?load_percent=5", "/plants/a/sensitivities", "/plants/a/plan", "/plants/a/plan/options"}
	bodies := examples(t)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var log bytes.Buffer
			w := serve(t, reading(t).path, broken{tt.fail}.into(&log))
			var answers []answer
			for _, path := range paths {
				answers = append(answers, w.get("/api/v1"+path))
			}
			for operation, to := range reportOf {
				answers = append(answers, w.post("/api/v1"+to.path, "K", bodies[operation]))
			}
			for _, a := range answers {
				p := a.want(t, tt.status).problem(t)
				if tt.detail != "" && p.Detail != tt.detail || strings.Contains(string(a.body), "hunter2") {
					t.Errorf("%s tells %s", a.Request.URL, a.body)
				}
				if (a.StatusCode == 503) != (a.Header.Get("Retry-After") != "") {
					t.Errorf("%d with Retry-After %q", a.StatusCode, a.Header.Get("Retry-After"))
				}
				if !strings.Contains(log.String(), p.RequestID) {
					t.Errorf("the log does not know the request %s", p.RequestID)
				}
			}
			if got := strings.Count(log.String(), "hunter2"); got < len(answers) {
				t.Errorf("the log holds %d causes of %d", got, len(answers))
			}
		})
	}
}

func TestAConflictKeepsItsCauseInside(t *testing.T) {
	b := broken{func() error {
		return fault.Wrap(fault.Conflict, errors.New(secret), "the key is used").With(fault.Field{Where: "key", Message: "choose another"})
	}}
	w := serve(t, reading(t).path, func(d *api.Deps) { d.Intake = b })
	a := w.post("/api/v1/plants/marten-spit/rounds", "K", roundAt("2026-03-02T21:00:00Z")).want(t, 409)
	if p := a.problem(t); p.Detail != "the key is used" || len(p.Errors) != 1 || *p.Errors[0].Parameter != "Idempotency-Key" || strings.Contains(string(a.body), "hunter2") {
		t.Errorf("%s", a.body)
	}
}

// late is a body that does not come in time.
type late struct{}

func (late) Read([]byte) (int, error) { return 0, timeout{} }
func (late) Close() error             { return nil }

type timeout struct{}

func (timeout) Error() string   { return "i/o timeout" }
func (timeout) Timeout() bool   { return true }
func (timeout) Temporary() bool { return true }

func TestABodyThatDoesNotComeInTimeIsRefused(t *testing.T) {
	w := writing(t)
	for _, to := range reportOf {
		r := httptest.NewRequest("POST", "/api/v1"+to.path, late{})
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Idempotency-Key", "K")
		recorder := httptest.NewRecorder()
		w.echo.ServeHTTP(recorder, r)
		a := answer{recorder.Result(), recorder.Body.Bytes()}
		a.Request = r
		a.want(t, 408)
		w.check(r, "", a)
	}
}

func TestEveryKindOfProblemIsExplained(t *testing.T) {
	w := reading(t)
	for _, code := range []string{"internal", "invalid", "not-found", "conflict", "unavailable", "malformed", "forbidden",
		"method-not-allowed", "timeout", "too-large", "unsupported-media-type", "misdirected"} {
		a := w.get("/problems/"+code).want(t, 200)
		if !strings.HasPrefix(a.Header.Get("Content-Type"), "text/html") || !strings.Contains(string(a.body), code) {
			t.Errorf("%s: %s", code, a.body)
		}
	}
}
