package web

import (
	"strings"
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// usagesView is what the plant burned, interval by interval.
type usagesView struct {
	Rows    []usageRow
	Counted string // how many there are, of which quality
	Long    bool   // folded: the sums by month say it sooner
	Energy  bool   // that of an interval at least is known
}

type usageRow struct {
	From, To, Used, Off, PerDay, Quality, Energy string
	Act                                          bool
}

// mostOpen is how many intervals stand open on the page: a year of period totals.
const mostOpen = 12

// usages lists the usage intervals of a book.
func (w bookWords) usages(b *inventory.Stretch) (usagesView, notice.List) {
	all, notes := b.Used()
	v := usagesView{Counted: usagesCounted(all), Long: len(all) > mostOpen}
	for _, u := range all {
		row := usageRow{From: w.clock(u.Start), To: w.clock(u.End), Used: w.amount(u.Litres), Off: w.amount(u.Sigma), PerDay: w.amount(burnRate(u)),
			Quality: string(u.Quality), Energy: none, Act: u.Quality == inventory.Doubtful}
		if u.Energy != nil {
			row.Energy, v.Energy = whole(*u.Energy), true
		}
		v.Rows = append(v.Rows, row)
	}
	return v, notes
}

// burnRate is what an interval comes to a day of 24 hours.
func burnRate(u inventory.Usage) units.LitresAt15 {
	const day = 24 * time.Hour
	return units.LitresAt15(float64(u.Litres) * float64(day) / float64(u.End.Sub(u.Start)))
}

// usagesCounted says how many intervals there are of each quality, the best first.
func usagesCounted(all []inventory.Usage) string {
	of := map[inventory.Quality]int{}
	for _, u := range all {
		of[u.Quality]++
	}
	var said []string
	for _, q := range []inventory.Quality{inventory.Measured, inventory.Derived, inventory.Corrected, inventory.Doubtful} {
		if of[q] > 0 {
			said = append(said, number(of[q])+" "+string(q))
		}
	}
	return capital(count(len(all), "usage interval", "usage intervals")) + ": " + strings.Join(said, ", ") + "."
}
