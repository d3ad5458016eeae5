package web

import (
	"math"
	"strconv"
	"strings"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// bookWords puts a book into the words and units of the plant's people.
type bookWords struct {
	scales
	scale units.Scale // of volumes
	zone  *time.Location
	asOf  calendar.Day
	plant string
}

func bookWordsOf(b *inventory.Stretch) bookWords {
	all := scalesOf(b.Plant.Display)
	return bookWords{all, all.volume, b.Zone, b.AsOf, b.Plant.ID}
}

// amount writes a volume without its unit.
func (w bookWords) amount(v units.LitresAt15) string { return read(w.scale, float64(v)) }

// volume writes a volume with its unit.
func (w bookWords) volume(v units.LitresAt15) string { return w.amount(v) + joint + w.scale.Label }

func (w bookWords) day(at time.Time) string { return longDay(calendar.DayOf(at, w.zone), w.asOf) }

func (w bookWords) short(at time.Time) string { return shortDay(calendar.DayOf(at, w.zone), w.asOf) }

func (w bookWords) clock(at time.Time) string {
	return w.short(at) + ", " + at.In(w.zone).Format("15:04")
}

// then is the moment whose knowledge a book shows, "" for the present.
func (w bookWords) then(b *inventory.Stretch) string {
	if b.KnownAt == nil {
		return ""
	}
	return moment(*b.KnownAt, w.zone, w.asOf)
}

// base is the temperature that volumes are reckoned at. It is that of the standard in every unit, and is not converted.
const base = "at 15 °C"

// message puts a message of the ledger into the plant's units, its days as the pages write them.
func (w bookWords) message(text string) string {
	parts := strings.Split(text, base)
	for i, part := range parts {
		parts[i] = isoDay.ReplaceAllStringFunc(w.inUnits(part), func(found string) string {
			day, err := calendar.ParseDay(found)
			if err != nil {
				return found
			}
			return longDay(day, w.asOf)
		})
	}
	return strings.Join(parts, base)
}

// doubt says what looks wrong and what to do. The ledger's own message has litres in it that carry no unit each, so that
// people with another unit are told from the figures.
func (w bookWords) doubt(d inventory.Doubt) string {
	rest, volume := strings.CutPrefix(d.Unit, "L")
	if !volume || w.scale.Factor == 1 {
		return sentence(w.message(d.Message))
	}
	litres := func(v float64) string { return w.amount(units.LitresAt15(v)) }
	expected := "at least " + litres(d.Low)
	if d.High != nil {
		expected = litres(d.Low) + " to " + litres(*d.High)
	}
	text := litres(d.Found) + joint + w.scale.Label + rest + " where " + expected + " were expected: " + d.Cause.Words()
	if d.Scope == inventory.RunBefore {
		return text + ". What went by before it is not counted: correct the row, enter what is missing, or confirm it."
	}
	return text + ". It is not counted: correct it, or confirm it if it is right."
}

// notice sets a notice as the pages do.
func (w bookWords) notice(n notice.Notice) noticeRow {
	row := noticeRow{Severity: string(n.Severity), Subject: n.Subject, Message: w.message(n.Message), Act: n.Severity == notice.Serious}
	if n.Count > 1 {
		row.Message += " (" + whole(float64(n.Count)) + " times)"
	}
	return row
}

// heading is what the balances come to.
func (w bookWords) heading(f inventory.Finding) string {
	size := w.volume(units.LitresAt15(math.Abs(float64(f.Variance))))
	since := "since " + w.day(f.Since)
	if f.OneMonth {
		since = "between " + w.day(f.Since) + " and " + w.day(f.Until)
	}
	times := tenths(math.Abs(f.Z)) + " times its uncertainty"
	switch f.Verdict {
	case inventory.FuelMissing:
		return size + " missing " + since + ", " + times
	case inventory.FuelOver:
		return size + " more than the records say " + since + ", " + times
	case inventory.NoVariance:
		return "Balances: no variance can be shown"
	}
	return "Balances: nothing is missing that the instruments could show"
}

// lead says what the heading rests on, and what to do about it.
func (w bookWords) lead(t inventory.BalanceTable, doubts int) string {
	f := t.Finding
	var said []string
	switch f.Verdict {
	case inventory.NoVariance:
		said = append(said, sentence(w.message(f.Why)))
	case inventory.NothingMissing:
		said = append(said, "From "+w.day(f.Since)+" to "+w.day(f.Until)+" the dips find "+w.difference(f)+".")
	default:
		said = append(said, "The dips find "+w.difference(f)+", to "+w.day(f.Until)+
			". Look for a delivery, a transfer or a draw that nobody entered, a misread dip or meter, a meter that was changed; then for fuel that left.")
		if f.OneMonth {
			said = append(said, "Over all of the stretch the sum stays within its uncertainty; of "+count(len(t.Months), "month", "months")+" this one stands out by more than chance makes in 5 of 100 tables.")
		}
		if f.Verdict == inventory.FuelMissing {
			said = append(said, "A spill, or what looks like one, is reported by the local rule at once: do not wait for these books.")
		}
	}
	if f.Why != "" && f.Verdict != inventory.NoVariance {
		said = append(said, sentence("Since "+w.day(f.Until)+" there is no variance: "+w.message(f.Why)))
	}
	if doubts > 0 {
		said = append(said, capital(count(doubts, "row looks wrong and is", "rows look wrong and are"))+" not counted until somebody corrects or confirms "+it(doubts)+".")
	}
	return strings.Join(said, " ")
}

func it(n int) string {
	if n == 1 {
		return "it"
	}
	return "them"
}

// difference says how far the dips lie from the records.
func (w bookWords) difference(f inventory.Finding) string {
	side := "more"
	if f.Variance < 0 {
		side = "less"
	}
	return w.volume(units.LitresAt15(math.Abs(float64(f.Variance)))) + " " + side + " than the records say, ±" + joint + w.volume(f.Sigma) + " (one standard uncertainty)"
}

// tenths writes a ratio, its sign as a page writes it.
func tenths(x float64) string {
	text := strings.Replace(strconv.FormatFloat(x, 'f', 1, 64), "-", "−", 1)
	if text == "−0.0" {
		return "0.0"
	}
	return text
}

// ratio writes a z.
func ratio(z float64) string {
	if text := tenths(z); z <= 0 || text == "0.0" {
		return text
	}
	return "+" + tenths(z)
}

// signedShare writes a share with its sign.
func signedShare(x float64) string {
	text := percent(math.Abs(x))
	switch {
	case strings.HasPrefix(text, "0"+joint):
		return text
	case x < 0:
		return "−" + text
	}
	return "+" + text
}
