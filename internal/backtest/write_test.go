package backtest

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/forecast"
	"overwinter/internal/notice"
)

func TestLitresHaveSixSignificantDigitsAndAllWholeLitres(t *testing.T) {
	for _, tt := range []struct {
		litres float64
		want   string
	}{
		{0, "0"}, {1234567.89, "1234568"}, {123456.7, "123457"}, {12345.67, "12345.7"}, {1.23456789, "1.23457"},
		{0.0123456789, "0.012346"}, {-56.789012, "-56.7890"}, {99999.97, "100000.0"}, {1e12, "1000000000000"}, {1e-9, "0.000000"},
	} {
		if got := litres(tt.litres); got != tt.want {
			t.Errorf("%v is written %s, want %s", tt.litres, got, tt.want)
		}
	}
}

func TestAResultBecomesRowsAndNotices(t *testing.T) {
	flat := func(x float64) (out []float64) {
		for range levels {
			out = append(out, x)
		}
		return out
	}
	own := flat(500)
	own[0], own[20] = 400, 600
	s := &Series{ID: `A, the "first"`, Intervals: []Interval{{Span: span("2020-01-01", "2020-02-01"), Counted: true}, {Span: span("2020-03-01", "2020-04-01")}}}
	var out, notes bytes.Buffer
	w, err := NewWriter(&out, &notes)
	if err != nil {
		t.Fatal(err)
	}
	err = w.Result(Result{
		Series: s,
		Rows: []Row{
			{Interval: s.Intervals[0], Number: 1, Own: own, Sum: own, Point: 500, SumPoint: 501},
			{Interval: s.Intervals[1], Number: 2, Own: flat(7), Sum: flat(8), Point: 7, SumPoint: 8},
		},
		Notices: notice.List{{Severity: notice.Caution, Code: "load-step", Subject: s.ID, Message: "use changed", Count: 2}},
		Faults: []forecast.Fault{
			{Interval: forecast.Interval{Start: 17897, End: 17928, Litres: 12345.6}, Expected: 1234, Reason: "a digit too many?"},
			{Interval: forecast.Interval{Start: 17928, End: 17956, Litres: -3}, Reason: "less than nothing burned"},
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	header := "series_id,method,origin,h,date,point,cpoint," +
		"q0.025,q0.05,q0.1,q0.15,q0.2,q0.25,q0.3,q0.35,q0.4,q0.45,q0.5,q0.55,q0.6,q0.65,q0.7,q0.75,q0.8,q0.85,q0.9,q0.95,q0.975," +
		"cq0.025,cq0.05,cq0.1,cq0.15,cq0.2,cq0.25,cq0.3,cq0.35,cq0.4,cq0.45,cq0.5,cq0.55,cq0.6,cq0.65,cq0.7,cq0.75,cq0.8,cq0.85,cq0.9,cq0.95,cq0.975"
	first := "400.000," + strings.Repeat("500.000,", 19) + "600.000"
	want := header + "\n" +
		`"A, the ""first""",ours,2020-01-01,1,2020-01-01,500.000,501.000,` + first + "," + first + "\n" +
		`"A, the ""first""",ours,2020-01-01,2,2020-03-01,7.00000,8.00000` + strings.Repeat(",7.00000", 21) + strings.Repeat(",8.00000", 21) + "\n"
	if diff := cmp.Diff(want, out.String()); diff != "" {
		t.Error(diff)
	}
	records, err := csv.NewReader(&notes).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	// Day 17897 from 1970-01-01: 49 years with 12 leap days are 17897 days, so 2019-01-01.
	if diff := cmp.Diff([][]string{
		{"series_id", "severity", "code", "text", "start", "end"},
		{s.ID, "caution", "load-step", "use changed (2 times)", "", ""},
		{s.ID, "caution", "faulty-interval", "not fitted as it stands: 12345.6 L where 1234.00 L were expected: a digit too many?", "2019-01-01", "2019-02-01"},
		{s.ID, "caution", "faulty-interval", "not fitted as it stands: -3.00000 L: less than nothing burned", "2019-02-01", "2019-03-01"},
	}, records); diff != "" {
		t.Error(diff)
	}
}
