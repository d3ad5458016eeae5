package lots

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

func BenchmarkBestPlan(b *testing.B) {
	for _, kind := range []struct {
		name string
		more func(*rand.Rand, *Plant)
	}{
		{"", func(*rand.Rand, *Plant) {}},
		{" partly in steps", inSteps},
		{" all in steps", allInSteps},
		{" with limits", limited},
	} {
		for _, windows := range []int{4, 8, 12, 14} {
			b.Run(fmt.Sprintf("%d windows%s", windows, kind.name), func(b *testing.B) {
				r := rand.New(rand.NewPCG(1, uint64(windows)))
				var plants []*Plant
				for len(plants) < 100 {
					p := invented(r, windows)
					kind.more(r, p)
					if _, err := p.Best(); err == nil {
						plants = append(plants, p)
					}
				}
				nodes, proved, most := 0, 0, 0
				for _, p := range plants {
					s := lineOf(p).run(mostNodes)
					nodes += s.nodes
					most = max(most, s.nodes)
					if plan, err := p.Best(); err == nil && plan.Proved {
						proved++
					}
				}
				b.ReportAllocs()
				i := 0
				for b.Loop() {
					_, _ = plants[i%len(plants)].Best()
					i++
				}
				b.ReportMetric(float64(nodes)/float64(len(plants)), "nodes/plant")
				b.ReportMetric(float64(most), "most-nodes")
				b.ReportMetric(float64(proved), "%proved")
			})
		}
	}
}
