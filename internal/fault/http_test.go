package fault

import (
	"net/http"
	"testing"
)

func TestEveryKindHasItsStatus(t *testing.T) {
	want := map[Kind]int{
		Internal: http.StatusInternalServerError, Invalid: http.StatusUnprocessableEntity, NotFound: http.StatusNotFound,
		Conflict: http.StatusConflict, Unavailable: http.StatusServiceUnavailable,
	}
	for kind, status := range want {
		if got := kind.Status(); got != status {
			t.Errorf("%v answers %d, want %d", kind, got, status)
		}
	}
}
