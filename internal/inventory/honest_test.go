package inventory

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// honest is an invented plant of random make and habits. Whatever happens to its fuel is written down, and every row is true
// within the error of its instrument: what the books doubt of it they doubt falsely.
type honest struct {
	*rand.Rand
	rows  Rows
	plant *Plant
	zone  *time.Location
	fuel  tanks.Corrector
	first calendar.Day
	last  calendar.Day
	now   time.Time

	storage     []*vessel
	middle, day *vessel // nil where there is none
	dials       []*dial

	traits
	habits
	stands
}

// traits are what kind of plant it is.
type traits struct {
	perDay    float64 // usual burn, L at 15 °C
	swing     float64 // share by which the burn follows the season
	noise     float64 // and by which it differs from day to day
	steps     map[calendar.Day]float64
	standsBy  map[calendar.Day]bool // days without any burn
	supply    Mode
	density   float64 // kg/m³ by which the fuel is denser than is entered
	coldest   float64 // °C of the stored fuel in winter
	together  bool    // the storage tanks feed the plant together, not one after the other
	perKWh    float64 // kWh a litre
	regular   float64 // L at 15 °C a day drawn for heat; 0 for none
	inGallons bool    // volumes are whole US gallons, depths eighths of an inch, temperatures °F
}

// habits are how its people write things down.
type habits struct {
	dipsEvery, readsEvery int // days
	away                  map[calendar.Day]bool
	readsWarmth           bool // temperatures of dips and meters
	statesWarmth          bool // of deliveries
	byDay                 bool // deliveries by their day alone
	documents             bool
	perTank               bool // a delivery into several tanks is one row a tank
	orders                bool
	totals                bool
	energy                bool
}

// stands is where it stands in the course of its life.
type stands struct {
	step    float64
	kWh     float64
	inMonth float64 // burned since the month began
	n       int     // of the row
}

// vessel is a tank as it is.
type vessel struct {
	row   *Tank
	shape tanks.Shape
	gauge tanks.Gauge
	held  float64 // L at 15 °C
	wrong float64 // relative error of its table
	water units.Millimetres
}

// dial is a meter as it is.
type dial struct {
	row      *Meter
	register float64
	wrong    float64 // relative error
}

func (h *honest) chance(p float64) bool             { return h.Float64() < p }
func (h *honest) between(low, high float64) float64 { return low + (high-low)*h.Float64() }

// scale is any size between two, a small one as likely as a large one.
func (h *honest) scale(low, high float64) float64 {
	return low * math.Exp(h.Float64()*math.Log(high/low))
}

func (h *honest) key(kind string) Entry {
	h.n++
	return Entry{Key: fmt.Sprintf("%s %05d", kind, h.n)}
}

// newHonest makes a plant.
func newHonest(seed, n uint64) *honest {
	h := &honest{Rand: rand.New(rand.NewPCG(seed, n))}
	h.zone, _ = time.LoadLocation([]string{"UTC", "America/Anchorage", "Asia/Yakutsk"}[h.IntN(3)])
	h.plant = &Plant{ID: "P", Zone: h.zone.String(), Product: []Product{"diesel-1-s15", "diesel-2-s15", "diesel-arctic"}[h.IntN(3)]}
	h.fuel, _ = tanks.NewCorrector(h.plant.Density())
	h.first = calendar.Date(2022, time.January, 1) + calendar.Day(h.IntN(365))
	h.last = h.first + calendar.Day(h.scale(40, 900))
	h.traits = traits{
		perDay: h.scale(80, 4000), swing: h.between(0, 0.4), noise: h.between(0.02, 0.15), density: float64(tanks.DensityPrecision) * h.NormFloat64(),
		coldest: h.between(-20, 5), together: h.chance(0.5), perKWh: h.between(2.5, 3.9), inGallons: h.chance(0.4),
		supply: []Mode{Barge, Barge, AllSeasonRoad, Air}[h.IntN(4)],
	}
	if h.chance(0.3) {
		h.regular = h.perDay * h.between(0.02, 0.2)
	}
	h.habits = habits{
		dipsEvery: []int{1, 7, 7, 14, 30}[h.IntN(5)], readsEvery: []int{1, 1, 1, 7}[h.IntN(4)], readsWarmth: h.chance(0.8), statesWarmth: h.chance(0.8),
		byDay: h.chance(0.3), documents: h.chance(0.7), perTank: h.chance(0.7), orders: h.chance(0.5), totals: h.chance(0.6), energy: h.chance(0.4),
	}
	h.step = 1
	h.steps, h.standsBy, h.away = map[calendar.Day]float64{}, map[calendar.Day]bool{}, map[calendar.Day]bool{}
	for range h.IntN(3) {
		h.steps[h.anyDay()] = h.scale(0.6, 1.7)
	}
	h.spells(h.standsBy, 0.1, 40)
	h.spells(h.away, 0.3, 40)
	h.build()
	return h
}

func (h *honest) anyDay() calendar.Day { return h.first + calendar.Day(h.IntN(int(h.last-h.first))) }

// spells marks a stretch of days or two, now and then.
func (h *honest) spells(days map[calendar.Day]bool, chance float64, longest int) {
	for range 2 {
		if h.chance(chance) {
			from := h.anyDay()
			for d := range calendar.Day(3 + h.IntN(longest)) {
				days[from+d] = true
			}
		}
	}
}

// build puts up its tanks and meters.
func (h *honest) build() {
	held := h.perDay * 365 * h.between(0.6, 1.3)
	if h.supply != Barge {
		held = h.perDay * h.between(50, 150)
	}
	n := 1 + h.IntN(4)
	for i := range n {
		h.storage = append(h.storage, h.tank(fmt.Sprint("s", i+1), Storage, held/float64(n)*h.between(0.6, 1.5)))
	}
	if h.chance(0.2) {
		h.middle = h.tank("mid", Intermediate, h.perDay*h.between(2, 6))
	}
	if h.chance(0.6) {
		h.day = h.tank("day", DayTank, h.perDay*h.between(0.3, 1.5))
	}
	if h.chance(0.7) {
		for i := range 1 + h.IntN(2) {
			h.dials = append(h.dials, h.dial(fmt.Sprint("m", i+1)))
		}
		h.totals = false
	} else if h.dipsEvery == 1 {
		h.dipsEvery = 7
	}
	if out := h.storage[n-1]; n > 2 && h.chance(0.2) {
		from := h.anyDay()
		back := from + calendar.Day(20+h.IntN(100))
		out.row.OutFrom, out.row.BackOn = &from, &back
	}
}

func (h *honest) tank(id string, role Role, litres float64) *vessel {
	t := &Tank{Plant: "P", ID: id, Role: role, Product: h.plant.Product}
	v := &vessel{row: t, wrong: tanks.TablePrecision * h.NormFloat64()}
	side := units.Millimetres(100 * math.Cbrt(litres)) // of a cube that holds as much
	switch t.Shape = []ShapeKind{ShapeVertical, ShapeHorizontal, ShapeRectangular, ShapeVolume}[h.IntN(4)]; t.Shape {
	case ShapeVertical:
		t.Diameter, t.Height = ptr(side*1.13), ptr(side)
	case ShapeHorizontal:
		t.Diameter, t.Length = ptr(side*0.86), ptr(side*1.72)
	case ShapeRectangular:
		t.Length, t.Width, t.Height = ptr(side), ptr(side), ptr(side)
	case ShapeVolume:
		t.Capacity = ptr(units.Litres(litres))
	}
	v.shape, _ = t.shape()
	if t.Shape != ShapeVolume {
		v.gauge = []tanks.Gauge{"", tanks.Stick, tanks.Tape, tanks.SightGlass, tanks.AutomaticInventory}[h.IntN(5)]
		if role == Storage && h.chance(0.2) {
			v.water = units.Millimetres(h.between(5, 40))
		}
	} else if h.chance(0.2) {
		v.gauge = tanks.FloatEighths
	}
	v.held = h.between(0.4, 0.9) * float64(tanks.Capacity(v.shape))
	return v
}

func (h *honest) dial(id string) *dial {
	m := &Meter{Plant: "P", ID: id, LitresPerCount: []float64{1, 1, 1, 10, units.LitresPerUSGallon}[h.IntN(5)], Compensated: h.chance(0.1)}
	least := int(math.Ceil(math.Log10(200 * h.perDay / m.LitresPerCount)))
	m.Digits = max(least, 5) + h.IntN(2)
	d := &dial{row: m, wrong: MeterPrecision * h.NormFloat64(), register: math.Floor(h.between(0, 0.9) * math.Pow10(m.Digits))}
	if h.chance(0.2) { // soon through zero
		d.register = math.Pow10(m.Digits) - math.Floor(h.between(0, 100)*h.perDay/m.LitresPerCount)
	}
	return d
}

func (h *honest) vessels() []*vessel {
	all := slices.Clone(h.storage)
	for _, v := range []*vessel{h.middle, h.day} {
		if v != nil {
			all = append(all, v)
		}
	}
	return all
}

// book opens the plant's book as of its last day.
func (h *honest) book() (*Book, error) {
	dir := Rows{Plants: []*Plant{h.plant}}
	for _, v := range h.vessels() {
		dir.Tanks = append(dir.Tanks, v.row)
	}
	for _, d := range h.dials {
		dir.Meters = append(dir.Meters, d.row)
	}
	return NewBook(NewDirectory(dir), "P", h.rows, h.last)
}
