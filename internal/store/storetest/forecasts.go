package storetest

import (
	"fmt"
	"math"
	"sync"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

func forecastFrom(origin calendar.Day) inventory.IssuedForecast {
	return inventory.IssuedForecast{
		Plant: plant, Origin: origin, IssuedAt: noon.Add(1500 * time.Microsecond).Truncate(time.Millisecond), Ledger: 1 << 40,
		ModelVersion: "6", InputsVersion: "é", Seed: math.MaxUint64, Body: []byte(`{"b":  1.50, "a": "é"}`),
	}
}

func saveForecasts(t *testing.T, s Store, all ...inventory.IssuedForecast) {
	t.Helper()
	for _, f := range all {
		if err := s.SaveForecast(t.Context(), f); err != nil {
			t.Fatalf("SaveForecast: %v", err)
		}
	}
}

func forecasts(t *testing.T, s Store) []inventory.IssuedForecast {
	t.Helper()
	all, err := s.Forecasts(t.Context(), plant)
	if err != nil {
		t.Fatalf("Forecasts: %v", err)
	}
	return all
}

func forecastsComeBackInOrderOfMonth(t *testing.T, s Store) {
	same(t, "forecasts of an empty ledger", forecasts(t, s), []inventory.IssuedForecast(nil))
	march, april := forecastFrom(calendar.Date(2026, 3, 30)), forecastFrom(calendar.Date(2026, 3, 31)) // the first day forecast is 1 April
	january := forecastFrom(calendar.Date(2026, 12, 31))
	elsewhere := march
	elsewhere.Plant = "another"
	saveForecasts(t, s, january, april, elsewhere, march)
	same(t, "forecasts", forecasts(t, s), []inventory.IssuedForecast{march, april, january})
}

func theFirstForecastOfAMonthStays(t *testing.T, s Store) {
	first := forecastFrom(calendar.Date(2026, 3, 9))
	later := first
	later.Origin, later.IssuedAt, later.ModelVersion, later.Body = first.Origin+1, first.IssuedAt.Add(time.Hour), "7", []byte(`{}`)
	earlier := first
	earlier.Origin, earlier.IssuedAt, earlier.Body = first.Origin-1, first.IssuedAt.Add(-time.Hour), []byte(`[]`)
	saveForecasts(t, s, first, later, earlier, first)
	same(t, "forecasts", forecasts(t, s), []inventory.IssuedForecast{first})
}

func ofRivalForecastsOfAMonthOneStays(t *testing.T, s Store) {
	var group sync.WaitGroup
	for i := range 8 {
		group.Go(func() {
			f := forecastFrom(calendar.Date(2026, 3, 1+i))
			f.Body = fmt.Appendf(nil, "[%d]", i)
			if err := s.SaveForecast(t.Context(), f); err != nil {
				t.Errorf("SaveForecast: %v", err)
			}
		})
	}
	group.Wait()
	all := forecasts(t, s)
	if len(all) != 1 {
		t.Fatalf("%d forecasts are kept for one month", len(all))
	}
	_, _, day := all[0].Origin.Civil()
	if want := fmt.Sprintf("[%d]", day-1); string(all[0].Body) != want {
		t.Errorf("the forecast from day %d holds %s, want %s: it is of two rivals", day, all[0].Body, want)
	}
}

func whatIsNoForecastIsRefused(t *testing.T, s Store) {
	f := forecastFrom(calendar.Date(2026, 3, 1))
	for _, body := range []string{"", "{", "{\"a\":\"\xff\"}"} {
		f.Body = []byte(body)
		if err := s.SaveForecast(t.Context(), f); fault.KindOf(err) != fault.Invalid {
			t.Errorf("SaveForecast of %q: %v, want a fault of kind invalid", body, err)
		}
	}
	same(t, "forecasts", forecasts(t, s), []inventory.IssuedForecast(nil))
}
