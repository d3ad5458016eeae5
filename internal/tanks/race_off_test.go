//go:build !race

package tanks

const thinned = 1
