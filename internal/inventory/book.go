package inventory

import (
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/notice"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// Book is one plant's ledger as of a moment, ready to be reckoned with.
type Book struct {
	Plant *Plant
	Zone  *time.Location
	AsOf  calendar.Day // everything up to the close of this local day is known
	// Product is what the book is of; other products are another fuel. Tanks are those that hold it, or once did.
	Product Product
	Tanks   []*Tank
	held    holdings
	burning burning
	rows    Rows
	fuel    tanks.Corrector
	meters  []*Meter
	// By tank or meter id: the tanks as the measurement room sees them, and what was read, in order of time.
	measured map[string]tanks.Tank
	gaugings map[string][]measuredGauging
	readings map[string][]*MeterReading
	swaps    map[string][]*MeterSwap
	ofOld    map[*MeterReading]bool // see findOldMeters
	doubts   notice.List

	// What looks wrong, and what is left out of the rows for it: see findDoubts.
	given         Rows        // the rows as they were handed in
	bills         []*Delivery // all deliveries, those that look wrong as well
	doubtful      []Doubt
	confirmed     map[rowName]bool
	leftOut       map[Record]bool
	duplicates    map[Record]bool        // of those that are left out
	runUnknown    map[Record]bool        // readings and gaugings: what went by before them is not known
	usualRuns     map[string]*usualRates // by meter
	mistimedBills map[*Delivery]bool     // see mistimed
	longest       calendar.Day           // of the draws: see longestDraw
	usualFalls    map[string]float64     // by tank: see usualFall
	loadPairs     []loadPair             // see severalADay
	flow          *outflow               // what usually leaves: see tankLines
	vouchedFor    []vouched
	denied        []vouched
	unmeteredLoss []vouched
	offByRatio    []vouched // the last of the stretches, as long as each is off by a known ratio
	totalRates    []rate
}

// measuredGauging is a gauging with what it found the tank to hold.
type measuredGauging struct {
	*Gauging
	content *tanks.Content
}

// NewBook opens a plant's book, of the plant's own product, from the directory and the plant's rows up to the close
// of a day.
func NewBook(d *Directory, plant string, rows Rows, asOf calendar.Day) (*Book, error) {
	p := d.Plant(plant)
	if p == nil {
		return nil, fault.New(fault.NotFound, "there is no plant %q", plant)
	}
	return NewProductBook(d, plant, p.Product, rows, asOf)
}

// NewProductBook is [NewBook] for one of several products of a plant.
func NewProductBook(d *Directory, plant string, product Product, rows Rows, asOf calendar.Day) (*Book, error) {
	p := d.Plant(plant)
	if p == nil {
		return nil, fault.New(fault.NotFound, "there is no plant %q", plant)
	}
	zone, err := p.Location()
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "plant %s: unknown time zone %q", p.ID, p.Zone)
	}
	fuel, err := tanks.NewCorrector(p.DensityOf(product))
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "plant %s", p.ID)
	}
	b := &Book{Plant: p, Zone: zone, AsOf: asOf, Product: product, rows: rows.inOrder(), given: rows, fuel: fuel, meters: d.MetersOf(plant)}
	b.held = newHoldings(d.TanksOf(plant), before(rows.ProductChanges, b.close()))
	b.burning = b.held.burning(p.Product, product)
	b.keepOwn()
	rows = b.rows
	b.measured, b.usualFalls = map[string]tanks.Tank{}, map[string]float64{}
	b.swaps = byID(rows.Swaps, b.close(), func(s *MeterSwap) (string, time.Time) { return s.Meter, s.At })
	b.readings = byID(rows.Readings, b.close(), func(r *MeterReading) (string, time.Time) { return r.Meter, r.At })
	b.findOldMeters()
	for _, t := range d.TanksOf(plant) {
		if !b.held.ever(t, product) {
			continue
		}
		m, err := t.Measured()
		if err != nil {
			return nil, fault.Wrap(fault.Invalid, err, "plant %s, tank %s", p.ID, t.ID)
		}
		b.Tanks = append(b.Tanks, t)
		b.measured[t.ID] = m
	}
	b.carryWater()
	b.measureGaugings()
	b.placeDeliveries()
	b.bills = b.rows.Deliveries
	b.findDoubts()
	b.leaveOut()
	return b, nil
}

// Doubts says which rows could not be reckoned with.
func (b *Book) Doubts() notice.List { return b.doubts }

// measureGaugings turns the gaugings of the plant's tanks into what they held. One that cannot be
// measured, at a temperature beyond the tables say, is set aside and named: the others still count.
func (b *Book) measureGaugings() {
	b.gaugings = map[string][]measuredGauging{}
	byTank := byID(b.rows.Gaugings, b.close(), func(g *Gauging) (string, time.Time) { return g.Tank, g.At })
	for _, t := range b.Tanks {
		measured := make([]measuredGauging, 0, len(byTank[t.ID]))
		for _, g := range byTank[t.ID] {
			if g.Moving || !b.holds(t, g.At) && !b.changing(t, g.At) {
				continue
			}
			c, err := b.measured[t.ID].Measure(g.Reading(), b.fuel, b.Plant.FuelTemperature())
			if err != nil {
				b.doubts.Add(notice.New(notice.Serious, "gauging-unusable", b.Plant.ID+" tank "+t.ID,
					"the gauging of %s is set aside: %v", b.day(g.At), err))
				continue
			}
			measured = append(measured, measuredGauging{g, &c})
		}
		if len(measured) > 0 {
			b.gaugings[t.ID] = measured
		}
	}
}

// byID parts rows by id, those before a moment only. They stay in order of time.
func byID[T any](rows []T, before time.Time, of func(T) (id string, at time.Time)) map[string][]T {
	parted := map[string][]T{}
	for _, r := range rows {
		if id, at := of(r); at.Before(before) {
			parted[id] = append(parted[id], r)
		}
	}
	return parted
}

// close is the moment at which the as-of day ends.
func (b *Book) close() time.Time {
	_, end := b.AsOf.Bounds(b.Zone)
	return end
}

// At15 corrects a stated volume to 15 °C. Where neither basis nor temperature is stated it is reckoned
// at the plant's assumed temperature, and known is false.
func (b *Book) At15(m Measure) (v units.LitresAt15, known bool, err error) {
	if m.Basis == Basis15 {
		return units.LitresAt15(m.Volume), true, nil
	}
	t := orElse(m.Temperature, b.Plant.FuelTemperature())
	vcf, err := b.fuel.VCF(t)
	return units.LitresAt15(float64(m.Volume) * vcf), m.Temperature != nil, err
}

// at15 is At15 for the sums: a volume whose basis is unknown raises a notice.
func (b *Book) at15(m Measure, what string, notes *notice.List) float64 {
	if m.Volume == 0 { // of nothing the basis does not matter
		return 0
	}
	v, known, err := b.At15(m)
	if err != nil {
		notes.Add(notice.New(notice.Serious, "temperature-out-of-range", what, "left out: %v", err))
		return 0
	}
	if !known {
		notes.Add(b.basisUnknown(what))
	}
	return float64(v)
}

func (b *Book) basisUnknown(what string) notice.Notice {
	return notice.New(notice.Caution, "basis-unknown", what,
		"volumes without a temperature are reckoned at the plant's assumed %.0f °C", float64(b.Plant.FuelTemperature()))
}
