package backtest

import (
	"context"
	"fmt"
	"io"
	"strings"
	"testing"
)

// large makes the tables of many invented plants: ten years of months, and a year to forecast.
func large(plants int) tables {
	var history, intervals strings.Builder
	history.WriteString(historyHead)
	intervals.WriteString(intervalsHead)
	for i := range plants {
		id := fmt.Sprintf("plant-%05d", i)
		history.WriteString(invented(id, "2010-01-01", "2020-01-01", float64(300+i%1000)))
		intervals.WriteString(asked(id, "2020-01-01", "2021-01-01"))
	}
	return tables{history: history.String(), intervals: intervals.String()}
}

func BenchmarkReadOf1000SeriesOf120Months(b *testing.B) {
	given := large(1000)
	b.SetBytes(int64(len(given.history)))
	b.ReportAllocs()
	for b.Loop() {
		given.fleet(b)
	}
}

func BenchmarkBacktestOf100SeriesOf120Months(b *testing.B) {
	fleet := large(100).fleet(b)
	w, err := NewWriter(io.Discard, io.Discard)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if err := fleet.Run(context.Background(), Options{Paths: 2000, Seed: 1}, w.Result); err != nil {
			b.Fatal(err)
		}
	}
}
