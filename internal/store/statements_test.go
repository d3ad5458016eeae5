package store

import (
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	sqltext "overwinter/sql"
)

func TestEveryStatementIsUnderstoodByTheEngine(t *testing.T) {
	onEveryEngine(t, func(t *testing.T, db *DB) {
		for _, statement := range db.text.all() {
			prepared, err := db.sql.PrepareContext(t.Context(), statement)
			if err != nil {
				t.Errorf("%v in\n%s", err, statement)
				continue
			}
			_ = prepared.Close()
		}
	})
}

// all gives the text of every statement, whatever its field.
func (s statements) all() []string {
	texts := textsOf(s)
	for _, k := range s.kinds {
		texts = append(texts, textsOf(k)...)
	}
	return texts
}

func textsOf(s any) (texts []string) {
	for _, field := range reflect.ValueOf(s).Fields() {
		if field.Kind() == reflect.String && field.String() != "" {
			texts = append(texts, field.String())
		}
	}
	return texts
}

func TestEveryQueryIsUsed(t *testing.T) {
	_, unused, err := loadStatements(sqltext.Queries())
	if err != nil || unused != nil {
		t.Errorf("unused queries: %v, %v", unused, err)
	}
}

func TestQueryFilesAreRead(t *testing.T) {
	blocks, err := parseBlocks(fstest.MapFS{
		"a.sql": {Data: []byte("-- About.\n\n-- name: One\n-- In no order.\nSELECT 1\nFROM a;\n\n-- name: Two\nSELECT 2;\n")},
		"b.sql": {Data: []byte("-- name: Three\nSELECT 3;")},
	})
	if err != nil || len(blocks) != 3 || blocks["One"] != "SELECT 1\nFROM a" || blocks["Three"] != "SELECT 3" {
		t.Errorf("parseBlocks gives %q, %v", blocks, err)
	}
}

func TestBadQueryFilesAreRefused(t *testing.T) {
	for name, c := range map[string]struct{ text, says string }{
		"a name used twice":        {"-- name: One\nSELECT 1;\n-- name: One\nSELECT 1;\n", "used twice"},
		"a statement without name": {"SELECT 1;\n", "without a name"},
		"queries missing":          {"-- name: InsertRow\nSELECT 1;\n", "AdviceOfPlant"},
	} {
		_, _, err := loadStatements(fstest.MapFS{"a.sql": {Data: []byte(c.text)}})
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want an error that says %q", name, err, c.says)
		}
	}
}
