package advice

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/forecast"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// heated is a ledger with one plant: weekly totals of five years.
type heated struct {
	Store
	directory, rows inventory.Rows
}

func (h heated) Directory(context.Context) (inventory.Rows, error) { return h.directory, nil }

func (h heated) Version(context.Context) (int64, error) { return 1, nil }

func (h heated) PlantRows(context.Context, string, time.Time) (inventory.Rows, error) {
	return h.rows, nil
}

func (h heated) Forecasts(context.Context, string) ([]inventory.IssuedForecast, error) {
	return nil, nil
}

const (
	heatEffect  = 0.3 // on the log of the use, of a day that is as much colder than usual as the mean of the year
	heatedYears = 5
)

// colderBy is how much colder than usual the years before the origin were, the last first, over the mean of the year; they sum to 0.
var colderBy = [heatedYears]float64{0, 0.2, -0.1, -0.2, 0.1}

// heatedPlant gives the ledger, and the degree days to it. A week's use is 1 000 L a day, times exp(heatEffect·colder).
func heatedPlant(asOf calendar.Day) (heated, []forecast.Cold) {
	capacity := units.Litres(500_000)
	var h heated
	h.directory.Add(&inventory.Plant{Entry: inventory.Entry{Key: "P"}, ID: "P", Name: "P", Zone: "UTC", Product: "diesel-2-s15"})
	h.directory.Add(&inventory.Tank{Entry: inventory.Entry{Key: "T"}, Plant: "P", ID: "T", Role: inventory.Storage, Product: "diesel-2-s15",
		Shape: inventory.ShapeVolume, Capacity: &capacity})
	var cold []forecast.Cold
	for last := asOf; last > asOf-heatedYears*366; last -= 7 {
		colder := colderBy[min(int(float64(asOf-last+4)/365.25), heatedYears-1)]
		litres := units.Litres(7000 * math.Exp(heatEffect*colder))
		h.rows.Totals = append(h.rows.Totals, &inventory.PeriodTotal{Entry: inventory.Entry{Key: last.String()}, Plant: "P", FirstDay: last - 6, LastDay: last,
			Measure: inventory.Measure{Volume: litres, Basis: inventory.Basis15}})
		usual := 15 + 10*math.Cos(2*math.Pi*float64(last-3)/365.25) // degree days a day: 15 in the mean of a year
		cold = append(cold, forecast.Cold{Start: float64(last - 6), End: float64(last + 1), DegreeDays: 7 * (usual + 15*colder)})
	}
	return h, cold
}

// fitted is a run over the plant, fitted with its degree days or without.
func fitted(t *testing.T, known bool) (*run, *inventory.Book) {
	t.Helper()
	asOf := calendar.Date(2026, time.March, 2)
	h, cold := heatedPlant(asOf)
	r, err := beginIssuing(t.Context(), h, Options{AsOf: &asOf, Seed: 1, Paths: 30}, newLenders())
	if err != nil {
		t.Fatal(err)
	}
	book, err := r.fitOne(t.Context(), 0)
	if err != nil || book == nil {
		t.Fatal(err, r.failed)
	}
	if known {
		r.series[0].Cold = cold
		r.fit(0)
	}
	return r, book
}

// A year as much colder than usual as the coldest of those observed, 0.2, burns exp(0.3·0.2) = 1.062 times the usual, and the mildest
// exp(−0.3·0.2) = 0.942; the model widens five years by √(5/4), to 1.069 and 0.935, and learns the effect only so well.
func TestASupposedWinterBurnsAsTheObservedOneDid(t *testing.T) {
	r, book := fitted(t, true)
	plain := r.models[0]
	most := heatEffect * 0.2 * math.Sqrt(5.0/4)
	for _, tt := range []struct{ share, times float64 }{{1, math.Exp(most)}, {0, math.Exp(-most)}, {0.5, 1}} {
		r.models[0] = plain
		got, err := r.suppose(t.Context(), 0, book, Supposition{Winter: &tt.share})
		if err != nil {
			t.Fatal(err)
		}
		year := got.Uses[2]
		if times := year.With.P50 / year.Without.P50; math.Abs(times-tt.times) > 0.015 {
			t.Errorf("in a winter colder than %g of those observed %.4f times is used, want %.4f", tt.share, times, tt.times)
		}
		if wide, narrow := year.Without.P90/year.Without.P10, year.With.P90/year.With.P10; narrow >= wide {
			t.Errorf("the range with the winter known is %.4f, without %.4f: it must be narrower", narrow, wide)
		}
	}
}

func TestAWinterIsOnlySupposedWhereDegreeDaysAreKnown(t *testing.T) {
	with, _ := fitted(t, true)
	without, book := fitted(t, false)
	if !takesWinter(with.models[0]) || takesWinter(without.models[0]) {
		t.Errorf("a winter is offered with degree days: %v, without: %v", takesWinter(with.models[0]), takesWinter(without.models[0]))
	}
	cold := 0.9
	_, err := without.suppose(t.Context(), 0, book, Supposition{Winter: &cold})
	var f *fault.Error
	if !errors.As(err, &f) || f.Kind != fault.Invalid || len(f.Fields) != 1 || f.Fields[0].Where != "winter" || !strings.Contains(f.Fields[0].Message, "load degree days of its climate group") {
		t.Errorf("without degree days: %v", err)
	}
}
