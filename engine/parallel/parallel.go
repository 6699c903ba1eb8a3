// Package parallel shares work among the cores of the machine. What is done
// must not depend on which core does it nor on who is first: results are kept
// by number, and merged in that order.
package parallel

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// Workers calls do once on each core, at most the given number of times, with
// the worker's number from 0, and returns when all have returned. A panic in
// one of them goes on in the caller, with the stack it came from.
func Workers(most int, do func(worker int)) {
	n := min(runtime.GOMAXPROCS(0), most)
	if n <= 1 {
		if most > 0 {
			do(0)
		}
		return
	}
	var wg sync.WaitGroup
	failed := make([]any, n)
	for worker := range n {
		wg.Go(func() {
			defer func() {
				if p := recover(); p != nil {
					failed[worker] = fmt.Sprintf("%v\n%s", p, debug.Stack())
				}
			}()
			do(worker)
		})
	}
	wg.Wait()
	for _, p := range failed {
		if p != nil {
			panic(p)
		}
	}
}

// Each calls do for every number from 0 to n-1. A worker is given rising
// numbers, each number once.
func Each(n int, do func(worker, i int)) {
	var next atomic.Int64
	Workers(n, func(worker int) {
		for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
			do(worker, i)
		}
	})
}
