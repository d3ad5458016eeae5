package importer

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// streamed reads a folder by Check and Rows.
func streamed(folder fstest.MapFS, ledger inventory.Rows) (Result, error) {
	f, err := Check(folder, ledger, now)
	if err != nil {
		return Result{}, err
	}
	var got Result
	for record, err := range f.Rows() {
		if err != nil {
			return Result{}, err
		}
		got.Rows.Add(record)
	}
	got.Notices, got.Files = f.Notices(), f.Files()
	return got, nil
}

func TestRowsReadOneByOneAreThoseReadAtOnce(t *testing.T) {
	holdLittle(t, 200)
	const gaugings = "plant,tank,at,depth_mm,temperature_c,key,replaces\n"
	for name, change := range map[string]texts{
		"nothing special":         {},
		"a time that comes twice": {"gaugings.csv": gaugings + "NAK,T1,2025-11-02T01:30,100,140,,\n"},
		"a repeated row":          {"gaugings.csv": gaugings + "NAK,T1,2026-03-02,100,4,,\nNAK,D1,2026-03-02,100,4,,\nNAK,T1,2026-03-02,100.0,4,,\n"},
		"a repeated correction":   {"gaugings.csv": gaugings + "NAK,T1,2026-03-02,100,60,a,\nNAK,T1,2026-03-02,100,6,b,a\nNAK,T1,2026-03-02,100,6,b,a\n"},
		"a doubtful row corrected further down": {"gaugings.csv": gaugings +
			"NAK,T1,2026-03-02,100,60,a,\nNAK,T1,2026-03-03,100,60,c,\nNAK,T1,2026-03-02,100,6,b,a\n"},
		"a register that falls": {"meter_readings.csv": "plant,meter,at,register\nNAK,M1,2026-03-03,900\nNAK,M1,2026-03-02,1000\n"},
		"orders":                {"orders.csv": "plant,order,state,ordered_on,early,likely,late,volume_l\nNAK,o,committed,2026-03-01,2026-06-01,2026-06-10,2026-06-20,5000\n"},
	} {
		t.Run(name, func(t *testing.T) {
			folder := small().with(change)
			want := read(t, folder)
			got, err := streamed(folder.fs(), inventory.Rows{})
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestKeysFarApartAreComparedWithLittleMemory(t *testing.T) {
	holdLittle(t, 500)
	rows := []string{"plant,meter,at,register"}
	at := func(i int) string {
		return time.Date(2025, 1, 1, 0, 0, 0, 0, time.UTC).Add(time.Duration(i) * time.Hour).Format(time.RFC3339)
	}
	for i := range 400 {
		rows = append(rows, fmt.Sprintf("NAK,M1,%s,%d", at(i), i))
	}
	rows = append(rows, "NAK,M1,"+at(7)+",7.0", "NAK,M1,"+at(8)+",8.5")
	folder := small().with(texts{"meter_readings.csv": join(rows...)})
	want := []string{"meter_readings.csv:403:key: row 10 has the same key, NAK/M1/2025-01-01T08:00:00Z, and other content: leave one of them out, or give the correction a key of its own and put NAK/M1/2025-01-01T08:00:00Z into replaces"}
	if diff := cmp.Diff(want, refusal(t, folder, inventory.Rows{})); diff != "" {
		t.Error(diff)
	}
	_, err := Check(folder.fs(), inventory.Rows{}, now)
	if err == nil || !strings.Contains(err.Error(), want[0]) {
		t.Errorf("Check gives %v", err)
	}
	folder["meter_readings.csv"] = join(rows[:402]...)
	got, err := streamed(folder.fs(), inventory.Rows{})
	if err != nil || len(got.Rows.Readings) != 400 || len(got.Notices) != 1 ||
		!strings.Contains(got.Notices[0].Message, "the row repeats row 9 and counts once") {
		t.Errorf("%d readings, %v, %v", len(got.Rows.Readings), got.Notices, err)
	}
}

// A file that is another one when its rows are given must not go in as if it had been checked.
func TestAFileThatChangesAfterItsCheckEndsTheRows(t *testing.T) {
	const sound = "plant,tank,at,depth_mm\nNAK,T1,2026-03-02,100\nNAK,T1,2026-03-03,90\n"
	for name, text := range map[string]string{
		"another digit":         strings.Replace(sound, "90", "91", 1),
		"one row more":          sound + "NAK,T1,2026-03-04,80\n",
		"one row less":          strings.TrimSuffix(sound, "NAK,T1,2026-03-03,90\n"),
		"a letter in a number":  strings.Replace(sound, "90", "9O", 1),
		"another unit":          strings.Replace(sound, "depth_mm", "depth_cm", 1),
		"an unknown column":     strings.Replace(sound, "depth_mm", "dpeth_mm", 1),
		"blank at the end":      sound + "\n",
		"a byte that no one is": sound + "\xff\n",
		"empty":                 "",
	} {
		t.Run(name, func(t *testing.T) {
			files := small().with(texts{"gaugings.csv": sound}).fs()
			f, err := Check(files, inventory.Rows{}, now)
			if err != nil {
				t.Fatal(err)
			}
			files["gaugings.csv"] = &fstest.MapFile{Data: []byte(text)}
			var failed error
			for _, err := range f.Rows() {
				failed = err
			}
			if fault.KindOf(failed) != fault.Unavailable || !strings.Contains(fmt.Sprint(failed), "gaugings.csv was changed") {
				t.Errorf("the rows end with %v", failed)
			}
		})
	}
	t.Run("gone", func(t *testing.T) {
		files := small().with(texts{"gaugings.csv": sound}).fs()
		f, err := Check(files, inventory.Rows{}, now)
		if err != nil {
			t.Fatal(err)
		}
		delete(files, "gaugings.csv")
		var failed error
		for _, err := range f.Rows() {
			failed = err
		}
		if fault.KindOf(failed) != fault.Invalid || !strings.Contains(fmt.Sprint(failed), "gaugings.csv cannot be read") {
			t.Errorf("the rows end with %v", failed)
		}
	})
}

func TestRowsMayBeLeftAtAnyTimeAndGivenAgain(t *testing.T) {
	f, err := Check(mixed.fs(), inventory.Rows{}, now)
	if err != nil {
		t.Fatal(err)
	}
	all := 0
	for range f.Rows() {
		all++
	}
	notices := len(f.Notices())
	for stop := range all {
		n := 0
		for range f.Rows() {
			if n == stop {
				break
			}
			n++
		}
		if n != stop {
			t.Fatalf("%d rows before the stop at %d", n, stop)
		}
	}
	n := 0
	for range f.Rows() {
		n++
	}
	if n != all || len(f.Notices()) != notices {
		t.Errorf("%d rows and %d notices in the end, want %d and %d", n, len(f.Notices()), all, notices)
	}
}

// The reference is inventory.BackwardMeters on all rows at once. Times are few, so that many are the same.
func TestRegistersThatRunBackwardAreFoundInParts(t *testing.T) {
	holdLittle(t, 2000)
	dir := inventory.NewDirectory(read(t, small().with(texts{
		"meters.csv": "plant,meter,register_unit\nNAK,M1,l\nNAK,M2,l\n"})).Rows)
	for seed := range uint64(20) {
		random := rand.New(rand.NewPCG(seed, 1))
		var readings []*inventory.MeterReading
		var swaps []*inventory.MeterSwap
		found := &registers{}
		for i := range 5 * atATime {
			meter := fmt.Sprint("M", 1+random.IntN(2))
			at := time.Unix(int64(random.IntN(3*atATime)-100), 0).UTC()
			var row record
			if random.IntN(20) == 0 {
				swap := &inventory.MeterSwap{Plant: "NAK", Meter: meter, At: at}
				swaps, row = append(swaps, swap), swap
			} else {
				reading := &inventory.MeterReading{Plant: "NAK", Meter: meter, At: at, Register: random.Float64()}
				readings, row = append(readings, reading), reading
			}
			if err := found.add(entered{record: row, line: i + 2}); err != nil {
				t.Fatal(err)
			}
		}
		var got []notice.Notice
		if err := found.backward(dir, func(n notice.Notice) { got = append(got, n) }); err != nil {
			t.Fatal(err)
		}
		found.close()
		want := inventory.BackwardMeters(readings, swaps, dir)
		if diff := cmp.Diff(want, got); diff != "" || len(want) == 0 {
			t.Fatalf("seed %d: %d notices, want %d\n%s", seed, len(got), len(want), diff)
		}
	}
}
