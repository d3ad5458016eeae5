package backtest

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"overwinter/internal/calendar"
)

// months writes rows of whole months: line is given each month's start and end.
func months(first, last calendar.Day, line func(start, end calendar.Day) string) string {
	var b strings.Builder
	for start := first; start < last; {
		year, month, _ := start.Civil()
		end := calendar.Date(year, month+1, 1)
		b.WriteString(line(start, end))
		start = end
	}
	return b.String()
}

// invented makes the monthly usage of one invented plant: a level, a winter of its own, and 5 % of noise.
func invented(id string, first, last string, perDay float64) string {
	noise := rand.New(rand.NewPCG(uint64(len(id)), uint64(perDay)))
	return months(on(first), on(last), func(start, end calendar.Day) string {
		winter := 0.2 * math.Cos(2*math.Pi*float64(start.YearDay())/365.25)
		litres := float64(end-start) * perDay * math.Exp(winter+0.05*noise.NormFloat64())
		return fmt.Sprintf("%s,%s,%s,%.1f\n", id, start, end, litres)
	})
}

func asked(id, first, last string) string {
	return months(on(first), on(last), func(start, end calendar.Day) string { return fmt.Sprintf("%s,%s,%s,1\n", id, start, end) })
}

// inventedFleet is an invented fleet: two plants forecast from 2020, one from 2021, one that only lends.
func inventedFleet() tables {
	return tables{
		history: historyHead + invented("A", "2015-01-01", "2021-06-01", 900) + invented("young", "2019-06-01", "2021-06-01", 400) +
			invented("later", "2016-01-01", "2022-01-01", 1500) + invented("lender", "2014-01-01", "2022-01-01", 700),
		intervals: intervalsHead + asked("A", "2020-01-01", "2021-01-01") + asked("later", "2021-01-01", "2021-07-01") + asked("young", "2020-01-01", "2020-05-01"),
	}
}

// written runs the tables and gives both files.
func written(t testing.TB, given tables, seed uint64) (rows, notices string) {
	t.Helper()
	var out, notes bytes.Buffer
	w, err := NewWriter(&out, &notes)
	if err != nil {
		t.Fatal(err)
	}
	if err := given.fleet(t).Run(context.Background(), Options{Paths: 200, Seed: seed}, w.Result); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.String(), notes.String()
}

// cells reads what was written: the text columns, then the numbers.
func cells(t testing.TB, text string) (names [][]string, numbers [][]float64) {
	t.Helper()
	records, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, record := range records[1:] {
		names = append(names, record[:5])
		var line []float64
		for _, field := range record[5:] {
			x, err := strconv.ParseFloat(field, 64)
			if err != nil {
				t.Fatal(err)
			}
			line = append(line, x)
		}
		numbers = append(numbers, line)
	}
	return names, numbers
}

// tenfold multiplies the litres of the rows of history that end after a day, of one series or of all.
func tenfold(t *testing.T, history, id string, after calendar.Day) string {
	t.Helper()
	lines := strings.SplitAfter(history, "\n")
	for i, line := range lines[1 : len(lines)-1] {
		f := strings.Split(strings.TrimSpace(line), ",")
		if litres, err := strconv.ParseFloat(f[3], 64); err != nil {
			t.Fatal(err)
		} else if on(f[2]) > after && (id == "" || id == f[0]) {
			lines[i+1] = fmt.Sprintf("%s,%s,%s,%.1f\n", f[0], f[1], f[2], 10*litres)
		}
	}
	return strings.Join(lines, "")
}

// of gives the lines of one series.
func of(text, id string) (lines []string) {
	for line := range strings.SplitSeq(text, "\n") {
		if strings.HasPrefix(line, id+",") {
			lines = append(lines, line)
		}
	}
	return lines
}
