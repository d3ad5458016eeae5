package inventory

import (
	"os"
	"strconv"
	"testing"
)

// plantsVariable says through how many plants each simulation of known truth goes, instead of the few of a usual run.
const plantsVariable = "OVERWINTER_TEST_PLANTS"

// simulatedPlants is through how many plants a simulation goes, and whether they are enough to tell a share: as many as are asked for,
// else the usual number, and a few under the race detector.
func simulatedPlants(t *testing.T, usual int) (plants int, enough bool) {
	t.Helper()
	given := os.Getenv(plantsVariable)
	switch {
	case given == "" && underRace:
		return 4, false
	case given == "":
		return usual, true
	}
	n, err := strconv.Atoi(given)
	if err != nil || n < 1 {
		t.Fatalf("%s is %q: expected a number of plants, 1 or more", plantsVariable, given)
	}
	return n, n >= usual
}
