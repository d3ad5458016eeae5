package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/importer"
	"overwinter/internal/inventory"
	"overwinter/internal/strap"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

const lyingTank = `{"shape":"horizontal","diameter_mm":2400,"length_mm":6000}`

// described makes a run over a tank; out is where its rows go.
func described(t testing.TB, text string, out io.Writer) *strapping {
	t.Helper()
	tank, err := strap.Read("tank.json", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return &strapping{tank: tank, out: out}
}

// strapped runs the command over a description in a file.
func strapped(t *testing.T, text string, flags ...string) (code int, out, said string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "tank.json")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return command(append([]string{"strap", path}, flags...)...)
}

// The volumes are by hand: the box holds 10 L per mm.
func TestATableHasARowAtEachStepAndOneAtTheTop(t *testing.T) {
	const box = `{"shape":"rectangular","length_mm":5000,"width_mm":2000,"height_mm":1000.5}`
	for _, tt := range []struct {
		name, text string
		flags      []string
		want       string
	}{
		{"steps", box, []string{"--step-mm", "400"}, "depth_mm,volume_l\n0,0\n400,4000\n800,8000\n1000.5,10005\n"},
		{"the last step is the top", box, []string{"--step-mm", "500.25"}, "depth_mm,volume_l\n0,0\n500.25,5002.5\n1000.5,10005\n"},
		{"a step above the tank", box, []string{"--step-mm", "1e5"}, "depth_mm,volume_l\n0,0\n1000.5,10005\n"},
		{"a step that binary numbers lack", `{"shape":"rectangular","length_mm":1000,"width_mm":1000,"height_mm":0.4}`, []string{"--step-mm", "0.1"},
			"depth_mm,volume_l\n0,0\n0.1,0.1\n0.2,0.2\n0.3,0.3\n0.4,0.4\n"},
		{"rounded", box, []string{"--step-mm", "400", "--round"}, "depth_mm,volume_l\n0,0\n400,4000\n800,8000\n1000,10000\n"},
		{"depths, again and in any order", box, []string{"--depth", "1000.5", "--depth", "0", "--depth=-0", "--depth", "7.25"},
			"depth_mm,volume_l\n1000.5,10005\n0,0\n0,0\n7.25,72.5\n"},
		{"rounded depths", box, []string{"--round", "--depth", "1000.5", "--depth", "7.5", "--depth", "7.25"}, "depth_mm,volume_l\n1000,10000\n8,80\n7,70\n"},
		{"plant and tank", box, []string{"--plant", "N,A", "--tank", "T2", "--depth", "5"}, "plant,tank,depth_mm,volume_l\n\"N,A\",T2,5,50\n"},
		{"drums", `{"shape":"drums","drum_volume_l":205.5,"count":2}`, nil, "count,volume_l\n0,0\n1,205.5\n2,411\n"},
		{"rounded drums", `{"shape":"drums","drum_volume_l":205.5,"count":1}`, []string{"--round"}, "count,volume_l\n0,0\n1,206\n"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			code, out, said := strapped(t, tt.text, tt.flags...)
			if code != fault.ExitDone || out != tt.want || said != "" {
				t.Errorf("exit %d, %q, said %q, want %q", code, out, said, tt.want)
			}
		})
	}
	if _, out, _ := strapped(t, lyingTank); strings.Count(out, "\n") != 242 || !strings.Contains(out, "\n2400,27143.3605270158") {
		t.Errorf("by default a row each 10 mm: %d lines, …%s", strings.Count(out, "\n"), out[max(0, len(out)-40):])
	}
}

func TestTheDepthsOfAFileAreStrapped(t *testing.T) {
	file := rowsFile(t, "\xef\xbb\xbfdepth_mm\r\n100\r\n\r\n 2e2 \n300.5")
	const box = `{"shape":"rectangular","length_mm":5000,"width_mm":2000,"height_mm":1000}`
	code, out, said := strapped(t, box, "--depths", file)
	if want := "depth_mm,volume_l\n100,1000\n200,2000\n300.5,3005\n"; code != fault.ExitDone || out != want {
		t.Errorf("exit %d: %q %s", code, out, said)
	}
	for _, tt := range []struct{ text, says string }{
		{"100\n1000.001\n5\n", ":2: 1000.001 mm: expected 0 to 1000 mm, the inside height of the tank"},
		{"100\n-1\n", ":2: -1 mm: expected 0 to 1000 mm"},
		{"100\n\n12 mm\n", `:3: "12 mm" is no number`},
		{"100\nNaN\n", `:2: "NaN" is no number`},
		{"100\ndepth_mm\n", `:2: "depth_mm" is no number`},
		{"100\n1e999\n", `:2: "1e999" is no number`},
		{"100\n" + strings.Repeat("1", 1<<17), ":2: the line is longer than 64 kB"},
	} {
		code, out, said := strapped(t, box, "--depths", rowsFile(t, tt.text))
		if code != fault.ExitInvalid || !strings.Contains(said, tt.says) || out != "depth_mm,volume_l\n100,1000\n" {
			t.Errorf("%.40q: exit %d, wrote %q, said %s", tt.text, code, out, said)
		}
	}
}

func TestWhatCannotBeStrappedIsRefused(t *testing.T) {
	const drums = `{"shape":"drums","drum_volume_l":205.5,"count":2}`
	for _, tt := range []struct {
		text  string
		flags []string
		code  int
		says  string
	}{
		{lyingTank, []string{"--step-mm", "0"}, fault.ExitUsage, "--step-mm"},
		{lyingTank, []string{"--step-mm", "NaN"}, fault.ExitUsage, "--step-mm"},
		{lyingTank, []string{"--step-mm", "0.0000001"}, fault.ExitUsage, "0.001 to 1000000"},
		{lyingTank, []string{"--step-mm", "3.1234567"}, fault.ExitUsage, "at most six decimals"},
		{lyingTank, []string{"--step-mm", "2.5", "--round"}, fault.ExitUsage, "whole millimetres with --round"},
		{lyingTank, []string{"--step-mm", "5", "--depth", "5"}, fault.ExitUsage, "can't be used together"},
		{lyingTank, []string{"--depths", "x", "--depth", "5"}, fault.ExitUsage, "can't be used together"},
		{lyingTank, []string{"--depth", "5 cm"}, fault.ExitUsage, `--depth: "5 cm" is no number`},
		{lyingTank, []string{"--depth", "7,5"}, fault.ExitUsage, `--depth: "7,5" is no number`},
		{lyingTank, []string{"--plant", "NAK"}, fault.ExitUsage, "--plant and --tank go together"},
		{lyingTank, []string{"--depth", "5", "--depth", "2400.1"}, fault.ExitInvalid, "--depth, the 2nd: 2400.1 mm: expected 0 to 2400 mm"},
		{lyingTank, []string{"--depths", "nowhere.txt"}, fault.ExitNotFound, "there is no file nowhere.txt"},
		{lyingTank, []string{"--depths", t.TempDir()}, fault.ExitInvalid, "cannot be read"},
		{drums, []string{"--depth", "5"}, fault.ExitInvalid, "drums are counted and have no depth"},
		{drums, []string{"--plant", "A", "--tank", "B"}, fault.ExitInvalid, "drums are counted and have no depth"},
		{`{"shape":"horizontal","diameter_mm":"wide"}`, nil, fault.ExitInvalid, `tank.json:1:diameter_mm: found a text ("wide"): expected a number`},
		{`{"shape":"rectangular","length_m":1,"width_m":1,"height_m":900}`, []string{"--step-mm", "0.001"}, fault.ExitInvalid, "choose a wider one"},
	} {
		code, _, said := strapped(t, tt.text, tt.flags...)
		if code != tt.code || !strings.Contains(said, tt.says) {
			t.Errorf("%v: exit %d, want %d; said %s, want %s", tt.flags, code, tt.code, said, tt.says)
		}
	}
	if code, _, _ := command("strap", filepath.Join(t.TempDir(), "nowhere.json")); code != fault.ExitNotFound {
		t.Errorf("exit %d", code)
	}
	if code, _, _ := command("strap", "--depths", "-"); code != fault.ExitUsage {
		t.Errorf("exit %d: both come from standard input", code)
	}
}

func TestADescriptionMayComeFromStandardInput(t *testing.T) {
	for _, args := range [][]string{{"strap"}, {"strap", "-", "--depth", "1200"}} {
		child := exec.Command(os.Args[0], args...)
		child.Env = append(os.Environ(), killedChild+"=1")
		child.Stdin = strings.NewReader(lyingTank)
		out, err := child.Output()
		if err != nil || !strings.Contains(string(out), "\n1200,13571.6802635079") {
			t.Errorf("%v: %s %v", args, out, err)
		}
	}
}

func TestDoubtsGoToStandardError(t *testing.T) {
	code, out, said := strapped(t, `{"shape":"horizontal","diameter_mm":2400,"length_mm":6000,
"table":[{"depth_mm":1200,"volume_l":15500},{"depth_mm":2400,"volume_l":27100}]}`, "--depth", "1200")
	if code != fault.ExitDone || out != "depth_mm,volume_l\n1200,15500\n" || !strings.HasPrefix(said, "caution: ") || !strings.Contains(said, "tank.json:2:table[1]") {
		t.Errorf("exit %d: %q, said %q", code, out, said)
	}
}

// A folder with the table of each example of the document is loaded, and the ledger's tank is then the tank described: at
// its rows exactly, between them within what the document states.
func TestTheTableIsACapacityTableOfTheDataFolder(t *testing.T) {
	page, err := os.ReadFile("../../docs/tank-description.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range strings.Split(string(page), "```json\n")[1:] {
		text, _, _ := strings.Cut(part, "```")
		if strings.Contains(text, "drums") {
			continue
		}
		want := described(t, text, nil).tank.Shape
		code, table, said := strapped(t, text, "--plant", "NAK", "--tank", "T2")
		if code != fault.ExitDone {
			t.Fatalf("%s\nexit %d: %s", text, code, said)
		}
		got := loaded(t, table)
		rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows[1:] {
			depth, _ := strconv.ParseFloat(row[2], 64)
			if got, want := got.Volume(units.Millimetres(depth)), want.Volume(units.Millimetres(depth)); got != want {
				t.Fatalf("%s\nat the row %v mm %v L, want %v L", text, depth, got, want)
			}
		}
		bound, d := statedBound(text, want), float64(want.Depth())
		for depth := 0.5; depth < d; depth += 3 {
			h := units.Millimetres(depth)
			if off := math.Abs(float64(got.Volume(h) - want.Volume(h))); off > bound {
				t.Fatalf("%s\n%v L off at %v mm, more than %v L", text, off, depth, bound)
			}
		}
		if _, rounded, _ := strapped(t, text, "--plant", "NAK", "--tank", "T2", "--round"); loaded(t, rounded).Depth() != units.Millimetres(math.Floor(d)) {
			t.Errorf("%s\nrounded, it is %v mm deep", text, loaded(t, rounded).Depth())
		}
	}
}

// statedBound is what the document says that a table of 10 mm steps may be off between its rows, in litres.
func statedBound(text string, s tanks.Shape) float64 {
	const ofRounding = 1e-9
	depth, capacity := float64(s.Depth()), float64(tanks.Capacity(s))
	switch lying := math.Pow(10/depth, 1.5) * capacity; {
	case strings.Contains(text, "deadwood"): // of a box: a quarter of what a step holds of each piece
		return ofRounding + (45.0*10/250+12*units.LitresPerUSGallon*10/500)/4
	case strings.Contains(text, "vertical"):
		return 10 / (4 * depth) * capacity
	case strings.Contains(text, "tilt"):
		return 0.36 * lying
	default:
		return ofRounding + 0.26*lying
	}
}

// loaded puts a capacity table into a data folder and reads that.
func loaded(t *testing.T, table string) tanks.Shape {
	t.Helper()
	result, err := importer.Read(fstest.MapFS{
		"plants.csv":   {Data: []byte("plant,name,zone,product\nNAK,Invented,UTC,diesel-2-s15\n")},
		"tanks.csv":    {Data: []byte("plant,tank,role,shape\nNAK,T2,storage,table\n")},
		"capacity.csv": {Data: []byte(table)},
	}, inventory.Rows{}, time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	if len(result.Rows.Tanks) != 1 {
		t.Fatalf("%d tanks", len(result.Rows.Tanks))
	}
	shape, err := tanks.CapacityTable(result.Rows.Tanks[0].Table)
	if err != nil {
		t.Fatal(err)
	}
	return shape
}

// counting counts what is written, and the most at once.
type counting struct{ lines, most int }

func (c *counting) Write(p []byte) (int, error) {
	c.lines += bytes.Count(p, []byte{'\n'})
	c.most = max(c.most, len(p))
	return len(p), nil
}

func TestAMillionRowsTakeTheMemoryOfAFew(t *testing.T) {
	var out counting
	s := described(t, `{"shape":"rectangular","length_m":1,"width_m":1,"height_m":10}`, &out)
	grown := testing.AllocsPerRun(1, func() {
		out = counting{}
		if err := s.run(context.Background(), func(ctx context.Context) error { return s.steps(ctx, step{1, 100}) }); err != nil {
			t.Fatal(err)
		}
	})
	if out.lines != 1_000_002 || out.most > 2*flushAt || grown > 50 {
		t.Errorf("%d lines, at most %d bytes at once, %v allocations", out.lines, out.most, grown)
	}
	in := &endless{rows: 100_000, rest: []byte("depth_mm\n")} // whose rows are no depths
	err := s.run(context.Background(), func(ctx context.Context) error { return s.listed(ctx, "depths", in) })
	if fault.KindOf(err) != fault.Invalid || in.given > 4*flushAt {
		t.Errorf("%v after %d bytes", err, in.given)
	}
}

func TestAnInterruptStopsTheTable(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	s := described(t, lyingTank, io.Discard)
	if err := s.run(ctx, func(ctx context.Context) error { return s.steps(ctx, step{1, 1}) }); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	if err := s.run(ctx, func(ctx context.Context) error {
		return s.listed(ctx, "x", strings.NewReader(strings.Repeat("5\n", 10_000)))
	}); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	s = described(t, lyingTank, full{})
	if err := s.run(context.Background(), func(ctx context.Context) error { return s.steps(ctx, step{1, 1}) }); fault.KindOf(err) != fault.Internal {
		t.Error(err)
	}
}
