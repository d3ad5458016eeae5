package store

import (
	"slices"

	"overwinter/internal/inventory"
)

// table says how one kind of row is kept.
type table struct {
	kind     inventory.Kind
	name     string
	query    string   // the block of sql/queries that reads the rows in force
	identity []string // the columns that no two rows in force share; nil for a kind without ids

	empty   func() inventory.Record                 // a record to read into
	clone   func(inventory.Record) inventory.Record // a copy of the record itself, not of what it points to
	columns func(inventory.Record) []column         // the columns bound to that record's fields, key first
}

// writtenOnly are the columns that no record carries; they follow the others in an insertion.
var writtenOnly = []string{"digest", "recorded_ms", "position"}

// ledger makes the table of one kind; content binds its own columns, the entry's come before them.
func ledger[T any, P interface {
	*T
	inventory.Record
}](name, query string, content func(P) []column) table {
	return table{
		kind:  P(new(T)).Kind(),
		name:  name,
		query: query,
		empty: func() inventory.Record { return P(new(T)) },
		clone: func(r inventory.Record) inventory.Record {
			copied := *r.(P)
			return P(&copied)
		},
		columns: func(r inventory.Record) []column {
			return append(entryColumns(r.Base()), content(r.(P))...)
		},
	}
}

// known makes the table of a kind of which the directory holds one row in force for each identity.
func (t table) known(by ...string) table {
	t.identity = by
	return t
}

func (t table) columnNames() []string {
	var names []string
	for _, c := range t.columns(t.empty()) {
		names = append(names, c.name)
	}
	return names
}

// plantColumn is where a row of the table names its plant, as SQL; alias is what the row is called there.
func (t table) plantColumn(alias string) string {
	switch columns := t.columnNames(); {
	case t.kind == inventory.KindPlant:
		return alias + "id"
	case slices.Contains(columns, "plant"):
		return alias + "plant"
	default:
		return "''"
	}
}

func tableOf(kind inventory.Kind) table {
	return tables[slices.IndexFunc(tables, func(t table) bool { return t.kind == kind })]
}

func entryColumns(e *inventory.Entry) []column {
	return []column{
		{"key", &e.Key}, {"replaces", reference(&e.Replaces)}, {"void", &e.Void}, {"who", &e.Who}, {"why", &e.Why},
	}
}
