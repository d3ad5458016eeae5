package backtest

import (
	"context"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/units"
)

// tables holds the text of each file; blank is no file.
type tables struct{ history, intervals, degreeDays, plants string }

const (
	historyHead   = "series_id,start,end,litres\n"
	intervalsHead = "series_id,start,end,counted\n"
	degreeHead    = "series_id,start,end,hdd\n"
	plantsHead    = "series_id,tankage_l,peak_kw,group\n"
)

func (t tables) files() Files {
	source := func(name, text string) *Source {
		if text == "" {
			return nil
		}
		return &Source{Name: name, In: strings.NewReader(text)}
	}
	return Files{
		History: source("history.csv", t.history), Intervals: source("intervals.csv", t.intervals),
		DegreeDays: source("degree.csv", t.degreeDays), Plants: source("plants.csv", t.plants),
	}
}

func (t tables) fleet(tb testing.TB) *Fleet {
	tb.Helper()
	f, err := Read(context.Background(), t.files())
	if err != nil {
		tb.Fatal(err)
	}
	return f
}

func on(text string) calendar.Day {
	d, err := calendar.ParseDay(text)
	if err != nil {
		panic(err)
	}
	return d
}

func span(start, end string) Span { return Span{Start: on(start), End: on(end)} }

func TestTablesBecomeSeriesInOrderOfTime(t *testing.T) {
	f := tables{
		// Columns in another order, a byte order mark, blanks around fields, a blank line, rows out of order.
		history: "\xef\xbb\xbfstart,end,series_id,kwh,litres\r\n" +
			"2019-02-01,2019-03-01,A,,-12.5\r\n" +
			"2019-01-01,2019-02-01, A ,3700,1000\r\n" +
			",,,,\r\n" +
			"2019-01-10,2019-01-11,\"L, lent\",,-0\r\n" +
			"2019-03-01,2019-04-01,A,55,\r\n",
		intervals:  intervalsHead + "A,2020-02-01,2020-03-01,0\nB,2020-01-01,2020-02-01,1\nA,2020-01-01,2020-02-01,1\n",
		degreeDays: degreeHead + "A,2019-02-01,2019-03-01,0\nA,2019-01-01,2019-02-01,812.25\nZ,2019-01-01,2019-02-01,5\n",
		plants:     "group,series_id,tankage_l\ncoast,A,250000\nriver,B,\n",
	}.fleet(t)
	litres := func(x units.LitresAt15) *units.LitresAt15 { return &x }
	kwh := func(x float64) *float64 { return &x }
	tankage := units.Litres(250000)
	want := []*Series{
		{
			ID: "A",
			Usage: []Usage{
				{Span: span("2019-01-01", "2019-02-01"), Litres: litres(1000), Energy: kwh(3700)},
				{Span: span("2019-02-01", "2019-03-01"), Litres: litres(-12.5)},
				{Span: span("2019-03-01", "2019-04-01"), Energy: kwh(55)},
			},
			Intervals: []Interval{
				{Span: span("2020-01-01", "2020-02-01"), Counted: true},
				{Span: span("2020-02-01", "2020-03-01")},
			},
			DegreeDays: []DegreeDays{{span("2019-01-01", "2019-02-01"), 812.25}, {span("2019-02-01", "2019-03-01"), 0}},
			Facts:      Facts{Group: "coast", Tankage: &tankage},
		},
		{ID: "B", Intervals: []Interval{{Span: span("2020-01-01", "2020-02-01"), Counted: true}}, Facts: Facts{Group: "river"}},
		{ID: "L, lent", Usage: []Usage{{Span: span("2019-01-10", "2019-01-11"), Litres: litres(0)}}},
	}
	if diff := cmp.Diff(want, f.Series(), cmpopts.IgnoreUnexported(Series{}, Span{})); diff != "" {
		t.Error(diff)
	}
	if strays := f.Strays(); len(strays) != 1 || strays[0].Subject != "Z" {
		t.Errorf("strays %v, want Z alone", strays)
	}
	if f.Asked() != 2 {
		t.Errorf("%d series are asked for, want 2", f.Asked())
	}
}

func TestOnlyRowsThatEndByADayWereKnownBeforeIt(t *testing.T) {
	all := []Interval{{Span: span("2019-01-01", "2019-02-01")}, {Span: span("2019-02-01", "2019-03-01")}, {Span: span("2019-03-01", "2019-05-01")}}
	for day, want := range map[string]int{"2019-01-31": 0, "2019-02-01": 1, "2019-02-28": 1, "2019-03-01": 2, "2019-04-30": 2, "2019-05-01": 3, "2030-01-01": 3} {
		if got := len(before(all, on(day))); got != want {
			t.Errorf("before %s: %d rows, want %d", day, got, want)
		}
	}
}

func TestWrongTablesAreRefusedWithTheirPlace(t *testing.T) {
	good := tables{history: historyHead + "A,2019-01-01,2019-02-01,1000\n", intervals: intervalsHead + "A,2020-01-01,2020-02-01,1\n"}
	history := func(rows string) tables { return tables{history: rows, intervals: good.intervals} }
	intervals := func(rows string) tables { return tables{history: good.history, intervals: rows} }
	degree := func(rows string) tables { return tables{good.history, good.intervals, rows, ""} }
	plants := func(rows string) tables { return tables{good.history, good.intervals, "", rows} }
	for _, tt := range []struct {
		given tables
		says  string
	}{
		{history(" \n"), "history.csv: the file is empty: expected a header line with series_id,start,end,litres"},
		{history(historyHead), "history.csv: the file has a header and no rows"},
		{history("series_id,start,end\nA,2019-01-01,2019-02-01\n"), "history.csv:1:litres: the column is missing"},
		{history("series_id,start,end,litres,litres\n"), "history.csv:1:litres: the column stands twice"},
		{history("series_id,start,end,litres,kWh\n"), "history.csv:1:kWh: unknown column: expected series_id, start, end, litres, kwh"},
		{history("series_id;start;end;litres\n"), "not separated by commas: save the file with commas"},
		{history(historyHead + "A,2019-01-01,2019-02-01\n"), "history.csv:2: the row has 3 fields, the header 4"},
		{history(historyHead + "\n\nA,2019-01-01,2019-02-01,1,200\n"), "history.csv:4: the row has 5 fields, the header 4"},
		{history(historyHead + "A,2019-01-01,2019-02-01,\"1\n"), "history.csv:2: a quote stands inside a field"},
		{history(historyHead + "A\xff,2019-01-01,2019-02-01,1\n"), "history.csv:2: field 1 is not UTF-8"},
		{history(historyHead + ",2019-01-01,2019-02-01,1\n"), "history.csv:2:series_id: blank: the row needs it"},
		{history(historyHead + "A,,2019-02-01,1\n"), "history.csv:2:start: blank"},
		{history(historyHead + "A,2019-01-01,01.02.2019,1\n"), `history.csv:2:end: "01.02.2019" is no day: expected YYYY-MM-DD such as 2026-03-02`},
		{history(historyHead + "A,2019-02-29,2019-03-01,1\n"), `history.csv:2:start: "2019-02-29" is no day`},
		{history(historyHead + "A,2019-01-01,2019-01-01,1\n"), "history.csv:2:end: 2019-01-01 is not after the start 2019-01-01"},
		{history(historyHead + "A,2019-02-01,2019-01-01,1\n"), "history.csv:2:end: 2019-01-01 is not after the start 2019-02-01"},
		{history(historyHead + "A,2019-01-01,2019-02-01,1 200\n"), `history.csv:2:litres: "1 200" is no number: expected digits with a decimal point`},
		{history(historyHead + "A,2019-01-01,2019-02-01,NaN\n"), `history.csv:2:litres: "NaN" is no number`},
		{history(historyHead + "A,2019-01-01,2019-02-01,0x10\n"), `history.csv:2:litres: "0x10" is no number`},
		{history(historyHead + "A,2019-01-01,2019-02-01,1e400\n"), `history.csv:2:litres: "1e400" is beyond all measure`},
		{history(historyHead + "A,2019-01-01,2019-02-01,1e13\n"), `history.csv:2:litres: "1e13" is beyond all measure`},
		{history("series_id,start,end,litres,kwh\nA,2019-01-01,2019-02-01,1,many\n"), `history.csv:2:kwh: "many" is no number`},
		{history(historyHead + "A,2019-01-01,2019-02-01,1\nA,2019-01-01,2019-02-01,1\n"), "history.csv:3:start: 2019-01-01 to 2019-02-01 overlaps row 2 of the same series, 2019-01-01 to 2019-02-01"},
		{history(historyHead + "A,2019-01-31,2019-03-01,1\nA,2019-01-01,2019-02-01,1\n"), "history.csv:3:start: 2019-01-01 to 2019-02-01 overlaps row 2 of the same series, 2019-01-31 to 2019-03-01"},
		{history(historyHead + "A,2018-01-01,2019-01-01,1\nA,2018-02-01,2018-03-01,1\nA,2018-12-01,2019-01-01,1\n"), "history.csv:4:start: 2018-12-01 to 2019-01-01 overlaps row 2"},
		{intervals(intervalsHead), "intervals.csv: the file has a header and no rows"},
		{intervals(intervalsHead + "A,2020-01-01,2020-02-01,yes\n"), `intervals.csv:2:counted: "yes": expected 1`},
		{intervals(intervalsHead + "A,2020-01-01,2020-02-01,\n"), "intervals.csv:2:counted: blank"},
		{intervals(intervalsHead + "A,2020-01-01,2020-02-01,1\nA,2020-01-31,2020-03-01,1\n"), "intervals.csv:3:start: 2020-01-31 to 2020-03-01 overlaps row 2"},
		{intervals(intervalsHead + "A,2020-01-01,2020-02-01,1\nA,2200-01-01,2200-02-01,1\n"), "intervals.csv:3:end: more than 3660 days after the first start of its series, 2020-01-01"},
		{degree(degreeHead + "A,2019-01-01,2019-02-01,\n"), "degree.csv:2:hdd: blank"},
		{degree(degreeHead + "A,2019-01-01,2019-02-01,-3\n"), `degree.csv:2:hdd: "-3": expected 0 or more`},
		{degree(degreeHead + "A,2019-01-01,2019-02-01,3\nA,2019-01-15,2019-02-01,3\n"), "degree.csv:3:start: 2019-01-15 to 2019-02-01 overlaps row 2"},
		{plants("group\nx\n"), "plants.csv:1:series_id: the column is missing"},
		{plants(plantsHead + "A,0,,\n"), `plants.csv:2:tankage_l: "0": expected a number above 0, or a blank where it is not known`},
		{plants(plantsHead + "A,,-5,\n"), `plants.csv:2:peak_kw: "-5": expected a number above 0`},
		{plants(plantsHead + "A,1,1,x\nA,1,1,x\n"), `plants.csv:3:series_id: "A" has a row already: keep one`},
	} {
		f, err := Read(context.Background(), tt.given.files())
		if fault.KindOf(err) != fault.Invalid || err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%+v:\n got %v\nwant %s", tt.given, err, tt.says)
		}
		if f != nil {
			t.Errorf("%+v: refused, and yet a fleet", tt.given)
		}
	}
}

func TestAllWrongRowsAreNamedInTheOrderOfTheFiles(t *testing.T) {
	_, err := Read(context.Background(), tables{
		history:   historyHead + "A,2019-01-01,2019-02-01,x\nA,bad,worse,1\n",
		intervals: intervalsHead + "A,2020-01-01,2020-02-01,2\n",
		plants:    plantsHead + "A,x,y,\n",
	}.files())
	var where []string
	for line := range strings.SplitSeq(err.Error(), "\n") {
		if place, _, ok := strings.Cut(line, ": "); ok {
			where = append(where, strings.TrimSpace(place))
		}
	}
	want := []string{"nothing was written", "intervals.csv:2:counted", "history.csv:2:litres", "history.csv:3:start", "history.csv:3:end", "plants.csv:2:tankage_l", "plants.csv:2:peak_kw"}
	if diff := cmp.Diff(want, where); diff != "" {
		t.Error(diff)
	}
}

func TestAThousandWrongRowsAreCountedAndAHundredListed(t *testing.T) {
	_, err := Read(context.Background(), tables{
		history: historyHead + strings.Repeat("A,2019-01-01,2019-02-01,x\n", 1000), intervals: intervalsHead + "A,2020-01-01,2020-02-01,1\n",
	}.files())
	if err == nil || !strings.HasPrefix(err.Error(), "nothing was written: 1000 problems, of which 900 are not listed\n") || strings.Count(err.Error(), "\n") != 100 {
		t.Error(err)
	}
}

func TestReadingStopsWhenItIsCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Read(ctx, tables{history: historyHead + "A,2019-01-01,2019-02-01,1\n", intervals: intervalsHead + "A,2020-01-01,2020-02-01,1\n"}.files()); err != context.Canceled {
		t.Error(err)
	}
}
