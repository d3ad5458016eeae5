package web

import (
	"html/template"
	"math"

	"overwinter/internal/calendar"
	"overwinter/internal/chart"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// balanceView is a balance line by line.
type balanceView struct {
	From, To           string // the counts; "" where there are no two
	Lines              []balanceRow
	Book, Physical     string
	Variance, Off, Z   string
	Act                bool
	WrittenOff         string // by count corrections, with what remains; "" where there are none
	Remaining          string
	Why, Left, Derived string
}

// balanceRow is a line that adds to a balance or takes from it.
type balanceRow struct{ Name, Text string }

// balanceLine names a line of the balance, its sign, and where it is taken from.
type balanceLine struct {
	name, column, sign string
	of                 func(inventory.Balance) units.LitresAt15
}

var balanceLines = []balanceLine{
	{"received", "received", "+", func(b inventory.Balance) units.LitresAt15 { return b.Received }},
	{"consumed", "consumed", "−", func(b inventory.Balance) units.LitresAt15 { return b.Consumed }},
	{"drawn for heat, vehicles, sale or loan", "drawn", "−", func(b inventory.Balance) units.LitresAt15 { return b.Drawn }},
	{"repaid loans", "repaid", "+", func(b inventory.Balance) units.LitresAt15 { return b.Repaid }},
	{"changed over from another product", "changed", "+", func(b inventory.Balance) units.LitresAt15 { return b.Changed }},
	{"moved between the dips of one round", "moved", "+", func(b inventory.Balance) units.LitresAt15 { return b.Moved }},
	{"out of service with its tank", "out of service", "−", func(b inventory.Balance) units.LitresAt15 { return b.OutOfService }},
}

func (w bookWords) balance(b inventory.Balance) balanceView {
	v := balanceView{Why: w.message(b.Why)}
	if b.From.IsZero() {
		return v
	}
	v.From, v.To = w.clock(b.From), w.clock(b.To)
	v.Lines = []balanceRow{{"opening, by the dips", w.amount(b.Opening)}}
	for _, l := range balanceLines {
		v.Lines = append(v.Lines, balanceRow{l.sign + " " + l.name, w.amount(l.of(b))})
	}
	v.Book, v.Physical = w.amount(b.Book), w.amount(b.Physical)
	if !b.Metered {
		v.Derived = "The consumption is derived from the stock: so the book is what the dips say, and says nothing of its own."
	}
	if b.LeftOut > 0 {
		v.Left = capital(count(b.LeftOut, "movement inside looks wrong and is", "movements inside look wrong and are")) + " left out."
	}
	if b.Known {
		v.Variance, v.Off, v.Z, v.Act = w.amount(b.Variance), w.amount(b.Sigma), ratio(b.Z), inventory.Beyond(b.Z)
	}
	if b.Known && b.Corrected != 0 {
		v.WrittenOff, v.Remaining = w.amount(b.Corrected), w.amount(b.Remaining)
	}
	return v
}

// monthsView is the table by months. Lines that are nothing in every month have no column.
type monthsView struct {
	Columns []string
	Rows    []monthRow
	Spare   bool // columns were left out
	Charted bool
}

type monthRow struct {
	Month              string
	Opening            string
	Cells              []string
	Book, Physical     string
	Variance, Off, Z   string
	Act                bool
	Sum, SumOff, SumZ  string
	SumAct             bool
	Since, Screen, Why string
	Limit              string
}

func (w bookWords) months(t inventory.BalanceTable) monthsView {
	var v monthsView
	all := t.Months
	var shown []balanceLine
	for i, l := range balanceLines {
		used := i < 2 // received and consumed always
		for _, m := range all {
			used = used || math.Abs(float64(l.of(m.Balance))) >= 0.5
		}
		if used {
			shown, v.Columns = append(shown, l), append(v.Columns, l.column)
		}
	}
	v.Spare = len(shown) < len(balanceLines)
	for _, m := range all {
		row := monthRow{Month: monthName(calendar.MonthOf(calendar.DayOf(m.Asked[0], w.zone))), Opening: w.amount(m.Opening),
			Book: w.amount(m.Book), Physical: w.amount(m.Physical), Why: w.message(m.Why)}
		for _, l := range shown {
			row.Cells = append(row.Cells, w.amount(l.of(m.Balance)))
		}
		if m.Known {
			w.variance(&row, m, t.Finding)
		}
		v.Rows = append(v.Rows, row)
	}
	return v
}

// variance fills in how far a month's dips lie from its book, and how far the running sum has come. What the finding rests
// on is marked.
func (w bookWords) variance(row *monthRow, m inventory.BalanceLine, f inventory.Finding) {
	row.Variance, row.Off, row.Z = w.amount(m.Variance), w.amount(m.Sigma), ratio(m.Z)
	row.Sum, row.SumOff, row.SumZ = w.amount(m.Sum), w.amount(m.SumSigma), ratio(m.SumZ)
	if m.To.Equal(f.Until) && f.Verdict != inventory.NothingMissing {
		row.Act, row.SumAct = f.OneMonth, !f.OneMonth
	}
	row.Since, row.Limit, row.Screen = w.short(m.Since), w.amount(m.Screen.Limit), "not a month"
	switch {
	case m.Screen.Beyond:
		row.Screen = "beyond"
	case m.Screen.Applies:
		row.Screen = "within"
	}
}

// sourceRow is where the uncertainty of a variance comes from.
type sourceRow struct{ Name, Off, Meter, Dips, Table, Temperature, Density, Movements string }

// sources lists the uncertainties by source: of all of the stretch, then by months.
func (w bookWords) sources(t inventory.BalanceTable) []sourceRow {
	var rows []sourceRow
	add := func(name string, b inventory.Balance) {
		if s := b.Sources; b.Known {
			rows = append(rows, sourceRow{name, w.amount(b.Sigma), w.amount(s.Meter), w.amount(s.Dips), w.amount(s.Table), w.amount(s.Temperature), w.amount(s.Density), w.amount(s.Movements)})
		}
	}
	add("all of the stretch", t.Whole)
	for _, m := range t.Months {
		add(monthName(calendar.MonthOf(calendar.DayOf(m.Asked[0], w.zone))), m.Balance)
	}
	return rows
}

// likely95 is how many standard uncertainties make an interval of 95 %.
const likely95 = 1.96

// chart draws the running sum, "" where there is none.
func (w bookWords) chart(all []inventory.BalanceLine) template.HTML {
	r := chart.Running{ID: "sum", Title: "Running sum of the variance", Unit: w.scale.Label,
		Desc: "The sum of the variances from count to count, over a wash as wide as the instruments’ own errors make in 95 of 100 cases. The figures are in the table below."}
	shown := func(v units.LitresAt15) float64 { return w.scale.FromStored(float64(v)) }
	open := false
	for _, m := range all {
		if !m.Known {
			open = false
			continue
		}
		from, to := calendar.DayOf(m.From, w.zone), calendar.DayOf(m.To, w.zone)
		if len(r.Stretches) == 0 {
			r.Axis.From = from
		}
		if !open || !m.Since.Before(m.From) {
			r.Stretches = append(r.Stretches, []chart.SumPoint{{Day: from}})
			open = true
		}
		last := len(r.Stretches) - 1
		r.Stretches[last] = append(r.Stretches[last], chart.SumPoint{Day: to, Sum: shown(m.Sum), Off: likely95 * shown(m.SumSigma)})
		r.Axis.Until = to
	}
	if len(r.Stretches) == 0 {
		return ""
	}
	return r.Draw()
}
