//go:build race

package intake

// sequences are few under the race detector, which makes everything ten times slower: there the way
// through is watched, and the plain run of the tests counts.
const sequences = "10"
