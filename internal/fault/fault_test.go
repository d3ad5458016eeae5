package fault

import (
	"errors"
	"fmt"
	"io"
	"testing"
)

func TestKindOfLooksThroughWrapping(t *testing.T) {
	tests := []struct {
		err  error
		want Kind
	}{
		{New(Conflict, "key already used"), Conflict},
		{fmt.Errorf("load: %w", New(Invalid, "bad row")), Invalid},
		{Wrap(Unavailable, io.ErrUnexpectedEOF, "store"), Unavailable},
		{errors.New("plain"), Internal},
	}
	for _, tt := range tests {
		if got := KindOf(tt.err); got != tt.want {
			t.Errorf("%v is %v, want %v", tt.err, got, tt.want)
		}
	}
}

func TestAnErrorKeepsItsCauseAndListsItsFields(t *testing.T) {
	err := Wrap(Invalid, io.EOF, "2 rows are wrong").With(Field{"tanks.csv:3:role", "expected storage"})
	if !errors.Is(err, io.EOF) {
		t.Error("the cause is lost")
	}
	if want := "2 rows are wrong\n  tanks.csv:3:role: expected storage: EOF"; err.Error() != want {
		t.Errorf("got %q, want %q", err.Error(), want)
	}
}
