package tanks

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

// By hand: 10 L per mm from 0 mm up, and 2 L per mm from 300 to 1300 mm above the lowest bottom.
func TestJoinedTanksShareOneLevel(t *testing.T) {
	small := shape(t)(Rectangular(2000, 1000, 1000))
	s := shape(t)(Joined(Member{small, 5300}, Member{box(t).Shape, 5000}))
	for depth, want := range map[units.Millimetres]float64{
		-1: 0, 0: 0, 300: 3000, 400: 4200, 1300: 15000, 1500: 17000, 2000: 22000, 2500: 22000,
	} {
		near(t, "litres", float64(s.Volume(depth)), want, 1e-9)
	}
	near(t, "depth", float64(s.Depth()), 2000, 0)
	near(t, "capacity", float64(Capacity(s)), 22000, 1e-9)
	near(t, "lowest top", float64(LowestTop(Member{small, 5300}, Member{box(t).Shape, 5000})), 1300, 1e-9)
	depth, err := DepthOf(s, 4200)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "depth of 4200 L", float64(depth), 400, 1e-6)
}

func TestASetOfOneIsThatTank(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		one := anyShape(t)
		s, err := Joined(Member{one, units.Millimetres(rapid.Float64Range(-9e5, 9e5).Draw(t, "bottom"))})
		if err != nil {
			t.Fatal(err)
		}
		depth := units.Millimetres(rapid.Float64Range(-0.1, 1.1).Draw(t, "share")) * one.Depth()
		if s.Volume(depth) != one.Volume(depth) || s.Depth() != one.Depth() || Capacity(s) != Capacity(one) {
			t.Fatalf("%v L and %v L", s.Volume(depth), one.Volume(depth))
		}
	})
}

func TestEqualTanksOnOneLevelHoldTwiceAsMuch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		one := anyShape(t)
		s, err := Joined(Member{one, 7}, Member{one, 7})
		if err != nil {
			t.Fatal(err)
		}
		depth := units.Millimetres(rapid.Float64Range(0, 1).Draw(t, "share")) * one.Depth()
		if off := s.Volume(depth) - 2*one.Volume(depth); off != 0 {
			t.Fatalf("%v L off", off)
		}
	})
}

func TestTanksThatNeverShareALevelAreRefused(t *testing.T) {
	b := box(t).Shape // 2000 mm high
	nan := units.Millimetres(math.NaN())
	for _, tt := range []struct {
		members []Member
		says    string
	}{
		{nil, "tanks: there are 0"},
		{make([]Member, 1001), "tanks: there are 1001"},
		{[]Member{{b, 0}, {nil, 0}}, "tank 2: it has no depth"},
		{[]Member{{shape(t)(VolumeOnly(5)), 0}}, "tank 1: it has no depth"},
		{[]Member{{b, nan}}, "tank 1: its bottom is at NaN mm"},
		{[]Member{{b, 0}, {b, 2000}}, "tanks: a bottom at 2000 mm above the lowest is not below the top of the tanks under it at 2000 mm"},
		{[]Member{{b, 5000}, {b, 0}}, "a bottom at 5000 mm"},
	} {
		_, err := Joined(tt.members...)
		wantInvalid(t, err, tt.says)
	}
	chain := shape(t)(Joined(Member{b, 3800}, Member{b, 0}, Member{b, 1900}))
	near(t, "a chain reaches", float64(chain.Depth()), 5800, 0)
}

func TestDeadwoodInJoinedTanksIsLookedAtByEachTanksLevels(t *testing.T) {
	flat := shape(t)(CapacityTable([]Point{{0, 0}, {500, 100}, {600, 100}, {1000, 300}}))
	set := shape(t)(Joined(Member{flat, 0}, Member{shape(t)(Rectangular(100, 100, 400)), 100}))
	_, err := WithDeadwood(set, Deadwood{480, 620, -20})
	wantInvalid(t, err, "level 500 mm")
}

func BenchmarkJoinedTanks(b *testing.B) {
	lying := shape(b)(HorizontalCylinder(2400, 6000))
	one := shape(b)(CapacityTable(strap(lying, 10)))
	s := shape(b)(WithDeadwood(shape(b)(Joined(Member{one, 0}, Member{lying, 200})), Deadwood{100, 300, -10}))
	b.ReportAllocs()
	for b.Loop() {
		s.Volume(1234)
	}
}
