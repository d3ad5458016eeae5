package api_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"strings"
	"sync"
	"testing"

	"github.com/pb33f/libopenapi"
	validator "github.com/pb33f/libopenapi-validator"
	"github.com/pb33f/libopenapi-validator/config"
	v3 "github.com/pb33f/libopenapi/datamodel/high/v3"
)

// contract is the document as it stands in the tree, read by a general-purpose validator.
var contract = sync.OnceValues(func() (*checkedDocument, error) {
	text, err := os.ReadFile(heldDocument)
	if err != nil {
		return nil, err
	}
	doc, err := libopenapi.NewDocument(text)
	if err != nil {
		return nil, err
	}
	model, err := doc.BuildV3Model()
	if err != nil {
		return nil, err
	}
	v, errs := validator.NewValidator(doc, config.WithFormatAssertions(), config.WithStrictMode())
	if len(errs) > 0 {
		return nil, errs[0]
	}
	return &checkedDocument{v, &model.Model}, nil
})

type checkedDocument struct {
	validator.Validator
	model *v3.Document
}

const heldDocument = "../../docs/openapi.yaml"

// exercised gathers the operations and statuses that the tests met: "GET /plants 200".
var exercised sync.Map

// client asks the API and holds every answer against the document.
type client struct {
	tb   testing.TB
	base string
	http http.Client
}

func newClient(tb testing.TB, base string) *client {
	return &client{tb: tb, base: base, http: http.Client{Transport: &http.Transport{DisableCompression: true}}}
}

// answer is what came back.
type answer struct {
	*http.Response
	body []byte
}

// get asks for a path under the prefix.
func (c *client) get(path string, headers ...string) answer {
	return c.do("GET", path, "", headers...)
}

// post sends a report under a key.
func (c *client) post(path, key, body string, headers ...string) answer {
	return c.do("POST", path, body, append([]string{"Content-Type", "application/json", "Idempotency-Key", key}, headers...)...)
}

// do sends a request whose headers are names and values in turn; an empty value takes the header away.
func (c *client) do(method, path, body string, headers ...string) answer {
	c.tb.Helper()
	r, err := http.NewRequest(method, c.base+path, strings.NewReader(body))
	if err != nil {
		c.tb.Fatal(err)
	}
	for i := 0; i < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
		if headers[i+1] == "" {
			r.Header.Del(headers[i])
		}
	}
	response, err := c.http.Do(r)
	if err != nil {
		c.tb.Fatal(err)
	}
	defer response.Body.Close()
	data, err := io.ReadAll(response.Body)
	if err != nil {
		c.tb.Fatal(err)
	}
	a := answer{response, data}
	c.check(r, body, a)
	return a
}

// check holds a pair against the document: a good request must be one that the document allows, and any
// answer must be one that it declares.
func (c *client) check(r *http.Request, body string, a answer) {
	c.tb.Helper()
	if a.StatusCode >= 400 {
		c.checkProblem(a)
	}
	doc, err := contract()
	if err != nil {
		c.tb.Fatal(err)
	}
	item, _ := doc.model.Paths.PathItems.Get(template(r.URL.Path))
	if item == nil || operationOf(item, r.Method) == nil || a.Header.Get("Content-Encoding") != "" {
		return // no operation: nothing is declared; compressed: the same was checked plain
	}
	exercised.Store(fmt.Sprintf("%s %s %d", r.Method, template(r.URL.Path), a.StatusCode), true)
	if a.StatusCode < 400 {
		r.Body = io.NopCloser(strings.NewReader(body))
		if ok, errs := doc.ValidateHttpRequestSync(r); !ok {
			c.tb.Errorf("%s %s was taken, but the document does not allow it: %v", r.Method, r.URL, errs)
		}
	}
	if a.StatusCode == http.StatusNotModified {
		return
	}
	copied := *a.Response
	copied.Body = io.NopCloser(bytes.NewReader(a.body))
	if ok, errs := doc.ValidateHttpResponse(r, &copied); !ok {
		for _, e := range errs {
			c.tb.Errorf("%s %s: %d is not as declared: %s: %s %v", r.Method, r.URL, a.StatusCode, e.Message, e.Reason, e.SchemaValidationErrors)
		}
	}
}

// checkProblem holds what every failure is: a problem document whose status is the answer's.
func (c *client) checkProblem(a answer) {
	c.tb.Helper()
	if got := a.Header.Get("Content-Type"); got != "application/problem+json" {
		c.tb.Errorf("%d has content type %q: %s", a.StatusCode, got, a.body)
		return
	}
	p := a.problem(c.tb)
	if p.Status != a.StatusCode || p.Type != "/problems/"+p.Code || p.RequestID == "" || p.RequestID != a.Header.Get("X-Request-Id") || p.Errors == nil || p.Detail == "" {
		c.tb.Errorf("a problem document is not whole: %s", a.body)
	}
	if a.Header.Get("Cache-Control") != "no-store" {
		c.tb.Errorf("a problem may be kept: Cache-Control is %q", a.Header.Get("Cache-Control"))
	}
}

// problemDocument is a problem as a client reads it.
type problemDocument struct {
	Type, Title, Detail, Instance, Code string
	Status                              int
	RequestID                           string `json:"request_id"`
	Errors                              []struct {
		In                 string
		Pointer, Parameter *string
		Message            string
	}
}

func (a answer) problem(tb testing.TB) problemDocument {
	tb.Helper()
	var p problemDocument
	a.read(tb, &p)
	return p
}

func (a answer) read(tb testing.TB, into any) {
	tb.Helper()
	if err := json.Unmarshal(a.body, into); err != nil {
		tb.Fatalf("%d: %v: %s", a.StatusCode, err, a.body)
	}
}

// want fails unless the status is the expected one.
func (a answer) want(tb testing.TB, status int) answer {
	tb.Helper()
	if a.StatusCode != status {
		tb.Fatalf("%s %s answers %d, want %d: %s", a.Request.Method, a.Request.URL, a.StatusCode, status, a.body)
	}
	return a
}

// template turns a path of the server into a path of the document.
func template(path string) string {
	parts := strings.Split(strings.TrimPrefix(path, "/api/v1"), "/")
	if len(parts) > 2 && parts[1] == "plants" {
		parts[2] = "{plant}"
	}
	if len(parts) > 4 && parts[3] == "orders" {
		parts[4] = "{order}"
	}
	return strings.Join(parts, "/")
}

func operationOf(item *v3.PathItem, method string) *v3.Operation {
	op, _ := item.GetOperations().Get(strings.ToLower(method))
	return op
}
