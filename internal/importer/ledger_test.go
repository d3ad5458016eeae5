package importer

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/inventory"
)

// inLedger gives what a folder leaves in the ledger.
func inLedger(t testing.TB, folder texts) inventory.Rows {
	t.Helper()
	return read(t, folder).Rows
}

func TestALaterFolderRefersToTheLedger(t *testing.T) {
	ledger := inLedger(t, small())
	folder := texts{"gaugings.csv": "plant,tank,at,depth_mm,temperature_c\nNAK,T1,2026-03-02,100,4\n"}
	got, err := Read(folder.fs(), ledger, now)
	if err != nil {
		t.Fatal(err)
	}
	// Noon by the clocks of a plant that only the ledger knows.
	if k := got.Rows.Gaugings[0].Key; k != "NAK/T1/2026-03-02T21:00:00Z" || got.Rows.Len() != 1 {
		t.Errorf("%d rows, the first with key %s", got.Rows.Len(), k)
	}
}

func TestARowThatReplacesTheLedgersIsTheOneInForce(t *testing.T) {
	ledger := inLedger(t, small())
	folder := texts{
		"tanks.csv":    "key,replaces,plant,tank,role,shape,diameter_mm,length_mm\nT1b,NAK/T1,NAK,T1,storage,horizontal,1500,4000\n",
		"gaugings.csv": "plant,tank,at,depth_mm,temperature_c\nNAK,T1,2026-03-02,1400,4\n",
	}
	if _, err := Read(folder.fs(), ledger, now); err != nil {
		t.Error(err)
	}
	folder["gaugings.csv"] = "plant,tank,at,depth_mm,temperature_c\nNAK,T1,2026-03-02,1600,4\n"
	want := []string{"gaugings.csv:2:depth_mm: 1 600 mm is above the tank's 1 500 mm: check the dip and the tank's shape"}
	if diff := cmp.Diff(want, refusal(t, folder, ledger)); diff != "" {
		t.Error(diff)
	}
}

func TestAnOldFolderLoadsAgainAfterTheLedgerWasCorrected(t *testing.T) {
	old := small().with(texts{"gaugings.csv": "plant,tank,at,depth_mm,temperature_c\nNAK,T1,2026-03-02,1100,4\n"})
	ledger := inLedger(t, old)
	for _, keys := range [][2]string{{"T1b", "NAK/T1"}, {"T1c", "T1b"}} {
		corrected := *ledger.Tanks[0]
		corrected.Key, corrected.Replaces = keys[0], keys[1]
		ledger.Tanks = []*inventory.Tank{&corrected, ledger.Tanks[1]}
		got, err := Read(old.fs(), ledger, now)
		if err != nil || got.Rows.Len() != 8 {
			t.Errorf("after %s: %d rows, %v", keys[0], got.Rows.Len(), err)
		}
	}
}

func TestAWithdrawnTankIsNotThereAnyMore(t *testing.T) {
	ledger := inLedger(t, small())
	folder := texts{
		"tanks.csv":    "key,replaces,void,plant,tank,role,shape\nx,NAK/T1,yes,NAK,T1,,\n",
		"gaugings.csv": "plant,tank,at,depth_mm\nNAK,T1,2026-03-02,100\n",
	}
	want := []string{`gaugings.csv:2:tank: there is no tank "T1" at plant NAK: expected one of D1, or enter the tank first`}
	if diff := cmp.Diff(want, refusal(t, folder, ledger)); diff != "" {
		t.Error(diff)
	}
	delete(folder, "gaugings.csv")
	if _, err := Read(folder.fs(), ledger, now); err != nil {
		t.Error(err)
	}
}

func TestASecondTankUnderAnotherKeyIsRefused(t *testing.T) {
	ledger := inLedger(t, small())
	folder := texts{"tanks.csv": "key,plant,tank,role,shape,capacity_l\nnew,NAK,T1,storage,volume,5000\n"}
	want := []string{"tanks.csv:2:key: the ledger has this tank under the key NAK/T1: leave the row out, or put that key into replaces"}
	if diff := cmp.Diff(want, refusal(t, folder, ledger)); diff != "" {
		t.Error(diff)
	}
}
