package inventory

import (
	"strings"
	"testing"
	"time"

	"overwinter/internal/notice"
	"overwinter/internal/units"
)

type doubter interface {
	Doubts(*Directory) []notice.Notice
}

func TestDoubtfulValuesAreNoticed(t *testing.T) {
	tests := []struct {
		name   string
		change func(s *sound)
		row    func(s *sound) doubter
		want   string
	}{
		{"cold", func(s *sound) { s.gauging.Temperature = ptr(units.Celsius(-50.5)) },
			func(s *sound) doubter { return s.gauging }, CodeTemperatureOdd},
		{"warm reading", func(s *sound) { s.reading.Temperature = ptr(units.Celsius(51)) },
			func(s *sound) doubter { return s.reading }, CodeTemperatureOdd},
		{"no temperature", func(s *sound) { s.delivery.Temperature, s.delivery.Basis = nil, BasisUnknown },
			func(s *sound) doubter { return s.delivery }, CodeBasisUnknown},
		{"observed without its temperature", func(s *sound) { s.draw.Temperature = nil },
			func(s *sound) doubter { return s.draw }, CodeBasisUnknown},
		{"gauging without temperature", func(s *sound) { s.gauging.Temperature = nil },
			func(s *sound) doubter { return s.gauging }, CodeBasisUnknown},
		{"total of zero", func(s *sound) { s.total.Volume = 0 },
			func(s *sound) doubter { return s.total }, CodeTotalNotPositive},
		{"more than the tank", func(s *sound) { s.delivery.Tank, s.delivery.Volume = "T2", 901 },
			func(s *sound) doubter { return s.delivery }, CodeDeliveryTooLarge},
		// π/4 · 1.2² · 4 m³ + 0.9 m³ = 5.424 m³
		{"more than all tanks", func(s *sound) { s.delivery.Tank, s.delivery.Volume = "", 5425 },
			func(s *sound) doubter { return s.delivery }, CodeDeliveryTooLarge},
		{"as much as all tanks", func(s *sound) { s.delivery.Tank, s.delivery.Volume = "", 5423 },
			func(s *sound) doubter { return s.delivery }, ""},
		{"at 15 °C", func(s *sound) { s.order.Temperature, s.order.Basis = nil, Basis15 },
			func(s *sound) doubter { return s.order }, ""},
		{"nothing odd", func(*sound) {},
			func(s *sound) doubter { return s.transfer }, ""},
	}
	for _, tt := range tests {
		s := soundRows()
		tt.change(s)
		var codes []string
		for _, n := range tt.row(s).Doubts(s.directory()) {
			codes = append(codes, n.Code)
		}
		if got := strings.Join(codes, " "); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

func TestABackwardMeterIsNoRolloverAndNoSwap(t *testing.T) {
	tests := []struct {
		name      string
		registers []float64
		swapHours []int // after the first reading; readings are 24 h apart
		digits    int
		want      int
	}{
		{"forward", []float64{1, 2, 2, 3}, nil, 6, 0},
		{"backward", []float64{1000, 900}, nil, 6, 1},
		{"twice", []float64{1000, 900, 950, 10}, nil, 6, 2},
		{"rollover", []float64{999900, 100}, nil, 6, 0},
		{"half the range is no rollover", []float64{500000, 0}, nil, 6, 1},
		{"no digits, no rollover", []float64{999900, 100}, nil, 0, 1},
		{"swap between", []float64{1000, 3}, []int{5}, 6, 0},
		{"swap with the reading", []float64{1000, 0}, []int{24}, 6, 0},
		{"swap elsewhere", []float64{1000, 3, 4}, []int{30}, 6, 1},
	}
	for _, tt := range tests {
		s := soundRows()
		s.meter.Digits = tt.digits
		start := time.Date(2026, 3, 2, 17, 0, 0, 0, time.UTC)
		var readings []*MeterReading
		for i, register := range tt.registers { // the latest first
			r := &MeterReading{Plant: "NAK", Meter: "M1", At: start.AddDate(0, 0, i), Register: register}
			readings = append([]*MeterReading{r}, readings...)
		}
		var swaps []*MeterSwap
		for _, h := range tt.swapHours {
			swaps = append(swaps, &MeterSwap{Plant: "NAK", Meter: "M1", At: start.Add(time.Duration(h) * time.Hour)})
		}
		if got := BackwardMeters(readings, swaps, s.directory()); len(got) != tt.want {
			t.Errorf("%s: %v, want %d", tt.name, got, tt.want)
		}
	}
}
