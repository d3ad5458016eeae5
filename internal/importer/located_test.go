package importer

import (
	"errors"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// Readings of tanks are read again for it, plants are held. Row 1 is the header.
func TestAConflictNamesFileAndRowOfTheNewRow(t *testing.T) {
	folder, err := Check(fstest.MapFS{
		"plants.csv": {Data: []byte("plant,name,zone,product\nP1,Cold Point,UTC,diesel-1-s15\n")},
		"tanks.csv":  {Data: []byte("plant,tank,role,shape,diameter_mm,length_mm\nP1,A,storage,horizontal,2400,6000\n")},
		"gaugings.csv": {Data: []byte("plant,tank,at,depth_mm,key\n" +
			"P1,A,2026-02-01T08:00:00Z,1200,first\n\nP1,A,2026-02-02T08:00:00Z,1200,second\n")},
	}, inventory.Rows{}, now)
	if err != nil {
		t.Fatal(err)
	}
	conflict := fault.New(fault.Conflict, "rows conflict").With(
		fault.Field{Where: "gauging second", Message: "other content"}, fault.Field{Where: "gauging second", Message: "replaced"},
		fault.Field{Where: "plant P1", Message: "the same plant"}, fault.Field{Where: "gauging elsewhere", Message: "not of this folder"},
	)
	var got *fault.Error
	if !errors.As(folder.Located(conflict), &got) || got.Kind != fault.Conflict || got.Message != "rows conflict" {
		t.Fatalf("%v", got)
	}
	want := []fault.Field{
		{Where: "gaugings.csv:4", Message: "gauging second: other content"}, {Where: "gaugings.csv:4", Message: "gauging second: replaced"},
		{Where: "plants.csv:2", Message: "plant P1: the same plant"}, {Where: "gauging elsewhere", Message: "not of this folder"},
	}
	if diff := cmp.Diff(want, got.Fields); diff != "" {
		t.Error(diff)
	}
	if conflict.Fields[0].Where != "gauging second" {
		t.Error("the error that was handed over is changed")
	}
	other := fault.New(fault.Unavailable, "busy")
	if folder.Located(other) != error(other) || folder.Located(nil) != nil {
		t.Error("an error that is no conflict is another afterwards")
	}
}
