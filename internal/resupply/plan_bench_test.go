package resupply

import (
	"runtime"
	"sync"
	"testing"
)

func BenchmarkPlanOfAPlant(b *testing.B) {
	p := river(1000, 1, 0.04)
	for b.Loop() {
		p.Plan(1)
	}
}

// BenchmarkWhatIf works a plant out with another lead time on paths that are drawn already: dates, lot, plan.
func BenchmarkWhatIf(b *testing.B) {
	p := river(1000, 1, 0.04)
	for b.Loop() {
		q := p.but(func(q *Problem) {
			for i := range q.Windows {
				q.Windows[i].Lead = perPath(len(q.Windows[i].Lead), func(s int) int { return q.Windows[i].Lead[s] + 7 })
			}
		})
		Decide(&q)
		q.Plan(1)
	}
}

// BenchmarkPlanOfThreeHundred works out 300 plants on all cores, on paths that are drawn already: dates, lot, plan, and
// its replay on fresh paths.
func BenchmarkPlanOfThreeHundred(b *testing.B) {
	const kinds = 6
	planned, fresh := make([]*Problem, kinds), make([]*Problem, kinds)
	for i := range kinds {
		planned[i], fresh[i] = river(1000, uint64(i), 0.04), river(1000, uint64(100+i), 0.04)
	}
	for b.Loop() {
		var group sync.WaitGroup
		for core := range runtime.GOMAXPROCS(0) {
			group.Go(func() {
				for plant := core; plant < 300; plant += runtime.GOMAXPROCS(0) {
					p, q := *planned[plant%kinds], *fresh[plant%kinds]
					Decide(&p)
					p.Plan(1).Replay(&q, 2)
				}
			})
		}
		group.Wait()
	}
}
