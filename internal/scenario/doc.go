// Package scenario holds what happens at remote plants as scripts that a practitioner can read: dated
// events, then what the books have to say, worked out by hand beside them. Its tests write each script
// to a ledger of each engine and hold the books against it.
//
// A script (testdata/*.txt) is read line by line; a line that begins with # is for the reader only.
// Spaces may set thousands apart. Whatever is not understood fails the test, and so does a script that
// expects nothing.
//
//	title: ...            happens: ...            naive: what a hasty reader would make of it
//	plant Alder: zone UTC, product diesel-2-s15, assumed 15 C
//	tank bulk: storage, capacity 60 000 L
//	meter M: digits 6
//	2026-03-01 08:00 gauging of bulk: 41 000 L, at 15 C
//	2026-03-02 10:00 transfer bulk to mid: 5 100 L, corrected
//	2026-03-01 to 2026-03-31 total: 9 200 L, corrected
//
// Moments are by the clocks of the plant. A volume is at a temperature or corrected to 15 °C. Any event may
// have a key, and replace the row of another (replaces KEY); it was entered when
// it happened unless it says otherwise (entered MOMENT). One line may tell of several days:
//
//	2026-02-02 08:00 and every 7 days to 2026-03-02 reading of M: 20 000 more by 1400 each, at 15 C
//
// Every figure that is expected has to come out of a sum in the script, so that a reader can follow with a
// pocket calculator; sums and volume correction factors are checked to their last digit.
//
//	work: 41 000 L × 1.00912 = 41 373.9 L
//	vcf: 4 C, 845 = 1.00921
//
// The questions come last: the close of a day, when it is asked (MOMENT; else when all has been entered), and
// what the plant is expected to burn where nothing was read. All notices and doubts have to be stated. A naive
// figure has to miss the right one visibly.
//
//	as of 2026-03-15: asked 2026-03-16 09:00, burning 230 L, give or take 20 L
//	usage 2026-03-01 08:00 to 2026-03-15 08:00: 3 200 L within 0.5, sigma 16 L within 0.1
//	stock: 40 946.7 L within 0.5
//	doubt of KEY: cause digit-dropped
//	usage of jet-a1 2026-03-01 08:00 to 2026-03-15 08:00: 600 L within 0.5
//	notices: are meter-misread
//	naive consumed: 10 300 L
package scenario
