package web

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"

	"github.com/labstack/echo/v4"

	"overwinter/internal/fault"
)

//go:embed static
var staticFiles embed.FS

// asset is a static file under a name that changes with its content, so that it may be kept for ever.
type asset struct {
	name, kind string
	body       []byte
}

var assetsByFile, assetsByName = readAssets()

func readAssets() (byFile, byName map[string]asset) {
	byFile, byName = map[string]asset{}, map[string]asset{}
	files, err := fs.Glob(staticFiles, "static/*")
	if err != nil {
		panic(err) // the pattern is wrong
	}
	for _, file := range files {
		body, err := staticFiles.ReadFile(file)
		if err != nil {
			panic(err) // an embedded file is always there
		}
		base, ext := path.Base(file), path.Ext(file)
		sum := sha256.Sum256(body)
		a := asset{strings.TrimSuffix(base, ext) + "." + hex.EncodeToString(sum[:6]) + ext, mime.TypeByExtension(ext), body}
		byFile[base], byName[a.name] = a, a
	}
	return byFile, byName
}

// staticPath gives the address of a static file. A file that is not there fails the page's test.
func staticPath(file string) (string, error) {
	a, ok := assetsByFile[file]
	if !ok {
		return "", fmt.Errorf("there is no static file %s", file)
	}
	return "/static/" + a.name, nil
}

func static(c echo.Context) error {
	a, ok := assetsByName[c.Param("name")]
	if !ok {
		return fault.New(fault.NotFound, "there is no file %q: reload the page that asked for it", c.Param("name"))
	}
	h := c.Response().Header()
	guard(h)
	h.Set(echo.HeaderCacheControl, "public, max-age=31536000, immutable")
	return c.Blob(http.StatusOK, a.kind, a.body)
}
