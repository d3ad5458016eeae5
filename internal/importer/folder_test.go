package importer

import (
	"errors"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// now is the moment at which the tests read their folders.
var now = time.Date(2026, time.October, 1, 20, 0, 0, 0, time.UTC)

// texts are the files of a folder by name.
type texts map[string]string

func (t texts) fs() fstest.MapFS {
	folder := fstest.MapFS{}
	for name, text := range t {
		folder[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return folder
}

// small is a sound folder of one plant.
func small() texts {
	return texts{
		"plants.csv":   "plant,name,zone,product\nNAK,Nakrook,America/Anchorage,diesel-2-s15\n",
		"tanks.csv":    "plant,tank,role,shape,diameter_mm,length_mm\nNAK,T1,storage,horizontal,1200,4000\nNAK,D1,day,horizontal,600,1000\n",
		"meters.csv":   "plant,meter,register_unit,digits\nNAK,M1,us_gal,6\n",
		"routes.csv":   "route,mode,lead_days,lot_max_l\nriver,barge,30,\nair,air,3,9000\n",
		"services.csv": "route,plant\nriver,NAK\n",
	}
}

// with gives the folder with some files changed; an empty text takes the file out.
func (t texts) with(changes texts) texts {
	for name, text := range changes {
		if text == "" {
			delete(t, name)
			continue
		}
		t[name] = text
	}
	return t
}

func read(t testing.TB, folder texts) Result {
	t.Helper()
	got, err := Read(folder.fs(), inventory.Rows{}, now)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// refusal gives the problems of a folder as lines of place and message.
func refusal(t testing.TB, folder texts, ledger inventory.Rows) []string {
	t.Helper()
	got, err := Read(folder.fs(), ledger, now)
	if err == nil {
		t.Fatal("the folder was read")
	}
	if fault.KindOf(err) != fault.Invalid || got.Rows.Len() > 0 || got.Notices != nil || got.Files != nil {
		t.Fatalf("%v: kind %v with %d rows", err, fault.KindOf(err), got.Rows.Len())
	}
	var e *fault.Error
	errors.As(err, &e)
	lines := []string{}
	for _, f := range e.Fields {
		lines = append(lines, f.Where+": "+f.Message)
	}
	return lines
}

func join(lines ...string) string { return strings.Join(lines, "\n") + "\n" }
