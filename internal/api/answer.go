package api

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"net/http"
	"strconv"
	"strings"
	"sync"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/notice"
)

const jsonType = "application/json"

// Head is what every answer with figures begins with.
type Head struct {
	AsOf        *calendar.Day  `json:"as_of"`
	Basis       string         `json:"basis" enum:"15C"`
	Quality     advice.Quality `json:"quality"`
	Assumptions []string       `json:"assumptions"`
	Notices     notice.List    `json:"notices"`
}

// basis15 says that the volumes of an answer whose names do not say otherwise are at 15 °C.
const basis15 = "15C"

// headOf is the head of an answer about one plant's advice.
func headOf(p advice.Plant) Head {
	return Head{AsOf: &p.AsOf, Basis: basis15, Quality: p.Quality, Assumptions: list(p.Assumptions), Notices: list(p.Notices)}
}

// list gives an empty list for an absent one, since lists are never null.
func list[S ~[]T, T any](s S) S {
	if s == nil {
		return S{}
	}
	return s
}

// Conditional is the part of every question that lets an answer be left out when the client has it.
type Conditional struct {
	IfNoneMatch    string `header:"If-None-Match" doc:"ETag of an answer that the client holds; 304 says that it is still the answer."`
	AcceptEncoding string `header:"Accept-Encoding" hidden:"true"`
}

func (c Conditional) conditional() Conditional { return c }

// page is an answer as it goes over the wire.
type page struct {
	plain []byte
	tag   string
	once  sync.Once
	small []byte // compressed, made when it is first asked for
}

// encode writes an answer.
func encode(answer any) (*page, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(answer); err != nil {
		return nil, fault.Wrap(fault.Internal, err, "the answer cannot be written")
	}
	sum := sha256.Sum256(b.Bytes())
	return &page{plain: b.Bytes(), tag: base64.RawURLEncoding.EncodeToString(sum[:15])}, nil
}

// worthwhile is the length from which compression saves a packet.
const worthwhile = 1400

func (p *page) compressed() []byte {
	p.once.Do(func() {
		var b bytes.Buffer
		z := gzip.NewWriter(&b)
		_, _ = z.Write(p.plain) // a buffer does not fail
		_ = z.Close()
		p.small = b.Bytes()
	})
	return p.small
}

// response is a page for one client.
type response struct {
	Status          int
	ContentType     string `header:"Content-Type" hidden:"true"`
	ContentEncoding string `header:"Content-Encoding" hidden:"true"`
	ContentLength   string `header:"Content-Length" hidden:"true"`
	Vary            string `header:"Vary" hidden:"true"`
	CacheControl    string `header:"Cache-Control" hidden:"true"`
	ETag            string `header:"ETag" doc:"Identifies the bytes of the answer."`
	Body            []byte
}

// to gives the page as a client wants it. The ETag stands for the bytes as sent, so the compressed form
// has its own.
func (p *page) to(c Conditional) *response {
	r := &response{
		Status: http.StatusOK, ContentType: jsonType, Vary: "Accept-Encoding", CacheControl: "private, no-cache",
		ETag: `"` + p.tag + `"`, Body: p.plain,
	}
	if len(p.plain) >= worthwhile && takesGzip(c.AcceptEncoding) {
		r.ContentEncoding, r.ETag = "gzip", `"`+p.tag+`-gzip"`
	}
	switch {
	case holds(c.IfNoneMatch, p.tag):
		r.Status, r.ContentType, r.ContentEncoding, r.Body = http.StatusNotModified, "", "", nil
		return r
	case r.ContentEncoding != "":
		r.Body = p.compressed()
	}
	r.ContentLength = strconv.Itoa(len(r.Body))
	return r
}

// takesGzip reads Accept-Encoding as far as it concerns gzip.
func takesGzip(accepted string) bool {
	for item := range strings.SplitSeq(accepted, ",") {
		coding, q, _ := strings.Cut(strings.TrimSpace(item), ";")
		if strings.EqualFold(strings.TrimSpace(coding), "gzip") {
			weight := strings.TrimRight(strings.ReplaceAll(q, " ", ""), "0.")
			return weight != "q=" && weight != "Q="
		}
	}
	return false
}

// holds tells whether the client has the page, in either form: the comparison is the weak one, as RFC
// 9110, section 13.1.2 has it.
func holds(ifNoneMatch, tag string) bool {
	for item := range strings.SplitSeq(ifNoneMatch, ",") {
		switch strings.TrimPrefix(strings.TrimSpace(item), "W/") {
		case "*", `"` + tag + `"`, `"` + tag + `-gzip"`:
			return true
		}
	}
	return false
}

// question is the input of an operation that reads.
type question interface{ conditional() Conditional }

// register adds an operation that reads and gives its answer as a page.
func register[Q question, A any](a *API, op huma.Operation, errors []int, answer func(context.Context, *Q) (*A, error)) {
	registerPage[Q, A](a, op, errors, func(ctx context.Context, q *Q) (*page, error) {
		body, err := answer(ctx, q)
		if err != nil {
			return nil, err
		}
		return encode(body)
	})
}

// registerPage adds an operation that reads; A tells the document what the page holds.
func registerPage[Q question, A any](a *API, op huma.Operation, errors []int, answer func(context.Context, *Q) (*page, error)) {
	op.Method = http.MethodGet
	op.Responses = map[string]*huma.Response{
		"200": {Description: "The answer.", Content: content[A](a)},
		"304": {Description: "The client's copy is still the answer."},
	}
	a.declareProblems(&op, append(errors, http.StatusUnprocessableEntity, http.StatusInternalServerError))
	huma.Register(a.huma, op, func(ctx context.Context, q *Q) (*response, error) {
		p, err := answer(ctx, q)
		if err != nil {
			return nil, err
		}
		return p.to((*q).conditional()), nil
	})
}
