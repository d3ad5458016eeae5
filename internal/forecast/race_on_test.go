//go:build race

package forecast

// thinning divides the counts of the statistical tests: the race detector slows arithmetic some eight
// times, and has nothing to find in it.
const thinning = 12
