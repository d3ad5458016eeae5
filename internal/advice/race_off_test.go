//go:build !race

package advice_test

// seeds is how many invented utilities the advice is held against.
const seeds = 50
