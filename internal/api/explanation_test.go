package api

import (
	"testing"

	"overwinter/internal/resupply"
)

func TestAnExplanationIsGivenInCodesAndInWords(t *testing.T) {
	if explanationOf(nil) != nil {
		t.Error("there is an explanation of nothing")
	}
	x := explanationOf(&resupply.Explanation{
		Lines: []resupply.Line{{Events: []resupply.Event{{Kind: resupply.OrderArrives, Order: "PO-7"}, {Kind: resupply.BelowReserve}}}, {}},
		Steps: []resupply.Step{{Kind: resupply.NoRoute}},
		Need:  &resupply.Deciding{Path: 7, Lines: []resupply.Line{{Stock: 5}}, Steps: []resupply.Step{{Kind: resupply.NoLotNeeded}}},
	})
	if n := x.Need; n == nil || n.Path != 7 || n.Lines[0].Stock != 5 || n.Lines[0].Events == nil || n.Steps[0].Text == "" || x.Room != nil {
		t.Errorf("need %+v, room %+v", n, x.Room)
	}
	if l := x.Lines[0]; l.Text != "order PO-7 arrives; below the reserve" || len(l.Events) != 2 || l.Events[0].Order != "PO-7" {
		t.Errorf("%+v", l)
	}
	if x.Lines[1].Events == nil {
		t.Error("a list is null")
	}
	if s := x.Steps[0]; s.Kind != resupply.NoRoute || s.Text != s.Step.Text() || s.Text == "" {
		t.Errorf("%+v", s)
	}
}
