package store

import (
	"database/sql"
	"flag"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the schema dump anew")

const dumpPath = "../../sql/schema/sqlite.sql"

func TestTheSchemaDumpIsCurrent(t *testing.T) {
	got := dump(t, OpenNew(t).sql)
	if *update {
		if err := os.WriteFile(dumpPath, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(dumpPath)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("the dump is behind the migrations: run this test with -update (-dump +migrations)\n%s", diff)
	}
}

// dump gives the schema, the tables of the migration library left out.
func dump(t *testing.T, db *sql.DB) string {
	t.Helper()
	found, err := db.QueryContext(t.Context(), `SELECT sql FROM sqlite_schema
		WHERE sql IS NOT NULL AND tbl_name NOT LIKE 'goose%' AND tbl_name NOT LIKE 'sqlite%'
		ORDER BY tbl_name, type = 'table' DESC, name`)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = found.Close() }()
	text := "-- The tables of an SQLite ledger after all migrations. Written by a test; see DEVELOPERS.md.\n"
	for found.Next() {
		var statement string
		if err := found.Scan(&statement); err != nil {
			t.Fatal(err)
		}
		text += "\n" + statement + ";\n"
	}
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	return text
}

func TestMigrationsGoDownAndUpAgain(t *testing.T) {
	db := OpenNew(t)
	before := dump(t, db.sql)
	migrations, err := db.engine.Migrations(db.sql)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := migrations.DownTo(t.Context(), 0); err != nil {
		t.Fatal(err)
	}
	if left := dump(t, db.sql); strings.Contains(left, "CREATE") {
		t.Errorf("all migrations down leave\n%s", left)
	}
	if err := db.migrate(t.Context()); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(before, dump(t, db.sql)); diff != "" {
		t.Errorf("down and up again (-before +after)\n%s", diff)
	}
}

func TestTablesHaveTheColumnsThatAreBound(t *testing.T) {
	db := OpenNew(t)
	for _, table := range tables {
		found, err := db.sql.QueryContext(t.Context(), `SELECT name FROM pragma_table_info($1)`, table.name)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for found.Next() {
			var name string
			if err := found.Scan(&name); err != nil {
				t.Fatal(err)
			}
			got = append(got, name)
		}
		if err := found.Err(); err != nil {
			t.Fatal(err)
		}
		want := append(table.columnNames(), writtenOnly...)
		slices.Sort(got)
		slices.Sort(want)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("columns of %s (-bound +in the table)\n%s", table.name, diff)
		}
	}
}

// insertOnly are the tables whose rows are never changed.
func insertOnly() []string {
	names := []string{"capacity_points", "advice"}
	for _, table := range tables {
		names = append(names, table.name)
	}
	return names
}

func TestRowsAreNeitherChangedNorDeleted(t *testing.T) {
	db := OpenNew(t)
	for _, name := range insertOnly() {
		// A trigger runs for a row, so there must be one; any will do.
		insertAnything(t, db.sql, name)
		for _, statement := range []string{"DELETE FROM " + name, "UPDATE " + name + " SET rowid = rowid"} {
			statement = strings.ReplaceAll(statement, "rowid", firstColumn(t, db.sql, name))
			if _, err := db.sql.ExecContext(t.Context(), statement); err == nil || !strings.Contains(err.Error(), "never") {
				t.Errorf("%s: %v, want it refused", statement, err)
			}
		}
	}
}

func firstColumn(t *testing.T, db *sql.DB, table string) (name string) {
	t.Helper()
	if err := db.QueryRowContext(t.Context(), `SELECT name FROM pragma_table_info($1) WHERE cid = 0`, table).Scan(&name); err != nil {
		t.Fatal(err)
	}
	return name
}

func insertAnything(t *testing.T, db *sql.DB, table string) {
	t.Helper()
	conn, err := db.Conn(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = conn.Close() }()
	var columns, values []string
	found, err := conn.QueryContext(t.Context(), `SELECT name, type FROM pragma_table_info($1) WHERE "notnull"`, table)
	if err != nil {
		t.Fatal(err)
	}
	for found.Next() {
		var name, kind string
		if err := found.Scan(&name, &kind); err != nil {
			t.Fatal(err)
		}
		columns = append(columns, name)
		values = append(values, map[string]string{"TEXT": "'x'", "INTEGER": "0", "REAL": "0"}[kind])
	}
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	for _, statement := range []string{
		"PRAGMA foreign_keys = 0",
		"INSERT INTO " + table + " (" + strings.Join(columns, ", ") + ") VALUES (" + strings.Join(values, ", ") + ")",
		"PRAGMA foreign_keys = 1",
	} {
		if _, err := conn.ExecContext(t.Context(), statement); err != nil {
			t.Fatalf("%v in %s", err, statement)
		}
	}
}

func TestEveryConnectionHasTheSettings(t *testing.T) {
	db := OpenNew(t)
	for range 4 { // held at once, so that they are different connections
		conn, err := db.sql.Conn(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		defer func() { _ = conn.Close() }()
		for pragma, want := range map[string]string{
			"journal_mode": "wal", "busy_timeout": "5000", "foreign_keys": "1", "synchronous": "2", // 2 is FULL
		} {
			var got string
			if err := conn.QueryRowContext(t.Context(), "PRAGMA "+pragma).Scan(&got); err != nil || got != want {
				t.Errorf("%s is %q, %v: want %q", pragma, got, err, want)
			}
		}
	}
}
