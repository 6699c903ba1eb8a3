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
			each := 10
			if f.name == "hard28" {
				each = 28
			}
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
			b.ReportMetric(float64(work)/n/float64(each)/1e6, "Mwork/solve")
			b.ReportMetric(b.Elapsed().Seconds()*1e3/n/float64(each), "ms/solve")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// BenchmarkSmall is one easy problem of n pieces a call, as many callers solve.
func BenchmarkSmall(b *testing.B) {
	for _, n := range []int{5, 20, 50, 100} {
		for _, f := range []family{
			uniformFamily("spread", n, 6_000_000, 200_000, 3_500_000),
			sized("few", max(2, n/10), 6_000_000, 300_000, 3_000_000, 10),
			uniformFamily("boards", n, 3600, 300, 3600),
		} {
			b.Run(fmt.Sprintf("%s/n=%d", f.name, n), func(b *testing.B) {
				b.ReportAllocs()
				ps := make([]Problem, 50)
				for i := range ps {
					ps[i] = f.make(i)
				}
				proven, k := 0, 0
				for b.Loop() {
					pl, err := Solve(context.Background(), ps[k%len(ps)], Options{Effort: 20_000_000})
					if err != nil {
						b.Fatal(err)
					}
					if pl.Proven {
						proven++
					}
					k++
				}
				b.ReportMetric(100*float64(proven)/float64(k), "%proven")
			})
		}
	}
}
