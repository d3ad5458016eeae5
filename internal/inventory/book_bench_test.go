package inventory

import (
	"fmt"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// Three years of daily rounds: a meter, a day tank, and three storage tanks weekly.
func BenchmarkNewBook(b *testing.B) {
	start := time.Date(2023, 4, 1, 8, 0, 0, 0, time.UTC)
	all := []*Tank{volumeTank("day", DayTank, 1000)}
	for _, id := range []string{"s1", "s2", "s3"} {
		all = append(all, &Tank{Plant: "P", ID: id, Role: Storage, Product: "diesel-2-s15", Shape: ShapeHorizontal,
			Diameter: ptr(units.Millimetres(2743)), Length: ptr(units.Millimetres(9000))})
	}
	var rows Rows
	for i := range 1095 {
		when := start.AddDate(0, 0, i)
		rows.Readings = append(rows.Readings, reading(when, float64(300*i+i%41)))
		rows.Gaugings = append(rows.Gaugings, gauged("day", when, units.Litres(700+i%200)))
		for n, id := range []string{"s1", "s2", "s3"} {
			if i%7 == 0 {
				rows.Gaugings = append(rows.Gaugings, &Gauging{Plant: "P", Tank: id, At: when, Temperature: ptr(units.Celsius(5)),
					Depth: ptr(units.Millimetres(2400 - i - n))})
			}
		}
	}
	d := NewDirectory(Rows{Plants: []*Plant{{ID: "P", Zone: "UTC", Product: "diesel-2-s15"}}, Tanks: all,
		Meters: []*Meter{{Plant: "P", ID: "M", Digits: 7, LitresPerCount: 1}}})
	for b.Loop() {
		if _, err := NewBook(d, "P", rows, calendar.Date(2026, time.March, 31)); err != nil {
			b.Fatal(err)
		}
	}
}

// Three years of daily rounds of a meter and of 1 to 12 storage tanks, each dipped daily and filled in turn.
func BenchmarkNewBookByTanks(b *testing.B) {
	for _, n := range []int{1, 3, 6, 12} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			rows, all := soundTanks(n)
			d := NewDirectory(Rows{Plants: []*Plant{{ID: "P", Zone: "UTC", Product: "diesel-2-s15"}}, Tanks: all,
				Meters: []*Meter{{Plant: "P", ID: "M", Digits: 7, LitresPerCount: 1}}})
			book := new(Book)
			for b.Loop() {
				var err error
				if book, err = NewBook(d, "P", rows, calendar.Date(2026, time.March, 31)); err != nil {
					b.Fatal(err)
				}
			}
			count := len(rows.Readings) + len(rows.Gaugings) + len(rows.Deliveries)
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*count), "ns/row")
			b.ReportMetric(float64(len(book.Doubtful())), "doubts")
		})
	}
}

// soundTanks is a sound plant that burns 300 L a day, evenly out of its tanks, each of which gets back what it lost in 100 days.
func soundTanks(n int) (rows Rows, all []*Tank) {
	start := time.Date(2023, 4, 1, 8, 0, 0, 0, time.UTC)
	const burned, every = 300, 100
	for k := range n {
		all = append(all, volumeTank(fmt.Sprintf("s%02d", k), Storage, 60_000))
	}
	held := make([]float64, n)
	for k := range held {
		held[k] = 50_000 - float64(k*every/n*burned)/float64(n)
	}
	for i := range 1095 {
		when := start.AddDate(0, 0, i)
		rows.Readings = append(rows.Readings, reading(when, float64(burned*i)))
		for k, t := range all {
			rows.Gaugings = append(rows.Gaugings, gauged(t.ID, when, units.Litres(held[k])))
			held[k] -= burned / float64(n)
			if (i+k*every/n)%every == every-1 {
				held[k] += burned * every / float64(n)
				rows.Deliveries = append(rows.Deliveries, &Delivery{Plant: "P", Tank: t.ID, At: when.Add(5 * time.Hour),
					Measure: at15(units.Litres(burned * every / n))})
			}
		}
	}
	return rows, all
}

// One to eight years of loads by their day alone, into a tank that is named or not.
func BenchmarkNewBookByLoads(b *testing.B) {
	d := NewDirectory(Rows{Plants: []*Plant{{ID: "P", Zone: "UTC", Product: "diesel-2-s15"}},
		Tanks:  []*Tank{volumeTank("s", Storage, 40_000), volumeTank("t", Storage, 40_000)},
		Meters: []*Meter{{Plant: "P", ID: "M", Digits: 8, LitresPerCount: 1}}})
	for _, tank := range []string{"s", ""} {
		for _, years := range []int{1, 2, 4, 8} {
			b.Run(fmt.Sprintf("named=%v/years=%d", tank != "", years), func(b *testing.B) {
				rows, last := loads(tank, 365*years)
				book := new(Book)
				for b.Loop() {
					var err error
					if book, err = NewBook(d, "P", rows, last); err != nil {
						b.Fatal(err)
					}
				}
				count := len(rows.Readings) + len(rows.Gaugings) + len(rows.Deliveries)
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*count), "ns/row")
				b.ReportMetric(float64(len(book.Doubtful())), "doubts")
			})
		}
	}
}

// loads is a plant that burns 3 005 L a day, is dipped daily at 08:00, and is given three loads each second day: two that differ a
// little, and one like the first.
func loads(tank string, days int) (rows Rows, last calendar.Day) {
	held := units.Litres(30_000)
	for i := range days {
		midnight := time.Date(2018, 4, 1+i, 0, 0, 0, 0, time.UTC)
		round := midnight.Add(8 * time.Hour)
		rows.Readings = append(rows.Readings, reading(round, float64(3005*i)))
		rows.Gaugings = append(rows.Gaugings, gauged("s", round, held), gauged("t", round, 30_000))
		for _, v := range []units.Litres{2000, 2010, 2000} {
			if i%2 == 0 {
				rows.Deliveries = append(rows.Deliveries, &Delivery{Plant: "P", Tank: tank, At: midnight.Add(12 * time.Hour), Measure: at15(v)})
				held += v
			}
		}
		held -= 3005
		last = calendar.DayOf(round, time.UTC)
	}
	return rows, last
}
