package store

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/inventory"
	"overwinter/internal/store/storetest"
	"overwinter/internal/units"
)

// columnsOfViews says for each engine which columns views have, as view.column.
var columnsOfViews = map[string]string{
	"SQLite": `SELECT m.name || '.' || c.name FROM sqlite_schema AS m JOIN pragma_table_info(m.name) AS c
		WHERE m.type = 'view' ORDER BY m.name, c.cid`,
	"PostgreSQL": `SELECT v.relname || '.' || a.attname FROM pg_class AS v JOIN pg_attribute AS a ON a.attrelid = v.oid AND a.attnum > 0
		WHERE v.relnamespace = CAST('public' AS regnamespace) AND v.relkind = 'v' ORDER BY v.relname COLLATE "C", a.attnum`,
}

// SQLite knows no zones, so that it lacks the clock at the plant.
func TestViewsHaveTheSameColumnsOnEveryEngine(t *testing.T) {
	lite := rowsOf[string](t, OpenNew(t).sql, columnsOfViews["SQLite"])
	var postgres []string
	for _, column := range rowsOf[string](t, OpenNewPostgres(t).sql, columnsOfViews["PostgreSQL"]) {
		if !strings.HasSuffix(column, "at_plant") && !strings.HasSuffix(column, "issued_plant") {
			postgres = append(postgres, column)
		}
	}
	if diff := cmp.Diff(lite, postgres); diff != "" {
		t.Errorf("columns of views (-SQLite +PostgreSQL)\n%s", diff)
	}
	for _, table := range tables {
		if len(rowsOf[string](t, OpenNew(t).sql, `SELECT name FROM pragma_table_info($1)`, table.name+"_in_force")) == 0 {
			t.Errorf("there is no view of the %s in force", table.name)
		}
	}
}

// gaugedTwice is a plant whose tank was gauged, wrongly at first, in the hour that comes twice there.
func gaugedTwice() inventory.Rows {
	twice := time.Date(2026, 11, 1, 10, 30, 0, 250_000_000, time.UTC)
	depth, right := units.Millimetres(1500), units.Millimetres(150)
	return inventory.Rows{
		Plants: []*inventory.Plant{
			{Entry: inventory.Entry{Key: "p"}, ID: "kotlik", Name: "Køtlik", Zone: "America/Anchorage"},
			{Entry: inventory.Entry{Key: "q"}, ID: "nowhere", Name: "Nowhere", Zone: "Atlantis/Capital"},
		},
		Tanks: []*inventory.Tank{{Entry: inventory.Entry{Key: "t"}, Plant: "kotlik", ID: "1", Role: inventory.Storage}},
		Gaugings: []*inventory.Gauging{
			{Entry: inventory.Entry{Key: "wrong"}, Plant: "kotlik", Tank: "1", At: twice, Depth: &depth},
			{Entry: inventory.Entry{Key: "right", Replaces: "wrong", Why: "misread"}, Plant: "kotlik", Tank: "1", At: twice, Depth: &right},
			{Entry: inventory.Entry{Key: "elsewhere"}, Plant: "nowhere", Tank: "9", At: twice},
			{Entry: inventory.Entry{Key: "withdrawn", Replaces: "void", Void: true}, Plant: "kotlik", Tank: "1", At: twice},
			{Entry: inventory.Entry{Key: "void"}, Plant: "kotlik", Tank: "1", At: twice},
		},
	}
}

func TestViewsShowWhatIsInForceInWordsForPeople(t *testing.T) {
	const columns = `plant_name || '|' || coalesce(tank_role, '?') || '|' || coalesce(CAST(depth_mm AS bigint), -1) || '|' || why || '|' || `
	for engine, c := range map[string]struct {
		instant string
		want    []string
	}{
		"SQLite": {"at", []string{
			"Køtlik|storage|150|misread|2026-11-01 10:30:00.250Z",
			"Nowhere|?|-1||2026-11-01 10:30:00.250Z",
		}},
		"PostgreSQL": {"(at AT TIME ZONE 'UTC') || '|' || coalesce(CAST(at_plant AS text), 'no clock')", []string{
			"Køtlik|storage|150|misread|2026-11-01 10:30:00.25|2026-11-01 01:30:00.25",
			"Nowhere|?|-1||2026-11-01 10:30:00.25|no clock",
		}},
	} {
		t.Run(engine, func(t *testing.T) {
			db := map[string]func(testing.TB) *DB{"SQLite": OpenNew, "PostgreSQL": OpenNewPostgres}[engine](t)
			if _, err := db.Record(t.Context(), gaugedTwice(), time.Unix(0, 0)); err != nil {
				t.Fatal(err)
			}
			got := rowsOf[string](t, db.sql, `SELECT `+columns+c.instant+` FROM gaugings_in_force ORDER BY plant`)
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("gaugings in force (-want +got)\n%s", diff)
			}
		})
	}
}

func TestEveryViewShowsTheRowInForceOfItsKind(t *testing.T) {
	onEveryEngine(t, func(t *testing.T, db *DB) {
		if _, err := db.Record(t.Context(), storetest.Samples(), time.Unix(0, 0)); err != nil {
			t.Fatal(err)
		}
		for _, table := range tables {
			got := rowsOf[string](t, db.sql, `SELECT key FROM (SELECT * FROM `+table.name+`_in_force) AS v`)
			if diff := cmp.Diff([]string{"full"}, got); diff != "" {
				t.Errorf("%s in force (-want +got)\n%s", table.name, diff)
			}
		}
	})
}
