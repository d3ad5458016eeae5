package api

import (
	"context"
	"errors"
	"mime"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/advice"
	"overwinter/internal/fault"
	"overwinter/internal/intake"
	"overwinter/internal/notice"
)

const (
	// keyHeader carries the key that makes a report idempotent. The rooms behind call it keyField.
	keyHeader = "Idempotency-Key"
	keyField  = "key"

	// maxBody is the length from which a body is refused; the largest sensible round has a few kilobytes.
	maxBody = 64 << 10
)

// Report is what comes with every report beside its body.
type Report struct {
	PlantPath
	Key string `header:"Idempotency-Key" required:"true" minLength:"1" maxLength:"100" pattern:"^[A-Za-z0-9._:-]+$" patternDescription:"letters from A to Z, digits and - _ . :" doc:"Chosen by the sender for this report alone, such as a UUID. The same key with the same body is one report, however often it is sent; with another body it is a conflict." example:"5e1c2a9e-6a53-4b7f-9d2e-0c3f6a1b7d40"`
}

func (r Report) of(who, why *string) intake.Report {
	return intake.Report{Key: r.Key, Plant: r.Plant, Who: text(who), Why: text(why)}
}

// ReportAnswer says what became of a report. It is the same, but for the counts and the doubts, when the report comes
// again.
type ReportAnswer[B any] struct {
	Head
	Subject
	Key     string         `json:"key"`
	Report  B              `json:"report"`
	Written int            `json:"rows_written"`
	Known   int            `json:"rows_known"`
	Doubts  []ReportDoubt  `json:"doubts"`
	Settled []SettledDoubt `json:"doubts_settled"`
	Advised bool           `json:"advised"`
	Row     *FleetRow      `json:"row"`
}

type reportResponse[B any] struct {
	Status       int
	CacheControl string `header:"Cache-Control" hidden:"true"`
	Body         ReportAnswer[B]
}

// bodyWithin is how long a body may take to arrive: networks are poor where the reports come from.
const bodyWithin = time.Minute

// once is said of every report.
const once = " The report is written whole or not at all, and the plant is advised anew at once."

// reported adds an operation that takes reports of one kind in. Take hands the report over; where turns
// a field as the intake names it into a place of the body.
func reported[I any, B any](a *API, op huma.Operation, parts func(*I) (Report, *B), example B,
	take func(context.Context, *I) (intake.Receipt, error), where func(*B, string) string) {
	op.Method, op.Tags = http.MethodPost, []string{"Reports"}
	op.Description += once
	op.MaxBodyBytes, op.BodyReadTimeout = maxBody, bodyWithin
	op.Middlewares = huma.Middlewares{a.jsonOnly}
	op.RequestBody = &huma.RequestBody{Required: true, Content: content[B](a)}
	op.RequestBody.Content[jsonType].Example = example
	op.Responses = map[string]*huma.Response{
		"200": {Description: "The report had come before: nothing was written now.", Content: content[ReportAnswer[B]](a)},
		"201": {Description: "The report was written.", Content: content[ReportAnswer[B]](a)},
	}
	a.declareProblems(&op, []int{400, 404, 408, 409, 413, 415, 422, 500, 503})
	huma.Register(a.huma, op, func(ctx context.Context, in *I) (*reportResponse[B], error) {
		report, body := parts(in)
		receipt, err := take(ctx, in)
		if err != nil {
			return nil, placed(err, func(field string) string { return where(body, field) })
		}
		answer, err := a.receipt(ctx, report, receipt)
		if err != nil {
			return nil, err
		}
		r := &reportResponse[B]{Status: http.StatusOK, CacheControl: "no-store"}
		if receipt.New > 0 {
			r.Status = http.StatusCreated
		}
		r.Body = ReportAnswer[B]{
			answer.Head, answer.Subject, report.Key, *body, receipt.New, receipt.Known,
			doubtsOf(receipt), settledOf(receipt), receipt.Advised, answer.row,
		}
		return r, nil
	})
}

type receiptAnswer struct {
	Head
	Subject
	row *FleetRow
}

// receipt is the part of an answer that tells how the plant stands after the report. The report is
// written by now, so that what fails here is said in a notice.
func (a *API) receipt(ctx context.Context, r Report, of intake.Receipt) (receiptAnswer, error) {
	answer := receiptAnswer{
		Head:    Head{Basis: basis15, Quality: advice.NoAnswer, Assumptions: []string{}, Notices: list(of.Notices)},
		Subject: Subject{Plant: r.Plant},
	}
	in, err := a.Desk.InForce(ctx)
	if err != nil {
		a.Log.ErrorContext(ctx, "the advice in force cannot be read after a report", "plant", r.Plant, "error", err)
		answer.Notices.Add(notice.New(notice.Caution, "advice-not-read", r.Plant, "the report is written; the plant's advice could not be read just now"))
		return answer, nil
	}
	p, err := in.Plant(r.Plant)
	if err != nil { // a plant without advice takes reports all the same
		return answer, nil
	}
	notices := answer.Notices
	row := rowOf(p)
	answer.Head, answer.Subject, answer.row = headOf(p), subjectOf(p), &row
	answer.Notices = notices
	return answer, nil
}

// jsonOnly refuses a body that does not say that it is JSON: a form of another site cannot say so.
func (a *API) jsonOnly(ctx huma.Context, next func(huma.Context)) {
	media, _, err := mime.ParseMediaType(ctx.Header("Content-Type"))
	if err != nil || media != jsonType {
		_ = huma.WriteErr(a.huma, ctx, http.StatusUnsupportedMediaType, "the body must be JSON: send the header Content-Type: application/json")
		return
	}
	next(ctx)
}

// placed gives a fault with its fields named as the body names them.
func placed(err error, where func(string) string) error {
	var e *fault.Error
	if !errors.As(err, &e) || len(e.Fields) == 0 {
		return err
	}
	named := fault.Wrap(e.Kind, err, "%s", e.Message)
	for _, f := range e.Fields {
		named.Fields = append(named.Fields, fault.Field{Where: where(f.Where), Message: f.Message})
	}
	return named
}
