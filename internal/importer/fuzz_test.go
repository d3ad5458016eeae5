package importer

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

func FuzzAnyTextIsRefusedOrGivesSoundRows(f *testing.F) {
	names := fileNames()
	for name, text := range mixed {
		f.Add(byte(slices.Index(names, name)), text)
		f.Add(byte(slices.Index(names, name)), strings.ReplaceAll(text, "2", ""))
	}
	f.Add(byte(0), "plant,name,zone,product\n\"a\nb,c,UTC,jet-a1\n")
	f.Fuzz(func(t *testing.T, file byte, text string) {
		folder := small().with(texts{"windows.csv": "route,window,opens,closes\nriver,summer,06-05,09-25\n"}).with(texts{names[int(file)%len(names)]: text + "\n"})
		got, err := Read(folder.fs(), inventory.Rows{}, now)
		again, second := streamed(folder.fs(), inventory.Rows{})
		if diff := cmp.Diff(got, again); diff != "" || fmt.Sprint(err) != fmt.Sprint(second) && !strings.Contains(fmt.Sprint(err), "are not listed") {
			t.Fatalf("row by row the folder is another: %v, not %v\n%s", second, err, diff)
		}
		if err != nil {
			if fault.KindOf(err) != fault.Invalid || got.Rows.Len() > 0 {
				t.Fatal(err)
			}
			return
		}
		dir := inventory.NewDirectory(inForce(inventory.Rows{}, got.Rows))
		keys := map[mark]bool{}
		for r := range got.Rows.All() {
			if found := r.(record).Check(dir, now); found != nil {
				t.Fatalf("%v passes with %v", r, found)
			}
			id := mark{r.Kind(), r.Base().Key}
			if keys[id] {
				t.Fatalf("the key %v stands twice", id)
			}
			keys[id] = true
			inventory.Digest(r)
		}
	})
}

func BenchmarkReadOf100000MeterReadings(b *testing.B) {
	benchReadings(b, func(folder fs.FS) (int, error) {
		got, err := Read(folder, inventory.Rows{}, now)
		return len(got.Rows.Readings), err
	})
}

// BenchmarkCheckAndRowsOf100000MeterReadings reads the same twice and holds nothing.
func BenchmarkCheckAndRowsOf100000MeterReadings(b *testing.B) {
	benchReadings(b, func(folder fs.FS) (int, error) {
		checked, err := Check(folder, inventory.Rows{}, now)
		if err != nil {
			return 0, err
		}
		n := 0
		for record, err := range checked.Rows() {
			if err != nil {
				return 0, err
			}
			if record.Kind() == inventory.KindReading {
				n++
			}
		}
		return n, nil
	})
}

func benchReadings(b *testing.B, read func(fs.FS) (int, error)) {
	var text strings.Builder
	text.WriteString("plant,meter,at,register,temperature_f\n")
	for i := range 100_000 {
		at := time.Date(2000, 1, 1, 8, 0, 0, 0, time.UTC).Add(time.Duration(i) * 2 * time.Hour)
		fmt.Fprintf(&text, "NAK,M1,%s,%d.5,41\n", at.Format("2006-01-02T15:04Z"), i)
	}
	folder := small().with(texts{"meter_readings.csv": strings.ReplaceAll(text.String(), "Z,", "+00:00,")}).fs()
	b.SetBytes(int64(text.Len()))
	b.ReportAllocs()
	for b.Loop() {
		if n, err := read(folder); err != nil || n != 100_000 {
			b.Fatal(n, err)
		}
	}
}

func BenchmarkReadOf100000GaugingsByLocalClocks(b *testing.B) {
	var text strings.Builder
	text.WriteString("plant,tank,at,depth_in\n")
	for i := range 100_000 {
		at := time.Date(2000, 1, 1, 4, 0, 0, 0, time.UTC).Add(time.Duration(i) * 2 * time.Hour)
		fmt.Fprintf(&text, "NAK,T1,%s,%d\n", at.Format("2006-01-02 15:04"), i%40)
	}
	folder := small().with(texts{
		"plants.csv": "plant,name,zone,product\nNAK,Nakrook,Asia/Kathmandu,jet-a1\n", "gaugings.csv": text.String(),
	}).fs()
	b.SetBytes(int64(text.Len()))
	b.ReportAllocs()
	for b.Loop() {
		got, err := Read(folder, inventory.Rows{}, now)
		if err != nil || len(got.Rows.Gaugings) != 100_000 {
			b.Fatal(len(got.Rows.Gaugings), err)
		}
	}
}
