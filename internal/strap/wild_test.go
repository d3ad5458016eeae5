package strap

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/fault"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// wild draws the description of some tank with numbers from sound to absurd.
func wild(t *rapid.T, level int) string {
	number := func() string {
		return rapid.OneOf(
			rapid.SampledFrom([]string{"0", "-1", "1e-300", "1e-7", "0.001", "500", "1000", "1000000", "1e9", "1e308", "1e400"}),
			rapid.Map(rapid.Float64Range(1, 5000), func(x float64) string { return fmt.Sprint(x) }),
			rapid.Map(rapid.Float64Range(1, 5000), func(x float64) string { return fmt.Sprint(x) }),
			rapid.Map(rapid.Float64Range(1, 5000), func(x float64) string { return fmt.Sprint(x) }),
		).Draw(t, "number")
	}
	head := func() string {
		kind := rapid.SampledFrom([]string{"flat", "ellipsoidal", "ellipsoidal-2-1", "hemispherical", "dished", "conical", "torispherical",
			"flanged-and-dished", "din-28011", "din-28013"}).Draw(t, "kind")
		switch kind {
		case "ellipsoidal", "dished", "conical":
			return fmt.Sprintf(`{"kind":%q,"depth_mm":%s}`, kind, number())
		case "torispherical":
			return fmt.Sprintf(`{"kind":%q,"dish_ratio":%v,"knuckle_ratio":%v}`, kind, rapid.Float64Range(0.4, 2).Draw(t, "dish"), rapid.Float64Range(0, 0.6).Draw(t, "knuckle"))
		}
		return fmt.Sprintf(`{"kind":%q}`, kind)
	}
	deadwood := ""
	if rapid.Bool().Draw(t, "deadwood") {
		deadwood = fmt.Sprintf(`,"deadwood":[{"from_mm":%s,"to_mm":%s,%q:%s}]`, number(), number(),
			rapid.SampledFrom([]string{"displaces_l", "adds_l"}).Draw(t, "way"), number())
	}
	switch rapid.IntRange(0, 5).Draw(t, "shape") {
	case 0:
		tilt := ""
		if rapid.Bool().Draw(t, "leans") {
			tilt = fmt.Sprintf(`,"tilt":{"lower_end":"right","angle_deg":%v,"dip_from_left_mm":%s}`, rapid.Float64Range(0, 12).Draw(t, "angle"), number())
		}
		return fmt.Sprintf(`"shape":"horizontal","diameter_mm":%s,"length_mm":%s,"heads":{"left":%s,"right":%s}%s%s`, number(), number(), head(), head(), tilt, deadwood)
	case 1:
		return fmt.Sprintf(`"shape":"vertical","diameter_mm":%s,"height_mm":%s,"bottom":%s,"roof":%s%s`, number(), number(), head(), head(), deadwood)
	case 2:
		bottom := strings.TrimSuffix(head(), "}") + `,"rises":true}`
		return fmt.Sprintf(`"shape":"vertical","diameter_mm":%s,"height_mm":%s,"bottom":%s%s`, number(), number(), bottom, deadwood)
	case 3:
		return fmt.Sprintf(`"shape":"table","first_step":"lying","table":[{"depth_mm":%s,"volume_l":%s},{"depth_mm":%s,"volume_m3":%s}]%s`,
			number(), number(), number(), number(), deadwood)
	case 4:
		if level < 3 {
			return fmt.Sprintf(`"shape":"joined","tanks":[{"bottom_at_mm":%s,%s},{"bottom_at_mm":%s,%s}]`, number(), wild(t, level+1), number(), wild(t, level+1))
		}
	}
	return fmt.Sprintf(`"shape":"rectangular","length_mm":%s,"width_mm":%s,"height_mm":%s%s`, number(), number(), number(), deadwood)
}

func TestAnyNumbersAreRefusedOrATankThatFills(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := "{" + wild(t, 0) + "}"
		tank, err := read(text)
		if err != nil {
			if fault.KindOf(err) != fault.Invalid || strings.Contains(err.Error(), "no such field") || strings.Contains(err.Error(), "missing") {
				t.Fatalf("%s\n%v", text, err)
			}
			return
		}
		full, before, slack := tank.Shape.Depth(), units.Litres(0), 1e-12+1e-9*tanks.Capacity(tank.Shape)
		for i := range 33 {
			v := tank.Shape.Volume(units.Millimetres(i) / 32 * full)
			if !(v >= before-slack && v <= tanks.Capacity(tank.Shape)+slack) {
				t.Fatalf("%s\n%v L after %v L at %d/32 of %v mm", text, v, before, i, full)
			}
			before = v
		}
		volume := units.Litres(rapid.Float64Range(0, 1).Draw(t, "share")) * tank.Shape.Volume(full)
		depth, err := tanks.DepthOf(tank.Shape, volume)
		if err != nil || !(depth >= 0 && depth <= full) {
			t.Fatalf("%s\n%v L: %v mm, %v", text, volume, depth, err)
		}
		// The depth is found to 1e-7 mm.
		if back := tank.Shape.Volume(depth + 1e-7); back < volume-slack {
			t.Fatalf("%s\n%v L: %v mm holds %v L", text, volume, depth, back)
		}
	})
}
