// Package storetest holds the checks that every store must pass. They say what the contracts of
// inventory.Store, inventory.IssuedStore and inventory.ForecastStore mean.
package storetest

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// Store is what is checked.
type Store interface {
	inventory.Store
	inventory.IssuedStore
	inventory.ForecastStore
}

var checks = []struct {
	name  string
	check func(*testing.T, Store)
}{
	{"SamplesLeaveNoFieldOut", samplesLeaveNoFieldOut},
	{"EveryKindComesBackAsWritten", everyKindComesBackAsWritten},
	{"ACorrectedTankHasItsOwnCapacityTable", aCorrectedTankHasItsOwnCapacityTable},
	{"InstantsAreUTCToTheMillisecond", instantsAreUTCToTheMillisecond},
	{"OneInstantFromTwoZonesIsOneRow", oneInstantFromTwoZonesIsOneRow},
	{"RowsInAnyOrderComeBackInOrder", rowsInAnyOrderComeBackInOrder},

	{"AnEmptyLedgerIsEmpty", anEmptyLedgerIsEmpty},
	{"RowsComeInOrderOfTimeThenKey", rowsComeInOrderOfTimeThenKey},
	{"TheDirectoryIsInOrderOfPlantAndID", theDirectoryIsInOrderOfPlantAndID},
	{"RowsEndBeforeTheGivenInstant", rowsEndBeforeTheGivenInstant},
	{"DayRowsCountFromTheEndOfTheirLastDay", dayRowsCountFromTheEndOfTheirLastDay},
	{"RecentRowsLieBetweenTwoInstants", recentRowsLieBetweenTwoInstants},
	{"RecentDayRowsCountByTheirLastDay", recentDayRowsCountByTheirLastDay},
	{"IDsDifferByCase", idsDifferByCase},
	{"LoadChangesAreGivenWhateverTheirDates", loadChangesAreGivenWhateverTheirDates},
	{"DegreeDaysAreThoseOfThePlantsGroup", degreeDaysAreThoseOfThePlantsGroup},
	{"EveryStateOfAnOrderIsGiven", everyStateOfAnOrderIsGiven},
	{"ClearancesOfAnOrderAreOneEach", clearancesOfAnOrderAreOneEach},

	{"ASecondLoadChangesNothing", aSecondLoadChangesNothing},
	{"ARehearsalWritesNothing", aRehearsalWritesNothing},
	{"AKnownRowThatIsNotInForceIsTold", aKnownRowThatIsNotInForceIsTold},
	{"ConflictsAreRefused", conflictsAreRefused},
	{"EveryConflictIsNamed", everyConflictIsNamed},
	{"OneIdentityHasOneRowInForce", oneIdentityHasOneRowInForce},
	{"DegreeDaysOfAGroupAreOneLine", degreeDaysOfAGroupAreOneLine},
	{"WhatCannotBeKeptIsRefused", whatCannotBeKeptIsRefused},
	{"AFailingBatchLeavesNothing", aFailingBatchLeavesNothing},

	{"ALongStreamIsOneWrite", aLongStreamIsOneWrite},
	{"AConflictDeepInAStreamGivesAllOfItUp", aConflictDeepInAStreamGivesAllOfItUp},
	{"AKeyFarApartInAStreamIsOneRowOrAConflict", aKeyFarApartInAStreamIsOneRowOrAConflict},
	{"CorrectionsFarApartInAStreamMayStandInAnyOrder", correctionsFarApartInAStreamMayStandInAnyOrder},
	{"AnErrorOfAStreamGivesAllOfItUp", anErrorOfAStreamGivesAllOfItUp},
	{"WhatCannotBeKeptIsToldBeforeConflicts", whatCannotBeKeptIsToldBeforeConflicts},
	{"ManyConflictsAreNamedUpToABound", manyConflictsAreNamedUpToABound},

	{"TheLastCorrectionCounts", theLastCorrectionCounts},
	{"CorrectionsInOneBatchMayStandInAnyOrder", correctionsInOneBatchMayStandInAnyOrder},
	{"AVoidRowWithdraws", aVoidRowWithdraws},
	{"AWithdrawnIdentityIsFree", aWithdrawnIdentityIsFree},

	{"WritersAtOnceLoseNothing", writersAtOnceLoseNothing},
	{"OfRivalCorrectionsOneWins", ofRivalCorrectionsOneWins},
	{"RequestsRepeatedAndReorderedCountOnce", requestsRepeatedAndReorderedCountOnce},
	{"OfRivalRowsUnderOneKeyOneWins", ofRivalRowsUnderOneKeyOneWins},
	{"WritersWhoseRowsCrossDoNotBlockEachOther", writersWhoseRowsCrossDoNotBlockEachOther},
	{"EveryWriteSentTwiceChangesNothing", everyWriteSentTwiceChangesNothing},

	{"AMomentStandsForTheLastVersionRecordedByThen", aMomentStandsForTheLastVersionRecordedByThen},
	{"WhatWasReplacedLaterWasInForce", whatWasReplacedLaterWasInForce},
	{"AsKnownEqualsTheLedgerOfTheEarlierRowsAlone", asKnownEqualsTheLedgerOfTheEarlierRowsAlone},
	{"RowsOfEveryKindAreFedInOrderOfWriting", rowsOfEveryKindAreFedInOrderOfWriting},
	{"WhatIsFedWhileWritersWriteIsWhole", whatIsFedWhileWritersWriteIsWhole},

	{"AReportSentAgainIsKnown", aReportSentAgainIsKnown},
	{"AKeyStandsForOneReport", aKeyStandsForOneReport},
	{"OfRivalReportsUnderOneKeyOneWins", ofRivalReportsUnderOneKeyOneWins},
	{"EachWriteOfNewRowsIsAVersion", eachWriteOfNewRowsIsAVersion},
	{"AdviceCountsInWhatItsVersionHolds", adviceCountsInWhatItsVersionHolds},

	{"AdviceComesBackNewestFirst", adviceComesBackNewestFirst},
	{"AdviceStaysAsIssued", adviceStaysAsIssued},
	{"AdviceMustBeJSON", adviceMustBeJSON},
	{"TheAdviceSavedLastIsInForce", theAdviceSavedLastIsInForce},
	{"AdviceOnLessOfTheLedgerIsKeptAndNotPutInForce", adviceOnLessOfTheLedgerIsKeptAndNotPutInForce},
	{"AdviceSavedAgainChangesNothing", adviceSavedAgainChangesNothing},
	{"EarlierAdviceComesInForceAgain", earlierAdviceComesInForceAgain},
	{"PlantsSeedsAndTheFleetAreApart", plantsSeedsAndTheFleetAreApart},

	{"ForecastsComeBackInOrderOfMonth", forecastsComeBackInOrderOfMonth},
	{"TheFirstForecastOfAMonthStays", theFirstForecastOfAMonthStays},
	{"OfRivalForecastsOfAMonthOneStays", ofRivalForecastsOfAMonthOneStays},
	{"WhatIsNoForecastIsRefused", whatIsNoForecastIsRefused},
}

// Run checks stores; open gives an empty one and closes it when the test ends.
func Run(t *testing.T, open func(*testing.T) Store) {
	for _, c := range checks {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel() // most of their time is spent waiting for the disk
			c.check(t, open(t))
		})
	}
}

var (
	recordedAt = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)
	noon       = time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)
	late       = time.Date(9000, 1, 1, 0, 0, 0, 0, time.UTC)
)

// batch makes rows of records.
func batch(records ...inventory.Record) inventory.Rows {
	var rows inventory.Rows
	for _, r := range records {
		rows.Add(r)
	}
	return rows
}

// record writes rows that must be accepted.
func record(t testing.TB, s Store, rows inventory.Rows) inventory.Recorded {
	t.Helper()
	done, err := s.Record(t.Context(), rows, recordedAt)
	if err != nil {
		t.Fatalf("Record: %v", err)
	}
	return done
}

// refused writes rows that must be refused, and gives the fields that the error names.
func refused(t *testing.T, s Store, rows inventory.Rows, want fault.Kind) []fault.Field {
	t.Helper()
	done, err := s.Record(t.Context(), rows, recordedAt)
	if err == nil || fault.KindOf(err) != want {
		t.Fatalf("Record: %v, want a fault of kind %v", err, want)
	}
	if !cmp.Equal(done, inventory.Recorded{}) {
		t.Errorf("Record counts %+v though it wrote nothing", done)
	}
	return asFault(t, err).Fields
}

// directory reads the directory.
func directory(t testing.TB, s Store) inventory.Rows {
	t.Helper()
	rows, err := s.Directory(t.Context())
	if err != nil {
		t.Fatalf("Directory: %v", err)
	}
	return rows
}

// plantRows reads the rows of a plant before an instant.
func plantRows(t testing.TB, s Store, plant string, before time.Time) inventory.Rows {
	t.Helper()
	rows, err := s.PlantRows(t.Context(), plant, before)
	if err != nil {
		t.Fatalf("PlantRows: %v", err)
	}
	return rows
}

func keys(rows inventory.Rows) []string {
	var all []string
	for r := range rows.All() {
		all = append(all, r.Base().Key)
	}
	return all
}

func same(t testing.TB, what string, got, want any) {
	t.Helper()
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", what, diff)
	}
}
