package cutting

import (
	"context"
	"fmt"
	"testing"
)

// BenchmarkFamilies solves ten of each family and reports how many were proven.
func BenchmarkFamilies(b *testing.B) {
	for _, f := range families {
		p0 := f.make(0)
		b.Run(fmt.Sprintf("%s/m=%d", f.name, len(p0.Items)), func(b *testing.B) {
			const each = 10
			proven, gap, work := 0, int64(0), int64(0)
			for b.Loop() {
				for i := range each {
					pl, err := Solve(context.Background(), f.make(i), Options{Effort: 2e9})
					if err != nil {
						b.Fatal(err)
					}
					if pl.Proven {
						proven++
					}
					gap += pl.Cost - pl.Bound
					work += pl.Work
				}
			}
			n := float64(b.N)
			b.ReportMetric(float64(proven)/n, "proven")
			b.ReportMetric(float64(gap)/n, "gap")
			b.ReportMetric(float64(work)/n/each/1e6, "Mwork/solve")
			b.ReportMetric(b.Elapsed().Seconds()*1e3/n/each, "ms/solve")
			b.ReportMetric(0, "ns/op")
		})
	}
}
