package backtest

import (
	"context"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/forecast"
)

func TestTheModelIsGivenWhatWasKnownAndReported(t *testing.T) {
	f := tables{
		history: "series_id,start,end,litres,kwh\n" + "A,2019-10-01,2019-11-01,1000,\nA,2019-11-01,2019-12-01,,3300\n" +
			"A,2019-12-01,2020-01-01,900,3100\nA,2020-01-01,2020-02-01,800,3000\n",
		intervals: intervalsHead + "A,2020-01-01,2020-02-01,1\n",
		plants:    plantsHead + "A,,,coast\n",
	}.fleet(t)
	// Days from 1970-01-01: 50 years with 12 leap days are 18262 days to 2020-01-01.
	want := forecast.Series{Plant: "A", Group: "coast", Intervals: []forecast.Interval{
		{Start: 18262 - 92, End: 18262 - 61, Litres: 1000}, {Start: 18262 - 31, End: 18262, Litres: 900},
	}, Energy: []forecast.Energy{{Start: 18262 - 61, End: 18262 - 31, KWh: 3300}, {Start: 18262 - 31, End: 18262, KWh: 3100}}}
	if diff := cmp.Diff(want, known(f.Series()[0], on("2020-01-01"))); diff != "" {
		t.Error(diff)
	}
}

func TestNoPlantLendsToItself(t *testing.T) {
	f := tables{history: historyHead + invented("A", "2015-01-01", "2020-01-01", 900), intervals: intervalsHead + asked("A", "2020-01-01", "2021-01-01")}.fleet(t)
	c, err := f.At(context.Background(), on("2020-01-01"))
	if err != nil {
		t.Fatal(err)
	}
	if c.lent[0] == nil {
		t.Fatal("five years lend nothing")
	}
	quantiles := func() []Row { return rows(f.Series()[0], c.paths(c.model(0), 366, Options{Paths: 100, Seed: 1})) }
	with := quantiles()
	c.lent[0], c.groups[c.series[0].Group] = nil, forecast.NewGroup(nil)
	if !slices.EqualFunc(with, quantiles(), func(a, b Row) bool { return slices.Equal(a.Sum, b.Sum) }) {
		t.Error("a plant alone is forecast otherwise when it has something to lend")
	}
}

func TestThePageNamesEveryColumnCodeAndBound(t *testing.T) {
	page, err := os.ReadFile("../../docs/backtest.md")
	if err != nil {
		t.Fatal(err)
	}
	names := []string{"3,660 days", "`" + strings.Join([]string{"series_id", "severity", "code", "text", "start", "end"}, ",") + "`"}
	for _, name := range []string{"series_id", "start", "end", "litres", "kwh", "counted", "hdd", "tankage_l", "peak_kw", "group",
		"method", "origin", "date", "h", "point", "cpoint", "q0.025", "q0.975", "cq0.025", "cq0.975", CodeNoForecast, CodeFaulty, CodeAfterOrigin, CodeStray} {
		names = append(names, "`"+name+"`")
	}
	for _, name := range names {
		if !strings.Contains(string(page), name) {
			t.Errorf("docs/backtest.md does not name %s", name)
		}
	}
}
