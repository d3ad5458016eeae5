package api

import (
	"encoding/json"
	"net/http"
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/labstack/echo/v4"
)

// document is the OpenAPI document as it goes over the wire.
type document struct{ asJSON, asYAML []byte }

// write writes the document. It fails only for a declaration that cannot be written, which no input can
// make.
func write(doc *huma.OpenAPI) document {
	defer orNull(doc)()
	compact, err := json.Marshal(doc)
	if err != nil {
		panic("api: the OpenAPI document cannot be written: " + err.Error())
	}
	asYAML, err := doc.YAML()
	if err != nil {
		panic("api: the OpenAPI document cannot be written: " + err.Error())
	}
	return document{compact, asYAML}
}

// orNull lets an object in a body that may be left out be null too, as the checks do, until the returned function is
// called: the checks would name the places inside such a choice less well.
func orNull(doc *huma.OpenAPI) (restore func()) {
	held := map[*huma.Schema][]*huma.Schema{}
	for name, schema := range doc.Components.Schemas.Map() {
		for property, s := range schema.Properties {
			if strings.HasSuffix(name, "Body") && len(s.AllOf) == 1 && !slices.Contains(schema.Required, property) {
				held[s] = s.AllOf
				s.AnyOf, s.AllOf = append(slices.Clone(s.AllOf), &huma.Schema{Type: "null"}), nil
			}
		}
	}
	return func() {
		for s, all := range held {
			s.AllOf, s.AnyOf = all, nil
		}
	}
}

func (d document) json(c echo.Context) error {
	return c.Blob(http.StatusOK, "application/openapi+json", d.asJSON)
}

func (d document) yaml(c echo.Context) error {
	return c.Blob(http.StatusOK, "application/openapi+yaml", d.asYAML)
}
