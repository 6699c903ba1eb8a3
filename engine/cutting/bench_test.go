package cutting

import (
	"context"
	"fmt"
	"lapwright/testdata/spent"
	"maps"
	"slices"
	"strings"
	"testing"
)

// BenchmarkFamilies solves ten of each family, and the published instances, and
// reports how many were proven in 2e9 units of work, and the processor seconds
// they took: on average and at worst.
func BenchmarkFamilies(b *testing.B) {
	for _, f := range families {
		p0 := f.make(0)
		ps := []Problem{p0}
		for i := 1; i < 10; i++ {
			ps = append(ps, f.make(i))
		}
		b.Run(fmt.Sprintf("%s/m=%d", f.name, len(p0.Items)), func(b *testing.B) { benchmark(b, ps) })
	}
	sets := map[string][]Problem{}
	for _, x := range readPublished(b) {
		set := strings.TrimRight(x.name, "0123456789_")
		sets[set] = append(sets[set], x.p)
	}
	for _, set := range slices.Sorted(maps.Keys(sets)) {
		b.Run(fmt.Sprintf("published/%s/n=%d", set, len(sets[set])), func(b *testing.B) { benchmark(b, sets[set]) })
	}
}

func benchmark(b *testing.B, ps []Problem) {
	proven, gap, work, sum, worst := 0, int64(0), int64(0), 0.0, 0.0
	for b.Loop() {
		for _, p := range ps {
			start := spent.Time()
			pl, err := Solve(context.Background(), p, Options{Effort: 2e9})
			if err != nil {
				b.Fatal(err)
			}
			took := (spent.Time() - start).Seconds()
			sum, worst = sum+took, max(worst, took)
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
	b.ReportMetric(float64(work)/n/float64(len(ps))/1e6, "Mwork/solve")
	b.ReportMetric(sum/n/float64(len(ps)), "cpu-s/solve")
	b.ReportMetric(worst, "worst-cpu-s")
	b.ReportMetric(0, "ns/op")
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
