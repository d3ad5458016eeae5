package demo

import (
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/fault"
	"overwinter/internal/importer"
	"overwinter/internal/inventory"
)

func TestTheFolderReadsBackAsTheRowsItWasWrittenFrom(t *testing.T) {
	scenario := scenarioOf(DefaultSeed)
	result := throughFolder(t, scenario)
	want, got := byKey(scenario.Rows), byKey(result.Rows)
	if len(want) != scenario.Rows.Len() {
		t.Errorf("%d rows have %d keys", scenario.Rows.Len(), len(want))
	}
	if len(want) != len(got) {
		t.Errorf("%d rows came back, want %d", len(got), len(want))
	}
	for id, row := range want {
		if !reflect.DeepEqual(row, got[id]) {
			t.Fatalf("%v changed on its way through the folder:\n%s", id, cmp.Diff(row, got[id]))
		}
	}
}

func throughFolder(t *testing.T, sc Scenario) importer.Result {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "demo")
	if err := sc.WriteFolder(dir); err != nil {
		t.Fatal(err)
	}
	result, err := importer.Read(os.DirFS(dir), inventory.Rows{}, Now)
	if err != nil {
		t.Fatal(err)
	}
	return result
}

func TestAFolderThatCannotBeMadeIsReported(t *testing.T) {
	inTheWay := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(inTheWay, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := scenarioOf(DefaultSeed).WriteFolder(inTheWay); fault.KindOf(err) != fault.Unavailable {
		t.Errorf("got %v, want a fault of kind unavailable", err)
	}
}

type rowID struct {
	kind inventory.Kind
	key  string
}

func byKey(rows inventory.Rows) map[rowID]inventory.Record {
	all := map[rowID]inventory.Record{}
	for r := range rows.All() {
		all[rowID{r.Kind(), r.Base().Key}] = r
	}
	return all
}
