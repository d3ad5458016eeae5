package web

import (
	"net/http"
	"net/url"

	"github.com/labstack/echo/v4"

	"overwinter/internal/fault"
)

// shows registers a page. An address of which a part would be passed over is refused: another question would be answered.
func shows(e *echo.Echo, path string, page echo.HandlerFunc) {
	e.Match([]string{http.MethodGet, http.MethodHead}, path, func(c echo.Context) error {
		v, err := url.ParseQuery(c.Request().URL.RawQuery)
		if err != nil {
			return fault.Wrap(fault.Invalid, err, "this address could not be read: what follows the question mark is no list of names and values")
		}
		if err := onlyOnce(v); err != nil {
			return err
		}
		return page(c)
	})
}

// sent reads the form that came.
func sent(c echo.Context) (url.Values, error) {
	v, err := c.FormParams()
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "the form could not be read")
	}
	return v, onlyOnce(v)
}

// onlyOnce refuses a name that comes twice: one of its values would be passed over.
func onlyOnce(v url.Values) error {
	for name, values := range v {
		if len(values) > 1 {
			return fault.New(fault.Invalid, "a name comes more than once").
				With(fault.Field{Where: name, Message: "given more than once: expected one value"})
		}
	}
	return nil
}
