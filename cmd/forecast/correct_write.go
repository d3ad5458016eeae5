package main

import (
	"io"
	"strconv"

	"overwinter/internal/fault"
)

// write adds the figures to a row and ends it: the shortest decimals that read back as the same number, or
// as many as the tables print.
func (k *correction) write(row []byte, f figures, ending string) {
	factor, density := -1, -1
	if k.round {
		factor, density = f.edition.FactorDecimals(), f.edition.DensityDecimals()
	}
	b := append(append(k.buffer, row...), ',')
	b = append(strconv.AppendFloat(b, f.vcf15, 'f', factor, 64), ',')
	b = append(strconv.AppendFloat(b, f.density15, 'f', density, 64), ',')
	b = append(strconv.AppendFloat(b, f.ctl60, 'f', factor, 64), ',')
	b = append(strconv.AppendFloat(b, f.cpl, 'f', factor, 64), ',')
	k.buffer = append(append(b, f.class...), ending...)
}

// flush writes the whole rows that were gathered, and gathers anew.
func flush(out io.Writer, rows *[]byte) error {
	_, err := out.Write(*rows)
	*rows = (*rows)[:0]
	if err != nil {
		return fault.Wrap(fault.Internal, err, "the rows cannot be written")
	}
	return nil
}
