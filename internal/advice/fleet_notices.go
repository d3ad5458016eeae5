package advice

import (
	"overwinter/internal/notice"
)

// The codes of the notices on the fleet as a whole.
const (
	CodeFirstForecast     = "first-forecast"
	CodeBudgetBehind      = "budget-behind"
	CodeFiscalYearsDiffer = "fiscal-years-differ"
)

// Notices says what the set as a whole lacks: plants whose first advice is still to come.
func (f *InForce) Notices() notice.List {
	list := notice.List{}
	if n := f.Awaited(); n > 0 {
		list.Add(notice.New(notice.Caution, CodeFirstForecast, "fleet",
			"a first forecast is being made: %d of %d plants have no advice yet", n, len(f.Budget.Plants)))
	}
	return list
}

// BudgetNotices says what to know of the budget as a whole; nil where there is no budget.
func (f *InForce) BudgetNotices() notice.List {
	if f.Budget == nil {
		return nil
	}
	list := notice.List{}
	if f.budgetBehind() {
		list.Add(notice.New(notice.Info, CodeBudgetBehind, "budget",
			"rows came into the ledger after it was made: it counts them in with the next forecast of the whole fleet, once a day"))
	}
	if f.Budget.fiscalYearsDiffer() {
		list.Add(notice.New(notice.Info, CodeFiscalYearsDiffer, "budget",
			"the plants' fiscal years differ: those of the fleet are the first plant's, so the plants' years do not add up to them"))
	}
	return list
}

// budgetBehind tells whether a plant was advised from a later version of the ledger than the budget.
func (f *InForce) budgetBehind() bool {
	for id := range f.shown {
		if f.saved[id].ledger > f.budgetLedger {
			return true
		}
	}
	return false
}

// fiscalYearsDiffer compares where each first fiscal year ends: all budgets have the same months.
func (b *FleetBudget) fiscalYearsDiffer() bool {
	for _, p := range b.Plants {
		if p.Budget != nil && len(p.Budget.Years) > 0 && len(b.Fleet.Years) > 0 && p.Budget.Years[0].Last != b.Fleet.Years[0].Last {
			return true
		}
	}
	return false
}
