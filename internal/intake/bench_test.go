package intake

import (
	"fmt"
	"testing"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// BenchmarkRowOnThreeYears reports a transfer of a plant with three years of daily rounds, and looks through the books
// for what it makes doubtful.
func BenchmarkRowOnThreeYears(b *testing.B) {
	d, _ := newDesk(b)
	d.Refresh = nil // what advice takes is measured in its own room
	var rows inventory.Rows
	const days = 1095
	for day := days; day > 0; day-- {
		e := inventory.Entry{Key: fmt.Sprint("old-", day)}
		rows.Add(&inventory.MeterReading{Entry: e, Plant: "bay", Meter: "one", At: evening(day), Register: float64(100 * (days - day))})
		rows.Add(&inventory.Gauging{Entry: e, Plant: "bay", Tank: "a", At: evening(day), Depth: p(units.Millimetres(3000 - day%60*14)), Temperature: p(units.Celsius(4))})
	}
	if _, err := d.Ledger.Record(b.Context(), rows, now); err != nil {
		b.Fatal(err)
	}
	for i := 0; b.Loop(); i++ {
		row := &inventory.Transfer{Measure: litres(50), Plant: "bay", From: "a", To: "d", At: evening(i % days)}
		if _, err := d.Row(b.Context(), RowReport{Report: report(fmt.Sprint(i)), Row: row}); err != nil {
			b.Fatal(err)
		}
	}
}
