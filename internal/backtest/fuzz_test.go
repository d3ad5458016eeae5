package backtest

import (
	"context"
	"encoding/csv"
	"errors"
	"io"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"overwinter/internal/fault"
	"overwinter/internal/sheet"
)

const (
	oneHistory  = historyHead + "A,2019-01-01,2019-02-01,1000\n"
	oneInterval = intervalsHead + "A,2020-01-01,2020-02-01,1\n"
)

// fuzz reads the tables that given makes of any text, and counts what became of the rows: each is a problem, or is
// there.
func fuzz(f *testing.F, given func(text string) tables, count func(*testing.T, *Fleet) int) {
	f.Fuzz(func(t *testing.T, text string) {
		if text == "" {
			t.Skip("no file")
		}
		fleet, err := Read(context.Background(), given(text).files())
		var wrong *fault.Error
		if err != nil {
			if !errors.As(err, &wrong) || wrong.Kind != fault.Invalid || len(wrong.Fields) == 0 || fleet != nil {
				t.Fatalf("%q: %v", text, err)
			}
			if !utf8.ValidString(err.Error()) {
				t.Fatalf("%q: the message is no text: %q", text, err)
			}
			return
		}
		if want, got := contentRows(t, text), count(t, fleet); got != want {
			t.Fatalf("%q: %d rows, want %d", text, got, want)
		}
	})
}

// contentRows counts the rows of a CSV file that hold anything, the header apart.
func contentRows(t *testing.T, text string) (n int) {
	reader := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\xef\xbb\xbf")))
	reader.FieldsPerRecord = -1
	for {
		record, err := reader.Read()
		if err == io.EOF {
			return n - 1
		}
		if err != nil {
			t.Fatalf("%q was read, and is no CSV: %v", text, err)
		}
		if strings.TrimSpace(strings.Join(record, "")) != "" {
			n++
		}
	}
}

// ordered fails unless rows are spans that share no day.
func ordered[T interface{ span() Span }](t *testing.T, rows []T) int {
	for i, r := range rows {
		if s := r.span(); s.End <= s.Start || i > 0 && s.Start < rows[i-1].span().End {
			t.Fatalf("rows %v", rows)
		}
	}
	return len(rows)
}

func plain(t *testing.T, x float64) {
	if math.IsNaN(x) || math.Abs(x) > sheet.Beyond || x == 0 && math.Signbit(x) {
		t.Fatalf("%v is no number of a file", x)
	}
}

func FuzzAnyHistoryIsRefusedOrReadWhole(f *testing.F) {
	f.Add(oneHistory)
	f.Add("\xef\xbb\xbfkwh,litres,end,start,series_id\r\n,-0,2019-02-01,2019-01-01,\"a\n\"\"b\"\r\n, , ,,\r\n")
	f.Add(historyHead + "A,2019-01-01,2019-02-01,1e12\nA,2018-01-01,2019-01-01,\nB,0000-01-01,9999-12-31,-5\n")
	f.Add("series_id;start;end;litres\n\"")
	fuzz(f, func(text string) tables { return tables{history: text, intervals: oneInterval} }, func(t *testing.T, fleet *Fleet) (n int) {
		for _, s := range fleet.Series() {
			n += ordered(t, s.Usage)
			for _, u := range s.Usage {
				if u.Litres != nil {
					plain(t, float64(*u.Litres))
				}
				if u.Energy != nil {
					plain(t, *u.Energy)
				}
			}
		}
		return n
	})
}

func FuzzAnyIntervalsAreRefusedOrReadWhole(f *testing.F) {
	f.Add(oneInterval)
	f.Add(intervalsHead + "A,2020-02-01,2020-03-01,0\nA,2020-01-01,2020-02-01,1\nB,2020-01-01,2030-01-07,1\n")
	f.Add(intervalsHead + "A,2020-01-01,2020-02-01,2\n\xff")
	fuzz(f, func(text string) tables { return tables{history: oneHistory, intervals: text} }, func(t *testing.T, fleet *Fleet) (n int) {
		for _, s := range fleet.Series() {
			if count := ordered(t, s.Intervals); count > 0 {
				n += count
				if days := s.horizon(); days < 1 || days > farthest {
					t.Fatalf("a horizon of %d days", days)
				}
			}
		}
		return n
	})
}

func FuzzAnyDegreeDaysAreRefusedOrReadWhole(f *testing.F) {
	f.Add(degreeHead + "A,2019-01-01,2019-02-01,812.5\n")
	f.Add(degreeHead + "Z,2019-01-01,2019-02-01,0\nA,2019-01-01,2019-02-01,-1\n")
	fuzz(f, func(text string) tables { return tables{oneHistory, oneInterval, text, ""} }, func(t *testing.T, fleet *Fleet) (n int) {
		for _, s := range append(fleet.Series(), fleet.strays...) {
			n += ordered(t, s.DegreeDays)
			for _, d := range s.DegreeDays {
				if plain(t, d.Sum); d.Sum < 0 {
					t.Fatal(d)
				}
			}
		}
		return n
	})
}

func FuzzAnyPlantsAreRefusedOrReadWhole(f *testing.F) {
	f.Add(plantsHead + "A,250000,310.5,coast\n,,,\n")
	f.Add("series_id\nA\nB\n")
	f.Add(plantsHead + "A,1,1,x\nA,1,1,x\n")
	fuzz(f, func(text string) tables { return tables{oneHistory, oneInterval, "", text} }, func(t *testing.T, fleet *Fleet) (n int) {
		for _, s := range append(fleet.Series(), fleet.strays...) {
			if s.stated {
				n++
			}
			for _, x := range []*float64{s.Facts.PeakKW, (*float64)(s.Facts.Tankage)} {
				if x == nil {
					continue
				}
				if plain(t, *x); *x <= 0 {
					t.Fatal(*x)
				}
			}
		}
		return n
	})
}
