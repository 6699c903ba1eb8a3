package layout

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"syscall"
	"testing"
	"time"
)

// bench solves the jobs and reports boards over the best proven bound.
func bench(b *testing.B, jobs []Problem, o Options) {
	b.Helper()
	for b.Loop() {
		var over, hand, ms []float64
		proven, walls, boards, bound, near, relaxed, joints := 0, 0, 0, 0, 0, 0, 0
		for _, p := range jobs {
			start := cpu()
			out := solve(b, p, o)
			ms = append(ms, float64((cpu()-start).Microseconds())/1000)
			x := float64(out.Boards - out.LayoutBound)
			over = append(over, 100*x/float64(out.LayoutBound))
			hand = append(hand, 100*float64(out.Hand.Boards-out.LayoutBound)/float64(out.LayoutBound))
			walls += len(p.Walls)
			boards += out.Boards
			bound += out.LayoutBound
			relaxed += len(out.Relaxed)
			joints += countJoints(out)
			if out.Proven {
				proven++
			}
			if x <= max(1, 0.005*float64(out.LayoutBound)) {
				near++
			}
			if testing.Verbose() {
				fmt.Println(len(p.Walls), "walls", p.Stocks[0].Length, p.Walls[0].PieceLeast, "repeat", p.Repeat, out.Boards, "boards", out.LayoutBound, "bound", out.Hand.Boards, x, over[len(over)-1], ms[len(ms)-1], "ms")
			}
		}
		b.ReportMetric(mean(over), "%mean")
		b.ReportMetric(quantile(over, 0.9), "%p90")
		b.ReportMetric(mean(hand), "%hand")
		b.ReportMetric(mean(ms)*float64(len(ms))/float64(walls), "ms/wall")
		b.ReportMetric(100*float64(proven)/float64(len(jobs)), "%proven")
		b.ReportMetric(100*float64(near)/float64(len(jobs)), "%near")
		b.ReportMetric(float64(boards), "boards")
		b.ReportMetric(float64(bound), "bound")
		b.ReportMetric(float64(relaxed), "relaxed")
		b.ReportMetric(float64(joints), "joints")
	}
}

func countJoints(out Plan) int {
	n := 0
	for _, w := range out.Joints {
		for _, r := range w {
			n += len(r)
		}
	}
	return n
}

// cpu is the processor time of the process, which other work on the machine
// does not stretch.
func cpu() time.Duration {
	var u syscall.Rusage
	syscall.Getrusage(syscall.RUSAGE_SELF, &u)
	return time.Duration(u.Utime.Nano())
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

func quantile(x []float64, q float64) float64 {
	s := slices.Sorted(slices.Values(x))
	return s[min(len(s)-1, int(q*float64(len(s))))]
}

func BenchmarkSixtyJobs(b *testing.B) {
	for _, e := range []struct {
		name   string
		effort Effort
	}{{"quick", Quick}, {"normal", Normal}, {"thorough", Thorough}} {
		b.Run(e.name, func(b *testing.B) { bench(b, sixtyJobs(), Options{Effort: e.effort}) })
	}
}

// smallPools is a stock of houses: many pools of four walls.
func smallPools(n int) []Problem {
	rng := rand.New(rand.NewPCG(4, 20000))
	var out []Problem
	for range n {
		out = append(out, randomJob(rng, jobSpec{walls: 4, stock: 3600, centres: 600, repeat: 2, stagger: 1,
			kerf: 4, gap: 2, minWide: 4000, maxWide: 9000, minRows: 18, maxRows: 38, openings: 4}))
	}
	return out
}

func BenchmarkSmallPools(b *testing.B) {
	bench(b, smallPools(100), Options{Effort: Quick})
}
