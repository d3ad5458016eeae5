package api

import (
	"testing"

	"github.com/labstack/echo/v4"
)

func TestEveryPropertyHasAMeaningAndNoMeaningIsIdle(t *testing.T) {
	a := New(Deps{})
	a.Register(echo.New())
	used := map[string]bool{}
	for name, schema := range a.huma.OpenAPI().Components.Schemas.Map() {
		for property, s := range schema.Properties {
			if s.Description == "" {
				t.Errorf("%s.%s has no meaning written down", name, property)
			}
			if _, own := meanings[name+"."+property]; own {
				used[name+"."+property] = true
			} else {
				used[property] = true
			}
		}
	}
	for key := range meanings {
		if !used[key] {
			t.Errorf("the meaning of %q is used nowhere", key)
		}
	}
}

func TestNoTwoProblemsShareAStatusOrACode(t *testing.T) {
	statuses, codes := map[int]bool{}, map[string]bool{}
	for _, p := range problems {
		if statuses[p.Status] || codes[p.Code] || p.Title == "" || p.Means == "" || p.Advice == "" {
			t.Errorf("%+v is not one of its own", p)
		}
		statuses[p.Status], codes[p.Code] = true, true
	}
}
