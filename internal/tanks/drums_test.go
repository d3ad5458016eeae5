package tanks

import (
	"testing"

	"overwinter/internal/units"
)

func TestDrumsAreCounted(t *testing.T) {
	// 55 US gal are 208.197648 L (exact: 55·3.785411784).
	d, err := NewDrums(55*units.LitresPerUSGallon, 40)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		full, tenths int
		want         float64
	}{{0, 0, 0}, {0, 5, 104.098824}, {1, 0, 208.19764812}, {12, 3, 2560.831071876}, {40, 0, 8327.9059248}} {
		got, err := d.Counted(tt.full, tt.tenths)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "litres", float64(got), tt.want, 1e-6)
	}
	if d.Depth() != 0 || d.Count() != 40 {
		t.Error(d)
	}
	near(t, "capacity", float64(Capacity(d)), 8327.9059248, 1e-9)
	for _, wrong := range [][2]int{{-1, 0}, {41, 0}, {40, 1}, {3, 10}, {3, -1}} {
		if _, err := d.Counted(wrong[0], wrong[1]); err == nil {
			t.Errorf("%v drums and tenths are no count", wrong)
		}
	}
}

func TestACountIsAReadingOfVolume(t *testing.T) {
	d, err := NewDrums(200, 10)
	if err != nil {
		t.Fatal(err)
	}
	volume, err := d.Counted(7, 5)
	if err != nil {
		t.Fatal(err)
	}
	tank := Tank{Shape: d, SafeFill: 2000}
	content := measure(t, tank, Reading{Volume: &volume, Temperature: new(units.Celsius(15))}, corrector(t, 840))
	near(t, "usable", float64(content.UsableAt15), 1500, 1e-9)
	_, err = DepthOf(d, 100)
	wantInvalid(t, err, "shape")
}

func TestImpossibleDrumsAreRefused(t *testing.T) {
	for _, tt := range []struct {
		each units.Litres
		most int
		says string
	}{
		{0, 4, "drum volume: 0 L"}, {-200, 4, "drum volume: -200 L"}, {200, 0, "count: 0 drums"}, {200, 1_000_001, "count: 1000001 drums"},
		{1e6, 1e4, "expected at most 1000000000 L in all"},
	} {
		_, err := NewDrums(tt.each, tt.most)
		wantInvalid(t, err, tt.says)
	}
}
