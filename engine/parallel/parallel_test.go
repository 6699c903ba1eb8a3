package parallel

import (
	"runtime"
	"strings"
	"sync"
	"testing"
)

// cores sets the number of cores in use for one test.
func cores(t *testing.T, n int) {
	before := runtime.GOMAXPROCS(n)
	t.Cleanup(func() { runtime.GOMAXPROCS(before) })
}

func TestEachNumberOnceAndRising(t *testing.T) {
	for _, n := range []int{0, 1, 2, 7, 1000} {
		for _, c := range []int{1, 2, 5} {
			cores(t, c)
			var mu sync.Mutex
			seen, last := map[int]int{}, map[int]int{}
			Each(n, func(worker, i int) {
				mu.Lock()
				defer mu.Unlock()
				if before, ok := last[worker]; ok && before >= i {
					t.Errorf("%d numbers on %d cores: worker %d had %d before %d", n, c, worker, before, i)
				}
				last[worker] = i
				seen[i]++
			})
			for i := range n {
				if seen[i] != 1 {
					t.Errorf("%d numbers on %d cores: %d was done %d times, want once", n, c, i, seen[i])
				}
			}
			if len(seen) != n || len(last) > min(n, c) {
				t.Errorf("%d numbers on %d cores: %d numbers by %d workers", n, c, len(seen), len(last))
			}
		}
	}
}

func TestPanicReachesTheCaller(t *testing.T) {
	for _, c := range []int{1, 3} {
		cores(t, c)
		func() {
			defer func() {
				if p, _ := recover().(string); !strings.Contains(p, "seven is wrong") {
					t.Errorf("on %d cores the caller recovered %q, want what the worker said", c, p)
				}
			}()
			Each(20, func(_, i int) {
				if i == 7 {
					panic("seven is wrong")
				}
			})
		}()
	}
}

func TestWorkersAtMost(t *testing.T) {
	cores(t, 4)
	for most, want := range map[int]int{0: 0, 1: 1, 3: 3, 9: 4} {
		var mu sync.Mutex
		n := 0
		Workers(most, func(int) { mu.Lock(); n++; mu.Unlock() })
		if n != want {
			t.Errorf("at most %d workers on 4 cores: got %d, want %d", most, n, want)
		}
	}
}
