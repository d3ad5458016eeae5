package importer

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// need says when a column must be filled in.
type need int

const (
	optional need = iota
	filled        // in every row that stands for something
	always        // in a row that withdraws another, too
)

// column is one column of a file. With a dimension its header ends in a unit: depth_mm, depth_in.
type column struct {
	name string
	need need
	in   *units.Dimension
	per  bool // the number is per unit: a price per gallon
}

// sheet is one kind of file: its columns, and how a row of it becomes a record.
type sheet struct {
	file     string
	columns  []column
	build    func(*row) record               // nil where a row makes no record of its own
	identity func(r inventory.Record) string // the default key, of the identifying columns
	kind     inventory.Kind
	// referred means that other rows refer to these, and single that of two rows with one identity only one
	// can be in force.
	referred, single bool
	refers           []*sheet // to whose rows these refer
}

// record is a ledger row that can be checked.
type record interface {
	inventory.Record
	Check(dir *inventory.Directory, now time.Time) []fault.Field
}

// doubtful is a record that may hold values worth a notice.
type doubtful interface {
	Doubts(dir *inventory.Directory) []notice.Notice
}

// everywhere are the columns of every file whose rows are ledger rows.
var everywhere = []column{{name: "key"}, {name: "replaces"}, {name: "void"}, {name: "who"}, {name: "why"}}

// define makes a sheet whose rows become ledger rows.
func define[T record](file string, columns []column, build func(*row) T, identity func(T) string) *sheet {
	var none T
	return &sheet{
		file:     file,
		columns:  slices.Concat(columns, everywhere),
		build:    func(r *row) record { return build(r) },
		identity: func(r inventory.Record) string { return identity(r.(T)) },
		kind:     none.Kind(),
	}
}

// directory marks a sheet whose rows others refer to.
func (s *sheet) directory() *sheet {
	s.referred, s.single = true, true
	return s
}

// onlyOne marks a sheet of which one row at most is in force for one thing.
func (s *sheet) onlyOne() *sheet {
	s.single = true
	return s
}

// to names the sheets whose rows these refer to.
func (s *sheet) to(others ...*sheet) *sheet {
	s.refers = others
	return s
}

// headers gives the headers that a column may have, with the unit of each.
func (c column) headers() map[string]units.Scale {
	if c.in == nil {
		return map[string]units.Scale{c.name: {Factor: 1}}
	}
	all := map[string]units.Scale{}
	for _, scale := range c.in.Scales {
		if c.per {
			scale.Factor = 1 / scale.Factor
		}
		all[c.name+"_"+scale.Name] = scale
	}
	return all
}

// label is the column as a list of expected columns shows it.
func (c column) label() string {
	if c.in == nil {
		return c.name
	}
	return c.name + "_…"
}

// head resolves the header line. The problems it finds are given by column name.
func (s *sheet) head(names []string) (cells []cell, found []fault.Field) {
	at := make([]int, len(s.columns)) // position + 1 of each column
	cells = make([]cell, len(s.columns))
	for position, name := range names {
		i, scale, ok := s.column(name)
		switch {
		case !ok:
			found = append(found, fault.Field{Where: name, Message: s.stranger(name, position)})
		case at[i] > 0 && names[at[i]-1] == name:
			found = append(found, fault.Field{Where: name, Message: "the column stands twice: keep one"})
		case at[i] > 0:
			found = append(found, fault.Field{Where: name, Message: fmt.Sprintf(
				"%s stands in two units, %s and %s: keep one", s.columns[i].name, names[at[i]-1], name)})
		default:
			at[i] = position + 1
			cells[i] = cell{header: name, position: position, scale: scale}
		}
	}
	for i, c := range s.columns {
		if at[i] > 0 {
			continue
		}
		cells[i] = cell{header: c.name, position: absent}
		if c.need != optional {
			found = append(found, fault.Field{Where: c.label(), Message: "the column is missing: " + c.wanted()})
		}
	}
	return cells, found
}

// wanted says how a missing column is to be named.
func (c column) wanted() string {
	if c.in == nil {
		return "add it to the header"
	}
	return "add it to the header with its unit: " + c.choices()
}

// choices lists the headers that a column may have.
func (c column) choices() string {
	var names []string
	for _, unit := range c.in.Names() {
		names = append(names, c.name+"_"+unit)
	}
	return strings.Join(names, ", ")
}

// cell is where a column stands in one file.
type cell struct {
	header   string
	position int
	scale    units.Scale
}

const absent = -1

func (s *sheet) column(header string) (int, units.Scale, bool) {
	for i, c := range s.columns {
		if scale, ok := c.headers()[header]; ok {
			return i, scale, true
		}
	}
	return 0, units.Scale{}, false
}

// stranger says what may be meant by a header that the sheet does not know.
func (s *sheet) stranger(name string, position int) string {
	if name == "" {
		return fmt.Sprintf("column %d has no name: name it or take it out", position+1)
	}
	for _, separator := range []string{";", "\t"} {
		if strings.Contains(name, separator) {
			return fmt.Sprintf("the columns are separated by %q: save the file with commas", separator)
		}
	}
	var known, labels []string
	for _, c := range s.columns {
		labels = append(labels, c.label())
		if c.in == nil {
			known = append(known, c.name)
		} else if name == c.name {
			return "the column needs its unit: " + c.choices()
		}
	}
	if near := nearest(name, known); near != "" {
		return "unknown column: did you mean " + near + "?"
	}
	if c := s.quantity(name); c != nil {
		return fmt.Sprintf("%s is no unit of %s: expected %s", quote(name[len(c.name)+1:]), c.in.Name, c.choices())
	}
	for _, c := range s.columns {
		if c.in != nil {
			known = append(known, strings.Split(c.choices(), ", ")...)
		}
	}
	if near := nearest(name, known); near != "" {
		return "unknown column: did you mean " + near + "?"
	}
	return "unknown column: expected " + strings.Join(labels, ", ")
}

// quantity finds the column with the longest name that a header with an unknown unit begins with.
func (s *sheet) quantity(header string) *column {
	var best *column
	for i, c := range s.columns {
		if c.in != nil && strings.HasPrefix(header, c.name+"_") && (best == nil || len(c.name) > len(best.name)) {
			best = &s.columns[i]
		}
	}
	return best
}
