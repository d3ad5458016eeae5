//go:build race

package inventory

// The race detector makes everything ten times slower: there the way through a simulation is watched on a few plants, and the plain
// run of the tests counts.
const underRace = true
