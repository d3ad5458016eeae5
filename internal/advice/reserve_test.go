package advice_test

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/advice"
	"overwinter/internal/demo"
	"overwinter/internal/inventory"
)

// withPlant advises one plant of the demo, changed.
func withPlant(t *testing.T, id string, change func(*inventory.Rows)) advice.Plant {
	t.Helper()
	rows := some(id)
	for i, p := range rows.Plants {
		of := *p
		rows.Plants[i] = &of
	}
	change(&rows)
	return of(t, advise(t, newLedger(rows), adviserOptions()), id)
}

func TestAReserveInMonthsIsThatInAsManyDays(t *testing.T) {
	months := withPlant(t, "tern-landing", func(rows *inventory.Rows) { rows.Plants[0].ReserveMonths = new(2.0) })
	days := withPlant(t, "tern-landing", func(rows *inventory.Rows) { rows.Plants[0].ReserveDays = new(61) })
	if diff := cmp.Diff(days.ReserveDate, months.ReserveDate); diff != "" || days.Reserve != months.Reserve || !cmp.Equal(days.Order, months.Order) {
		t.Errorf("2 months: %+v, 61 days: %+v\n%s", months.Reserve, days.Reserve, diff)
	}
	if !slices.Contains(months.Assumptions, "reserve: 2 months of 365.25/12 days, 61 days, at the coming burn and draws") {
		t.Errorf("assumed %q", months.Assumptions)
	}
}

func TestAReserveAsAPercentageIsOfTheTanksInService(t *testing.T) {
	p := withPlant(t, "tern-landing", func(rows *inventory.Rows) { rows.Plants[0].ReservePercent = new(25.0) })
	if p.Reserve.Days != 0 || p.Reserve.Percent == nil || *p.Reserve.Percent != 25 || p.Reserve.Litres != p.Stock.Capacity/4 || p.Reserve.Litres == 0 {
		t.Errorf("%+v of a capacity of %v", p.Reserve, p.Stock.Capacity)
	}
	if p.Projection == nil || float64(p.Projection.Reserve[0]) < p.Reserve.Litres-1 || float64(p.Projection.Reserve[0]) > p.Reserve.Litres+1 {
		t.Errorf("the projection's reserve begins otherwise than at %v", p.Reserve.Litres)
	}
}

// The cut-off takes the end off a window that would close later, and says so; nothing comes after it.
func TestACutOffShowsInTheAdvice(t *testing.T) {
	change := func(rows *inventory.Rows) {
		for i, w := range rows.Windows {
			of := *w
			of.CutOff = &inventory.MonthDay{Month: time.July, Day: 1}
			if rows.Windows[i] = &of; w.Name == "autumn" {
				of.CutOff = nil
			}
		}
	}
	p := withPlant(t, "tern-landing", change)
	n := 0
	for _, w := range p.Windows {
		if w.Window != "early-summer" {
			continue
		}
		n++
		_, month, day := w.CutOff.Civil()
		if month != time.July || day != 1 || w.Closes.P10 != *w.CutOff || w.Closes.P90 != *w.CutOff { // else it would close on 15 July ± 5 days
			t.Errorf("closes %v, cut-off %v", w.Closes, w.CutOff)
		}
	}
	if n == 0 || !slices.Contains(p.Assumptions, "nothing is delivered by window early-summer of kestrel-barge after 07-01, the cut-off") {
		t.Errorf("%d windows, assumed %q", n, p.Assumptions)
	}
}

// The demo states terms for each of its routes, so that whatever is planned has a price.
func TestEveryRouteOfTheDemoHasTerms(t *testing.T) {
	for _, r := range demo.Generate(demo.DefaultSeed).Rows.Routes {
		if r.PricePerLitre == 0 || r.StopCost == 0 || r.PriceSD == 0 || r.Currency == "" {
			t.Errorf("%s: %+v", r.ID, r)
		}
	}
}
