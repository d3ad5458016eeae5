package main

import (
	"context"
	"errors"
	"io"
	"os"

	"overwinter/internal/fault"
)

// correctCommand corrects observed volumes and densities, row by row.
type correctCommand struct {
	File         string `arg:"" optional:"" default:"-" help:"A CSV file; - or nothing is standard input."`
	Round        bool   `help:"Round what goes in and what comes out as the printed tables of the edition do. Default: full precision."`
	Densitometer bool   `help:"Observed densities of the edition 1980 were read with a digital densitometer. Default: with a glass hydrometer, whose own expansion Table 53B takes off."`
}

// Help says what goes in, what comes out and what happens to a wrong row.
func (*correctCommand) Help() string {
	return `Reads CSV rows and writes them with the factors that bring an observed volume to 15 °C and to 60 °F.

Columns read:
  density_kgm3     density, kg/m³
  density_basis    where it holds: observed (at the row's temperature and pressure), 15C, 20C or 60F
  temperature_c or temperature_f
  product_class    crude, refined or lubricant; blank or no such column: refined, whose class follows from the density
  pressure_kpa     above that of the air; blank or no such column: 0
  edition          2004 or 1980; blank or no such column: 2004

Columns added:
  vcf15            volume at 15 °C over observed volume, at the pressure of the air
  density15_kgm3   density at 15 °C
  ctl60            the same as vcf15, to 60 °F
  cpl              volume at the pressure of the air over volume at the row's pressure
  class            the class whose coefficients were used

All other columns are written as they were, and rows without any content are passed over. The first wrong row stops the
command with exit code 3: the message names the row and the column, the rows before it have been written whole, and
nothing after it is. Rows are written as they are read, however many there are.`
}

// Run corrects the rows.
func (k *correctCommand) Run(ctx context.Context, c *console) error {
	name, in := "standard input", io.Reader(os.Stdin)
	if k.File != "-" {
		file, err := os.Open(k.File)
		if errors.Is(err, os.ErrNotExist) {
			return fault.New(fault.NotFound, "there is no file %s", k.File)
		}
		if err != nil {
			return fault.Wrap(fault.Invalid, err, "%s cannot be read", k.File)
		}
		defer func() { _ = file.Close() }()
		name, in = k.File, file
	}
	return (&correction{name: name, round: k.Round, densitometer: k.Densitometer, out: c.out}).run(ctx, in)
}
