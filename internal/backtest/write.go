package backtest

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/forecast"
	"overwinter/internal/notice"
)

// The codes of notices of this package; those of the consumption model stand beside them.
const (
	CodeNoForecast  = "no-forecast"      // nothing to forecast from: the series has no rows
	CodeAfterOrigin = "after-origin"     // history that was not known yet
	CodeFaulty      = "faulty-interval"  // a row of history that is no plausible reading
	CodeStray       = "series-unmatched" // in a side file alone
)

// method is the name of this model in the column method.
const method = "ours"

// Writer writes results as the two tables of docs/backtest.md.
type Writer struct {
	rows, notices *csv.Writer
	record        []string
}

// NewWriter writes the headers.
func NewWriter(rows, notices io.Writer) (*Writer, error) {
	w := &Writer{rows: csv.NewWriter(rows), notices: csv.NewWriter(notices)}
	header := []string{"series_id", "method", "origin", "h", "date", "point", "cpoint"}
	for _, prefix := range []string{"q", "cq"} {
		for _, p := range levels {
			header = append(header, prefix+strconv.FormatFloat(p, 'f', -1, 64))
		}
	}
	if err := w.rows.Write(header); err != nil {
		return nil, unwritten(err)
	}
	err := w.notices.Write([]string{"series_id", "severity", "code", "text", "start", "end"})
	return w, unwritten(err)
}

// Result writes one series.
func (w *Writer) Result(r Result) error {
	for _, row := range r.Rows {
		w.record = append(w.record[:0], r.Series.ID, method, r.Series.Origin().String(), strconv.Itoa(row.Number), row.Start.String(),
			litres(row.Point), litres(row.SumPoint))
		for _, quantiles := range [][]float64{row.Own, row.Sum} {
			for _, q := range quantiles {
				w.record = append(w.record, litres(q))
			}
		}
		if err := w.rows.Write(w.record); err != nil {
			return unwritten(err)
		}
	}
	for _, n := range r.Notices {
		if err := w.notice(n, "", ""); err != nil {
			return err
		}
	}
	for _, f := range r.Faults {
		if err := w.notice(faulty(r.Series.ID, f), day(f.Interval.Start), day(f.Interval.End)); err != nil {
			return err
		}
	}
	return nil
}

// Notices writes notices that belong to no result.
func (w *Writer) Notices(notes notice.List) error {
	for _, n := range notes {
		if err := w.notice(n, "", ""); err != nil {
			return err
		}
	}
	return nil
}

// Close writes what was gathered.
func (w *Writer) Close() error {
	w.rows.Flush()
	w.notices.Flush()
	if err := w.rows.Error(); err != nil {
		return unwritten(err)
	}
	return unwritten(w.notices.Error())
}

func (w *Writer) notice(n notice.Notice, start, end string) error {
	text := n.Message
	if n.Count > 1 {
		text += " (" + strconv.Itoa(n.Count) + " times)"
	}
	return unwritten(w.notices.Write([]string{n.Subject, string(n.Severity), n.Code, text, start, end}))
}

// faulty puts a row that was not fitted as it stands into words.
func faulty(id string, f forecast.Fault) notice.Notice {
	expected := ""
	if f.Expected > 0 {
		expected = " where " + litres(float64(f.Expected)) + " L were expected"
	}
	return notice.New(notice.Caution, CodeFaulty, id, "not fitted as it stands: %s L%s: %s", litres(float64(f.Interval.Litres)), expected, f.Reason)
}

func day(moment float64) string { return calendar.Day(math.Floor(moment)).String() }

// litres writes a number to at least six significant digits, and to the whole litre where it has more.
func litres(x float64) string {
	const significant, most = 6, 6
	decimals := most
	if size := math.Abs(x); size > 0 {
		decimals = min(max(significant-1-int(math.Floor(math.Log10(size))), 0), most)
	}
	if x == 0 {
		decimals = 0
	}
	return strconv.FormatFloat(x, 'f', decimals, 64)
}

func unwritten(err error) error {
	if err == nil {
		return nil
	}
	return fault.Wrap(fault.Internal, err, "the results cannot be written")
}
