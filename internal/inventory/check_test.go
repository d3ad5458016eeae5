package inventory

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

func TestARowThatIsNotInOrderIsToldWhatToDo(t *testing.T) {
	toldWhatToDo(t, []wrongRow{
		{"no key", func(s *sound) { s.draw.Key = "" }, "key: blank: a row needs a key of its own"},
		{"tab in an id", func(s *sound) { s.order.ID = "a\tb" }, `order: "a\tb" holds a control character, such as a tab or a line break: take it out`},
		{"long id", func(s *sound) { s.window.Name = strings.Repeat("é", 65) }, "window: 65 characters: expected at most 64"},
		{"not UTF-8", func(s *sound) { s.plant.Name = "a\xff" }, `name: "a\xff" is not UTF-8`},
		{"space at the end", func(s *sound) { s.plant.Group = "bay " }, `group: "bay " begins or ends with a space: take it off`},
		{"void without replaces", func(s *sound) { s.draw.Void = true }, "void: a row that withdraws another says which: put that row's key into replaces"},
		{"an id that an address takes for a folder", func(s *sound) { s.plant.ID = ".." }, `plant: ".." cannot stand in an address: expected a name with a letter or a digit`},
	})
}

func TestAWithdrawalNeedsNoContent(t *testing.T) {
	void := Entry{Key: "k2", Replaces: "k", Void: true}
	rows := []checker{
		&Plant{Entry: void, ID: "X"}, &Tank{Entry: void, Plant: "X", ID: "T"}, &Meter{Entry: void, Plant: "X", ID: "M"},
		&MeterReading{Entry: void, Plant: "X"}, &MeterSwap{Entry: void, Plant: "X"}, &Gauging{Entry: void, Plant: "X"},
		&PeriodTotal{Entry: void, Plant: "X"}, &Delivery{Entry: void, Plant: "X"}, &Transfer{Entry: void, Plant: "X"},
		&Draw{Entry: void, Plant: "X"}, &Order{Entry: void, Plant: "X", ID: "O"}, &Route{Entry: void, ID: "R"},
		&Service{Entry: void, Route: "R", Plant: "X"}, &Window{Entry: void, Route: "R", Name: "W"},
		&LoadChange{Entry: void, Plant: "X"}, &DegreeDays{Entry: void},
	}
	for _, r := range rows {
		if got := r.Check(NewDirectory(Rows{}), checkedAt); got != nil {
			t.Errorf("%s: %v", r.Kind(), got)
		}
	}
}

func TestFiguresAreSetInThousands(t *testing.T) {
	for value, want := range map[float64]string{
		0: "0", 12: "12", 1250: "1 250", -1250.5: "-1 250.5", 1234567.8916: "1 234 567.892", 1e20: "1e+20", 0.0001: "0.0001", 999.9999: "1 000",
	} {
		if got := figure(value); got != want {
			t.Errorf("%s is written %s, want %s", fmt.Sprint(value), got, want)
		}
	}
	if got := amount(math.NaN(), "L"); got != "not a number" {
		t.Errorf("NaN L is written %s", got)
	}
}
