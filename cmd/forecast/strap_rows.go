package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"io"
	"math"
	"strconv"

	"overwinter/internal/fault"
	"overwinter/internal/strap"
	"overwinter/internal/units"
)

// strapping is one run of rows.
type strapping struct {
	tank   strap.Tank
	prefix string // plant and tank with the comma after each; blank where they are not asked for
	round  bool
	out    io.Writer

	buffer []byte // whole rows to be written
}

// mostRows bounds a table by steps: a slipped decimal point would otherwise fill the disk.
const mostRows = 100_000_000

// run writes the header and the rows. Whatever stops it, what was written is whole rows.
func (s *strapping) run(ctx context.Context, rows func(context.Context) error) error {
	header := "depth_mm,volume_l\n"
	if s.tank.Drums != nil {
		header = "count,volume_l\n"
	}
	if s.prefix != "" {
		header = "plant,tank," + header
	}
	s.buffer = append(s.buffer, header...)
	err := rows(ctx)
	if len(s.buffer) > 0 {
		err = errors.Join(err, flush(s.out, &s.buffer))
	}
	return err
}

// steps writes a row at each step, and one at the full depth.
func (s *strapping) steps(ctx context.Context, by step) error {
	full := s.top()
	if full*units.Millimetres(by.scale) > mostRows*units.Millimetres(by.units) {
		return fault.New(fault.Invalid, "a step of %v mm makes more than %d rows of the %v mm of this tank: choose a wider one",
			float64(by.at(1)), mostRows, float64(full))
	}
	for i := int64(0); ; i++ {
		if i%pauseAt == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		depth := min(by.at(i), full)
		if err := s.row(depth); err != nil || depth == full {
			return err
		}
	}
}

// given writes the rows of the command line.
func (s *strapping) given(depths []units.Millimetres) error {
	for i, depth := range depths {
		if problem := s.outside(depth); problem != "" {
			return s.wrong("--depth, the "+ordinal(i+1), problem)
		}
		if err := s.row(depth); err != nil {
			return err
		}
	}
	return nil
}

// listed writes a row for each line of a file. A first line that is a column's name is passed over, and so are blank
// lines.
func (s *strapping) listed(ctx context.Context, name string, file io.Reader) error {
	in := bufio.NewReaderSize(file, flushAt)
	if mark, _ := in.Peek(3); string(mark) == "\xef\xbb\xbf" {
		_, _ = in.Discard(3)
	}
	for line := 1; ; line++ {
		if line%pauseAt == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		text, err := in.ReadSlice('\n')
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
			return s.wrong(name+":"+strconv.Itoa(line), "the line is longer than 64 kB: expected one depth")
		case err != nil && !errors.Is(err, io.EOF):
			return fault.Wrap(fault.Invalid, err, "%s cannot be read", name)
		}
		text = bytes.TrimSpace(text)
		if len(text) > 0 && !(line == 1 && string(text) == "depth_mm") {
			if err := s.line(name, line, text); err != nil {
				return err
			}
		}
		if err != nil {
			return nil
		}
	}
}

// line writes the row of one line of a file.
func (s *strapping) line(name string, line int, text []byte) error {
	depth, problem := number("", text)
	if problem != nil {
		return s.wrong(name+":"+strconv.Itoa(line), problem.Message)
	}
	if outside := s.outside(units.Millimetres(depth)); outside != "" {
		return s.wrong(name+":"+strconv.Itoa(line), outside)
	}
	return s.row(units.Millimetres(depth))
}

// counts writes a row for each number of drums.
func (s *strapping) counts(ctx context.Context) error {
	for n := range s.tank.Drums.Count() + 1 {
		if n%pauseAt == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		volume, err := s.tank.Drums.Counted(n, 0)
		if err != nil {
			return err
		}
		if err := s.write(float64(n), volume); err != nil {
			return err
		}
	}
	return nil
}

// top is the highest depth that a row may have.
func (s *strapping) top() units.Millimetres {
	full := s.tank.Shape.Depth()
	if s.round {
		full = units.Millimetres(math.Floor(float64(full)))
	}
	return full
}

// row writes one row; a rounded depth has the volume of the rounded depth.
func (s *strapping) row(depth units.Millimetres) error {
	if s.round {
		depth = min(units.Millimetres(math.Round(float64(depth))), s.top())
	}
	return s.write(float64(depth), s.tank.Shape.Volume(depth))
}

func (s *strapping) write(first float64, volume units.Litres) error {
	decimals := -1
	if s.round {
		decimals, volume = 0, units.Litres(math.Round(float64(volume)))
	}
	b := append(s.buffer, s.prefix...)
	b = append(strconv.AppendFloat(b, first+0, 'f', decimals, 64), ',') // +0: a depth of -0 is 0
	s.buffer = append(strconv.AppendFloat(b, float64(volume), 'f', decimals, 64), '\n')
	if len(s.buffer) >= flushAt {
		return flush(s.out, &s.buffer)
	}
	return nil
}

// outside says why a depth is none of this tank.
func (s *strapping) outside(depth units.Millimetres) string {
	if full := s.tank.Shape.Depth(); !(depth >= 0 && depth <= full) {
		return strconv.FormatFloat(float64(depth), 'g', -1, 64) + " mm: expected 0 to " +
			strconv.FormatFloat(float64(full), 'f', -1, 64) + " mm, the inside height of the tank"
	}
	return ""
}

// wrong is the error of a row that stops the command.
func (*strapping) wrong(where, message string) error {
	return fault.New(fault.Invalid, "stopped at the first wrong depth: the rows before it are written, nothing after it").
		With(fault.Field{Where: where, Message: message})
}

// csvFields writes fields as CSV, with a comma after each.
func csvFields(fields ...string) (string, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.Write(append(fields, "")); err != nil {
		return "", err
	}
	w.Flush()
	return string(bytes.TrimSuffix(b.Bytes(), []byte{'\n'})), w.Error()
}

// ordinal counts: 1st, 2nd.
func ordinal(n int) string {
	suffix := "th"
	if n/10%10 != 1 {
		switch n % 10 {
		case 1:
			suffix = "st"
		case 2:
			suffix = "nd"
		case 3:
			suffix = "rd"
		}
	}
	return strconv.Itoa(n) + suffix
}
