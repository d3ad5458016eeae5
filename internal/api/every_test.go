package api_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// TestEveryReportHasTheFailuresItDeclares provokes with each report what the other tests provoke with one.
func TestEveryReportHasTheFailuresItDeclares(t *testing.T) {
	w := writing(t)
	bodies := examples(t)
	for operation, to := range reportOf {
		path := "/api/v1" + to.path
		w.post(path, "K", `{`).want(t, 400)
		w.post(strings.Replace(path, to.plant, "nowhere", 1), "K", bodies[operation]).want(t, 404)
		w.post(path, "K", `{"who":"`+strings.Repeat("x", 70_000)+`"}`).want(t, 413)
		w.post(path, "K", bodies[operation], "Content-Type", "text/plain").want(t, 415)
		w.post(path, "K", `{}`).want(t, 422)
	}
	long := strings.Repeat("x", 201)
	for _, path := range []string{"", "/stock", "/projection", "/advice", "/forecast-scores", "/books", "/orders", "/receipts", "/usages", "/supposed", "/sensitivities", "/plan", "/plan/options"} {
		w.get("/api/v1/plants/nowhere"+path).want(t, 404)
		w.get("/api/v1/plants/"+long+path).want(t, 422)
	}
	w.get("/api/v1/health?colour=red").want(t, 422)
}

// unmet lists what the document declares and no test met.
func unmet() ([]string, error) {
	doc, err := contract()
	if err != nil {
		return nil, err
	}
	var missing []string
	for path, item := range doc.model.Paths.PathItems.FromOldest() {
		for method, op := range item.GetOperations().FromOldest() {
			for status := range op.Responses.Codes.FromOldest() {
				name := fmt.Sprintf("%s %s %s", strings.ToUpper(method), path, status)
				if _, met := exercised.Load(name); !met {
					missing = append(missing, name)
				}
			}
		}
	}
	slices.Sort(missing)
	return missing, nil
}
