package inventory

import (
	"strings"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/units"
)

// checkedAt is the moment at which the tests check their rows: noon on 1 October in Anchorage.
var checkedAt = time.Date(2026, time.October, 1, 20, 0, 0, 0, time.UTC)

// sound holds one sound row of each kind.
type sound struct {
	plant    *Plant
	tank     *Tank // a lying cylinder of 1.2 m by 4 m: 4 524 L
	other    *Tank // known by its capacity alone
	meter    *Meter
	reading  *MeterReading
	swap     *MeterSwap
	gauging  *Gauging
	total    *PeriodTotal
	delivery *Delivery
	transfer *Transfer
	draw     *Draw
	order    *Order
	route    *Route
	fallback *Route
	service  *Service
	window   *Window
	past     *PastWindow
	load     *LoadChange
	cold     *DegreeDays
	limit    *WindowLimit
	spending *SpendingLimit
	cleared  *Clearance
}

func soundRows() *sound {
	e := Entry{Key: "k"}
	at := checkedAt.Add(-time.Hour)
	first, last := calendar.Date(2026, time.September, 1), calendar.Date(2026, time.September, 30)
	m := Measure{Volume: 1000, Temperature: ptr(units.Celsius(4)), Basis: BasisObserved}
	return &sound{
		plant: &Plant{Entry: e, ID: "NAK", Name: "Nakrook", Zone: "America/Anchorage", Product: "diesel-2-s15"},
		tank: &Tank{Entry: e, Plant: "NAK", ID: "T1", Role: Storage, Product: "diesel-2-s15", Shape: ShapeHorizontal,
			Diameter: ptr(units.Millimetres(1200)), Length: ptr(units.Millimetres(4000))},
		other:    &Tank{Entry: e, Plant: "NAK", ID: "T2", Role: DayTank, Product: "diesel-2-s15", Shape: ShapeVolume, Capacity: ptr(units.Litres(900))},
		meter:    &Meter{Entry: e, Plant: "NAK", ID: "M1", Digits: 6, LitresPerCount: 1},
		reading:  &MeterReading{Entry: e, Plant: "NAK", Meter: "M1", At: at, Register: 999999.9},
		swap:     &MeterSwap{Entry: e, Plant: "NAK", Meter: "M1", At: at, Closing: ptr(5.0), Opening: ptr(0.0)},
		gauging:  &Gauging{Entry: e, Plant: "NAK", Tank: "T1", At: at, Depth: ptr(units.Millimetres(600)), Water: ptr(units.Millimetres(20)), Temperature: ptr(units.Celsius(4))},
		total:    &PeriodTotal{Entry: e, Measure: m, Plant: "NAK", FirstDay: first, LastDay: last},
		delivery: &Delivery{Entry: e, Measure: m, Plant: "NAK", Tank: "T1", At: at},
		transfer: &Transfer{Entry: e, Measure: m, Plant: "NAK", From: "T1", To: "T2", At: at},
		draw:     &Draw{Entry: e, Measure: m, Plant: "NAK", FirstDay: first, LastDay: last, Purpose: Heat},
		order: &Order{Entry: e, Measure: m, Plant: "NAK", ID: "PO1", Route: "river", State: Committed,
			OrderedOn: first, Early: last + 200, Likely: last + 210, Late: last + 230},
		route: &Route{Entry: e, ID: "river", Mode: Barge, LeadDays: 30, PricePerLitre: 1.2, Currency: "USD", StopCost: 4000, FreightPerLitre: 0.05,
			PriceGrowth: -0.02, PriceSD: 0.3, Deliveries: 3, DaysBetween: 20, PayFrom: PayFromOrder, PayDays: 30},
		fallback: &Route{Entry: e, ID: "air", Mode: Air, LeadDays: 3, Fallback: true, LotMax: 9000},
		service:  &Service{Entry: e, Route: "river", Plant: "NAK"},
		window:   &Window{Entry: e, Route: "river", Name: "summer", Opens: MonthDay{6, 5}, Closes: MonthDay{9, 25}, OrderBy: &MonthDay{4, 15}},
		past:     &PastWindow{Entry: e, Route: "river", Name: "summer", Year: 2025, Opens: ptr(first - 480), Closes: ptr(last - 360)},
		limit:    &WindowLimit{Entry: e, Route: "river", Name: "summer", From: MonthDay{8, 20}, Until: MonthDay{9, 25}, LotMax: 5000, Cause: LimitDraft},
		spending: &SpendingLimit{Entry: e, Plant: "NAK", Name: "bank", Of: SpendingCredit, From: first, Until: last, Amount: ptr(90000.0), Currency: "USD"},
		load:     &LoadChange{Entry: e, Plant: "NAK", From: last + 200, Until: ptr(last + 300), Times: ptr(1.1), Uncertainty: ptr(100.0), Cause: LoadConnected},
		cold:     &DegreeDays{Entry: e, FirstDay: first, LastDay: last, Sum: 300, Under: 18},
		cleared:  &Clearance{Entry: e, Plant: "NAK", Order: "PO1", Name: "credit", LastSafeOn: ptr(last + 90), TakesDays: ptr(21), ClearedOn: &last, By: "Savings bank"},
	}
}

type checker interface {
	Record
	Check(dir *Directory, now time.Time) []fault.Field
}

func (s *sound) all() []checker {
	return []checker{s.plant, s.tank, s.other, s.meter, s.reading, s.swap, s.gauging, s.total, s.delivery, s.transfer,
		s.draw, s.order, s.route, s.fallback, s.service, s.window, s.load, s.cold, s.past, s.limit, s.spending, s.cleared}
}

func (s *sound) directory() *Directory {
	var rows Rows
	for _, r := range s.all() {
		rows.Add(r)
	}
	return NewDirectory(rows)
}

// found gives what is wrong with any of the rows.
func (s *sound) found() []string {
	var lines []string
	for _, r := range s.all() {
		for _, f := range r.Check(s.directory(), checkedAt) {
			lines = append(lines, f.Where+": "+f.Message)
		}
	}
	return lines
}

func TestSoundRowsPassTheirCheck(t *testing.T) {
	if got := soundRows().found(); got != nil {
		t.Error(got)
	}
}

// wrongRow is a change to the sound rows that makes one of them wrong, and the beginning of what is said of it.
type wrongRow struct {
	name   string
	change func(s *sound)
	want   string
}

// toldWhatToDo checks that each wrong row is told first of all what to do.
func toldWhatToDo(t *testing.T, tests []wrongRow) {
	t.Helper()
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := soundRows()
			tt.change(s)
			got := s.found()
			if len(got) == 0 || !strings.HasPrefix(got[0], tt.want) {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}
