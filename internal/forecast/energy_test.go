package forecast

import (
	"math"
	"slices"
	"strings"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// metered gives five years of 30-day months of an invented plant that takes 0.28 L a kWh, which scatters by 3 %.
func metered(seed uint64) (intervals []Interval, energy []Energy) {
	r := random(seed)
	w := alaska()
	w.sd = 0.07
	for _, i := range w.live(epoch, 1830, r).every(30, 0, 1830) {
		intervals = append(intervals, i)
		energy = append(energy, Energy{i.Start, i.End, float64(i.Litres) / 0.28 * math.Exp(0.03*r.NormFloat64())})
	}
	return intervals, energy
}

func fitMetered(intervals []Interval, energy []Energy) Model {
	return fitFleet([]Series{{Plant: "one", Intervals: intervals, Energy: energy}}, epoch+1829)[0]
}

// without leaves out element i.
func without[T any](all []T, i int) []T { return slices.Delete(slices.Clone(all), i, i+1) }

// moves says by how much the year to come moves.
func moves(a, b Model) float64 {
	start := float64(epoch) + 1830
	return math.Abs(float64(a.Quantiles(start, start+365, 0.5)[0]/b.Quantiles(start, start+365, 0.5)[0]) - 1)
}

func noticeText(m Model, code string) string {
	for _, n := range m.Notices() {
		if n.Code == code {
			return n.Message
		}
	}
	return ""
}

// Month 40 is spoiled. Each reason says what is likely, and the kWh with the litres that they take: kWh × 0.28, within the scatter.
func TestLitresThatContradictTheirEnergyAreNamedAndTheEnergyStandsIn(t *testing.T) {
	tests := []struct {
		name   string
		factor units.LitresAt15
		reason string
	}{
		{"a digit too many", 10, "about ten times the usual: a digit too many?"},
		{"a digit missing", 0.1, "about a tenth of the usual: a digit missing?"},
		{"US gallons", 1 / units.LitresPerUSGallon, "US gallons taken for litres?"},
		{"not reported", 0, "nothing burned, though energy was generated: not reported"},
		{"less than nothing", -0.2, "less than nothing burned"},
		{"a correction of a quarter", 1.25, "more than its energy takes: a count correction?"},
		{"a correction of minus a quarter", 0.75, "less than its energy takes: a count correction, or a part not reported?"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			intervals, energy := metered(51)
			good := fitMetered(intervals, energy)
			true15 := float64(intervals[40].Litres)
			intervals[40].Litres *= tt.factor
			m := fitMetered(intervals, energy)
			if len(m.Faults()) != 1 || m.Faults()[0].Interval != intervals[40] {
				t.Fatalf("named %v", m.Faults())
			}
			f := m.Faults()[0]
			if !strings.Contains(f.Reason, tt.reason) || !strings.Contains(f.Reason, " kWh take ") {
				t.Errorf("reason %q", f.Reason)
			}
			within(t, "expected", float64(f.Expected), true15, 0.1*true15)                   // three times its scatter
			if hasNotice(m, "energy-stands-in") == strings.Contains(tt.name, "correction") { // whose litres were burned at some time
				t.Errorf("notices %v", m.Notices())
			}
			if off := moves(m, good); off > 0.005 {
				t.Errorf("the coming year moves by %.2f %%", 100*off)
			}
		})
	}
}

func TestEnergyThatIsOddItselfNamesNoLitres(t *testing.T) {
	intervals, energy := metered(52)
	good := fitMetered(intervals, nil)
	energy[40].KWh *= 1.5
	m := fitMetered(intervals, energy)
	if len(m.Faults()) > 0 || !hasNotice(m, "energy-doubtful") {
		t.Errorf("named %v, notices %v", m.Faults(), m.Notices())
	}
	if off := moves(m, good); off > 0.005 {
		t.Errorf("the coming year moves by %.2f %%", 100*off)
	}
}

// Twice the usual is named without energy. With twice the energy it was burned; with ten times, both hold the same slip.
func TestEnergyVouchesForAnOddIntervalButNotForADigitTooMany(t *testing.T) {
	for _, tt := range []struct {
		fuel, energy float64 // factor; 0 for no energy at all
		named        int
	}{{2, 0, 1}, {2, 2, 0}, {0.5, 0, 1}, {0.5, 0.5, 0}, {10, 10, 1}, {0.1, 0.1, 1}, {100, 100, 1}} {
		intervals, energy := metered(53)
		intervals[40].Litres *= units.LitresAt15(tt.fuel)
		energy[40].KWh *= tt.energy
		if tt.energy == 0 {
			energy = nil
		}
		if m := fitMetered(intervals, energy); len(m.Faults()) != tt.named {
			t.Errorf("fuel × %g, energy × %g: named %v", tt.fuel, tt.energy, m.Faults())
		}
	}
}

func TestNeitherFuelNorEnergyIsStandingBy(t *testing.T) {
	intervals, energy := metered(54)
	good := fitMetered(intervals, energy)
	for i := 20; i < 23; i++ {
		intervals[i].Litres, energy[i].KWh = 0, 0
	}
	m := fitMetered(intervals, energy)
	if len(m.Faults()) > 0 || !strings.Contains(noticeText(m, "stood-by"), "90 days") {
		t.Errorf("named %v, notices %v", m.Faults(), m.Notices())
	}
	if off := moves(m, good); off > 0.02 { // three months less are known
		t.Errorf("the coming year moves by %.1f %%", 100*off)
	}
	for i := 59; i < 61; i++ {
		intervals[i].Litres, energy[i].KWh = 0, 0
	}
	m = fitMetered(intervals, energy)
	if text := noticeText(m, "zeros-at-end"); !strings.Contains(text, "60 days say zero: standing by;") {
		t.Errorf("at the end: %q", text)
	}
}

// A plant falls to 0.7 of its load and reports no fuel in its last six months: only the energy tells.
func TestEnergyStandsInForFuelThatWasNotReported(t *testing.T) {
	intervals, energy := metered(55)
	for i := 55; i < 61; i++ {
		intervals[i].Litres *= 0.7
		energy[i].KWh *= 0.7
	}
	told := fitMetered(intervals, energy)
	m := fitMetered(intervals[:55], energy)
	if off := moves(m, told); off > 0.03 { // of a year that six months at 3 % each tell
		t.Errorf("the coming year moves by %.1f %%", 100*off)
	}
	if len(m.Faults()) > 0 || !strings.Contains(noticeText(m, "energy-stands-in"), "6 intervals of 180 days") {
		t.Errorf("named %v, notices %v", m.Faults(), m.Notices())
	}
	if off := moves(fitMetered(intervals[:55], energy[:55]), told); off < 0.2 {
		t.Errorf("without that energy the coming year moves by only %.1f %%: the test tells nothing", 100*off)
	}
}

func TestFuelAndEnergyOfOneRoundBelongTogether(t *testing.T) {
	const hour = 1.0 / 24
	day := Interval{Start: 100, End: 110, Litres: 500}
	tests := []struct {
		name    string
		energy  Energy
		paired  bool
		inPlace bool // energy of a time without fuel
	}{
		{"the same", Energy{100, 110, 1800}, true, false},
		{"read two hours later", Energy{100 + 2*hour, 110 + 2*hour, 1800}, true, false},
		{"read four hours later", Energy{100, 110 + 4*hour, 1800}, false, false},
		{"of half the time", Energy{100, 105, 900}, false, false},
		{"of the time after", Energy{110 + hour, 120, 1800}, false, true},
		{"of the time before", Energy{90, 100 + hour, 1800}, false, true},
		{"after the origin", Energy{190, 201, 1800}, false, false},
		{"less than nothing", Energy{100, 110, -1}, false, false},
		{"not a number", Energy{100, 110, math.NaN()}, false, false},
		{"without end", Energy{100, 110, math.Inf(1)}, false, false},
		{"back to front", Energy{110, 100, 1800}, false, false},
	}
	for _, tt := range tests {
		m := Model{origin: 200}
		accounts := m.accounts([]observation{{Interval: day}}, []Energy{tt.energy})
		paired, inPlace := false, false
		for _, a := range accounts {
			paired = paired || a.fuel && a.kWh == tt.energy.KWh
			inPlace = inPlace || !a.fuel
		}
		if paired != tt.paired || inPlace != tt.inPlace {
			t.Errorf("%s: paired %v, in the place of fuel %v", tt.name, paired, inPlace)
		}
	}
}

func TestWhatWasGeneratedAfterTheOriginIsNotUsed(t *testing.T) {
	intervals, energy := metered(56)
	for i := 41; i < len(energy); i++ {
		energy[i].KWh *= 3
	}
	origin := epoch + 41*30 - 1
	fit := func(energy []Energy) Model {
		return fitFleet([]Series{{Plant: "one", Intervals: intervals[:41], Energy: energy}}, origin)[0]
	}
	start := float64(origin) + 1
	a, b := fit(energy).Quantiles(start, start+365, 0.1, 0.9), fit(energy[:41]).Quantiles(start, start+365, 0.1, 0.9)
	if !slices.Equal(a, b) {
		t.Errorf("%v with what came later, %v without", a, b)
	}
}

func TestAnyEnergyGivesFiniteAnswersOrAnError(t *testing.T) {
	r := random(57)
	for range 200 / thinning {
		s := Series{Plant: "p"}
		for range 1 + r.IntN(25) {
			i := wild(r)
			s.Intervals = append(s.Intervals, i)
			if r.IntN(3) > 0 {
				s.Energy = append(s.Energy, Energy{i.Start, i.End, math.Round(float64(i.Litres) * math.Exp(1.3+2*r.NormFloat64()))})
			}
			if j := wild(r); r.IntN(3) == 0 {
				s.Energy = append(s.Energy, Energy{j.Start, j.End, 3 * float64(j.Litres)})
			}
		}
		m := fitFleet([]Series{s}, epoch+700)[0]
		litres, sd := m.Expected(float64(epoch)+690, float64(epoch)+800)
		numbers := float64(litres + sd + m.Rate(epoch+1000))
		for _, f := range m.Faults() {
			numbers += float64(f.Expected)
		}
		if math.IsNaN(numbers) || math.IsInf(numbers, 0) || float64(litres) < 0 {
			t.Fatalf("%v from %v", numbers, s)
		}
	}
}

func TestAStepOfSpecificConsumptionIsToldNotNamed(t *testing.T) {
	intervals, energy := metered(58)
	for i := 30; i < 61; i++ {
		energy[i].KWh *= 0.28 / 0.24 // a new engine: 0.24 L a kWh, 14 % less; the load stays
	}
	m := fitMetered(intervals, energy)
	text, day := noticeText(m, "specific-consumption"), calendar.Day(intervals[30].Start).String()
	if len(m.Faults()) > 0 || !strings.Contains(text, day) || !strings.Contains(text, "(-14 %)") && !strings.Contains(text, "(-13 %)") && !strings.Contains(text, "(-15 %)") {
		t.Errorf("named %v, notice %q; the step is on %s", m.Faults(), text, day)
	}
}

// Three months at the end at 1.6 times the load: without energy they are three named ones that agree, and so taken back; with it they were
// never named. One month of 2.5 times that its energy vouches for is a peak.
func TestAStepOfLoadThatEnergyVouchesForIsFollowed(t *testing.T) {
	intervals, energy := metered(59)
	good := fitMetered(intervals, energy)
	peak, generated := slices.Clone(intervals), slices.Clone(energy)
	peak[40].Litres *= 2.5
	generated[40].KWh *= 2.5
	m := fitMetered(peak, generated)
	if len(m.Faults()) > 0 || hasNotice(m, "load-step") || moves(m, good) > 0.01 {
		t.Errorf("a peak: named %v, notices %v, moves %.3f", m.Faults(), m.Notices(), moves(m, good))
	}
	for i := 58; i < 61; i++ {
		intervals[i].Litres *= 1.6
		energy[i].KWh *= 1.6
	}
	m = fitMetered(intervals, energy)
	if len(m.Faults()) > 0 || !hasNotice(m, "load-step") || moves(m, fitMetered(intervals, nil)) > 0.01 {
		t.Errorf("a step: named %v, notices %v, moves %.3f against that without energy", m.Faults(), m.Notices(), moves(m, fitMetered(intervals, nil)))
	}
}

func TestEnergyOfADeclaredStandbyStandsInForNothing(t *testing.T) {
	intervals, energy := metered(51)
	at := calendar.Day(intervals[40].Start)
	s := Series{Plant: "one", Intervals: intervals, Energy: energy, Changes: []Change{{From: at, Until: calendar.Day(intervals[40].End)}}}
	last := intervals[len(intervals)-1]
	m := Fit(s, calendar.Day(last.End)-1, nil, nil, Standard())
	if m.Err() != nil || !hasNotice(m, "burned-in-standby") || hasNotice(m, "energy-stands-in") {
		t.Errorf("%v, %v", m.Err(), m.Notices())
	}
}
