package web

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// dayTankGroup is a day tank of 400 L with a float at 100 L, 20 L out of reach, and a fill of twelve minutes,
// read at a level.
func dayTankGroup(level *float64) (*roundForm, *roundGroup) {
	tank := &inventory.Tank{ID: "day", Role: inventory.DayTank, Shape: inventory.ShapeVolume, Capacity: pointer(units.Litres(400)),
		UnusableVolume: pointer(units.Litres(20)), LowLevel: pointer(units.Litres(100)), FillMinutes: pointer(12.0)}
	f := &roundForm{plant: &inventory.Plant{ID: "bay", Product: "diesel-1-s15"}}
	g := &roundGroup{Kind: "tanks", id: "day", tank: tank}
	g.ask("volume", "volume", units.Volume.Scales[0]).stored = level
	f.Tanks = []*roundGroup{g}
	return f, g
}

// The figures are by hand: a band of 100 L at 40 L/h is 2.5 h; in 12 min at 540 L/h the pump starts nine times
// a day (24 h / 2.7 h). From 350 L it is 6.25 h to the float and 8.25 h to the air or, by the timer, to the
// stop; from 60 L one hour to the air. Below the float stand 80 L: two hours at 40 L/h to the litre, 1.6 h at 50 L/h.
func TestADayTanksLevelIsToldAsTimeUntilTheAlarmAndTheStop(t *testing.T) {
	const look = " Look first at the intermediate tank (is it empty?), then at the filter (plugged?), then for water or ice in its bowl."
	for _, c := range []struct {
		name          string
		level         *float64
		burn          units.LitresPerHour
		warning       string
		lasts, atLow  string
		fills, byHand string
	}{
		{"in the band", pointer(350.0), 40, "",
			"From 350 L and with no pump the engines run 8 h 15 min; after 6 h 15 min the low-level float trips.",
			"When the float trips at 100 L, 80 L can still be burned. The timer of 2 h comes first and stops the engines with 0 L left.",
			"At 40 L an hour, which is expected, the pump brings 100 L about every 2 h 30 min, 9 times a day, each in 12 min: 540 L an hour. A fill that takes longer says that something is in its way.",
			"To hold the plant by hand, pump at least 40 L an hour, which is 0.67 L a minute."},
		{"a little under the band is a reading", pointer(293.0), 40, "",
			"From 293 L and with no pump the engines run 6 h 50 min; after 4 h 50 min the low-level float trips.", "", "", ""},
		{"under the band", pointer(200.0), 50, "200 L is below the fill band: is the fill pump running?" + look,
			"From 200 L and with no pump the engines run 3 h 36 min; after 2 h the low-level float trips.",
			"When the float trips at 100 L, 80 L can still be burned. That is gone after 96 min, before the timer of 2 h: the engines draw air. The float would have to trip at 120 L or more.", "", ""},
		{"under the float", pointer(60.0), 40, "60 L is at or below the low-level float: the timer is running." + look,
			"From 60 L and with no pump the engines run 1 h.", "", "", ""},
		{"not read", nil, 40, "", "From 300 L and with no pump the engines run 7 h; after 5 h the low-level float trips.", "", "", ""},
	} {
		f, g := dayTankGroup(c.level)
		d, err := g.tank.DayTank(f.plant)
		if err != nil {
			t.Fatal(err)
		}
		guide := f.dayTank(g, d, c.burn)
		is := func(what, got, want string) {
			if want != "" && spaced(got) != want {
				t.Errorf("%s: %s:\n%s\nwant\n%s", c.name, what, spaced(got), want)
			}
		}
		is("band", guide.Band, "Should stand between 300 L and 400 L.")
		if guide.Warning != c.warning {
			is("warning", guide.Warning+".", c.warning+".")
		}
		is("lasts", guide.Lasts, c.lasts)
		is("fills", guide.More[0], c.fills)
		is("at the float", guide.More[1], c.atLow)
		is("by hand", guide.More[2], c.byHand)
	}
}

// Three quarters of 600 mm are 450 mm; a box of 1 m by 1 m holds a litre a millimetre.
func TestAFillBandIsToldAsTheDepthThatIsRead(t *testing.T) {
	tank := &inventory.Tank{ID: "day", Role: inventory.DayTank, Shape: inventory.ShapeRectangular,
		Length: pointer(units.Millimetres(1000)), Width: pointer(units.Millimetres(1000)), Height: pointer(units.Millimetres(600))}
	g := &roundGroup{Kind: "tanks", id: "day", tank: tank}
	g.ask("depth", "liquid depth", units.Length.Scales[0])
	f := &roundForm{plant: &inventory.Plant{ID: "bay", Product: "diesel-1-s15"}, Tanks: []*roundGroup{g}}
	f.guideDayTanks(nil)
	if band := spaced(g.DayTank.Band); band != "Should stand between 450 mm and 600 mm (450 L and 600 L)." {
		t.Error(band)
	}
}

func TestWithoutABurnOnlyTheFillBandIsTold(t *testing.T) {
	f, _ := dayTankGroup(nil)
	f.guideDayTanks(nil)
	guide := f.Tanks[0].DayTank
	if spaced(guide.Band) != "Should stand between 300 L and 400 L." || guide.Lasts != "" || guide.More != nil {
		t.Errorf("%+v", guide)
	}
}

func TestAPlantsOwnTimerIsReckonedWith(t *testing.T) {
	f, g := dayTankGroup(nil)
	f.plant.LowTimerHours = pointer(0.5)
	f.guideDayTanks(&advice.Plant{Burn: &advice.Burn{Next30PerDay: 960}})
	if text := spaced(strings.Join(g.DayTank.More, " ")); !strings.Contains(text, "The timer of 30 min comes first") {
		t.Error(text)
	}
}

func TestTheRoundTellsHowLongTheDayTankLasts(t *testing.T) {
	s := newRoundSite(t, nil)
	page := s.page(t, bayPath)
	// 400 L are 105.67 US gal, and three quarters of it 79.25.
	holds(t, page, "Should stand between 79 US gal and 106 US gal.", "From 79 US gal and with no pump", "Tell the manager early",
		"At which level the low-level float trips is not written down")
	rate := regexp.MustCompile(`At ([0-9.]+) US gal an hour`).FindStringSubmatch(spaced(page))
	if rate == nil {
		t.Fatal("the page does not say what an hour takes")
	}
	// 100 gal a day are 4.17 an hour; forty days tell the month to come within a few per cent.
	if perHour, err := strconv.ParseFloat(rate[1], 64); err != nil || math.Abs(perHour/4.17-1) > 0.05 {
		t.Errorf("%s US gal an hour, want 4.17 within 5 %%", rate[1])
	}
	page = s.sentOn(t, s.post(bayForm("tanks/day/volume", "60", "tanks/day/temperature", "41")))
	holds(t, page, "Day tank: 60 US gal is below the fill band: is the fill pump running?", "Day tank: From 60 US gal and with no pump the engines run")
}

func TestATimeIsWrittenAsPeopleSayIt(t *testing.T) {
	times := map[time.Duration]string{0: "0 min", 35 * time.Minute: "35 min", 60 * time.Minute: "1 h", 119 * time.Minute: "119 min", 2 * time.Hour: "2 h",
		130 * time.Minute: "2 h 10 min", 17*time.Hour + 40*time.Minute: "18 h", 20 * time.Hour: "20 h", 80 * time.Hour: "3 days"}
	var got []string
	for d, want := range times {
		if text := spaced(lasting(d)); text != want {
			got = append(got, text+", want "+want)
		}
	}
	slices.Sort(got)
	if got != nil {
		t.Error(got)
	}
}
