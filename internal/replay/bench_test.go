package replay

import (
	"context"
	"strings"
	"testing"
)

// One plant for 17 months in ten worlds under each policy.
func BenchmarkReplay(b *testing.B) {
	f := inventedFiles()
	f.plants = strings.Join(strings.SplitAfter(f.plants, "\n")[:2], "")
	for _, policy := range Policies() {
		b.Run(policy, func(b *testing.B) {
			for b.Loop() {
				c, err := Read(context.Background(), f.sources())
				if err != nil {
					b.Fatal(err)
				}
				if _, err := c.Run(context.Background(), Options{Policies: []string{policy}, Worlds: 10, Paths: 300}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
