package inventory

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"overwinter/internal/notice"
)

// Doubt says that a row looks wrong beside the others: against its neighbours in time, earlier and later, the
// tank, the digits of the meter and what the plant burns. It follows from the rows alone, so that the order in
// which they came makes no difference. Until somebody corrects or confirms the row, what is doubtful of it
// is left out of usage, stock and balance.
type Doubt struct {
	Kind  Kind      `json:"kind"`
	Key   string    `json:"key"`
	At    time.Time `json:"at"` // of the row; for one of whole days, the beginning of its first
	Cause Cause     `json:"cause"`
	Scope Scope     `json:"scope"`
	// What was found, and between what it was expected, in a unit; no High is no upper end.
	Found   float64  `json:"found"`
	Low     float64  `json:"low"`
	High    *float64 `json:"high,omitempty"`
	Unit    string   `json:"unit"`
	Subject string   `json:"subject"`
	Message string   `json:"message"`

	row      Record
	severity notice.Severity
}

// Scope says what of a doubtful row is left out.
type Scope string

// The scopes of doubt.
const (
	WholeRow     Scope = "row"
	RunBefore    Scope = "run"    // the row counts from its moment on; what went by before it is not known
	EnergyFigure Scope = "energy" // the energy of the row; its fuel counts
)

// Cause is what a doubtful row most likely suffers from.
type Cause string

// The causes that are looked for. Those of one row are tried in an order of their own, see docs/model.md.
const (
	DigitDropped     Cause = "digit-dropped"
	DigitAdded       Cause = "digit-added"
	DigitsExchanged  Cause = "digits-exchanged"
	DigitMistaken    Cause = "digit-mistaken"
	OtherMeter       Cause = "other-meter" // the register of another meter of the plant
	MeterSwapped     Cause = "meter-swapped"
	GoingBackwards   Cause = "going-backwards"
	BeyondBurn       Cause = "beyond-burn"
	BelowBurn        Cause = "below-burn"
	UnitsSwitched    Cause = "units-switched"
	StickMisread     Cause = "stick-misread" // by a whole foot, ten centimetres or the like
	TemperatureSlip  Cause = "temperature-mistaken"
	TanksInterchange Cause = "tanks-interchanged"
	RiseUnexplained  Cause = "rise-unexplained"
	FallUnexplained  Cause = "fall-unexplained"
	PeriodsInOne     Cause = "periods-in-one"
	NotPositive      Cause = "not-positive"
	NothingBurned    Cause = "nothing-burned"
	Duplicate        Cause = "duplicate"
	BeyondRoom       Cause = "beyond-room"
	BeyondOrder      Cause = "beyond-order"
	BesideTheDips    Cause = "beside-the-dips"   // more or less than the dips before and after say
	DeliveryMistimed Cause = "delivery-mistimed" // a dip before or after it has the delivery otherwise than its time says
	BeyondSource     Cause = "beyond-source"
	EnergyPerLitre   Cause = "energy-per-litre"
)

// Doubtful lists what looks wrong and is not confirmed, in order of time, kind, key and cause.
func (b *Book) Doubtful() []Doubt { return slices.Clone(b.doubtful) }

// findDoubts looks through the rows up to the close of the as-of day.
func (b *Book) findDoubts() {
	b.confirmed = map[rowName]bool{}
	for _, c := range b.rows.Confirmations {
		if !c.Void {
			b.confirmed[rowName{c.Of, c.Row}] = true
		}
	}
	b.leftOut, b.duplicates, b.runUnknown, b.mistimedBills = map[Record]bool{}, map[Record]bool{}, map[Record]bool{}, map[*Delivery]bool{}
	b.doubtDuplicates()
	b.doubtReadings()
	b.doubtTotals()
	b.doubtEnergyRegisters()
	b.doubtYields()
	b.doubtDraws()
	lines, byTank := b.tankLines()
	b.doubtGaugings(lines)
	b.doubtCounts(lines)
	b.doubtDeliveries(byTank)
	b.doubtTransfers(byTank)
	b.noteWater()
	slices.SortFunc(b.doubtful, func(x, y Doubt) int {
		return cmp.Or(x.At.Compare(y.At), strings.Compare(string(x.Kind), string(y.Kind)), strings.Compare(x.Key, y.Key),
			strings.Compare(string(x.Cause), string(y.Cause)))
	})
}

type rowName struct {
	kind Kind
	key  string
}

func (b *Book) isConfirmed(r Record) bool {
	return len(b.confirmed) > 0 && b.confirmed[rowName{r.Kind(), r.Base().Key}]
}

// doubt keeps a doubt about a row; the first about the whole of a row stands for all.
func (b *Book) doubt(r Record, d Doubt) {
	if b.isConfirmed(r) || b.leftOut[r] {
		return
	}
	d.Kind, d.Key, d.row = r.Kind(), r.Base().Key, r
	if d.Scope == "" {
		d.Scope = WholeRow
	}
	switch d.Scope {
	case WholeRow:
		b.leftOut[r] = true
	case RunBefore:
		b.runUnknown[r] = true
	}
	if d.Cause == Duplicate {
		b.duplicates[r] = true
	}
	b.doubtful = append(b.doubtful, d)
}

// leaveOut takes what is doubtful from what is reckoned with.
func (b *Book) leaveOut() {
	for i := range b.doubtful {
		d := &b.doubtful[i]
		if d.Scope == EnergyFigure {
			b.rows.withoutEnergy(d.row)
		}
		if d.Kind != KindReading { // named where the count is made
			b.doubts.Add(notice.New(cmp.Or(d.severity, notice.Caution), "doubtful-"+strings.ReplaceAll(string(d.Kind), " ", "-"), d.Subject, "%s", d.Message))
		}
	}
	if len(b.leftOut) == 0 {
		return
	}
	for id := range b.readings {
		b.readings[id] = without(b, b.readings[id], func(r *MeterReading) Record { return r })
	}
	for id := range b.gaugings {
		b.gaugings[id] = without(b, b.gaugings[id], func(g measuredGauging) Record { return g.Gauging })
	}
	b.rows.Totals = without(b, b.rows.Totals, func(r *PeriodTotal) Record { return r })
	b.rows.Deliveries = without(b, b.rows.Deliveries, func(r *Delivery) Record { return r })
	b.rows.Transfers = without(b, b.rows.Transfers, func(r *Transfer) Record { return r })
	b.rows.Draws = without(b, b.rows.Draws, func(r *Draw) Record { return r })
	b.rows.Readings = without(b, b.rows.Readings, func(r *MeterReading) Record { return r })
	b.rows.Gaugings = without(b, b.rows.Gaugings, func(r *Gauging) Record { return r })
}

func without[T any](b *Book, rows []T, of func(T) Record) []T {
	if !slices.ContainsFunc(rows, func(r T) bool { return b.leftOut[of(r)] }) {
		return rows
	}
	return slices.DeleteFunc(slices.Clone(rows), func(r T) bool { return b.leftOut[of(r)] })
}

// withoutEnergy puts a copy without its energy in a row's place.
func (r *Rows) withoutEnergy(row Record) {
	switch row := row.(type) {
	case *PeriodTotal:
		if i := slices.Index(r.Totals, row); i >= 0 {
			bare := *row
			bare.Energy = nil
			r.Totals = slices.Clone(r.Totals)
			r.Totals[i] = &bare
		}
	case *Round:
		if i := slices.Index(r.Rounds, row); i >= 0 {
			bare := *row
			bare.EnergyRegister = nil
			r.Rounds = slices.Clone(r.Rounds)
			r.Rounds[i] = &bare
		}
	}
}
