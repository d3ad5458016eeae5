//go:build !race

package inventory

const underRace = false
