package api_test

import (
	"bytes"
	"flag"
	"os"
	"testing"
)

var update = flag.Bool("update", false, "write the OpenAPI document anew")

func TestTheDocumentInTheTreeIsTheOneServed(t *testing.T) {
	w := open(t)
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
