package api

import (
	"encoding/json"
	"net/http"

	"github.com/danielgtaylor/huma/v2"
	"github.com/labstack/echo/v4"
)

// document is the OpenAPI document as it goes over the wire.
type document struct{ asJSON, asYAML []byte }

// write writes the document. It fails only for a declaration that cannot be written, which no input can
// make.
func write(doc *huma.OpenAPI) document {
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

func (d document) json(c echo.Context) error {
	return c.Blob(http.StatusOK, "application/openapi+json", d.asJSON)
}

func (d document) yaml(c echo.Context) error {
	return c.Blob(http.StatusOK, "application/openapi+yaml", d.asYAML)
}
