package store

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// columnFacts is what engines must have in common about a column.
type columnFacts struct {
	Table, Column string
	Kind          string // text, integer, real or boolean
	Required      bool
	Key           int // its place in the primary key, from 1; 0 if it has none
}

var catalogues = map[string]string{
	"SQLite": `SELECT m.name, c.name,
			CASE WHEN instr(m.sql, 'CHECK (' || c.name || ' IN (0, 1))') > 0 THEN 'boolean' ELSE lower(c.type) END,
			c."notnull", c.pk
		FROM sqlite_schema AS m JOIN pragma_table_info(m.name) AS c
		WHERE m.type = 'table' AND m.name NOT LIKE 'goose%' AND m.name NOT LIKE 'sqlite%'
		ORDER BY m.name, c.cid`,
	"PostgreSQL": `SELECT t.relname, a.attname, format_type(a.atttypid, a.atttypmod), a.attnotnull,
			coalesce(array_position(k.conkey, a.attnum), 0)
		FROM pg_class AS t JOIN pg_attribute AS a ON a.attrelid = t.oid AND a.attnum > 0
		LEFT JOIN pg_constraint AS k ON k.conrelid = t.oid AND k.contype = 'p'
		WHERE t.relnamespace = CAST('public' AS regnamespace) AND t.relkind = 'r' AND t.relname NOT LIKE 'goose%'
		ORDER BY t.relname COLLATE "C", a.attnum`,
}

var kinds = map[string]string{"bigint": "integer", "double precision": "real"}

// catalogue lists the columns of a ledger's tables.
func (db *DB) catalogue(t *testing.T) []columnFacts {
	t.Helper()
	found, err := db.sql.QueryContext(t.Context(), catalogues[db.engine.Name])
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = found.Close() }()
	var all []columnFacts
	for found.Next() {
		var c columnFacts
		if err := found.Scan(&c.Table, &c.Column, &c.Kind, &c.Required, &c.Key); err != nil {
			t.Fatal(err)
		}
		if known, ok := kinds[c.Kind]; ok {
			c.Kind = known
		}
		all = append(all, c)
	}
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	return all
}

func TestTablesAreTheSameOnEveryEngine(t *testing.T) {
	lite, postgres := OpenNew(t).catalogue(t), OpenNewPostgres(t).catalogue(t)
	if diff := cmp.Diff(lite, postgres); diff != "" || len(lite) == 0 {
		t.Errorf("columns (-SQLite +PostgreSQL)\n%s", diff)
	}
}

func TestTextComparesByBytes(t *testing.T) {
	linguistic := rowsOf[string](t, OpenNewPostgres(t).sql, `SELECT t.relname || '.' || a.attname
		FROM pg_class AS t JOIN pg_attribute AS a ON a.attrelid = t.oid AND a.attnum > 0
		JOIN pg_collation AS l ON l.oid = a.attcollation
		WHERE t.relnamespace = CAST('public' AS regnamespace) AND t.relkind = 'r' AND t.relname NOT LIKE 'goose%' AND l.collname <> 'C'`)
	if linguistic != nil {
		t.Errorf("columns that sort in the order of a language: %v", linguistic)
	}
}

func TestTablesHaveTheColumnsThatAreBound(t *testing.T) {
	onEveryEngine(t, func(t *testing.T, db *DB) {
		got := map[string][]string{}
		for _, c := range db.catalogue(t) {
			got[c.Table] = append(got[c.Table], c.Column)
		}
		for _, table := range tables {
			want := append(table.columnNames(), writtenOnly...)
			slices.Sort(want)
			slices.Sort(got[table.name])
			if diff := cmp.Diff(want, got[table.name]); diff != "" {
				t.Errorf("columns of %s (-bound +in the table)\n%s", table.name, diff)
			}
		}
	})
}

// insertOnly are the tables whose rows are never changed.
func insertOnly() []string {
	names := []string{"capacity_points", "advice", "forecasts"}
	for _, table := range tables {
		names = append(names, table.name)
	}
	return names
}

// withoutReferences are the statements that let a row refer to one that is not there, and their undoing.
var withoutReferences = map[string][2]string{
	"SQLite":     {"PRAGMA foreign_keys = 0", "PRAGMA foreign_keys = 1"},
	"PostgreSQL": {"SET session_replication_role = replica", "SET session_replication_role = origin"},
}

func TestRowsAreNeitherChangedNorDeleted(t *testing.T) {
	onEveryEngine(t, func(t *testing.T, db *DB) {
		columns := db.catalogue(t)
		for _, name := range insertOnly() {
			first := insertAnything(t, db, name, columns) // a trigger may run for a row only, so there must be one
			statements := []string{"DELETE FROM " + name, "UPDATE " + name + " SET " + first + " = " + first}
			if db.engine.Name == "PostgreSQL" {
				statements = append(statements, "TRUNCATE "+name+" CASCADE")
			}
			for _, statement := range statements {
				if _, err := db.sql.ExecContext(t.Context(), statement); err == nil || !strings.Contains(err.Error(), "never") {
					t.Errorf("%s: %v, want it refused", statement, err)
				}
			}
		}
	})
}

// insertAnything writes a row that states what must be stated; it gives the name of the first column.
func insertAnything(t *testing.T, db *DB, table string, all []columnFacts) (first string) {
	t.Helper()
	var columns, values []string
	for _, c := range all {
		if c.Table != table {
			continue
		}
		if first == "" {
			first = c.Column
		}
		if c.Required {
			columns = append(columns, c.Column)
			values = append(values, map[string]string{"text": "'x'", "integer": "0", "real": "0", "boolean": "false"}[c.Kind])
		}
	}
	conn, err := db.sql.Conn(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = conn.Close() }()
	off, on := withoutReferences[db.engine.Name][0], withoutReferences[db.engine.Name][1]
	insert := "INSERT INTO " + table + " (" + strings.Join(columns, ", ") + ") VALUES (" + strings.Join(values, ", ") + ")"
	for _, statement := range []string{off, insert, on} {
		if _, err := conn.ExecContext(t.Context(), statement); err != nil {
			t.Fatalf("%v in %s", err, statement)
		}
	}
	return first
}
