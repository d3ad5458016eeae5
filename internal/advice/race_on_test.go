//go:build race

package advice_test

// seeds are few under the race detector, which makes everything ten times slower: there the way through
// is watched, and the plain run of the tests counts.
const seeds = 6
