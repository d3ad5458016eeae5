//go:build race

package tanks

// thinned leaves most of the slow cases out under the race detector; the plain run of the tests counts.
const thinned = 4
