//go:build !race

package forecast

const thinning = 1
