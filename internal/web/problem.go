package web

import (
	"errors"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"overwinter/internal/fault"
)

// problemPage says what went wrong and what to do next.
type problemPage struct {
	Frame
	Status  int
	Message string
	Fields  []fault.Field
	Next    string
	Request string // the number under which the log has it
}

var problemTemplate = load[problemPage]("problem")

// retrySeconds is how long a client should wait for a store that cannot be reached.
const retrySeconds = "30"

// Error answers an error with a page. It is an echo.HTTPErrorHandler.
func (s *Site) Error(err error, c echo.Context) {
	if c.Response().Committed {
		return
	}
	p := problemOf(err)
	p.Frame = s.frame(c, "", p.Title)
	p.Request = c.Response().Header().Get(echo.HeaderXRequestID)
	if p.Status == http.StatusServiceUnavailable {
		c.Response().Header().Set(echo.HeaderRetryAfter, retrySeconds)
	}
	c.Response().Header().Set(echo.HeaderCacheControl, "no-store")
	if problemTemplate.render(c, p.Status, p) != nil {
		_ = c.NoContent(http.StatusInternalServerError) // the client is gone, or nothing can be said to it
	}
}

// problemOf puts an error for people. Only a fault's own message and fields are shown: a cause may hold
// what is nobody's business.
func problemOf(err error) problemPage {
	var f *fault.Error
	var h *echo.HTTPError
	switch {
	case errors.As(err, &f) && f.Kind != fault.Internal:
		p := problemPage{Status: f.Kind.Status(), Message: sentence(f.Message), Fields: f.Fields}
		p.Title, p.Next = wording(p.Status)
		return p
	case errors.As(err, &h) && f == nil && h.Code < http.StatusInternalServerError:
		p := problemPage{Status: h.Code}
		p.Title, p.Next = wording(p.Status)
		return p
	}
	p := problemPage{Status: http.StatusInternalServerError}
	p.Title, p.Next = wording(p.Status)
	return p
}

// wording gives a status as a heading, and what to do next.
func wording(status int) (title, next string) {
	switch status {
	case http.StatusNotFound:
		return "There is nothing here", "Go to the Fleet page and choose a plant from there."
	case http.StatusConflict:
		return "This was already reported, with other figures",
			"Look at what is there first. If it is wrong, correct it; do not send it a second time."
	case http.StatusUnprocessableEntity:
		return "Something in this does not fit", "Go back, mend what is named here and send it again. Nothing was written."
	case http.StatusServiceUnavailable:
		return "The ledger cannot be reached just now", "Wait half a minute and try again. If you sent a form, it may or may not have been written: send the same form again, which writes it once, and keep your figures on paper until then."
	case http.StatusForbidden:
		return "This was not sent from a page of this service", "It may also be that the page has grown old. Go back, reload it and send it again. Nothing was written."
	case http.StatusMisdirectedRequest:
		return "The service does not go by this name", "Use the address that it was started with."
	case http.StatusTooManyRequests:
		return "Too many requests at once", "Wait a minute and try again. Nothing was written."
	}
	if status < http.StatusInternalServerError {
		return "This request was not understood", "Go back to the page that you came from, reload it and try again. Nothing was written."
	}
	return "Something failed on our side", "The failure is in the log. Try again in a minute; a form that is sent again is written once. If it stays, tell whoever runs this service, with the number below."
}

// sentence makes a message stand as a sentence of its own.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	text = capital(text)
	if strings.ContainsAny(text[len(text)-1:], ".!?") {
		return text
	}
	return text + "."
}
