package inventory

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// truth is an invented plant whose fuel is never lost: what the books find as variance is error alone. Dips are read
// with 6 mm at about 16 L a millimetre, the table is 0.5 % wrong for good, and so is the meter, each barge's meter once
// a document; thermometers by 1 °C. Burn and fuel temperature follow the season.
type truth struct {
	random                *rand.Rand
	table, meter, density float64 // relative errors of the plant, but the density: kg/m³
	stock, register       float64 // L at 15 °C; counts
	rows                  Rows
}

const (
	truthStart = 2024
	truthDays  = 2*365 + 1
	truthDip   = 6.0
	diameter   = 4514.0 // mm: a section of 16.0 L/mm
)

func newTruth(seed, plant uint64) *truth {
	r := rand.New(rand.NewPCG(seed, plant))
	return &truth{random: r, table: 0.005 * r.NormFloat64(), meter: 0.005 * r.NormFloat64(),
		density: 10 * r.NormFloat64(), stock: 70_000 + 10_000*r.Float64()}
}

// dip reads the tank: what the stick says of the true stock, through a table that is wrong.
func (t *truth) dip(when time.Time, b *Book) {
	warm := temperatureOn(when)
	vcf := t.vcf(b, warm)
	section := math.Pi / 4 * diameter * diameter / 1e6 // L/mm
	depth := units.Millimetres(t.stock/vcf/section/(1+t.table) + truthDip*t.random.NormFloat64())
	read := units.Celsius(warm + t.random.NormFloat64())
	t.rows.Gaugings = append(t.rows.Gaugings, &Gauging{Entry: Entry{Key: fmt.Sprint("g", when.Unix())}, Plant: "P", Tank: "bulk", At: when,
		Depth: &depth, Temperature: &read, Precision: truthDip})
}

// vcf is the true factor: that of the fuel's own density, of which 10 kg/m³ move it by 1e-4 at 10 °C from the base.
func (t *truth) vcf(b *Book, warm float64) float64 {
	f, err := b.fuel.VCF(units.Celsius(warm))
	if err != nil {
		panic(err)
	}
	return f - 1e-6*t.density*(15-warm)
}

func temperatureOn(when time.Time) float64 { return 2 - 18*math.Cos(season(when)) }

func season(when time.Time) float64 { return 2 * math.Pi * float64(when.YearDay()-15) / 365.25 }

// live goes through two years: a round each day, dips each week, two barges a year.
func (t *truth) live(b *Book) {
	for day := range truthDays {
		round := time.Date(truthStart, 1, 1+day, 8, 0, 0, 0, time.UTC)
		if day%7 == 0 {
			t.dip(round, b)
		}
		warm := units.Celsius(temperatureOn(round))
		read := warm + units.Celsius(t.random.NormFloat64())
		t.rows.Readings = append(t.rows.Readings, &MeterReading{Entry: Entry{Key: fmt.Sprint("r", day)}, Plant: "P", Meter: "M", At: round,
			Register: math.Round(t.register), Temperature: &read})
		if yearDay := round.YearDay(); yearDay == 165 || yearDay == 262 {
			t.barge(round.Add(6*time.Hour), b)
		}
		burn := 220 * (1 + 0.15*math.Cos(season(round))) * (1 + 0.05*t.random.NormFloat64())
		t.stock -= burn
		t.register += burn / t.vcf(b, float64(warm)) / (1 + t.meter)
	}
}

// barge fills the tank: the figure is the barge's, whose meter is 0.5 % wrong each time.
func (t *truth) barge(when time.Time, b *Book) {
	brought := 82_000 - t.stock
	t.stock = 82_000
	warm := 14.0
	read := units.Celsius(warm + t.random.NormFloat64())
	stated := units.Litres(brought / t.vcf(b, warm) * (1 + MovementPrecision*t.random.NormFloat64()))
	t.rows.Deliveries = append(t.rows.Deliveries, &Delivery{Entry: Entry{Key: fmt.Sprint("d", when.Unix())}, Plant: "P", Tank: "bulk", At: when,
		Measure: Measure{Volume: stated, Temperature: &read}, Document: fmt.Sprint("B", when.Unix())})
}

func truthBook(t *testing.T, rows Rows) *Book {
	d, h := units.Millimetres(diameter), units.Millimetres(6000)
	dir := NewDirectory(Rows{
		Plants: []*Plant{{ID: "P", Zone: "UTC", Product: "diesel-2-s15"}},
		Tanks:  []*Tank{{Plant: "P", ID: "bulk", Role: Storage, Product: "diesel-2-s15", Shape: ShapeVertical, Diameter: &d, Height: &h}},
		Meters: []*Meter{{Plant: "P", ID: "M", LitresPerCount: 1}},
	})
	b, err := NewBook(dir, "P", rows, calendar.Date(truthStart+2, time.December, 31))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// share counts how many variances of no loss lie inside their interval of 95 %.
type share struct{ inside, all int }

func (s *share) add(z float64) {
	s.all++
	if !Beyond(z) {
		s.inside++
	}
}

func (s share) percent() float64 { return 100 * float64(s.inside) / float64(s.all) }

func TestTheVariancesOfAPlantThatLosesNothingLieInsideTheirIntervals(t *testing.T) {
	shares := map[string]*share{}
	count := func(name string, z float64) {
		if shares[name] == nil {
			shares[name] = &share{}
		}
		shares[name].add(z)
	}
	blank := truthBook(t, Rows{})
	doubts := 0
	plants, enough := simulatedPlants(t, 80)
	for plant := range plants {
		world := newTruth(uint64(plant/40), uint64(plant%40))
		world.live(blank)
		b := truthBook(t, world.rows)
		doubts += len(b.Doubtful())
		lines, _ := b.Balances(time.Time{}, time.Time{}, ByCount)
		for _, l := range lines {
			if !l.Known {
				t.Fatalf("plant %d, %s: %s", plant, b.day(l.From), l.Why)
			}
			count("all", l.Z)
			count([]string{"winter", "spring", "summer", "autumn"}[int(l.To.Month())%12/3], l.Z)
			count(fmt.Sprintf("delivery inside %v", l.Received > 0), l.Z)
		}
		lengths(b, count)
	}
	if doubts > 0 {
		t.Errorf("%d rows of sound plants were doubted", doubts)
	}
	for name, s := range shares {
		t.Logf("%-28s %6.2f %% of %d", name, s.percent(), s.all)
	}
	if !enough {
		return
	}
	for _, name := range []string{"all", "winter", "spring", "summer", "autumn", "delivery inside true", "delivery inside false"} {
		if p := shares[name].percent(); p < 93 || p > 97 {
			t.Errorf("%s: %.2f %% inside, want 93 to 97", name, p)
		}
	}
}

// lengths counts balances of several lengths, end to end.
func lengths(b *Book, count func(name string, z float64)) {
	l := b.ledger()
	for _, weeks := range []int{2, 4, 8, 13, 26, 52, 104} {
		for i := 0; i+weeks < len(l.found); i += weeks {
			count(fmt.Sprintf("length %3d weeks", weeks), l.balance(l.found[i], l.found[i+weeks]).Z)
		}
	}
}
