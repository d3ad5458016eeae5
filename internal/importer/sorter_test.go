package importer

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"overwinter/internal/fault"
)

// holdLittle lets sorters hold so few bytes that a small test needs files, in a folder of its own.
func holdLittle(t testing.TB, size int) (folder string) {
	before := sortedInMemory
	sortedInMemory = size
	t.Cleanup(func() { sortedInMemory = before })
	folder = t.TempDir()
	t.Setenv("TMPDIR", folder)
	return folder
}

func TestRecordsComeInOrderWhateverTheirNumber(t *testing.T) {
	folder := holdLittle(t, 1000)
	random := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{0, 1, 2, 20, 5_000} {
		var s sorter
		var want [][]byte
		for range n {
			record := bytes.Repeat([]byte{byte(random.IntN(256))}, random.IntN(40))
			if len(record) > 0 {
				record[len(record)-1] = byte(random.IntN(256))
			}
			want = append(want, record)
			if err := s.add(record); err != nil {
				t.Fatal(err)
			}
		}
		slices.SortFunc(want, bytes.Compare)
		var got [][]byte
		for record, err := range s.sorted() {
			if err != nil {
				t.Fatal(err)
			}
			got = append(got, bytes.Clone(record))
		}
		if !slices.EqualFunc(got, want, bytes.Equal) {
			t.Errorf("%d records come in another order", n)
		}
		if inFile := s.file != nil; inFile != (n == 5_000) {
			t.Errorf("%d records in a file: %t", n, inFile)
		}
		s.close()
	}
	if left, err := os.ReadDir(folder); err != nil || len(left) > 0 {
		t.Errorf("%v is left among the temporary files, %v", left, err)
	}
}

func TestWithoutRoomForTemporaryFilesThatIsSaid(t *testing.T) {
	folder := holdLittle(t, 100)
	if err := os.Remove(folder); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.Mkdir(folder, 0o700) }) // the test's own clean-up looks for it
	text := "plant,tank,at,depth_mm,temperature_c\n"
	for hour := range 20 {
		text += fmt.Sprintf("NAK,T1,2026-03-02T%02d:00,100,4\n", hour)
	}
	_, err := Check(small().with(texts{"gaugings.csv": text}).fs(), inLedger(t, small()), now)
	if fault.KindOf(err) != fault.Unavailable {
		t.Errorf("%v, want that the temporary folder does not serve", err)
	}
}
