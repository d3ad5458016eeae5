package store

import (
	"database/sql"
	"flag"
	"io/fs"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	sqltext "overwinter/sql"
)

var update = flag.Bool("update", false, "write the schema dumps anew")

// dumps says for each engine where its schema is kept, and the query that gives its statements, the
// table of the migration library left out. Of PostgreSQL's views only the columns are given, since
// releases print the rest in ways of their own.
var dumps = map[string]struct{ path, query string }{
	"SQLite": {"../../sql/schema/sqlite.sql", `SELECT sql FROM sqlite_schema
		WHERE sql IS NOT NULL AND tbl_name NOT LIKE 'goose%' AND tbl_name NOT LIKE 'sqlite%'
		ORDER BY tbl_name, type = 'table' DESC, name`},
	"PostgreSQL": {"../../sql/schema/postgres.sql", postgresDump},
}

const postgresDump = `
WITH relation AS (
	SELECT c.oid, c.relname AS name, c.relkind AS kind
	FROM pg_class AS c JOIN pg_namespace AS n ON n.oid = c.relnamespace
	WHERE n.nspname = 'public' AND c.relkind IN ('r', 'v') AND c.relname NOT LIKE 'goose%'
), columns AS (
	SELECT r.oid, string_agg('    ' || a.attname || ' ' || format_type(a.atttypid, a.atttypmod)
		|| CASE WHEN l.collname = 'C' THEN ' COLLATE "C"' ELSE '' END
		|| CASE WHEN a.attnotnull THEN ' NOT NULL' ELSE '' END, E',\n' ORDER BY a.attnum) AS text
	FROM relation AS r JOIN pg_attribute AS a ON a.attrelid = r.oid AND a.attnum > 0
	LEFT JOIN pg_collation AS l ON l.oid = a.attcollation
	GROUP BY r.oid
), statements AS (
	SELECT r.name, 1 AS part, '' AS sub, CASE r.kind WHEN 'r' THEN 'CREATE TABLE ' ELSE 'CREATE VIEW ' END || r.name || E' (\n' || c.text || E'\n)' AS text
	FROM relation AS r JOIN columns AS c ON c.oid = r.oid
	UNION ALL
	SELECT r.name, 2, k.conname, 'ALTER TABLE ' || r.name || ' ADD CONSTRAINT ' || k.conname || ' ' || pg_get_constraintdef(k.oid)
	FROM relation AS r JOIN pg_constraint AS k ON k.conrelid = r.oid AND k.contype IN ('p', 'u', 'f', 'c')
	UNION ALL
	SELECT r.name, 3, i.indexrelid::regclass::text, pg_get_indexdef(i.indexrelid)
	FROM relation AS r JOIN pg_index AS i ON i.indrelid = r.oid AND NOT i.indisprimary
	UNION ALL
	SELECT r.name, 4, g.tgname, pg_get_triggerdef(g.oid)
	FROM relation AS r JOIN pg_trigger AS g ON g.tgrelid = r.oid AND NOT g.tgisinternal
	UNION ALL
	SELECT '', 0, p.proname, 'CREATE FUNCTION ' || p.proname || '(' || pg_get_function_identity_arguments(p.oid) || ') RETURNS ' || pg_get_function_result(p.oid)
	FROM pg_proc AS p JOIN pg_namespace AS n ON n.oid = p.pronamespace
	WHERE n.nspname = 'public'
)
SELECT text FROM statements ORDER BY name COLLATE "C", part, sub COLLATE "C"`

// dump gives the schema of a ledger.
func (db *DB) dump(t *testing.T) string {
	t.Helper()
	text := "-- The tables of a ledger with " + db.engine.Name + " after all migrations. Written by a test; see DEVELOPERS.md.\n"
	for _, statement := range rowsOf[string](t, db.sql, dumps[db.engine.Name].query) {
		text += "\n" + statement + ";\n"
	}
	return text
}

// rowsOf reads a query of one column.
func rowsOf[T any](t *testing.T, db *sql.DB, query string, args ...any) []T {
	t.Helper()
	found, err := db.QueryContext(t.Context(), query, args...)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = found.Close() }()
	var all []T
	for found.Next() {
		var value T
		if err := found.Scan(&value); err != nil {
			t.Fatal(err)
		}
		all = append(all, value)
	}
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	return all
}

func TestTheSchemaDumpIsCurrent(t *testing.T) {
	onEveryEngine(t, func(t *testing.T, db *DB) {
		got, path := db.dump(t), dumps[db.engine.Name].path
		if *update {
			if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(want), got); diff != "" {
			t.Errorf("the dump is behind the migrations: run this test with -update (-dump +migrations)\n%s", diff)
		}
	})
}

func TestMigrationsGoDownAndUpAgain(t *testing.T) {
	onEveryEngine(t, func(t *testing.T, db *DB) {
		before := db.dump(t)
		migrations, err := db.engine.Migrations(db.sql)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := migrations.DownTo(t.Context(), 0); err != nil {
			t.Fatal(err)
		}
		if left := db.dump(t); strings.Contains(left, "CREATE") {
			t.Errorf("all migrations down leave\n%s", left)
		}
		if err := db.migrate(t.Context()); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(before, db.dump(t)); diff != "" {
			t.Errorf("down and up again (-before +after)\n%s", diff)
		}
	})
}

func TestMigrationsHaveTheSameNumbersAndNames(t *testing.T) {
	lite, err := fs.Glob(sqltext.SQLiteMigrations(), "*")
	if err != nil {
		t.Fatal(err)
	}
	postgres, err := fs.Glob(sqltext.PostgresMigrations(), "*")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(lite, postgres); diff != "" || len(lite) == 0 {
		t.Errorf("migrations (-SQLite +PostgreSQL)\n%s", diff)
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
