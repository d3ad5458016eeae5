package inventory

import (
	"testing"
	"time"
)

func TestAUsageIntervalSaysHowItWasFoundAndWhatWasGenerated(t *testing.T) {
	kwh := func(d, hour int, register float64) *Round {
		return &Round{Plant: "P", At: at(time.March, d, hour), EnergyRegister: &register}
	}
	rows := Rows{
		Readings: []*MeterReading{reading(at(time.March, 1, 8), 0), reading(at(time.March, 2, 8), 300), reading(at(time.March, 3, 8), 600), reading(at(time.March, 4, 8), 900)},
		Rounds:   []*Round{kwh(1, 8, 5000), kwh(2, 9, 6100), kwh(3, 20, 7300), kwh(4, 8, 8300)},
		Gaugings: []*Gauging{gauged("bulk", at(time.March, 10, 8), 20_000), gauged("bulk", at(time.March, 17, 8), 18_000)},
	}
	rows.Readings[3].Replaces = "earlier"
	got, _ := bookOf(t, rows, volumeTank("bulk", Storage, 50_000)).Usages()
	want := []struct {
		quality Quality
		kwh     float64 // 0 where it is not known
	}{{Measured, 1100}, {Measured, 0}, {Corrected, 0}, {Derived, 0}} // the register was not read in the round of the 3rd
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i, u := range got {
		if u.Quality != want[i].quality || (u.Energy == nil) != (want[i].kwh == 0) || u.Energy != nil && !near(*u.Energy, want[i].kwh) {
			t.Errorf("interval %d: %s, %v; want %+v", i, u.Quality, u.Energy, want[i])
		}
	}
}
