package api_test

import (
	"os"
	"regexp"
	"strings"
	"testing"
)

// shownReport is a report as docs/api.md shows it: a line of curl, with its body in quotes.
var shownReport = regexp.MustCompile(`curl -s -X POST \$B(/\S+) -H 'Content-Type: application/json' -H 'Idempotency-Key: (\S+)'[ \\\n]+-d '([^']+)'`)

// TestTheReportsThatTheDocumentationShowsAreTaken sends them to the demo in the order of the page, as a reader would.
func TestTheReportsThatTheDocumentationShowsAreTaken(t *testing.T) {
	text, err := os.ReadFile("../../docs/api.md")
	if err != nil {
		t.Fatal(err)
	}
	shown := shownReport.FindAllStringSubmatch(string(text), -1)
	if len(shown) != strings.Count(string(text), "curl -s -X POST") {
		t.Errorf("%d reports have the expected form, of %d", len(shown), strings.Count(string(text), "curl -s -X POST"))
	}
	w, sent := open(t), map[string]bool{}
	for _, s := range shown {
		path, key, body := s[1], s[2], s[3]
		sent[template("/api/v1"+path)] = true
		first := w.post("/api/v1"+path, key, body).want(t, 201).receipt(t)
		if !sameJSON(t, body, string(first.Report)) {
			t.Errorf("%s was understood as %s", body, first.Report)
		}
		w.post("/api/v1"+path, key, body).want(t, 200)
	}
	for _, to := range reportOf {
		if !sent[template("/api/v1"+to.path)] {
			t.Errorf("the page shows no report to %s", to.path)
		}
	}
}

func TestTheDoubtThatTheDocumentationShowsIsAnswered(t *testing.T) {
	text, err := os.ReadFile("../../docs/api.md")
	if err != nil {
		t.Fatal(err)
	}
	a := open(t).post("/api/v1/plants/marten-spit/meter-readings", "logger-0816", `{"at":"2026-03-02T23:45:00Z","meter":"fuel","register_counts":8363}`).want(t, 201)
	_, answered, _ := strings.Cut(string(a.body), `"doubts":[`)
	answered, _, found := strings.Cut(answered, ": a digit") // the page leaves the rest out
	if page := strings.ReplaceAll(string(text), "\n       ", ""); !found || !strings.Contains(page, answered) {
		t.Errorf("the page does not show %s", answered)
	}
}
