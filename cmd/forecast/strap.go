package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"overwinter/internal/fault"
	"overwinter/internal/strap"
	"overwinter/internal/units"
)

// strapCommand writes the capacity table of a tank that is described.
type strapCommand struct {
	File   string   `arg:"" optional:"" default:"-" help:"A tank description in JSON; - or nothing is standard input."`
	StepMM string   `name:"step-mm" placeholder:"MM" xor:"rows" help:"A row each so many millimetres, and one at the full depth; 0.001 or more, at most six decimals. Default: 10."`
	Depth  []string `placeholder:"MM" xor:"rows" sep:"none" help:"A row at this depth in mm; may be repeated."`
	Depths string   `placeholder:"FILE" xor:"rows" help:"A row for each depth of this file, in mm, one a line; - is standard input."`
	Round  bool     `help:"Whole millimetres and whole litres, as printed tables have them. Default: full precision."`
	Plant  string   `help:"With --tank: begin each row with this plant and tank, as capacity.csv of a data folder needs it."`
	Tank   string   `help:"With --plant."`

	step   step
	depths []units.Millimetres
}

// Help says what goes in, what comes out and what happens to a wrong depth.
func (*strapCommand) Help() string {
	return `Reads the description of one tank and writes its capacity table as CSV: depth_mm,volume_l.

docs/tank-description.md lists the fields of a description, with an example of each kind of tank. Depths are innages,
from the lowest point (of joined tanks: from the lowest bottom). Full precision means numbers that read back as the same:
loaded as a capacity table they are the tank at every row. A stock of drums has no depth: its rows are count,volume_l.

A depth below 0 or above the tank stops the command with exit code 3: the message names the row, the rows before it have been
written whole, and nothing after it is. Rows are written as they are made, however many there are. What is
doubtful about a description, such as a capacity table unlike the stated dimensions, is told on standard error.`
}

// Validate refuses what no description can mend.
func (k *strapCommand) Validate() error {
	if (k.Plant == "") != (k.Tank == "") {
		return errors.New("--plant and --tank go together: give both or neither")
	}
	var err error
	if k.step, err = parseStep(k.StepMM, k.Round); err != nil {
		return err
	}
	for _, text := range k.Depth {
		depth, problem := number("--depth", []byte(strings.TrimSpace(text)))
		if problem != nil {
			return fmt.Errorf("--depth: %s", problem.Message)
		}
		k.depths = append(k.depths, units.Millimetres(depth))
	}
	if k.File == "-" && k.Depths == "-" {
		return errors.New("--depths -: the description comes from standard input already: put one of them into a file")
	}
	return nil
}

// Run writes the rows.
func (k *strapCommand) Run(ctx context.Context, c *console) error {
	name, in, closeIn, err := input(k.File)
	if err != nil {
		return err
	}
	defer closeIn()
	tank, err := strap.Read(name, in)
	if err != nil {
		return err
	}
	c.notices(c.err, "", tank.Notices)
	s := strapping{tank: tank, round: k.Round, out: c.out}
	if k.Plant != "" {
		s.prefix, err = csvFields(k.Plant, k.Tank)
		if err != nil {
			return err
		}
	}
	switch {
	case tank.Drums != nil && (k.StepMM != "" || k.Depths != "" || len(k.depths) > 0 || k.Plant != ""):
		return fault.New(fault.Invalid, "drums are counted and have no depth: leave --step-mm, --depth, --depths, --plant and --tank out")
	case tank.Drums != nil:
		return s.run(ctx, s.counts)
	case k.Depths != "":
		name, in, closeIn, err := input(k.Depths)
		if err != nil {
			return err
		}
		defer closeIn()
		return s.run(ctx, func(ctx context.Context) error { return s.listed(ctx, name, in) })
	case len(k.depths) > 0:
		return s.run(ctx, func(context.Context) error { return s.given(k.depths) })
	}
	return s.run(ctx, func(ctx context.Context) error { return s.steps(ctx, k.step) })
}

// input opens a file, or standard input for a dash.
func input(path string) (name string, in io.Reader, closeIn func(), err error) {
	if path == "-" {
		return "standard input", os.Stdin, func() {}, nil
	}
	file, err := os.Open(path)
	if errors.Is(err, os.ErrNotExist) {
		return "", nil, nil, fault.New(fault.NotFound, "there is no file %s", path)
	}
	if err != nil {
		return "", nil, nil, fault.Wrap(fault.Invalid, err, "%s cannot be read", path)
	}
	return path, file, func() { _ = file.Close() }, nil
}

// step is a distance between rows: units of 10⁻ᵏ mm, so that the rows' depths are the nearest numbers to whole
// multiples and read as people would write them.
type step struct {
	units int64
	scale float64 // 10ᵏ
}

// parseStep reads a step; none is 10 mm.
func parseStep(text string, round bool) (step, error) {
	if text == "" {
		return step{10, 1}, nil
	}
	const expected = "expected a number of mm from 0.001 to 1000000 with at most six decimals"
	x, problem := number("--step-mm", []byte(text))
	if problem != nil || !(x >= 0.001 && x <= 1e6) {
		return step{}, fmt.Errorf("--step-mm %s: %s", quote([]byte(text)), expected)
	}
	digits := strconv.FormatFloat(x, 'f', -1, 64)
	whole, part, _ := strings.Cut(digits, ".")
	if len(part) > 6 {
		return step{}, fmt.Errorf("--step-mm %s: %s", quote([]byte(text)), expected)
	}
	if part != "" && round {
		return step{}, fmt.Errorf("--step-mm %s: expected whole millimetres with --round", quote([]byte(text)))
	}
	n, err := strconv.ParseInt(whole+part, 10, 64)
	if err != nil {
		return step{}, fmt.Errorf("--step-mm %s: %s", quote([]byte(text)), expected)
	}
	return step{n, tens[len(part)]}, nil
}

// at is the depth of the i-th row.
func (s step) at(i int64) units.Millimetres {
	return units.Millimetres(float64(i*s.units) / s.scale)
}
