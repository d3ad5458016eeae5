package advice

import (
	"testing"

	"overwinter/internal/resupply"
)

func TestASpendingLimitInAnotherCurrencyIsNotComparedAndTold(t *testing.T) {
	money, litres := 1000.0, 1000.0
	all := []resupply.Spending{
		{Name: "loan", Money: &money, Currency: "EUR"},
		{Name: "credit", Money: &money, Currency: "CAD"},
		{Name: "allotment", Litres: &litres},
	}
	problem, fresh := &resupply.Problem{Spending: all}, &resupply.Problem{Spending: all}
	a := &Plant{Plant: "P"}
	(&run{}).keepCurrency(a, "CAD", problem, fresh)
	for _, p := range []*resupply.Problem{problem, fresh} {
		if len(p.Spending) != 2 || p.Spending[0].Name != "credit" || p.Spending[1].Name != "allotment" {
			t.Errorf("left are %+v, want the credit and the allotment", p.Spending)
		}
	}
	if len(a.Notices) != 1 || a.Notices[0].Subject != "spending limit loan" {
		t.Errorf("notices %v, want one of the loan", a.Notices)
	}
}
