package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"overwinter/internal/fault"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// corrected runs the rows of a text through the command.
func corrected(text string, flags ...string) (out string, err error) {
	var b bytes.Buffer
	k := correction{name: "rows.csv", out: &b}
	for _, f := range flags {
		k.round = k.round || f == "--round"
		k.densitometer = k.densitometer || f == "--densitometer"
	}
	err = k.run(context.Background(), strings.NewReader(text))
	return b.String(), err
}

// rowsFile writes a file of rows.
func rowsFile(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "rows.csv")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// The figures of the first three rows are published: API MPMS 11.1-2004, section 11.1.6.1, Example 4 (m2b/API11_1VCF, CTL
// and CPL to twelve digits; density and pressure turned into kg/m³ and kPa), and the look-ups of Table 54B in an ullage report
// (geocaching.com/geocache/GC1RNPT). The others are computed.
func TestRowsComeBackWithTheirFactors(t *testing.T) {
	density60 := strconv.FormatFloat(0.7943*999.016, 'g', -1, 64)
	kPa := strconv.FormatFloat(247.3*units.KiloPascalsPerPSI, 'g', -1, 64)
	tests := []struct {
		name, header, row, flag                    string
		vcf15, density15, ctl60, cpl, off, density float64
		class                                      string
	}{
		{"Example 4", "density_kgm3,density_basis,temperature_f,pressure_kpa", density60 + ",60F,85," + kPa, "",
			math.NaN(), math.NaN(), 0.986832406683, 1.001646525013, 1e-12, 0, "jet"},
		{"gasoil in Table 54B", "density_kgm3,density_basis,temperature_c,edition", "842.8,15C,22.5,1980", "--round",
			0.9937, 842.8, math.NaN(), 1, 1e-12, 1e-9, "fuel oil"},
		{"motor spirit in Table 54B", "density_kgm3,density_basis,temperature_c,edition", "721.4,15C,22,1980", "--round",
			0.9911, 721.4, math.NaN(), 1, 1e-12, 1e-9, "gasoline"},
		{"cold diesel", "density_kgm3,density_basis,temperature_c", "840,15C,-40", "",
			1.04570, 840, math.NaN(), 1, 0.51e-5, 1e-9, "fuel oil"},
		{"observed with a densitometer", "density_kgm3,density_basis,temperature_c", "820,observed,30", "",
			math.NaN(), 830.78, math.NaN(), 1, 0.51e-5, 0.0051, "jet"},
		{"observed with a hydrometer", "density_kgm3,density_basis,temperature_c,edition", "820,observed,30,1980", "",
			math.NaN(), 830.49, math.NaN(), 1, 0.51e-5, 0.0051, "jet"},
		{"by 1980 with a densitometer", "density_kgm3,density_basis,temperature_c,edition", "820,observed,30,1980", "--densitometer",
			math.NaN(), 830.77, math.NaN(), 1, 0.51e-5, 0.0151, "jet"},
		{"at 20 °C", "density_kgm3,density_basis,temperature_c", "836.451,20C,20", "",
			0.99578, 840, math.NaN(), 1, 0.51e-5, 0.0006, "fuel oil"},
		{"crude", "product_class,density_kgm3,density_basis,temperature_f,edition", "crude,1074.938,60F,225,1980", "",
			math.NaN(), math.NaN(), 0.95065, 1, 0.6e-5, 0, "crude"},
		{"lubricant", "product_class,density_kgm3,density_basis,temperature_c", "lubricant,880,15C,15", "",
			1, 880, math.NaN(), 1, 1e-15, 1e-9, "lubricant"},
		{"a blank class is refined", "product_class,density_kgm3,density_basis,temperature_c,pressure_kpa,edition", ",880,15C,15,,", "",
			1, 880, math.NaN(), 1, 1e-15, 1e-9, "fuel oil"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			out, err := corrected(tt.header+"\n"+tt.row+"\n", tt.flag)
			if err != nil {
				t.Fatal(err)
			}
			records, err := csv.NewReader(strings.NewReader(out)).ReadAll()
			if err != nil || len(records) != 2 {
				t.Fatal(records, err)
			}
			if head := strings.Join(records[0], ","); head != tt.header+",vcf15,density15_kgm3,ctl60,cpl,class" {
				t.Errorf("header %s", head)
			}
			n := len(records[1]) - 5
			if kept := strings.Join(records[1][:n], ","); kept != tt.row {
				t.Errorf("the row was %q and became %q", tt.row, kept)
			}
			for i, want := range []float64{tt.vcf15, tt.density15, tt.ctl60, tt.cpl} {
				got, err := strconv.ParseFloat(records[1][n+i], 64)
				off := tt.off
				if i == 1 {
					off = tt.density
				}
				if err != nil || !math.IsNaN(want) && !(math.Abs(got-want) <= off) {
					t.Errorf("%s is %s, want %v", records[0][n+i], records[1][n+i], want)
				}
			}
			if records[1][n+4] != tt.class {
				t.Errorf("class %q, want %q", records[1][n+4], tt.class)
			}
		})
	}
}

// Full precision reads back as the very number that the library gives.
func TestFullPrecisionLosesNothing(t *testing.T) {
	out, err := corrected("density_kgm3,density_basis,temperature_c,pressure_kpa\n868.123,observed,-21.7,655\n")
	if err != nil {
		t.Fatal(err)
	}
	c, err := tanks.Procedure{}.Observed(868.123, -21.7, 655)
	if err != nil {
		t.Fatal(err)
	}
	vcf, _ := c.VCF(-21.7)
	cpl, _ := c.CPL(-21.7, 655)
	want := fmt.Sprintf(",%v,%v,", vcf, float64(c.Density15()))
	if !strings.Contains(out, want) || !strings.Contains(out, fmt.Sprintf(",%v,fuel oil\n", cpl)) {
		t.Errorf("%s lacks %s", out, want)
	}
}

func TestRoundedFiguresArePrintedAsInTheTables(t *testing.T) {
	out, err := corrected("density_kgm3,density_basis,temperature_c,edition\n839.96,15C,15,2004\n839.96,15C,15,1980\n", "--round")
	if err != nil {
		t.Fatal(err)
	}
	want := `density_kgm3,density_basis,temperature_c,edition,vcf15,density15_kgm3,ctl60,cpl,class
839.96,15C,15,2004,1.00000,840.0,1.00047,1.00000,fuel oil
839.96,15C,15,1980,1.0000,840.0,1.0005,1.0000,fuel oil
`
	if out != want {
		t.Errorf("got\n%s", out)
	}
}

// The columns that were there stay as they were, to the byte: quotes, blanks and line breaks included.
func TestWhatSpreadsheetsWriteIsTakenAndKept(t *testing.T) {
	out, err := corrected("\xef\xbb\xbf\"note\",temperature_c , density_kgm3,density_basis\r\n\r\n" +
		"\"Tank 3, \"\"north\"\"\r\nleaks\", 15 ,\"840\",\" 15C \"\r\n,,,\r\n,\n  \n plain,15,840.,15C")
	if err != nil {
		t.Fatal(err)
	}
	want := "\"note\",temperature_c , density_kgm3,density_basis,vcf15,density15_kgm3,ctl60,cpl,class\r\n" +
		"\"Tank 3, \"\"north\"\"\r\nleaks\", 15 ,\"840\",\" 15C \",1,840,1.0004691007639221,1,fuel oil\r\n" +
		" plain,15,840.,15C,1,840,1.0004691007639221,1,fuel oil\n"
	if out != want {
		t.Errorf("got\n%q, want\n%q", out, want)
	}
}

func TestAHeaderAloneGivesAHeader(t *testing.T) {
	out, err := corrected("density_kgm3,density_basis,temperature_f,tank\n")
	if want := "density_kgm3,density_basis,temperature_f,tank,vcf15,density15_kgm3,ctl60,cpl,class\n"; err != nil || out != want {
		t.Errorf("got %q, %v", out, err)
	}
}

func TestTheCommandReadsFilesAndStandardInput(t *testing.T) {
	const text = "density_kgm3,density_basis,temperature_c\n840,15C,15\n"
	const want = "840,15C,15,1,840,1.000"
	code, out, said := command("correct", rowsFile(t, text))
	if code != fault.ExitDone || !strings.Contains(out, want) {
		t.Errorf("exit %d: %s%s", code, out, said)
	}
	for _, args := range [][]string{{"correct"}, {"correct", "-"}, {"correct", "--round", "-"}} {
		child := exec.Command(os.Args[0], args...)
		child.Env = append(os.Environ(), killedChild+"=1")
		child.Stdin = strings.NewReader(text)
		out, err := child.Output()
		if err != nil || !strings.Contains(string(out), "840,15C,15,1") {
			t.Errorf("%v: %s %v", args, out, err)
		}
	}
	for _, tt := range []struct {
		path string
		want int
	}{
		{filepath.Join(t.TempDir(), "nowhere.csv"), fault.ExitNotFound},
		{t.TempDir(), fault.ExitInvalid},
		{rowsFile(t, text+"x,15C,15\n"), fault.ExitInvalid},
	} {
		if code, _, said := command("correct", tt.path); code != tt.want {
			t.Errorf("%s: exit %d, want %d: %s", tt.path, code, tt.want, said)
		}
	}
}

// endless gives rows until its end and counts what it gave.
type endless struct {
	rows, given int
	rest        []byte
}

func (e *endless) Read(p []byte) (int, error) {
	if len(e.rest) == 0 {
		if e.rows == 0 {
			return 0, io.EOF
		}
		e.rows--
		e.rest = []byte("T1,840,15C,12.5\n")
	}
	n := copy(p, e.rest)
	e.rest = e.rest[n:]
	e.given += n
	return n, nil
}

// lagging notes how far writing lags behind reading.
type lagging struct {
	in      *endless
	written int // bytes of input that the rows written so far came from
	most    int
}

func (l *lagging) Write(p []byte) (int, error) {
	l.most = max(l.most, l.in.given-l.written)
	l.written += bytes.Count(p, []byte{'\n'}) * len("T1,840,15C,12.5\n")
	return len(p), nil
}

func TestRowsAreWrittenAsTheyAreRead(t *testing.T) {
	in := &endless{rows: 200_000, rest: []byte("tank,density_kgm3,density_basis,temperature_c\n")}
	out := &lagging{in: in}
	if err := (&correction{name: "rows.csv", out: out}).run(context.Background(), in); err != nil {
		t.Fatal(err)
	}
	if out.most > 4*flushAt {
		t.Errorf("%d bytes were read before they were written", out.most)
	}
}

// full is a disk that is full.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestWhatCannotBeWrittenIsAFailure(t *testing.T) {
	err := (&correction{name: "rows.csv", out: full{}}).run(context.Background(), strings.NewReader("density_kgm3,density_basis,temperature_c\n"))
	if fault.KindOf(err) != fault.Internal {
		t.Error(err)
	}
}

func TestAnInterruptStopsTheRows(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	err := (&correction{name: "rows.csv", out: io.Discard}).run(ctx, &endless{rows: 1 << 20, rest: []byte("tank,density_kgm3,density_basis,temperature_c\n")})
	if !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}
