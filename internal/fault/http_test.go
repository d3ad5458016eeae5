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

// The codes are those of the README's table.
func TestEveryKindHasItsExitCode(t *testing.T) {
	for kind, want := range map[Kind]int{Internal: 1, Invalid: 3, Conflict: 4, NotFound: 5, Unavailable: 6} {
		if got := kind.ExitCode(); got != want {
			t.Errorf("%v ends with %d, want %d", kind, got, want)
		}
	}
}
