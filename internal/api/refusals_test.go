package api_test

import (
	"strings"
	"testing"
)

func TestABodyThatIsWrongIsRefusedWithItsPlace(t *testing.T) {
	const round, at = "rounds", `"at":"2026-03-02T21:00:00Z"`
	tests := []struct {
		name, report, body string
		status             int
		places             []string // pointers
	}{
		{"nothing read", round, `{` + at + `}`, 422, []string{"/meters"}},
		{"no moment", round, `{"tanks":[]}`, 422, []string{""}},
		{"a moment without an offset", round, `{"at":"2026-03-02T21:00:00","tanks":[{"tank":"farm-2","depth_mm":1}]}`, 422, []string{"/at"}},
		{"an hour of one digit", round, `{"at":"2026-03-02T1:30:00Z","tanks":[{"tank":"farm-2","depth_mm":1930}]}`, 422, []string{"/at"}},
		{"a comma before the fraction", round, `{"at":"2026-03-02T21:00:00,5Z","tanks":[{"tank":"farm-2","depth_mm":1930}]}`, 422, []string{"/at"}},
		{"an offset of a day", round, `{"at":"2026-03-02T21:00:00+24:00","tanks":[{"tank":"farm-2","depth_mm":1930}]}`, 422, []string{"/at"}},
		{"a stop in another form", "transfers", `{` + at + `,"from_tank":"farm-1","to_tank":"farm-2","open":true,"planned_stop":"2026-03-03T2:00:00Z"}`, 422, []string{"/planned_stop"}},
		{"a moment to come", round, roundAt("2026-03-05T21:00:00Z"), 422, []string{"/at"}},
		{"an unknown name", round, `{` + at + `,"tanks":[{"tank":"farm-2","depth_mm":1,"deep":2}]}`, 422, []string{"/tanks/0/deep"}},
		{"a name in other letters", round, `{` + at + `,"tanks":[{"tank":"farm-2","Depth_mm":1}]}`, 422, []string{"/tanks/0/Depth_mm"}},
		{"an unknown tank", round, `{` + at + `,"tanks":[{"tank":"farm-2","depth_mm":1930},{"tank":"farm-9","depth_mm":1}]}`, 422, []string{"/tanks/1"}},
		{"an unknown meter", round, `{` + at + `,"meters":[{"meter":"steam","register_counts":1}]}`, 422, []string{"/meters/0"}},
		{"a register below zero", round, `{` + at + `,"meters":[{"meter":"fuel","register_counts":-1}]}`, 422, []string{"/meters/0/register_counts"}},
		{"a depth that is a text", round, `{` + at + `,"tanks":[{"tank":"farm-2","depth_mm":"deep"}]}`, 422, []string{"/tanks/0/depth_mm"}},
		{"a tank deeper than it is high", round, `{` + at + `,"tanks":[{"tank":"farm-2","depth_mm":9000}]}`, 422, []string{"/tanks/0/depth_mm"}},
		{"the same tank twice", round, `{` + at + `,"tanks":[{"tank":"farm-2","depth_mm":1930},{"tank":"farm-2","depth_mm":1931}]}`, 422, []string{"/tanks/1"}},
		{"a meter without its register", round, `{` + at + `,"meters":[{"meter":"fuel"}]}`, 422, []string{"/meters/0"}},
		{"a fuel of boiling heat", round, `{` + at + `,"tanks":[{"tank":"farm-2","depth_mm":1930,"temperature_c":400}]}`, 422, []string{"/tanks/0/temperature_c"}},
		{"depth and volume both", "gaugings", `{` + at + `,"tank":"farm-2","depth_mm":1930,"volume_l":1000}`, 422, []string{"/depth_mm"}},
		{"neither depth nor volume", "gaugings", `{` + at + `,"tank":"farm-2"}`, 422, []string{"/depth_mm"}},
		{"an unknown basis", "deliveries", `{` + at + `,"volume_l":10,"basis":"60F"}`, 422, []string{"/basis"}},
		{"nothing delivered", "deliveries", `{` + at + `,"volume_l":0}`, 422, []string{"/volume_l"}},
		{"a day of no month", "orders", `{"order":"A","volume_l":10,"state":"committed","ordered_on":"2026-02-30","early":"2026-06-10","likely":"2026-06-20","late":"2026-07-05"}`, 422, []string{"/ordered_on"}},
		{"days out of order", "orders", `{"order":"A","volume_l":10,"state":"committed","ordered_on":"2026-03-01","early":"2026-06-30","likely":"2026-06-20","late":"2026-07-05"}`, 422, []string{"/early"}},
		{"a new order that has come", "orders", `{"order":"A","volume_l":10,"state":"received","ordered_on":"2026-03-01","early":"2026-06-10","likely":"2026-06-20","late":"2026-07-05"}`, 422, []string{"/state"}},
		{"no JSON", round, `{"at":`, 400, []string{""}},
		{"a list", round, `[]`, 422, []string{""}},
		{"two values", round, roundAt("2026-03-02T21:00:00Z") + `{}`, 400, []string{""}},
		{"a name twice", round, `{` + at + `,` + at + `,"tanks":[{"tank":"farm-2","depth_mm":1930}]}`, 400, []string{""}},
		{"half of a character", round, `{"who":"A \ud83d","at":"2026-03-02T20:30:00Z","tanks":[{"tank":"farm-2","depth_mm":1930}]}`, 400, []string{""}},
		{"the halves of a character in the wrong order", round, `{"who":"\ude00\ud83d","at":"2026-03-02T20:30:00Z","tanks":[{"tank":"farm-2","depth_mm":1930}]}`, 400, []string{""}},
		{"a name twice deep inside", round, `{` + at + `,"tanks":[{"tank":"farm-2","depth_mm":1930,"depth_mm":1931}]}`, 400, []string{""}},
		{"no UTF-8", round, `{` + at + `,"who":"` + "\xff" + `"}`, 400, []string{""}},
		{"a number beyond all", round, `{` + at + `,"tanks":[{"tank":"farm-2","depth_mm":1e999}]}`, 400, []string{""}},
		{"nothing at all", round, ``, 400, nil},
	}
	w := writing(t)
	before := w.rows(t, "marten-spit")
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := w.post("/api/v1/plants/marten-spit/"+tt.report, "K", tt.body).want(t, tt.status).problem(t)
			var places []string
			for _, e := range p.Errors {
				if e.In != "body" || e.Pointer == nil || e.Message == "" {
					t.Errorf("a place outside the body: %+v", e)
					continue
				}
				places = append(places, *e.Pointer)
			}
			for _, want := range tt.places {
				found := false
				for _, got := range places {
					found = found || got == want
				}
				if !found {
					t.Errorf("places %q, want %q: %+v", places, want, p)
				}
			}
		})
	}
	if got := w.rows(t, "marten-spit"); got != before {
		t.Errorf("%d rows were written", got-before)
	}
}

func TestWhatIsWrongAroundTheBodyIsRefused(t *testing.T) {
	w := writing(t)
	good := roundAt("2026-03-02T21:00:00Z")
	const rounds = "/api/v1/plants/marten-spit/rounds"
	before := w.rows(t, "marten-spit")
	tests := []struct {
		name   string
		answer func() answer
		status int
		code   string
	}{
		{"no key", func() answer { return w.post(rounds, "", good) }, 422, "invalid"},
		{"a key with a blank", func() answer { return w.post(rounds, "a b", good) }, 422, "invalid"},
		{"a key of a book's length", func() answer { return w.post(rounds, strings.Repeat("k", 101), good) }, 422, "invalid"},
		{"a form", func() answer { return w.post(rounds, "K", "a=b", "Content-Type", "application/x-www-form-urlencoded") }, 415, "unsupported-media-type"},
		{"plain text", func() answer { return w.post(rounds, "K", good, "Content-Type", "text/plain") }, 415, "unsupported-media-type"},
		{"something like JSON", func() answer { return w.post(rounds, "K", good, "Content-Type", "application/problem+json") }, 415, "unsupported-media-type"},
		{"no content type", func() answer { return w.post(rounds, "K", good, "Content-Type", "") }, 415, "unsupported-media-type"},
		{"too much", func() answer { return w.post(rounds, "K", `{"who":"`+strings.Repeat("x", 70_000)+`"}`) }, 413, "too-large"},
		{"an unknown plant", func() answer { return w.post("/api/v1/plants/nowhere/rounds", "K", good) }, 404, "not-found"},
		{"another method", func() answer { return w.do("PUT", rounds, good) }, 405, "method-not-allowed"},
		{"a method to delete", func() answer { return w.do("DELETE", "/api/v1/plants", "") }, 405, "method-not-allowed"},
		{"an unknown path", func() answer { return w.get("/api/v1/tanks") }, 404, "not-found"},
		{"an unknown path outside the version", func() answer { return w.get("/api/v2/plants") }, 404, "not-found"},
		{"the bare prefix", func() answer { return w.get("/api") }, 404, "not-found"},
		{"an unknown plant's advice", func() answer { return w.get("/api/v1/plants/nowhere/advice") }, 404, "not-found"},
		{"an unknown plant's issued advice", func() answer { return w.get("/api/v1/plants/nowhere/advice/issued") }, 404, "not-found"},
		{"too many issued", func() answer { return w.get("/api/v1/plants/northgate/advice/issued?limit=5000") }, 422, "invalid"},
		{"an unknown kind of problem", func() answer { return w.get("/problems/bad-luck") }, 404, "not-found"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a := tt.answer().want(t, tt.status)
			if p := a.problem(t); p.Code != tt.code {
				t.Errorf("code %q, want %q", p.Code, tt.code)
			}
			if tt.status == 405 && a.Header.Get("Allow") == "" {
				t.Error("no Allow header")
			}
		})
	}
	if got := w.rows(t, "marten-spit"); got != before {
		t.Errorf("%d rows were written", got-before)
	}
}

func TestAMissingKeyIsNamedAsTheHeader(t *testing.T) {
	p := writing(t).post("/api/v1/plants/marten-spit/rounds", "", roundAt("2026-03-02T21:00:00Z")).want(t, 422).problem(t)
	if len(p.Errors) != 1 || p.Errors[0].In != "header" || p.Errors[0].Parameter == nil || *p.Errors[0].Parameter != "Idempotency-Key" {
		t.Errorf("%+v", p.Errors)
	}
}
