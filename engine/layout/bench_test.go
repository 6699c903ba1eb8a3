package layout

import (
	"fmt"
	"lapwright/testdata/spent"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// bench solves the jobs and reports boards over the best bound proven so far:
// best holds one for each job and is raised.
func bench(b *testing.B, jobs []Problem, o Options, best []int) {
	b.Helper()
	for b.Loop() {
		var f figures
		for i, p := range jobs {
			start := spent.Time()
			out := solve(b, p, o)
			f.spent += spent.Time() - start
			best[i] = max(best[i], out.LayoutBound)
			f.add(p, out, best[i])
			if testing.Verbose() {
				fmt.Printf("%2d walls of %v, repeat %d: %d boards, bound %d, best bound %d, by hand %d\n",
					len(p.Walls), p.Stocks[0].Length, p.Repeat, out.Boards, out.LayoutBound, best[i], out.Hand.Boards)
			}
		}
		f.report(b)
	}
}

// figures gathers what the plans of some jobs are worth.
type figures struct {
	over, hand                  []float64 // per cent over the best bound
	walls, near, proven         int
	relaxed, joints, handJoints int
	spent                       time.Duration
}

func (f *figures) add(p Problem, out Plan, bound int) {
	x := float64(out.Boards - bound)
	f.over = append(f.over, 100*x/float64(bound))
	f.hand = append(f.hand, 100*float64(out.Hand.Boards-bound)/float64(bound))
	f.walls += len(p.Walls)
	f.relaxed += len(out.Relaxed)
	f.joints += countJoints(out)
	s := &solver{m: newModel(p)}
	s.begin()
	f.handJoints += s.hand.joints
	if out.Proven {
		f.proven++
	}
	if x <= max(1, 0.005*float64(bound)) {
		f.near++
	}
}

func (f *figures) report(b *testing.B) {
	jobs := float64(len(f.over))
	b.ReportMetric(mean(f.over), "%mean")
	b.ReportMetric(quantile(f.over, 0.9), "%p90")
	b.ReportMetric(mean(f.hand), "%hand")
	b.ReportMetric(float64(f.spent.Microseconds())/1000/float64(f.walls), "ms/wall")
	b.ReportMetric(100*float64(f.proven)/jobs, "%proven")
	b.ReportMetric(100*float64(f.near)/jobs, "%near")
	b.ReportMetric(float64(f.relaxed), "relaxed")
	b.ReportMetric(float64(f.joints)/float64(f.handJoints), "joints/hand")
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

// The greatest effort comes first, so that each is measured against the best
// bound of the run.
var efforts = []struct {
	name   string
	effort Effort
}{{"thorough", Thorough}, {"normal", Normal}, {"quick", Quick}}

func BenchmarkSixtyJobs(b *testing.B) {
	for _, seed := range [][2]uint64{{60, 340}, {7, 11}, {3, 5}} {
		jobs := sixtyJobs(seed[0], seed[1])
		best := make([]int, len(jobs))
		for _, e := range efforts {
			b.Run(fmt.Sprintf("seed=%d,%d/%s", seed[0], seed[1], e.name), func(b *testing.B) {
				bench(b, jobs, Options{Effort: e.effort}, best)
			})
		}
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
	jobs := smallPools(100)
	best := make([]int, len(jobs))
	for _, e := range efforts[1:] {
		b.Run(e.name, func(b *testing.B) { bench(b, jobs, Options{Effort: e.effort}, best) })
	}
}
