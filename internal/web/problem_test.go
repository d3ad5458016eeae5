package web

import (
	"errors"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/labstack/echo/v4"

	"overwinter/internal/fault"
)

func TestAnErrorIsAPageThatSaysWhatToDo(t *testing.T) {
	secret := errors.New("dial tcp 10.0.0.7: password wrong")
	tests := []struct {
		name   string
		err    error
		status int
		says   []string
	}{
		{"not found", fault.New(fault.NotFound, "there is no plant %q", "x"), 404, []string{"There is no plant &#34;x&#34;.", "Fleet page"}},
		{"conflict", fault.New(fault.Conflict, "the key is taken"), 409, []string{"The key is taken.", "do not send it a second time"}},
		{"invalid", fault.New(fault.Invalid, "one field is wrong").With(fault.Field{Where: "dip", Message: "expected millimetres"}), 422,
			[]string{"<b>dip</b>: expected millimetres", "Nothing was written"}},
		{"unavailable", fault.Wrap(fault.Unavailable, secret, "the store is away"), 503, []string{"The store is away.", "half a minute", "it may or may not have been written", "send the same form again, which writes it once"}},
		{"internal", fault.Wrap(fault.Internal, secret, "advice cannot be read"), 500, []string{"failed on our side", "request 42"}},
		{"unforeseen", secret, 500, []string{"failed on our side"}},
		{"form too old", echo.NewHTTPError(http.StatusForbidden, "invalid csrf token"), 403, []string{"has grown old"}},
		{"wrong name", echo.NewHTTPError(http.StatusMisdirectedRequest), 421, []string{"does not go by this name"}},
		{"wrong method", echo.ErrMethodNotAllowed, 405, []string{"not understood"}},
		{"own status of a failure", echo.NewHTTPError(http.StatusBadGateway, secret.Error()), 500, []string{"failed on our side"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := httptest.NewRecorder()
			c := echo.New().NewContext(httptest.NewRequest(http.MethodGet, "/", nil), w)
			c.Response().Header().Set(echo.HeaderXRequestID, "42")
			New(Deps{}).Error(tt.err, c)
			page := w.Body.String()
			checkPage(t, page)
			if w.Code != tt.status {
				t.Errorf("status %d, want %d", w.Code, tt.status)
			}
			if got := w.Header().Get("Retry-After"); (got != "") != (tt.status == 503) {
				t.Errorf("Retry-After %q", got)
			}
			for _, text := range tt.says {
				if !strings.Contains(page, text) {
					t.Errorf("the page does not say %q: %s", text, page)
				}
			}
			if strings.Contains(page, "password") || strings.Contains(page, "csrf token") {
				t.Error("the page shows a cause")
			}
		})
	}
}
