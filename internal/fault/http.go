package fault

import "net/http"

// Status gives the HTTP status that answers for a kind: the one table that pages and the API share.
func (k Kind) Status() int {
	switch k {
	case Invalid:
		return http.StatusUnprocessableEntity
	case NotFound:
		return http.StatusNotFound
	case Conflict:
		return http.StatusConflict
	case Unavailable:
		return http.StatusServiceUnavailable
	}
	return http.StatusInternalServerError
}
