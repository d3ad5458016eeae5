//go:build !race

package intake

// sequences is how many sequences of reports are tried.
const sequences = "60"
