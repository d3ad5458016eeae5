package advice_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

func optionsOf(t *testing.T, a *advice.Adviser, plant string) advice.PlanOptions {
	t.Helper()
	got, err := a.Options(context.Background(), plant)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func TestOptionsStandBesideThePlanOfTheAdviceAndSaveNothing(t *testing.T) {
	l := newLedger(some("marten-spit"))
	a := adviser(l)
	fleet(t, a)
	before, forecasts := text(t, inForce(t, l).Plants), len(l.forecasts)
	l.saving = func(i inventory.Issued) { t.Errorf("advice for %s is saved", i.Plant) }
	got := optionsOf(t, a, "marten-spit")
	l.saving = nil
	if text(t, inForce(t, l).Plants) != before || len(l.forecasts) != forecasts {
		t.Error("what is in force has changed")
	}
	p := plant(t, a, "marten-spit")
	if p.Planned == nil || len(p.Planned.Lots) == 0 {
		t.Fatalf("no plan: the check says nothing: %s", text(t, p.Notices))
	}
	if text(t, got.Planned) != text(t, p.Planned) || got.Quality != p.Quality || text(t, got.Notices) != text(t, p.Notices) || text(t, got.Assumptions) != text(t, p.Assumptions) {
		t.Errorf("%s\nthe advice: %s", text(t, got), text(t, p))
	}
}

// An option's share below the reserve, less by how much it is more, is the plan's own: both are of the same paths.
func TestEveryLotIsSkippedFilledAndFixedAndItsWindowFails(t *testing.T) {
	got := optionsOf(t, adviser(newLedger(some("marten-spit"))), "marten-spit")
	told := map[resupply.OptionKind]int{}
	for _, o := range got.Options {
		told[o.Kind]++
		switch o.Kind {
		case resupply.SkipDelivery, resupply.FillUp, resupply.LitresOrdered:
			if o.Lot == nil || *o.Lot < 0 || *o.Lot >= len(got.Planned.Lots) || o.Window != got.Planned.Lots[*o.Lot].Window || o.Opens == nil {
				t.Errorf("%s is of no lot of the plan", text(t, o))
			}
		case resupply.WindowFails:
			if o.Lot != nil || o.Window == "" || o.Opens == nil {
				t.Errorf("%s is of no window", text(t, o))
			}
		case resupply.SaveFuel:
			if o.Lot != nil || o.Window != "" || o.Share == nil || o.More >= 0 {
				t.Errorf("%s: less burn is no cheaper", text(t, o))
			}
		}
		if base := o.Below - o.BelowMore; math.Abs(base-got.Planned.Risk.Below) > 1e-9 {
			t.Errorf("%s: %v less %v is not the plan's %v below the reserve", o.Kind, o.Below, o.BelowMore, got.Planned.Risk.Below)
		}
	}
	lots := len(got.Planned.Lots)
	if lots == 0 || told[resupply.FillUp] != lots || told[resupply.LitresOrdered] != lots || told[resupply.SkipDelivery] != lots || told[resupply.WindowFails] == 0 || told[resupply.SaveFuel] != 2 {
		t.Errorf("%v are told of %d lots", told, lots)
	}
}

func TestOptionsOfAPlantThatThereIsNotAreNotFound(t *testing.T) {
	_, err := adviser(newLedger(some("marten-spit"))).Options(context.Background(), "atlantis")
	if fault.KindOf(err) != fault.NotFound || !strings.Contains(err.Error(), `"atlantis"`) {
		t.Errorf("%v", err)
	}
}

func TestWithoutThePriceOfARouteThereIsNoPlanAndANoticeSaysSo(t *testing.T) {
	rows := some("marten-spit")
	for i, r := range rows.Routes {
		unpriced := *r
		unpriced.PricePerLitre = 0
		rows.Routes[i] = &unpriced
	}
	a := adviser(newLedger(rows))
	p := plant(t, a, "marten-spit")
	if p.Planned != nil || !slices.ContainsFunc(p.Notices, func(n notice.Notice) bool { return n.Code == "plan-without-prices" && n.Subject == "marten-spit" }) {
		t.Errorf("plan %s, notices %s", text(t, p.Planned), text(t, p.Notices))
	}
	if _, err := a.Options(context.Background(), "marten-spit"); fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), "there is no plan for Marten Spit") {
		t.Errorf("options without a plan: %v", err)
	}
}

func TestAPlantOfUnknownStockHasNoOptions(t *testing.T) {
	if _, err := adviser(newLedger(some("plover-bight"))).Options(context.Background(), "plover-bight"); fault.KindOf(err) != fault.Invalid {
		t.Errorf("%v", err)
	}
}
