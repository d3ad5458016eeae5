//go:build race

package main

// raced tells that the race detector watches, which makes advice for the whole demo ten times slower.
const raced = true
