package api

import (
	"html/template"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"overwinter/internal/fault"
)

var problemPage = template.Must(template.New("problem").Parse(`<!doctype html>
<html lang="en-GB">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>{{.Title}} · Overwinter</title>
<h1>{{.Title}}</h1>
<p>{{.Means}}</p>
<p>{{.Advice}}</p>
<p>HTTP status {{.Status}}, code <code>{{.Code}}</code>.</p>
`))

// explainProblem shows what a kind of problem means.
func explainProblem(c echo.Context) error {
	for _, p := range problems {
		if p.Code != c.Param("code") {
			continue
		}
		var page strings.Builder
		if err := problemPage.Execute(&page, p); err != nil {
			return err
		}
		c.Response().Header().Set("Cache-Control", "public, max-age=86400")
		return c.HTML(http.StatusOK, page.String())
	}
	return fault.New(fault.NotFound, "there is no such kind of problem")
}
