package tanks

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

func usableCapacity(t testing.TB, tank Tank, content Content, warmTo units.Celsius, c Corrector) float64 {
	t.Helper()
	got, err := tank.UsableCapacity(content, warmTo, c)
	if err != nil {
		t.Fatal(err)
	}
	return float64(got)
}

func room(t testing.TB, tank Tank, content Content, warmTo units.Celsius, c Corrector) float64 {
	t.Helper()
	got, err := tank.Room(content, warmTo, c)
	if err != nil {
		t.Fatal(err)
	}
	return float64(got)
}

// Diesel of 840 kg/m³ put in at −40 °C takes up 1.0501 times its volume at +20 °C, so that a tank
// filled above 95.2 % in the cold runs over when it warms: computed, from 1.0457 and 0.9958.
func TestATankFilledInTheColdHasNoRoomForTheWarmth(t *testing.T) {
	c := corrector(t, 840)
	near(t, "expansion", vcf(t, c, -40)/vcf(t, c, 20), 1.0501, 0.00005)

	tank := Tank{Shape: shape(t)(VolumeOnly(100000)), SafeFill: 100000}
	cold := func(litres units.Litres) Content {
		return measure(t, tank, Reading{Volume: &litres, Temperature: new(units.Celsius(-40))}, c)
	}
	if got := room(t, tank, cold(95300), 20, c); got != 0 {
		t.Errorf("95.3 %% full: room for %v L", got)
	}
	if got := room(t, tank, cold(95100), 20, c); !(got > 0 && got < 200) {
		t.Errorf("95.1 %% full: room for %v L, want a little", got)
	}
	near(t, "room when it stays cold", room(t, tank, cold(95300), -40, c), 4700*1.0457, 1)
}

// By hand, at 15 °C: the box holds 10 L per mm, safe fill 19 000 L, suction 1000 L.
func TestRoomIsWhatTheSafeFillLeaves(t *testing.T) {
	tests := []struct {
		name           string
		depth, water   units.Millimetres
		capacity, room float64
	}{
		{"half full", 1000, 0, 18000, 9000},
		{"water below the suction", 1000, 40, 18000, 9000},
		{"water above the suction", 1000, 150, 17500, 9000},
		{"empty: the bottom is filled first", 0, 0, 18000, 19000},
		{"filled above the safe fill", 1950, 0, 18000, 0},
	}
	c := corrector(t, 840)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			content := measure(t, box(t), Reading{Depth: &tt.depth, Water: &tt.water, Temperature: new(units.Celsius(15))}, c)
			near(t, "usable capacity", usableCapacity(t, box(t), content, 15, c), tt.capacity, 1e-9)
			near(t, "room", room(t, box(t), content, 15, c), tt.room, 1e-9)
		})
	}
}

func TestWaterAboveTheSafeFillLeavesNoCapacity(t *testing.T) {
	c := corrector(t, 840)
	content := measure(t, box(t), Reading{Depth: new(units.Millimetres(1950)), Water: new(units.Millimetres(1940))}, c)
	near(t, "usable capacity", usableCapacity(t, box(t), content, 20, c), 0, 0)
	near(t, "room", room(t, box(t), content, 20, c), 0, 0)
}

func TestAShallowTankInTheColdHasNoUsableCapacity(t *testing.T) {
	// 1010 L at +40 °C are 989 L at 15 °C; the 1000 L below the suction, at −40 °C, are 1046 L.
	tank := Tank{Shape: shape(t)(Rectangular(5000, 2000, 2000)), SafeFill: 1010, Suction: 1000}
	c := corrector(t, 840)
	content := measure(t, tank, Reading{Depth: new(units.Millimetres(90)), Temperature: new(units.Celsius(-40))}, c)
	near(t, "usable capacity", usableCapacity(t, tank, content, 40, c), 0, 0)
}

func TestTheWarmerItMayGetTheLessATankCanHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank, r, c := anyGauging(t)
		content, err := tank.Measure(r, c, 0)
		if err != nil {
			t.Fatal(err)
		}
		warmTo := units.Celsius(rapid.Float64Range(-50, 40).Draw(t, "warm to"))
		cool, err1 := tank.UsableCapacity(content, warmTo, c)
		warm, err2 := tank.UsableCapacity(content, warmTo+10, c)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		already := content.Temperature >= warmTo+10 // warmer already: the limit is today's
		if !(warm >= 0 && (warm < cool || cool == 0 || already && warm == cool)) {
			t.Fatalf("%v L at %v °C, %v L at 10 °C more", cool, warmTo, warm)
		}
	})
}

func TestRoomIsCapacityLessStockOnceTheSuctionIsCovered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank, r, c := anyGauging(t)
		content, err := tank.Measure(r, c, 0)
		if err != nil {
			t.Fatal(err)
		}
		capacity, err1 := tank.UsableCapacity(content, 20, c)
		room, err2 := tank.Room(content, 20, c)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		byStock := max(0, float64(capacity-content.UsableAt15))
		covered := content.Observed >= tank.Suction
		if off := float64(room) - byStock; off < -1e-6 || (covered && off > 1e-6) {
			t.Fatalf("room %v L, capacity less stock %v L, suction covered: %v", room, byStock, covered)
		}
	})
}

func TestATankThatCannotBeIsRefused(t *testing.T) {
	s := shape(t)(Rectangular(5000, 2000, 2000))
	tests := []struct {
		tank Tank
		says string
	}{
		{Tank{}, "shape: it has none"},
		{Tank{Shape: s}, "safe fill: 0 L: expected more than 0 and at most the capacity of 20000 L"},
		{Tank{Shape: s, SafeFill: 20001}, "safe fill: 20001 L"},
		{Tank{Shape: s, SafeFill: units.Litres(math.NaN())}, "safe fill: NaN L"},
		{Tank{Shape: s, SafeFill: 19000, Suction: -1}, "suction: -1 L: expected 0 or more"},
		{Tank{Shape: s, SafeFill: 19000, Suction: 19000}, "suction: 19000 L"},
	}
	for _, tt := range tests {
		wantInvalid(t, tt.tank.Validate(), tt.says)
	}
	_, err := box(t).Room(Content{}, 151, corrector(t, 840))
	wantInvalid(t, err, "temperature: 151 °C")
	_, err = box(t).UsableCapacity(Content{Temperature: -51}, 20, corrector(t, 840))
	wantInvalid(t, err, "temperature: -51 °C")
}
