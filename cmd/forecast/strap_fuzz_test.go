package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"io"
	"strconv"
	"strings"
	"testing"

	"overwinter/internal/fault"
)

func FuzzAnyDepthsAreRefusedOrBecomeRows(f *testing.F) {
	f.Add("depth_mm\n0\n2400\r\n\n 7.5 ", false)
	f.Add("1e-320\n-0\n2400.0000001", true)
	f.Fuzz(func(t *testing.T, text string, round bool) {
		var out bytes.Buffer
		s := described(t, lyingTank, &out)
		s.round = round
		err := s.run(context.Background(), func(ctx context.Context) error { return s.listed(ctx, "depths.txt", strings.NewReader(text)) })
		if err != nil && fault.KindOf(err) != fault.Invalid {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&out).ReadAll()
		if err != nil || len(rows) == 0 {
			t.Fatal(rows, err)
		}
		for _, row := range rows[1:] {
			depth, err1 := strconv.ParseFloat(row[0], 64)
			volume, err2 := strconv.ParseFloat(row[1], 64)
			if err1 != nil || err2 != nil || !(depth >= 0 && depth <= 2400 && volume >= 0 && volume <= 27144) {
				t.Fatal(row)
			}
		}
	})
}

func BenchmarkStrapOf100000Rows(b *testing.B) {
	for name, text := range map[string]string{
		"flat heads":   lyingTank,
		"dished heads": `{"shape":"horizontal","diameter_mm":2400,"length_mm":6000,"heads":{"left":{"kind":"flanged-and-dished"},"right":{"kind":"flanged-and-dished"}}}`,
	} {
		b.Run(name, func(b *testing.B) {
			s := described(b, text, io.Discard)
			b.ReportAllocs()
			for b.Loop() {
				if err := s.run(context.Background(), func(ctx context.Context) error { return s.steps(ctx, step{24, 1000}) }); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(100_001*float64(b.N)/b.Elapsed().Seconds(), "rows/s")
		})
	}
}

// The same numbers, written by strconv and encoding/csv.
func BenchmarkCSVAloneOfTheSameTable(b *testing.B) {
	shape := described(b, lyingTank, nil).tank.Shape
	var rows [100_001][2]float64
	for i := range rows {
		depth := step{24, 1000}.at(int64(i))
		rows[i] = [2]float64{float64(depth), float64(shape.Volume(depth))}
	}
	b.ReportAllocs()
	for b.Loop() {
		w := csv.NewWriter(io.Discard)
		for _, row := range rows {
			record := []string{strconv.FormatFloat(row[0], 'f', -1, 64), strconv.FormatFloat(row[1], 'f', -1, 64)}
			if err := w.Write(record); err != nil {
				b.Fatal(err)
			}
		}
		w.Flush()
	}
	b.ReportMetric(float64(len(rows)*b.N)/b.Elapsed().Seconds(), "rows/s")
}
