package replay

import (
	"context"
	"math"
	"strings"
	"testing"

	"overwinter/internal/fault"
)

func TestACaseIsReadAsItStands(t *testing.T) {
	c := inventedCase(t)
	s := c.Scenario
	if s.Start != on("2020-03-01") || s.Window.Apart != 45 || s.Window.ClosesLag != -7 || s.Delivery.Lot.Min != 20_000 || s.Delivery.StopCost != 8000 || s.Fallback.AtDays != 10 || s.Risk != 0.05 || s.Currency != "USD" {
		t.Errorf("%+v", s)
	}
	if len(c.Plants) != 3 || c.Plants[1].ID != "P1" || c.Plants[1].Usable != 270_000 || c.Plants[1].route.id != "river 1" || c.Plants[2].route != c.Plants[0].route {
		t.Errorf("%+v", c.Plants)
	}
}

// A month of 31,000 L is 1,000 L on each of its days; a month that is missing is not known; the year after the last is as the last.
func TestUseIsSpreadEvenlyOverEachInterval(t *testing.T) {
	f := inventedFiles()
	f.history = "series_id,start,end,litres\nP0,2019-01-01,2019-02-01,31000\nP0,2019-03-01,2019-04-01,62000\n"
	f.plants = "series_id,usable_l,route\nP0,1,river 0\n"
	f.scenario = strings.NewReplacer("2020-03-01", "2019-03-01", "2021-07-31", "2019-03-31").Replace(f.scenario)
	c, err := Read(context.Background(), f.sources())
	if err != nil {
		t.Fatal(err)
	}
	u := c.Plants[0].use
	if u.on(on("2019-01-31")) != 1000 || !math.IsNaN(u.on(on("2019-02-01"))) || u.on(on("2019-03-01")) != 2000 || u.on(on("2020-03-05")) != 2000 || u.coming(on("2019-03-21"), 10) != 20_000 {
		t.Errorf("%+v", u)
	}
	known := u.means(on("2019-03-10")) // 31 days of 1,000 and 10 of 2,000: 1,244 where a month is not known
	if known[0] != 1000 || known[2] != 2000 || math.Abs(known[6]-51_000.0/41) > 1e-9 || known.over(on("2020-01-30"), on("2020-02-01")) != 2000 {
		t.Errorf("%v", known)
	}
}

func TestWhatIsWrongIsNamedByItsPlace(t *testing.T) {
	scenario := func(old, text string) func(*texts) {
		return func(f *texts) { f.scenario = strings.Replace(f.scenario, old, text, 1) }
	}
	plants := func(rows string) func(*texts) {
		return func(f *texts) { f.plants = "series_id,usable_l,route\n" + rows }
	}
	past := func(rows string) func(*texts) {
		return func(f *texts) { f.past += rows }
	}
	for _, tt := range []struct {
		change func(*texts)
		says   string
	}{
		{scenario(`"seed":3`, `"sead":3`), "scenario.json:1:seed: missing"},
		{scenario(`"seed":3`, `"seed":3,"risk":1`), "scenario.json:1:risk: no such field here"},
		{scenario(`"USD"`, `"usd"`), `currency: "usd": expected the three capital letters`},
		{scenario("2020-03-01", "1 March"), `start: "1 March" is no day: expected YYYY-MM-DD`},
		{scenario("2021-07-31", "2020-02-01"), "end: 2020-02-01 is before the start 2020-03-01"},
		{scenario(`"opening_share":0.4`, `"opening_share":40`), "scenario.json:2:opening_share: 40: expected 0 to 1"},
		{scenario(`"reserve_days":30`, `"reserve_days":30.5`), "reserve_days: 30.5: expected a whole number from 1 to 365"},
		{scenario(`"deliveries":2`, `"deliveries":0`), "scenario.json:3:window.deliveries: 0: expected a whole number from 1 to 4"},
		{scenario(`"max_l":2000000`, `"max_l":19000`), "delivery.max_l: 19000: expected min_l (20000) or more"},
		{scenario(`"load_l":17000`, `"load_l":"a plane"`), `fallback.load_l: found a text ("a plane"): expected a number`},
		{plants("P0,0,river 0\n"), `plants.csv:2:usable_l: "0": expected a number above 0`},
		{plants("P0,,river 0\n"), "plants.csv:2:usable_l: blank"},
		{plants("P0,5,river 0\nP0,5,river 0\n"), `plants.csv:3:series_id: "P0" has row 2 already`},
		{plants("P9,5,river 0\n"), `plants.csv:2:series_id: "P9" has no history in history.csv`},
		{plants("P0,5,river 9\n"), `plants.csv:2:route: "river 9" has no past windows in past.csv`},
		{plants(""), "plants.csv: the file has a header and no rows"},
		{past("river 0,1980,,\n"), `past.csv:62:year: route "river 0" has 1980 in row 2 already`},
		{past("river 0,now,,\n"), `past.csv:62:year: "now" is no number`},
		{past("river 0,2010.5,,\n"), `past.csv:62:year: "2010.5": expected a year`},
		{past("river 0,2010,tomorrow,\n"), `past.csv:62:opens: "tomorrow" is no day`},
		{past("river 0,2010,2010-12-24,\n"), `past.csv: route "river 0": the season of 2010 opens on 2010-12-24`},
		{past("river 2,2010,2010-05-24,\n"), `past.csv: route "river 2": expected 5 years or more`},
		{func(f *texts) { f.history = strings.Replace(f.history, "P1,2020-05", "P1,2020-5", 1) }, "history.csv:"},
		{func(f *texts) { f.history = without(f.history, "P1,2020-05") }, `plants.csv:3:series_id: the history of "P1" does not say what was burned on 2020-05-01`},
		{func(f *texts) {
			f.history = without(f.history, "P1,2016", "P1,2017", "P1,2018", "P1,2019", "P1,2020-01", "P1,2020-02")
		}, `plants.csv:3:series_id: the history of "P1" begins on 2020-03-01: expected some before`},
	} {
		f := inventedFiles()
		tt.change(&f)
		_, err := Read(context.Background(), f.sources())
		if fault.KindOf(err) != fault.Invalid || err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%v\nwant %s", err, tt.says)
		}
	}
}

// without takes the lines away that begin with one of the texts.
func without(text string, begins ...string) string {
	for _, b := range begins {
		for at := strings.Index(text, "\n"+b); at >= 0; at = strings.Index(text, "\n"+b) {
			end := strings.Index(text[at+1:], "\n")
			text = text[:at] + text[at+1+end:]
		}
	}
	return text
}
