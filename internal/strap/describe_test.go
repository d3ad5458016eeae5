package strap

import (
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"overwinter/internal/fault"
	"overwinter/internal/strict"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

func read(text string) (Tank, error) { return Read("tank.json", strings.NewReader(text)) }

func TestEveryExampleOfTheDocumentMakesATank(t *testing.T) {
	page, err := os.ReadFile("../../docs/tank-description.md")
	if err != nil {
		t.Fatal(err)
	}
	examples := 0
	for _, part := range strings.Split(string(page), "```json\n")[1:] {
		text, _, _ := strings.Cut(part, "```")
		tank, err := read(text)
		if err != nil {
			t.Errorf("%s\n%v", text, err)
			continue
		}
		if !strings.Contains(text, `"invented"`) || !(tanks.Capacity(tank.Shape) > 1000) {
			t.Errorf("%s\nholds %v L", text, tanks.Capacity(tank.Shape))
		}
		for _, n := range tank.Notices {
			if n.Severity != "info" {
				t.Errorf("%s\n%v", text, n)
			}
		}
		examples++
	}
	if examples < 8 {
		t.Errorf("%d examples", examples)
	}
}

// The volumes are those of the geometry, whose own tests stand in its room.
func TestADescriptionIsTheTankThatItNames(t *testing.T) {
	shape := func(s tanks.Shape, err error) tanks.Shape {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	const horizontal = `"shape":"horizontal","diameter_mm":2400,"length_mm":6000`
	lying := func(left, right tanks.Head) tanks.Lying {
		return tanks.Lying{Diameter: 2400, Length: 6000, Left: left, Right: right}
	}
	head := func(text string) string {
		return `{` + horizontal + `,"heads":{"left":{` + text + `},"right":{"kind":"flat"}}}`
	}
	leaning := lying(tanks.FlatHead(), tanks.FlatHead())
	leaning.Slope, leaning.DipAt = 0.02, 1500
	other := leaning
	other.Slope = -math.Tan(math.Pi / 180)
	rows := []tanks.Point{{Depth: 100, Volume: 380}, {Depth: 2400, Volume: 27000}}
	const table = `"table":[{"depth_mm":100,"volume_l":380},{"depth_m":2.4,"volume_m3":27}]`
	for _, tt := range []struct {
		text string
		want tanks.Shape
	}{
		{`{` + horizontal + `}`, shape(tanks.HorizontalCylinder(2400, 6000))},
		{`{"shape":"horizontal","diameter_in":100,"length_ft":20}`, shape(tanks.HorizontalCylinder(2540, 6096))},
		{`{"shape":"horizontal","diameter_cm":240,"length_m":0,"heads":{"left":{"kind":"hemispherical"},"right":{"kind":"hemispherical"}}}`,
			shape(tanks.LyingCylinder(tanks.Lying{Diameter: 2400, Left: tanks.HemisphericalHead(), Right: tanks.HemisphericalHead()}))},
		{head(`"kind":"ellipsoidal","depth_mm":500`), shape(tanks.LyingCylinder(lying(tanks.EllipsoidalHead(500), tanks.FlatHead())))},
		{head(`"kind":"ellipsoidal-2-1"`), shape(tanks.LyingCylinder(lying(tanks.TwoToOneHead(), tanks.FlatHead())))},
		{head(`"kind":"dished","depth_in":10`), shape(tanks.LyingCylinder(lying(tanks.DishedHead(254), tanks.FlatHead())))},
		{head(`"kind":"conical","depth_cm":30`), shape(tanks.LyingCylinder(lying(tanks.ConicalHead(300), tanks.FlatHead())))},
		{head(`"kind":"torispherical","dish_ratio":0.9,"knuckle_ratio":0.12`), shape(tanks.LyingCylinder(lying(tanks.TorisphericalHead(0.9, 0.12), tanks.FlatHead())))},
		{head(`"kind":"flanged-and-dished"`), shape(tanks.LyingCylinder(lying(tanks.FlangedAndDishedHead(), tanks.FlatHead())))},
		{head(`"kind":"din-28011"`), shape(tanks.LyingCylinder(lying(tanks.DIN28011Head(), tanks.FlatHead())))},
		{head(`"kind":"din-28013"`), shape(tanks.LyingCylinder(lying(tanks.DIN28013Head(), tanks.FlatHead())))},
		{`{` + horizontal + `,"tilt":{"slope_mm_per_m":20,"lower_end":"left","dip_from_left_m":1.5}}`, shape(tanks.LyingCylinder(leaning))},
		{`{` + horizontal + `,"tilt":{"angle_deg":1,"lower_end":"right","dip_from_left_m":1.5}}`, shape(tanks.LyingCylinder(other))},
		{`{"shape":"vertical","diameter_m":3,"height_m":4}`, shape(tanks.VerticalCylinder(3000, 4000))},
		{`{"shape":"vertical","diameter_m":3,"height_m":4,"bottom":{"kind":"conical","depth_mm":200},"roof":{"kind":"dished","depth_mm":300}}`,
			shape(tanks.StandingCylinder(tanks.Standing{Diameter: 3000, Height: 4000, Bottom: tanks.ConicalHead(200), Roof: tanks.DishedHead(300)}))},
		{`{"shape":"vertical","diameter_m":3,"height_m":4,"bottom":{"kind":"dished","depth_mm":200,"rises":true}}`,
			shape(tanks.StandingCylinder(tanks.Standing{Diameter: 3000, Height: 4000, Bottom: tanks.DishedHead(200), BottomRises: true}))},
		{`{"shape":"rectangular","length_m":2,"width_m":1,"height_m":1.5}`, shape(tanks.Rectangular(2000, 1000, 1500))},
		{`{"shape":"table",` + table + `}`, shape(tanks.CapacityTable(rows))},
		{`{"shape":"table",` + table + `,"first_step":"cone"}`, shape(tanks.CapacityTableRising(rows, tanks.RiseCone))},
		{`{` + horizontal + `,` + table + `}`, shape(tanks.CapacityTableRising(rows, tanks.RiseLying))},
		{`{` + horizontal + `,` + table + `,"first_step":"even"}`, shape(tanks.CapacityTable(rows))},
		{`{"shape":"vertical","diameter_m":3.785,"height_m":2.4,"bottom":{"kind":"dished","depth_mm":1},` + table + `}`, shape(tanks.CapacityTableRising(rows, tanks.RiseDished))},
		{`{` + horizontal + `,"deadwood":[{"from_mm":100,"to_mm":300,"displaces_l":40},{"from_mm":500,"to_mm":600,"adds_l":5}]}`,
			shape(tanks.WithDeadwood(shape(tanks.HorizontalCylinder(2400, 6000)), tanks.Deadwood{From: 100, To: 300, Adds: -40}, tanks.Deadwood{From: 500, To: 600, Adds: 5}))},
		{`{"shape":"joined","tanks":[{"bottom_at_m":-1,` + horizontal + `},{"bottom_at_mm":-500,"shape":"joined","tanks":[{"bottom_at_mm":3,"shape":"rectangular","length_m":2,"width_m":1,"height_m":1.5}]}]}`,
			shape(tanks.Joined(tanks.Member{Shape: shape(tanks.HorizontalCylinder(2400, 6000))}, tanks.Member{Shape: shape(tanks.Rectangular(2000, 1000, 1500)), Bottom: 500}))},
	} {
		got, err := read(tt.text)
		if err != nil {
			t.Errorf("%s\n%v", tt.text, err)
			continue
		}
		for _, share := range []units.Millimetres{0, 0.01, 0.3, 0.5, 0.77, 1} {
			depth := share * tt.want.Depth()
			if got, want := got.Shape.Volume(depth), tt.want.Volume(depth); math.Abs(float64(got-want)) > 1e-9*float64(tanks.Capacity(tt.want)) {
				t.Errorf("%s\nat %v mm %v L, want %v L", tt.text, depth, got, want)
			}
		}
		if got.Shape.Depth() != tt.want.Depth() || got.Drums != nil {
			t.Errorf("%s\n%v mm deep, want %v", tt.text, got.Shape.Depth(), tt.want.Depth())
		}
	}
	drums, err := read(`{"shape":"drums","drum_volume_us_gal":55,"count":4e1}`)
	if err != nil || drums.Drums == nil || drums.Drums.Count() != 40 {
		t.Error(drums, err)
	}
}

func TestWhatIsWrongIsNamedByItsPlace(t *testing.T) {
	const box = `"shape":"rectangular","length_m":2,"width_m":1,"height_m":1.5`
	const lying = `"shape":"horizontal","diameter_mm":2400,"length_mm":6000`
	for _, tt := range []struct{ text, says string }{
		{"", "tank.json: empty: expected a JSON object"},
		{" \n ", "empty"},
		{"\xff{}", "tank.json: not UTF-8"},
		{"{\n\"shape\": }", "tank.json:2: this is no JSON"},
		{"{" + box + "}\n{}", "tank.json:2: this is no JSON"},
		{"{" + box + "},", "this is no JSON"},
		{"{" + box + ",}", "this is no JSON"},
		{`{"shape":NaN}`, "this is no JSON"},
		{`{"shape":"drums","count":0x10}`, "this is no JSON"},
		{"[]", "tank.json:1: found a list: expected an object"},
		{"null", "tank.json:1: found null: expected an object"},
		{"5", `tank.json:1: found a number ("5"): expected an object`},
		{"{}", "tank.json:1:shape: missing: the description needs it"},
		{`{"shape":"sphere"}`, `shape: "sphere": expected horizontal, vertical, rectangular, table, drums or joined`},
		{`{"shape":7}`, `shape: found a number ("7"): expected a text`},
		{`{"shape":"rectangular","length_m":2,"width_m":1}`, "height_mm (or _cm, _m, _in, _ft): missing"},
		{"{" + box + ",\n\"length_mm\":2000}", "tank.json:2:length_mm: the same as length_m, in another unit: keep one"},
		{"{" + box + ",\n\"length_m\":2}", "tank.json:2:length_m: the field stands twice: keep one"},
		{"{" + box + `,"diameter_m":2}`, "diameter_m: no such field here: expected one of note, shape, length_mm, width_mm, height_mm, deadwood, table, first_step"},
		{`{"shape":"rectangular","length_m":"2","width_m":1,"height_m":1}`, `length_m: found a text ("2"): expected a number`},
		{`{"shape":"rectangular","length_m":"NaN","width_m":1,"height_m":1}`, `length_m: found a text ("NaN"): expected a number`},
		{`{"shape":"rectangular","length_m":true,"width_m":1,"height_m":1}`, `length_m: found true: expected a number`},
		{`{"shape":"rectangular","length_m":1e999,"width_m":1,"height_m":1}`, `length_m: "1e999" is too large a number`},
		{`{"shape":"rectangular","length_m":1e308,"width_m":1,"height_m":1}`, `length_m: +Inf mm is no inside length`},
		{`{"shape":"rectangular","length_m":2000,"width_m":1,"height_m":1}`, `length_m: 2000000 mm is no inside length`},
		{`{"shape":"rectangular","length_m":-2,"width_m":1,"height_m":1}`, `length_m: -2000 mm is no inside length`},
		{`{"shape":"rectangular","length_m":1e-300,"width_m":1e-300,"height_m":1e-300}`, `length_m: 0 mm is no inside length: expected 0.1 to 1000000 mm`},
		{`{"shape":"table","table":[{"depth_mm":1,"volume_l":1e-9},{"depth_mm":2,"volume_l":1e-8}]}`, "tank.json:1: the tank would hold 1e-08 L: expected 0.001 L or more"},
		{`{"note":5,` + box + `}`, `note: found a number ("5"): expected a text`},
		{"{" + lying + `,"heads":{"left":{"kind":"flat"}}}`, "heads.right: missing: heads needs it"},
		{"{" + lying + `,"heads":[]}`, "heads: found a list: expected an object"},
		{"{" + lying + `,"heads":{"left":{"kind":"dished","depth_mm":1300},"right":{"kind":"flat"}}}`, "tank.json:1:heads.left.depth_mm: 1300 mm: expected 0 to 1200 mm"},
		{"{" + lying + `,"heads":{"left":{"kind":"flat","depth_mm":13},"right":{"kind":"flat"}}}`, "heads.left.depth_mm: no such field here: expected one of kind"},
		{"{" + lying + `,"heads":{"left":{"kind":"dished","depth_mm":13,"rises":true},"right":{"kind":"flat"}}}`, "heads.left.rises: no such field"},
		{"{" + lying + `,"heads":{"left":{"kind":"torispherical","dish_ratio":0.2,"knuckle_ratio":0.1},"right":{"kind":"flat"}}}`, "heads.left: a dish radius of 0.2"},
		{"{" + lying + `,"tilt":{"lower_end":"left","dip_from_left_mm":5}}`, "tilt.slope_mm_per_m (or angle_deg): missing"},
		{"{" + lying + `,"tilt":{"lower_end":"left","slope_mm_per_m":5,"angle_deg":1,"dip_from_left_mm":5}}`, "tilt.angle_deg: the same as slope_mm_per_m"},
		{"{" + lying + `,"tilt":{"lower_end":"up","slope_mm_per_m":5,"dip_from_left_mm":5}}`, `tilt.lower_end: "up": expected left or right`},
		{"{" + lying + `,"tilt":{"lower_end":"left","slope_mm_per_m":-5,"dip_from_left_mm":5}}`, `tilt.slope_mm_per_m: -5 mm/m: expected 0 or more`},
		{"{" + lying + `,"tilt":{"lower_end":"left","angle_deg":95,"dip_from_left_mm":5}}`, `tilt.angle_deg: 95°`},
		{"{" + lying + `,"tilt":{"lower_end":"left","slope_mm_per_m":5000,"dip_from_left_mm":5}}`, `tilt: 5: expected`},
		{"{" + lying + `,"tilt":{"lower_end":"left","slope_mm_per_m":5,"dip_from_left_mm":6001}}`, `tilt.dip_from_left_mm: 6001 mm`},
		{`{"shape":"vertical","diameter_m":3,"height_m":4,"bottom":{"kind":"flat","rises":1}}`, `bottom.rises: found a number ("1"): expected true or false`},
		{`{"shape":"vertical","diameter_m":3,"height_m":4,"bottom":{"kind":"conical","depth_m":4,"rises":true}}`, `bottom.depth_m: it rises 4000 mm`},
		{`{"shape":"table"}`, "table: missing"},
		{`{"shape":"table","table":[]}`, "table: it has 0: expected at least 2"},
		{"{\"shape\":\"table\",\"table\":[{\"depth_mm\":0,\"volume_l\":0},\n{\"depth_mm\":9,\"volume_l\":5},\n{\"depth_mm\":8,\"volume_l\":6}]}",
			"tank.json:3:table[3]: 8 mm, 6 L: expected a depth above the 9 mm"},
		{`{"shape":"table","table":[{"depth_mm":0,"volume_l":0},[9,5]]}`, "table[2]: found a list: expected an object"},
		{`{"shape":"table","table":[{"depth_mm":0,"volume_l":0},{"depth_mm":9}]}`, "table[2].volume_l (or _us_gal, _imp_gal, _m3, _kl, _bbl): missing"},
		{`{"shape":"table","first_step":"lying","table":[{"depth_mm":0,"volume_l":3},{"depth_mm":9,"volume_l":5}]}`, "first_step: the table holds 3 L at depth 0"},
		{"{" + box + `,"first_step":"lying"}`, "first_step: there is no table for it"},
		{"{" + box + `,"deadwood":[{"from_mm":1,"to_mm":5}]}`, "deadwood[1].displaces_l or adds_l: missing"},
		{"{" + box + `,"deadwood":[{"from_mm":1,"to_mm":5,"adds_l":1,"displaces_l":1}]}`, "deadwood[1].adds_l: a piece either displaces or adds"},
		{"{" + box + `,"deadwood":[{"from_mm":1,"to_mm":5,"displaces_l":-1}]}`, "deadwood[1].displaces_l: -1: expected a volume above 0"},
		{"{" + box + `,"deadwood":[{"from_mm":100,"to_mm":150,"displaces_l":101}]}`, "deadwood: level 100 mm: above it more is displaced"},
		{"{" + box + `,"deadwood":[{"from_mm":100,"to_mm":1501,"displaces_l":1}]}`, "deadwood[1]: from 100 to 1501 mm"},
		{`{"shape":"drums","drum_volume_l":200,"count":2.5}`, `count: "2.5": expected a whole number`},
		{`{"shape":"drums","drum_volume_l":200,"count":1e300}`, `count: "1e300": expected a whole number`},
		{`{"shape":"drums","drum_volume_l":0,"count":2}`, `drum_volume_l: 0 L: expected more than 0`},
		{`{"shape":"joined","tanks":[]}`, "tanks: there are 0"},
		{`{"shape":"joined","tanks":[{` + box + `}]}`, "tanks[1].bottom_at_mm (or _cm, _m, _in, _ft): missing"},
		{"{\"shape\":\"joined\",\"tanks\":[{\"bottom_at_mm\":0," + box + "},\n{\"bottom_at_mm\":0,\"shape\":\"drums\",\"drum_volume_l\":200,\"count\":2}]}", "tank.json:2:tanks[2]: it has no depth"},
		{`{"shape":"joined","tanks":[{"bottom_at_mm":0,` + box + `},{"bottom_at_m":9,` + box + `}]}`, "tanks: a bottom at 9000 mm"},
		{`{"bottom_at_mm":0,` + box + `}`, "bottom_at_mm: no such field"},
		{strings.Repeat(`{"a":`, 30) + "1" + strings.Repeat("}", 30), "nested deeper than 24 levels"},
		{strings.Repeat("[", 20000), "this is no JSON"},
		{`{"shape":"rectangular","note":"` + strings.Repeat("x", strict.LongestText) + `"}`, "tank.json: longer than 8 MB"},
	} {
		_, err := read(tt.text)
		if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%.200s\ngot %v\nwant %s", tt.text, err, tt.says)
		}
	}
	deep := "{" + box + "}"
	for range 6 {
		deep = `{"shape":"joined","tanks":[` + strings.Replace(deep, "{", `{"bottom_at_mm":0,`, 1) + `]}`
	}
	if _, err := read(deep); err == nil || !strings.Contains(err.Error(), "sets within sets") {
		t.Error(err)
	}
}

func TestAllThatIsWrongIsListedAtOnce(t *testing.T) {
	const mostProblems = 20
	_, err := read(`{"shape":"table","table":[` + strings.Repeat(`{"depth_mm":"x"},`, 30) + `5]}`)
	var f *fault.Error
	if !errors.As(err, &f) || len(f.Fields) != mostProblems+1 || f.Fields[mostProblems].Message != "and 41 more" {
		t.Error(err)
	}
}

func TestWhatIsDoubtfulIsTold(t *testing.T) {
	const lying = `"shape":"horizontal","diameter_mm":2400,"length_mm":6000`
	for _, tt := range []struct{ text, code, says string }{
		{"{" + lying + ",\n\"table\":[{\"depth_mm\":1200,\"volume_l\":13500},{\"depth_mm\":2400,\"volume_l\":27100}]}", "table-compared",
			"at 1200 mm the table holds 71.7 L less than the dimensions give, 0.3 % of their 27143.4 L: the table is used"},
		{"{" + lying + ",\n\"table\":[{\"depth_mm\":1200,\"volume_l\":15500},{\"depth_mm\":2400,\"volume_l\":27100}]}", "table-unlike-dimensions", "at 1200 mm the table holds 1928.3 L more"},
		{"{" + lying + ",\n\"table\":[{\"depth_mm\":1200,\"volume_l\":13500},{\"depth_mm\":2900,\"volume_l\":27100}]}", "table-unlike-dimensions", "goes on to 2900 mm, the dimensions end at 2400 mm"},
		{"{" + lying + `,"tilt":{"slope_mm_per_m":20,"lower_end":"left","dip_from_left_mm":3000}}`, "tilt-unseen", "the low end still holds"},
		{"{" + lying + `,"tilt":{"slope_mm_per_m":20,"lower_end":"left","dip_from_left_mm":3000}}`, "tilt-unread", "the dip reads full at"},
		{`{"shape":"joined","tanks":[{"bottom_at_mm":0,` + lying + `},{"bottom_at_mm":300,` + lying + `}]}`, "joined-tops-differ", "the lowest top is at 2400 mm of 2700 mm"},
	} {
		tank, err := read(tt.text)
		if err != nil {
			t.Fatal(tt.text, err)
		}
		told := false
		for _, n := range tank.Notices {
			told = told || n.Code == tt.code && strings.Contains(n.Message, tt.says) && strings.HasPrefix(n.Subject, "tank.json:")
		}
		if !told {
			t.Errorf("%s\ntold %v, want %s: %s", tt.text, tank.Notices, tt.code, tt.says)
		}
	}
}

func FuzzAnyTextIsRefusedOrATank(f *testing.F) {
	page, err := os.ReadFile("../../docs/tank-description.md")
	if err != nil {
		f.Fatal(err)
	}
	for _, part := range strings.Split(string(page), "```json\n")[1:] {
		text, _, _ := strings.Cut(part, "```")
		f.Add(text)
	}
	f.Add(`{"shape":"joined","tanks":[null,{"bottom_at_mm":1e308}]}`)
	f.Add("\xef\xbb\xbf[[[{\"a\":1,\"a\":2}]]]")
	f.Fuzz(func(t *testing.T, text string) {
		tank, err := read(text)
		if err != nil {
			if fault.KindOf(err) != fault.Invalid {
				t.Fatal(err)
			}
			return
		}
		full, before := tank.Shape.Depth(), units.Litres(-1)
		for i := range 21 {
			v := tank.Shape.Volume(units.Millimetres(i) / 20 * full)
			if !(v >= 0 && v <= 1e9*(1+1e-9) && v >= before-1e-9*tanks.Capacity(tank.Shape)) {
				t.Fatalf("%v L after %v L at %d/20 of %v mm", v, before, i, full)
			}
			before = v
		}
	})
}
