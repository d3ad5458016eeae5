package demo

import (
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// site is one plant being simulated from FirstDay to AsOf.
type site struct {
	spec      plantSpec
	zone      *time.Location
	corrector tanks.Corrector

	storage, other []*tank // other: a tank of another product beside
	middle         *tank   // intermediate tank, nil if there is none
	day            *tank
	meter          *meter // nil if there is none

	burned, drawn []units.LitresAt15
	recorded      [][]float64 // litres at 15 °C a day, for each of spec.draws
	seasons       []Season
	orders        map[string]bool // delivery orders already entered

	moving  *rand.Rand // deliveries and other movements
	reading *rand.Rand // errors of people and instruments
	absent  []bool     // days without a round

	today   calendar.Day
	now     time.Time
	rows    inventory.Rows
	pending []event // faults that wait for the next row of their kind
	carry   calendar.Day

	openingL15, receivedL15 float64
	arrivals                map[string]Arrival
	faults                  []Fault
}

func newSite(spec plantSpec, seed uint64, weather []float64, seasons []Season) *site {
	id := spec.plant.ID
	zone, err := spec.plant.Location()
	if err != nil {
		panic("demo: " + err.Error())
	}
	corrector, err := tanks.NewCorrector(spec.plant.Density())
	if err != nil {
		panic("demo: " + err.Error())
	}
	s := &site{
		spec: spec, zone: zone, corrector: corrector, seasons: seasons,
		moving: stream(seed, "moving", id), reading: stream(seed, "reading", id),
		orders: map[string]bool{}, arrivals: map[string]Arrival{}, today: FirstDay,
	}
	s.burned = spec.burn.burn(stream(seed, "burn", id), weather)
	s.drawFuel(stream(seed, "draws", id))
	s.build(stream(seed, "opening", id))
	s.absent = spec.habits.absences(stream(seed, "absent", id))
	return s
}

// build sets up tanks and meter with what is in them at the beginning.
func (s *site) build(random *rand.Rand) {
	for _, row := range s.spec.tanks {
		row.Plant, row.Key = s.spec.plant.ID, s.key(row.ID)
		if row.Product == "" {
			row.Product = s.spec.plant.Product
		}
		s.rows.Add(row)
		s.place(row, random)
	}
	if m := s.spec.meter; m != nil {
		row := m.row
		row.Plant, row.Key = s.spec.plant.ID, s.key(row.ID)
		s.meter = newMeter(&row, m.opening, random)
		s.rows.Add(&row)
	}
	plant := s.spec.plant
	plant.Key = plant.ID
	s.rows.Add(&plant)
	s.openingL15 = s.fuelL15()
}

func (s *site) place(row *inventory.Tank, random *rand.Rand) {
	t := newTank(row, s.corrector)
	t.temperatureC = s.ambient(FirstDay)
	share := s.spec.opening + 0.1*random.Float64()
	switch {
	case row.Product != s.spec.plant.Product:
		s.other = append(s.other, t)
	case row.Role == inventory.Storage:
		t.waterMM = 8 + 12*random.Float64()
		s.storage = append(s.storage, t)
	case row.Role == inventory.Intermediate:
		s.middle = t
	default:
		s.day, t.temperatureC = t, s.spec.climate.indoorsC
	}
	t.fuelL15 = (share*t.safeFillL - t.waterL()) * t.vcf()
}

// key makes a row's key from the plant's id and the row's identifying parts, blank ones left out.
func (s *site) key(parts ...string) string {
	key := s.spec.plant.ID
	for _, part := range parts {
		if part != "" {
			key += "/" + part
		}
	}
	return key
}

func (s *site) stamp() string { return s.now.Format("2006-01-02T15:04Z") }

// run simulates every day.
func (s *site) run() {
	timetable := s.timetable()
	for s.today = FirstDay; s.today <= AsOf; s.today++ {
		start, end := s.today.Bounds(s.zone)
		length := end.Sub(start).Hours()
		round := s.clock(s.spec.habits.roundHour, 0)
		action := s.clock(actionHour, 0)
		s.settle()

		s.burn(round.Sub(start).Hours()/length, start)
		s.now = round
		s.round()
		s.burn(action.Sub(round).Hours()/length, round)
		s.now = action
		s.act(timetable[s.today])
		s.burn(end.Sub(action).Hours()/length, action)
	}
	s.bookDraws()
	s.openOrders()
}

// actionHour is the hour after which deliveries, transfers and draws take place.
const actionHour = 13

func (s *site) clock(hour, minute int) time.Time {
	y, m, d := s.today.Civil()
	return time.Date(y, m, d, hour, minute, 0, 0, s.zone).UTC()
}

// burn takes a share of the day's burn out of the day tank; float switches keep it between their two levels.
func (s *site) burn(share float64, from time.Time) {
	s.now = from.Add(15 * time.Minute) // after what was read at that moment
	s.day.fuelL15 -= share * float64(s.burned[s.today-FirstDay])
	low, high := lowFloat*s.day.capacityL(), highFloat*s.day.capacityL()
	if short := low - s.day.fuelL15; short > 0 {
		fills := math.Ceil(short / (high - low))
		s.fill(fills * (high - low))
	}
}

// The levels of the day tank's float switches, as shares of its capacity. Common practice, no source.
const (
	lowFloat  = 0.45
	highFloat = 0.85
)

// settle lets every tank's fuel follow the weather for a day.
func (s *site) settle() {
	outside := s.ambient(s.today)
	for _, t := range s.storage {
		t.temperatureC += (outside - t.temperatureC) / storageLagDays
	}
	for _, t := range s.other {
		t.temperatureC += (outside - t.temperatureC) / storageLagDays
	}
	if s.middle != nil {
		s.middle.temperatureC += (outside - s.middle.temperatureC) / smallLagDays
	}
	s.day.temperatureC += (s.spec.climate.indoorsC - s.day.temperatureC) / dayLagDays
}

// How slowly tanks follow the air, in days. Common practice, no source.
const (
	storageLagDays = 15
	smallLagDays   = 5
	dayLagDays     = 1.5
)

// ambient is the temperature towards which stored fuel moves.
func (s *site) ambient(day calendar.Day) float64 {
	c := s.spec.climate
	return c.meanC + wave{1, c.swingC, c.warmestDay}.at(day)
}

// fuelL15 is all fuel of the plant's product.
func (s *site) fuelL15() float64 {
	sum := 0.0
	for _, t := range s.all() {
		sum += t.fuelL15
	}
	return sum
}

// usableL15 is the usable stock in the tanks that are in service today.
func (s *site) usableL15() float64 {
	sum := 0.0
	for _, t := range s.all() {
		if t.row.Available(min(s.today, AsOf)) {
			sum += t.usableL15()
		}
	}
	return sum
}

// bulk lists the tanks before the day tank in flow order.
func (s *site) bulk() []*tank {
	if s.middle == nil {
		return s.storage
	}
	return slices.Concat(s.storage, []*tank{s.middle})
}

// all lists the tanks of the plant's product in flow order.
func (s *site) all() []*tank { return slices.Concat(s.bulk(), []*tank{s.day}) }
