package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"overwinter/internal/fault"
)

func FuzzAnyRowsAreRefusedOrComeBackWithNumbers(f *testing.F) {
	const header = "note,product_class,density_kgm3,density_basis,temperature_c,pressure_kpa,edition\n"
	f.Add(header+"a,,840,15C,-40,,\n\"b,\nc\",crude,840,observed,20,700,1980\n", false)
	f.Add(header+"a,lubricant,880,60F,20,-7,2004\n,,,,,,\n", true)
	f.Add("\xef\xbb\xbfdensity_kgm3,density_basis,temperature_f\r\n770.845,15C,302\r\n", true)
	f.Add("density_kgm3,density_basis,temperature_f\n838.7068,20C,59\n838.7,60F,1e-300\n", false)
	f.Fuzz(func(t *testing.T, text string, round bool) {
		var out bytes.Buffer
		err := (&correction{name: "rows.csv", out: &out, round: round}).run(context.Background(), strings.NewReader(text))
		if err != nil && fault.KindOf(err) != fault.Invalid {
			t.Fatal(err)
		}
		if out.Len() == 0 {
			return
		}
		if !bytes.HasSuffix(out.Bytes(), []byte{'\n'}) {
			t.Fatalf("half a row: %q", out.String())
		}
		records, err := csv.NewReader(&out).ReadAll()
		if err != nil {
			t.Fatalf("what is written is no CSV: %v", err)
		}
		for _, record := range records[1:] {
			n := len(record) - 5
			for _, cell := range record[n : n+4] {
				if x, err := strconv.ParseFloat(cell, 64); err != nil || math.IsNaN(x) || math.IsInf(x, 0) || x <= 0 {
					t.Fatalf("%q is no figure", cell)
				}
			}
		}
	})
}

// Whatever encoding/csv reads is read alike, and what is read can be written out again to the byte.
func FuzzRecordsAreThoseOfEncodingCSV(f *testing.F) {
	f.Add("a,b\n\n\"x, \"\"y\"\"\nz\",2\r\n,\n")
	f.Add("\"\",\"\"\"\"\n a ,\"b\"")
	f.Add("\"a\"b\n")
	f.Add("a\"b\n\"")
	f.Fuzz(func(t *testing.T, text string) {
		if strings.HasPrefix(text, "\xef\xbb\xbf") {
			t.Skip("encoding/csv keeps the byte order mark")
		}
		reader := csv.NewReader(strings.NewReader(text))
		reader.FieldsPerRecord = -1
		ours := newRecords(strings.NewReader(text))
		for {
			want, theirs := reader.Read()
			err := ours.next()
			if theirs != nil && !errors.Is(theirs, io.EOF) {
				return // ours may read on where a lone carriage return or the like stands
			}
			if errors.Is(theirs, io.EOF) != errors.Is(err, io.EOF) || theirs == nil && err != nil {
				t.Fatalf("%q: %v, encoding/csv: %v", text, err, theirs)
			}
			if err != nil {
				return
			}
			var got []string
			for _, field := range ours.fields {
				got = append(got, strings.ReplaceAll(strings.ReplaceAll(string(field), `""`, `"`), "\r\n", "\n"))
			}
			if !slices.Equal(got, want) {
				t.Fatalf("%q: %q, encoding/csv: %q", text, got, want)
			}
			if !strings.Contains(text, string(ours.raw)) {
				t.Fatalf("%q does not stand in %q", ours.raw, text)
			}
		}
	})
}

// Digits that people write are read as strconv reads them, to the last bit.
func FuzzNumbersAreThoseOfStrconv(f *testing.F) {
	for _, text := range []string{"840", "838.3127", "-40", "+7.5", ".5", "5.", "-", "", "1e3", "0.000000000000001", "999999999999999", "1_0", "0x1p3", "NaN"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, problem := number("density_kgm3", []byte(text))
		want, err := strconv.ParseFloat(text, 64)
		if problem == nil && (err != nil || math.Float64bits(got) != math.Float64bits(want)) {
			t.Fatalf("%q is read as %v, by strconv as %v (%v)", text, got, want, err)
		}
		if plain := strings.Trim(text, "0123456789+-.eE") == ""; plain && err == nil && problem != nil {
			t.Fatalf("%q is refused: %v", text, problem)
		}
	})
}

// tableOf makes the rows that both benchmarks read.
func tableOf(rows int, basis string) string {
	var b strings.Builder
	b.WriteString("plant,tank,at,density_kgm3,density_basis,temperature_c,volume_l\n")
	for i := range rows {
		fmt.Fprintf(&b, "NAK,T%d,2026-03-02T08:00,%.1f,%s,%.1f,%d\n", i%7, 800+float64(i%900)/10, basis, float64(i%600)/10-30, 10_000+i)
	}
	return b.String()
}

func BenchmarkCSVAloneOf100000Rows(b *testing.B) {
	text := tableOf(100_000, "15C")
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		reader, writer := csv.NewReader(strings.NewReader(text)), csv.NewWriter(io.Discard)
		reader.ReuseRecord = true
		for {
			record, err := reader.Read()
			if err == io.EOF {
				break
			}
			if err != nil {
				b.Fatal(err)
			}
			if err := writer.Write(record); err != nil {
				b.Fatal(err)
			}
		}
		writer.Flush()
	}
}

func BenchmarkCorrectOf100000Rows(b *testing.B) {
	for _, basis := range []string{"15C", "observed"} {
		text := tableOf(100_000, basis)
		b.Run(basis, func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				if err := (&correction{name: "rows.csv", out: io.Discard}).run(context.Background(), strings.NewReader(text)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
