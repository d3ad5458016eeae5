package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"overwinter/internal/fault"
	"overwinter/internal/lots"
)

// lotsOf runs the command over a problem in a file.
func lotsOf(t *testing.T, text string, flags ...string) (code int, out, said string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "problem.json")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return command(append([]string{"lots", path}, flags...)...)
}

// example takes the problem and the answer out of the document.
func example(t *testing.T) (problem, answer string) {
	t.Helper()
	page, err := os.ReadFile("../../docs/lots.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(page), "```json\n")
	problem, rest, _ = strings.Cut(rest, "```")
	_, rest, _ = strings.Cut(rest, "```text\n")
	answer, _, _ = strings.Cut(rest, "```")
	return problem, answer
}

func TestTheDocumentsExamplePrintsWhatItShows(t *testing.T) {
	problem, answer := example(t)
	code, out, said := lotsOf(t, problem)
	if code != fault.ExitDone || out != answer || said != "" {
		t.Errorf("exit %d, said %q, printed\n%s\nthe document has\n%s", code, said, out, answer)
	}
}

func TestLotsAnswerMachines(t *testing.T) {
	problem, _ := example(t)
	code, out, said := lotsOf(t, problem, "--json")
	var a lots.Answer
	if err := json.Unmarshal([]byte(out), &a); err != nil || code != fault.ExitDone || said != "" {
		t.Fatal(code, said, err)
	}
	if a.Currency != "CAD" || len(a.Plants) != 1 || !a.Plants[0].Proved || a.Cost != a.LowerBound || a.Cost != a.Plants[0].Cost.Total || a.Plants[0].Windows[0].Lot != 600000 {
		t.Errorf("%+v", a)
	}
}

func TestAPlantWithoutAPlanEndsWithExitCode3(t *testing.T) {
	const problem = `{"currency":"USD","plants":[
		{"name":"P","windows":[{"name":"a","need_l15":500,"max_l15":300,"price_per_l15":1}]},
		{"name":"Q","windows":[{"name":"a","need_l15":500,"price_per_l15":1}]}]}`
	for _, flags := range [][]string{nil, {"--json"}} {
		code, out, said := lotsOf(t, problem, flags...)
		if code != fault.ExitInvalid || !strings.Contains(said, "at the end of window 1's interval (a) at least 200 L are missing") || !strings.Contains(out, "Q") {
			t.Errorf("%v: exit %d, said %q, printed %s", flags, code, said, out)
		}
	}
	if code, out, said := lotsOf(t, `{"plants":[]}`); code != fault.ExitInvalid || out != "" || !strings.Contains(said, "currency: missing") {
		t.Errorf("exit %d, said %q, printed %s", code, said, out)
	}
	if code, _, said := command("lots", "no-such-file.json"); code != fault.ExitNotFound || !strings.Contains(said, "no file") {
		t.Errorf("exit %d, said %q", code, said)
	}
}
