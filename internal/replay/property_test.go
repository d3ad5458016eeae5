package replay

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/sheet"
)

// inventedCase is three invented plants on two rivers, whose winters and levels differ, one of which is small for its river.
func inventedCase(t *testing.T) *Case {
	t.Helper()
	c, err := Read(context.Background(), inventedFiles().sources())
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// texts are the four files.
type texts struct{ history, plants, past, scenario string }

func (f texts) sources() Files {
	source := func(name, text string) sheet.Source { return sheet.Source{Name: name, In: strings.NewReader(text)} }
	return Files{source("history.csv", f.history), source("plants.csv", f.plants), source("past.csv", f.past), source("scenario.json", f.scenario)}
}

const soundScenario = `{"note":"invented","currency":"USD","start":"2020-03-01","end":"2021-07-31","seed":3,
 "opening_share":0.4,"reserve_days":30,"risk_target":0.05,"carrying_per_year":0.05,
 "window":{"deliveries":2,"days_apart":45,"opens_lag_days":14,"closes_lag_days":-7,"fail_chance":0.4},
 "delivery":{"lead_days":44,"lead_sd_days":10,"stop_cost":8000,"price_per_l":1.05,"min_l":20000,"step_l":1000,"max_l":2000000},
 "fallback":{"lead_days":4,"lead_sd_days":1,"price_per_l":2.9,"load_l":17000,"at_days":10}}`

func inventedFiles() texts {
	f := texts{history: "series_id,start,end,litres\n", plants: "series_id,usable_l,route\n", past: "route,year,opens,closes\n", scenario: soundScenario}
	noise := rand.New(rand.NewPCG(1, 2))
	for i, level := range []float64{400, 900, 2500} {
		for m := (calendar.Month{Year: 2016, Month: 1}); m.First() < on("2022-01-01"); m = m.Next() {
			days := float64(m.Next().First() - m.First())
			litres := level * days * math.Exp(0.25*math.Cos(2*math.Pi*float64(m.First().YearDay())/365)+0.05*noise.NormFloat64())
			f.history += fmt.Sprintf("P%d,%s,%s,%.1f\n", i, m.First(), m.Next().First(), litres)
		}
		f.plants += fmt.Sprintf("P%d,%.0f,river %d\n", i, level*[]float64{380, 300, 450}[i], i%2)
	}
	for river := range 2 {
		for year := 1980; year < 2010; year++ {
			f.past += fmt.Sprintf("river %d,%d,%s,%s\n", river, year, on(fmt.Sprint(year, "-05-20"))+calendar.Day(10*river)+calendar.Day(6*noise.NormFloat64()),
				on(fmt.Sprint(year, "-10-20"))+calendar.Day(8*noise.NormFloat64()))
		}
	}
	return f
}

func scored(t *testing.T, c *Case) []Score {
	t.Helper()
	scores, err := c.Run(context.Background(), Options{Policies: Policies(), Worlds: 2, Paths: 60})
	if err != nil {
		t.Fatal(err)
	}
	return scores
}

func TestNoLitreIsLostAndNoTankOverfilled(t *testing.T) {
	c := inventedCase(t)
	flown := 0.0
	for _, s := range scored(t, c) {
		if gap := s.Opening + s.Delivered + s.Fallback - s.Burned - s.Closing; math.Abs(gap) > 1e-6*s.Burned {
			t.Errorf("%s %s: %v litres are lost", s.Plant.ID, s.Policy, gap)
		}
		wanted := s.Plant.use.coming(c.Scenario.Start-1, int(c.Scenario.End-c.Scenario.Start)+1)
		if math.Abs(s.Burned+s.Unserved-wanted) > 1e-6*wanted || s.Days != 518 {
			t.Errorf("%s %s: burned %v and not served %v of %v in %d days", s.Plant.ID, s.Policy, s.Burned, s.Unserved, wanted, s.Days)
		}
		if s.Closing < 0 || s.Closing > s.Plant.Usable || s.Dry > s.Below || s.BelowAfterFailed > s.Below {
			t.Errorf("%+v", s)
		}
		if price := 1.05; math.Abs(s.Fuel-price*s.Delivered) > 1e-6*s.Fuel || math.Abs(s.Flown-2.9*s.Fallback) > 1e-6*(1+s.Flown) || s.Stops != 8000*float64(s.Deliveries) {
			t.Errorf("%s %s: money does not follow from litres: %+v", s.Plant.ID, s.Policy, s)
		}
		flown += s.Fallback
	}
	if flown == 0 {
		t.Error("the fallback was never needed: the case says little")
	}
}

func TestAnyNumberOfCoresGivesTheSameScores(t *testing.T) {
	written := func(cores int) string {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		var out bytes.Buffer
		if err := Write(&out, scored(t, inventedCase(t))); err != nil {
			t.Fatal(err)
		}
		return out.String()
	}
	if one, many := written(1), written(4); one != many || strings.Count(one, "\n") != 1+3*4*2 {
		t.Errorf("%s\n%s", one, many)
	}
}

// Nothing of the time to come is used: tenfold use after a day changes nothing that is ordered or delivered before it.
func TestDecisionsDoNotKnowTheUseToCome(t *testing.T) {
	f := inventedFiles()
	early := strings.Replace(f.scenario, "2021-07-31", "2020-08-31", 1)
	f.scenario = early
	read := func(f texts) []Score {
		c, err := Read(context.Background(), f.sources())
		if err != nil {
			t.Fatal(err)
		}
		return scored(t, c)
	}
	before := read(f)
	lines := strings.Split(f.history, "\n")
	for i, line := range lines {
		if cells := strings.Split(line, ","); len(cells) == 4 && cells[1] >= "2020-11" && i > 0 {
			lines[i] = strings.Join(append(cells[:3], "9"+cells[3]), ",")
		}
	}
	f.history = strings.Join(lines, "\n")
	for i, after := range read(f) {
		if b := before[i]; after.Delivered != b.Delivered || after.Closing != b.Closing || after.Deliveries != b.Deliveries {
			t.Errorf("%s %s: delivered %v and %v", b.Plant.ID, b.Policy, b.Delivered, after.Delivered)
		}
	}
}

func TestAnInterruptedReplayGivesNoScores(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	c := inventedCase(t)
	cancel()
	if scores, err := c.Run(ctx, Options{Policies: Policies(), Worlds: 1, Paths: 60}); err == nil || scores != nil {
		t.Errorf("%d scores, %v", len(scores), err)
	}
}

func TestAPlantThatCannotBeForecastIsNamed(t *testing.T) {
	f := inventedFiles()
	lines := strings.Split(f.history, "\n")
	for i, line := range lines {
		if cells := strings.Split(line, ","); len(cells) == 4 && i > 0 && cells[1] < "2020-03-01" {
			lines[i] = strings.Join(append(cells[:3], ""), ",")
		}
	}
	f.history = strings.Join(lines, "\n")
	c, err := Read(context.Background(), f.sources())
	if err != nil {
		t.Fatal(err)
	}
	_, err = c.Run(context.Background(), Options{Policies: Policies(), Worlds: 1, Paths: 60})
	if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), "plant P0 cannot be forecast on 2020-03-01") {
		t.Errorf("%v", err)
	}
}
