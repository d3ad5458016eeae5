//go:build race

package inventory

// truthPlants are few under the race detector, which makes everything ten times slower: there the way through is
// watched, and the plain run of the tests counts.
const truthPlants = 4
