package main

import (
	"encoding/json"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"overwinter/internal/fault"
)

// marten-spit is served by one window a year, so that its plan has one lot, ended by the next year's window.
func TestAPlanIsShownWithItsOptions(t *testing.T) {
	unraced(t)
	code, out, errors := command("plan", "--demo", "marten-spit")
	if code != fault.ExitDone || errors != "" {
		t.Fatalf("exit %d: %s", code, errors)
	}
	spaced := regexp.MustCompile(" {2,}").ReplaceAllString(out, " | ")
	for _, want := range []string{
		"Marten Spit (marten-spit), as of the close of 2 Mar 2026: the cheapest plan until the kestrel-barge ", "Nothing is saved.",
		"delivery | order by | arrives | call below | fill up to | lot | a kL costs | called for | fails\n", "\nkestrel-barge ", " fills up to ", "\nCosts ",
		"of 1000 paths that it was not made from", "otherwise | costs more | below reserve | more often by | fallback | short at the risk target\n",
		"\nskip kestrel-barge ", "\nfill the tanks at kestrel-barge ", "\nfix the litres when ordering kestrel-barge ", "\nfails: kestrel-barge ", "\nburn 5 % less | -", "\nburn 10 % less | -",
		"assumed: ", "A planning aid, not a gauge",
	} {
		if !strings.Contains(spaced, want) {
			t.Errorf("%q is missing in\n%s", want, spaced)
		}
	}
	_, text, _ := command("plan", "--demo", "marten-spit", "--json")
	var got struct {
		Plant, Basis string
		Plan         struct {
			Lots []struct {
				UpTo  float64 `json:"fill_up_to_l15"`
				Level struct {
					Outflow int64 `json:"outflow_l15"`
					Brought int64 `json:"brought_by_orders_l15"`
					Reserve int64 `json:"reserve_l15"`
					Asked   int64 `json:"asked_l15"`
					Raised  int64 `json:"raised_l15"`
				}
			}
		}
		Options []struct{ Code string }
	}
	if err := json.Unmarshal([]byte(text), &got); err != nil || got.Plant != "marten-spit" || got.Basis != "15C" || len(got.Plan.Lots) == 0 || len(got.Options) == 0 {
		t.Fatalf("%+v, %v: %s", got, err, text)
	}
	for _, l := range got.Plan.Lots { // a level is what its lines come to, to the litre that it is rounded to
		asked := l.Level.Outflow - l.Level.Brought + l.Level.Reserve
		if d := float64(asked+l.Level.Raised) - l.UpTo; l.Level.Asked != asked || d < -1 || d > 1 {
			t.Errorf("%+v does not add up", l)
		}
	}
}

func TestAPlanThatThereIsNotIsRefused(t *testing.T) {
	unraced(t)
	nowhere := filepath.Join(t.TempDir(), "nowhere.db")
	for _, tt := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"plan", "--demo", "atlantis"}, fault.ExitNotFound, `no plant "atlantis"`},
		{[]string{"plan", "--demo", "plover-bight"}, fault.ExitInvalid, "there is no plan for Plover Bight"},
		{[]string{"plan", "--db", nowhere, "P"}, fault.ExitNotFound, "load a data folder first"},
		{[]string{"plan"}, fault.ExitUsage, "<plant>"},
		{[]string{"plan", "--demo", "marten-spit", "--as-of=soon"}, fault.ExitUsage, `--as-of: "soon" is no date: expected YYYY-MM-DD`},
		{[]string{"plan", "--demo", "marten-spit", "--seed=one"}, fault.ExitUsage, "--seed"},
	} {
		if code, _, errors := command(tt.args...); code != tt.code || !strings.Contains(errors, tt.says) {
			t.Errorf("%v: exit %d, %q", tt.args, code, errors)
		}
	}
}
