package api

import (
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humaecho"
	"github.com/labstack/echo/v4"

	"overwinter/internal/fault"
)

const (
	problemPrefix = "/problems/"
	problemType   = "application/problem+json"
	contextKey    = "overwinter.api"
	retrySeconds  = "30" // after which a ledger that cannot be reached is worth another try
)

// problem is one kind of failure as clients see it.
type problem struct {
	Code   string
	Status int
	Title  string
	Means  string // what has happened
	Advice string // what the client can do
}

// problems is the one table of failures. Those of a fault.Kind stand first, in the order of the kinds.
var problems = []problem{
	{"internal", fault.Internal.Status(), "The service failed", "Something went wrong inside the service. The cause is in its log, under the request id.",
		"Try again later. If it happens again, tell the operator the request id."},
	{"invalid", fault.Invalid.Status(), "The content is wrong", "The request can be read, but a value in it is missing, out of range, or contradicts another or the ledger. Nothing was written.",
		"Mend each place that the list of errors names and send the request again, with the same Idempotency-Key."},
	{"not-found", fault.NotFound.Status(), "Not found", "There is no such path, plant, order or advice.",
		"Check the spelling. The list of plants shows what is there; a new plant has advice after the next forecast."},
	{"conflict", fault.Conflict.Status(), "Conflict", "The Idempotency-Key was used before with other content, what is to be written is there already with other content, or the row to be replaced is not in force. Nothing was written.",
		"To report something new, send a new key. To mend an earlier report, correct it."},
	{"unavailable", fault.Unavailable.Status(), "Not available now", "The ledger is busy or cannot be reached.",
		"Send the same request again after a while; a report keeps its Idempotency-Key and is never written twice."},

	{"malformed", http.StatusBadRequest, "Not understood", "The request or its body cannot be read, such as a body that is not valid JSON or names a field twice.",
		"Send one JSON object, in UTF-8, in which no name comes twice."},
	{"forbidden", http.StatusForbidden, "Not from here", "A web page of another site tried to read or to write.",
		"Use the service from its own pages, or from a program that is not a web page of another site."},
	{"method-not-allowed", http.StatusMethodNotAllowed, "Method not allowed", "The path is there, but not for this method.",
		"Use one of the methods in the Allow header."},
	{"timeout", http.StatusRequestTimeout, "Too slow", "The body did not arrive in time. Nothing was written.",
		"Send the same request again."},
	{"too-large", http.StatusRequestEntityTooLarge, "Too large", fmt.Sprintf("The body has %d bytes or more. Nothing was written.", maxBody),
		"Send the entries in several reports, each with its own Idempotency-Key."},
	{"unsupported-media-type", http.StatusUnsupportedMediaType, "Not JSON", "The Content-Type of the body is not application/json.",
		"Send the header Content-Type: application/json."},
	{"misdirected", http.StatusMisdirectedRequest, "Unknown host", "The request names a host that this service does not answer for.",
		"Use the address that the service listens on, or have the operator allow the name."},
}

// byStatus finds the problem of a status that a library chose; an unknown one is told as the nearest.
func byStatus(status int) problem {
	for _, p := range problems {
		if p.Status == status {
			return p
		}
	}
	if status >= 500 {
		return problems[fault.Internal]
	}
	return byStatus(http.StatusBadRequest)
}

// Problem is a problem document.
type Problem struct {
	Type      string  `json:"type" format:"uri-reference" doc:"Names the kind of problem; the path answers with an explanation." example:"/problems/invalid"`
	Title     string  `json:"title" doc:"The kind of problem for people; the same for each occurrence." example:"The content is wrong"`
	Status    int     `json:"status" minimum:"400" maximum:"599" doc:"The HTTP status." example:"422"`
	Detail    string  `json:"detail" doc:"What went wrong this time, for people."`
	Instance  string  `json:"instance" format:"uri-reference" doc:"The path that was asked."`
	Code      string  `json:"code" doc:"The kind of problem for machines: the last part of type." example:"invalid"`
	RequestID string  `json:"request_id" doc:"Names the request in the service's log."`
	Errors    []Place `json:"errors" doc:"The places that are wrong; empty where the problem has none."`
}

// Place is one place of a request that is wrong.
type Place struct {
	In        string  `json:"in" enum:"body,path,query,header" doc:"The part of the request."`
	Pointer   *string `json:"pointer" doc:"JSON Pointer (RFC 6901) to the place in the body; null outside the body." example:"/meters/0/register_counts"`
	Parameter *string `json:"parameter" doc:"Name of the parameter or header; null inside the body." example:"Idempotency-Key"`
	Message   string  `json:"message" doc:"What was found, what was expected and what to do."`
}

// Error gives the detail.
func (p *Problem) Error() string { return p.Detail }

// GetStatus gives the HTTP status.
func (p *Problem) GetStatus() int { return p.Status }

// ContentType is that of problem documents, whatever the client accepts.
func (p *Problem) ContentType(string) string { return problemType }

// problemOf is how huma makes its errors: from its own checks, and from what a handler returned.
func problemOf(ctx huma.Context, status int, message string, causes ...error) huma.StatusError {
	c := humaecho.Unwrap(ctx)
	c.Response().Header().Set("Cache-Control", "no-store")
	a, ok := c.Get(contextKey).(*API)
	if !ok {
		panic("api: a request came by a route that is not the API's")
	}
	for _, cause := range causes {
		var e *fault.Error
		if errors.As(cause, &e) {
			return a.tell(c, problems[e.Kind], e.Message, placesOf(e.Fields), cause)
		}
	}
	p := byStatus(status)
	if status >= 500 {
		return a.tell(c, p, p.Means, nil, errors.Join(append(causes, errors.New(message))...))
	}
	places := checked(causes)
	if message == "validation failed" || len(places) > 0 {
		message = p.Means
		if len(places) == 1 {
			message = places[0].Message
		}
	}
	return a.tell(c, p, message, places, nil)
}

// tell makes the document and logs what is the service's own failure.
func (a *API) tell(c echo.Context, p problem, detail string, places []Place, cause error) *Problem {
	if p.Status >= 500 {
		a.Log.LogAttrs(c.Request().Context(), slog.LevelError, "request failed",
			slog.String("request_id", requestID(c)), slog.String("method", c.Request().Method),
			slog.String("path", c.Request().URL.Path), slog.Int("status", p.Status), slog.Any("error", cause))
	}
	if p.Status == http.StatusServiceUnavailable {
		c.Response().Header().Set(echo.HeaderRetryAfter, retrySeconds)
	}
	if places == nil {
		places = []Place{}
	}
	return &Problem{
		Type: problemPrefix + p.Code, Title: p.Title, Status: p.Status, Detail: detail, Instance: c.Request().URL.EscapedPath(),
		Code: p.Code, RequestID: requestID(c), Errors: places,
	}
}

// fail answers an error that came past the operations: an unknown path, another method, a refusal at
// the gate, a panic.
func (a *API) fail(err error, c echo.Context) {
	if c.Response().Committed {
		a.Log.Error("an answer broke off", "request_id", requestID(c), "error", err)
		panic(http.ErrAbortHandler) // so that the client sees that it is not whole
	}
	doc := a.failure(err, c)
	body, err := json.Marshal(doc)
	if err != nil {
		panic("api: a problem cannot be written as JSON: " + err.Error())
	}
	c.Response().Header().Set("Cache-Control", "no-store")
	if err := c.Blob(doc.Status, problemType, body); err != nil {
		a.Log.Debug("a problem did not reach the client", "request_id", requestID(c), "error", err)
	}
}

func (a *API) failure(err error, c echo.Context) *Problem {
	var ours *fault.Error
	var theirs *echo.HTTPError
	switch {
	case errors.As(err, &ours):
		return a.tell(c, problems[ours.Kind], ours.Message, placesOf(ours.Fields), err)
	case errors.As(err, &theirs):
		p := byStatus(theirs.Code)
		return a.tell(c, p, p.Means, nil, err)
	}
	p := problems[fault.Internal]
	return a.tell(c, p, p.Means, nil, err)
}

// checked gives the places that huma's checks found wrong.
func checked(causes []error) []Place {
	var places []Place
	for _, cause := range causes {
		var d huma.ErrorDetailer
		if errors.As(cause, &d) {
			detail := d.ErrorDetail()
			places = append(places, placeOf(detail.Location, detail.Message))
		}
	}
	return places
}

// placesOf gives the places that the rooms behind the API found wrong: they name fields of the body.
func placesOf(fields []fault.Field) []Place {
	var places []Place
	for _, f := range fields {
		switch {
		case f.Where == keyField:
			f.Where = "header." + keyHeader
		case !strings.HasPrefix(f.Where, "query."):
			f.Where = "body." + withUnit(f.Where)
		}
		places = append(places, placeOf(f.Where, f.Message))
	}
	return places
}

// placeOf reads a path such as body.meters[0].register_counts or query.limit.
func placeOf(path, message string) Place {
	part, rest, _ := strings.Cut(path, ".")
	if part != "body" {
		rest, _, _ = strings.Cut(rest, "[") // which of a parameter's values it is the message tells
		return Place{In: part, Parameter: &rest, Message: message}
	}
	pointer := ""
	for _, step := range strings.FieldsFunc(rest, func(r rune) bool { return r == '.' || r == '[' || r == ']' }) {
		pointer += "/" + strings.NewReplacer("~", "~0", "/", "~1").Replace(step)
	}
	return Place{In: "body", Pointer: &pointer, Message: message}
}

// requestID gives the request's id: the one that the server gave it, or a new one.
func requestID(c echo.Context) string {
	header := c.Response().Header()
	id := header.Get(echo.HeaderXRequestID)
	if id == "" {
		id = rand.Text()
		header.Set(echo.HeaderXRequestID, id)
	}
	return id
}

// ours tells whether the API answers the errors of a path.
func ours(path string) bool {
	return strings.HasPrefix(path, "/api/") || path == "/api" || strings.HasPrefix(path, problemPrefix)
}
