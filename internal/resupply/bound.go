package resupply

import (
	"cmp"
	"slices"
	"sort"

	"gonum.org/v1/gonum/stat/distuv"
)

// confidence is the certainty with which a bound read off finitely many paths holds.
const confidence = 0.95

// Allowed gives how many of n paths may violate a bound so that its true risk is at most the stated
// one with 95 % confidence: the largest k with P(Binomial(n, risk) ≤ k) ≤ 5 %. It is −1 where n
// paths are too few to certify the risk at all. The plain quantile would be violated in truth about
// half the time.
func Allowed(n int, risk float64) int {
	b := distuv.Binomial{N: float64(n), P: risk}
	return sort.Search(n, func(k int) bool { return b.CDF(float64(k)) > 1-confidence }) - 1
}

// ranked is a value with the path that it is of.
type ranked[T cmp.Ordered] struct {
	value T
	path  int
}

// bound is the conservative order statistic: the smallest value when the paths allowed to lie below
// it are set aside. Ties go to the lower path, so that the deciding path is always the same.
func bound[T cmp.Ordered](values []T, risk float64) ranked[T] {
	all := make([]ranked[T], len(values))
	for s, v := range values {
		all[s] = ranked[T]{v, s}
	}
	slices.SortFunc(all, func(a, b ranked[T]) int {
		return cmp.Or(cmp.Compare(a.value, b.value), cmp.Compare(a.path, b.path))
	})
	return all[max(Allowed(len(values), risk), 0)]
}

// upperBound is the same from above: few values may exceed it.
func upperBound(values []float64, risk float64) ranked[float64] {
	negated := perPath(len(values), func(s int) float64 { return -values[s] })
	b := bound(negated, risk)
	b.value = -b.value
	return b
}

// quantile is the order statistic of rank ⌈p·n⌉, the smallest day by which at least the share p of
// the paths has got there.
func quantile(days []int, p float64) int {
	return slices.Sorted(slices.Values(days))[rank(len(days), p)]
}

// rank is the place of the ⌈p·n⌉-th of n sorted values, counted from 0.
func rank(n int, p float64) int {
	return min(max(int(p*float64(n)+1-1e-9), 1), n) - 1
}
