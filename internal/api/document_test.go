package api_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/pb33f/libopenapi"
)

var update = flag.Bool("update", false, "write the OpenAPI document anew")

func TestTheDocumentInTheTreeIsTheOneServed(t *testing.T) {
	w := reading(t)
	served := w.get("/api/v1/openapi.yaml").want(t, 200)
	if *update {
		if err := os.WriteFile(heldDocument, served.body, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	held, err := os.ReadFile(heldDocument)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(held, served.body) {
		t.Error("docs/openapi.yaml is not what is served: run this test with -update and read the difference")
	}
}

func TestTheDocumentIsSoundOpenAPI(t *testing.T) {
	held, err := contract()
	if err != nil {
		t.Fatal(err)
	}
	if ok, wrong := held.ValidateDocument(); !ok {
		t.Error(wrong)
	}
	for _, form := range []string{"yaml", "json"} {
		a := reading(t).get("/api/v1/openapi."+form).want(t, 200)
		if got := a.Header.Get("Content-Type"); got != "application/openapi+"+form {
			t.Errorf("%s is served as %q", form, got)
		}
		doc, err := libopenapi.NewDocument(a.body)
		if err != nil {
			t.Fatal(err)
		}
		model, err := doc.BuildV3Model()
		if err != nil {
			t.Fatal(err)
		}
		if got, want := model.Model.Paths.PathItems.Len(), held.model.Paths.PathItems.Len(); got != want || want == 0 {
			t.Errorf("%s has %d paths, the document in the tree %d", form, got, want)
		}
	}
}

// tree is the document as plain values.
func (w *world) tree(t testing.TB) map[string]any {
	t.Helper()
	var all map[string]any
	w.get("/api/v1/openapi.json").want(t, 200).read(t, &all)
	return all
}

// walk calls visit for every object of a tree.
func walk(at string, v any, visit func(at string, object map[string]any)) {
	switch v := v.(type) {
	case map[string]any:
		visit(at, v)
		for name, inner := range v {
			walk(at+"/"+name, inner, visit)
		}
	case []any:
		for _, inner := range v {
			walk(at+"/-", inner, visit)
		}
	}
}

func TestNoReferenceOfTheDocumentDanglesOrLeavesIt(t *testing.T) {
	w := reading(t)
	doc := w.tree(t)
	schemas := doc["components"].(map[string]any)["schemas"].(map[string]any)
	used := map[string]bool{}
	walk("", doc, func(at string, object map[string]any) {
		ref, ok := object["$ref"].(string)
		if !ok {
			return
		}
		name, inside := strings.CutPrefix(ref, "#/components/schemas/")
		if !inside || schemas[name] == nil {
			t.Errorf("%s refers to %s", at, ref)
		}
		used[name] = true
	})
	for name := range schemas {
		if !used[name] {
			t.Errorf("nothing uses the schema %s", name)
		}
	}
	text, err := json.Marshal(doc)
	if err != nil {
		t.Fatal(err)
	}
	if found := regexp.MustCompile(`https?://[^"]*`).Find(text); found != nil {
		t.Errorf("the document leads elsewhere: %s", found)
	}
}

func TestEveryOperationIsDescribed(t *testing.T) {
	w := reading(t)
	seen := map[string]bool{}
	for path, item := range w.tree(t)["paths"].(map[string]any) {
		for method, op := range item.(map[string]any) {
			op := op.(map[string]any)
			id, _ := op["operationId"].(string)
			if id == "" || seen[id] || op["summary"] == nil || op["description"] == nil || op["tags"] == nil {
				t.Errorf("%s %s: operation %q is not described, or its id is used twice", method, path, id)
			}
			seen[id] = true
			keyed := false
			for _, p := range list(op["parameters"]) {
				p := p.(map[string]any)
				if p["description"] == nil {
					t.Errorf("%s: parameter %v is not described", id, p["name"])
				}
				keyed = keyed || p["name"] == "Idempotency-Key" && p["in"] == "header" && p["required"] == true
			}
			if (method == "post") != keyed {
				t.Errorf("%s: Idempotency-Key is required: %v", id, keyed)
			}
			if method == "post" && op["requestBody"].(map[string]any)["content"].(map[string]any)["application/json"].(map[string]any)["example"] == nil {
				t.Errorf("%s has no example", id)
			}
		}
	}
}

func list(v any) []any {
	l, _ := v.([]any)
	return l
}

func TestEveryQuantityStatesItsUnit(t *testing.T) {
	w := reading(t)
	ends := regexp.MustCompile(`_(l15|l|mm|c|kgm3|counts|minor|days|l15_per_day|kwh|hours)$`)
	found := 0
	walk("", w.tree(t)["components"], func(at string, object map[string]any) {
		properties, ok := object["properties"].(map[string]any)
		if !ok {
			return
		}
		for name, p := range properties {
			p := p.(map[string]any)
			if ends.MatchString(name) {
				found++
				if unit, _ := p["x-unit"].(string); unit == "" {
					t.Errorf("%s.%s has no x-unit", at, name)
				}
			}
		}
	})
	if found < 50 {
		t.Errorf("only %d quantities were found", found)
	}
}
