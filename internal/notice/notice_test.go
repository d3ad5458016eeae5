package notice

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestTheSameNoticeIsCountedNotRepeated(t *testing.T) {
	var l List
	l.Add(New(Caution, "basis-unknown", "tank A", "no temperature on %s", "1 March"))
	l.Add(New(Caution, "basis-unknown", "tank B", "no temperature"), New(Caution, "basis-unknown", "tank A", "again"))
	want := List{
		{Caution, "basis-unknown", "tank A", "no temperature on 1 March", 2},
		{Caution, "basis-unknown", "tank B", "no temperature", 1},
	}
	if diff := cmp.Diff(want, l); diff != "" {
		t.Error(diff)
	}
}

func TestWhatTwoReckoningsRaiseIsToldOnce(t *testing.T) {
	l := List{New(Info, "a", "P", "one"), New(Info, "a", "Q", "two")}
	l.AddOnce(New(Info, "a", "P", "one"), New(Info, "b", "P", "three"))
	if want := (List{New(Info, "a", "P", "one"), New(Info, "a", "Q", "two"), New(Info, "b", "P", "three")}); !cmp.Equal(want, l) {
		t.Errorf("%v", l)
	}
}
