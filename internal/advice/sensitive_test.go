package advice_test

import (
	"context"
	"errors"
	"testing"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/resupply"
)

func TestSensitivitiesStandBesideTheAdviceItselfAndSaveNothing(t *testing.T) {
	l := newLedger(some("marten-spit"))
	a := adviser(l)
	fleet(t, a)
	before, forecasts := text(t, inForce(t, l).Plants), len(l.forecasts)
	l.saving = func(i inventory.Issued) { t.Errorf("advice for %s is saved", i.Plant) }
	got, err := a.Sensitivities(context.Background(), "marten-spit")
	if err != nil {
		t.Fatal(err)
	}
	l.saving = nil
	if text(t, inForce(t, l).Plants) != before || len(l.forecasts) != forecasts {
		t.Error("what is in force has changed")
	}
	p := plant(t, a, "marten-spit")
	if text(t, got.Order) != text(t, p.Order) || got.Status != p.Status || got.Quality != p.Quality || text(t, got.Notices) != text(t, p.Notices) {
		t.Errorf("%+v, the advice is %+v", got, p)
	}
	told := map[resupply.Change]int{}
	for _, s := range got.Sensitivities {
		told[s.What]++
	}
	// These few paths certify no risk, so that none is changed.
	if told[resupply.ChangedLead] != 2 || told[resupply.ChangedRisk] != 0 || told[resupply.ChangedRoom] != 1 || told[resupply.ChangedBurn] != 1 || told[resupply.ChangedReserve]+told[resupply.ChangedReserveL] != 1 {
		t.Errorf("%v are told", told)
	}
}

func TestAPlantOfUnknownStockHasNoSensitivities(t *testing.T) {
	got, err := adviser(newLedger(some("plover-bight"))).Sensitivities(context.Background(), "plover-bight")
	if err != nil || got.Status != resupply.Unknown || got.Sensitivities == nil || len(got.Sensitivities) != 0 {
		t.Errorf("%+v, %v", got, err)
	}
}

func TestSensitivitiesOfAPlantThatThereIsNotAreNotFound(t *testing.T) {
	_, err := adviser(newLedger(some("marten-spit"))).Sensitivities(context.Background(), "atlantis")
	var f *fault.Error
	if !errors.As(err, &f) || f.Kind != fault.NotFound {
		t.Errorf("%v", err)
	}
}
