package report

import (
	"strings"
	"testing"

	"lapwright/engine"
)

// The Summary says what a harder search might save: at most what lies between
// boards and bound, 3 + 1 boards of 20 and 30 at 10 each, and where most of it is.
func TestEffortWords(t *testing.T) {
	pool := func(name string, boards, bound int) engine.PoolResult {
		return engine.PoolResult{Pool: name, Role: engine.RoleBoard, Boards: boards, LayoutBound: bound, Price: 10, Cost: 10 * float64(boards), CostBound: 10 * float64(bound)}
	}
	priced := engine.PoolResult{Pool: "1", Role: engine.RoleBoard, Boards: 118, LayoutBound: 100, Mixed: true, Cost: 2500, CostBound: 2400}
	open, best := priced, priced
	open.CostBound, best.CostBound = 0, 2500
	trims := engine.PoolResult{Pool: "1", Role: engine.RoleStarter, Boards: 50, LayoutBound: 1}
	for _, tt := range []struct {
		effort engine.Effort
		pools  []engine.PoolResult
		want   string
	}{
		{engine.EffortNormal, []engine.PoolResult{pool("1", 21, 20), trims, pool("2", 33, 30)},
			"4 boards, 8.0 %, above the bound of 50: thorough effort might save some of them, at most 40.00 EUR. Farthest is 2: 33, of at least 30."},
		{engine.EffortNormal, []engine.PoolResult{pool("1", 20, 20), trims}, "No layout of these courses takes fewer boards, so no effort would save any."},
		{engine.EffortQuick, []engine.PoolResult{pool("1", 21, 20)},
			"Normal effort takes longer and often needs fewer boards. 1 board, 5.0 %, above the bound of 20: thorough effort might save it, at most 10.00 EUR."},
		{engine.EffortThorough, []engine.PoolResult{pool("1", 21, 20)}, "There is no harder search. 1 board, 5.0 %, above the bound of 20; whether a layout takes fewer is not known."},
		{engine.EffortNormal, []engine.PoolResult{priced}, "The boards cost 100.00 EUR more than the bound, 4.2 %: thorough effort might save some of it."},
		{engine.EffortThorough, []engine.PoolResult{priced}, "There is no harder search. The boards cost 100.00 EUR more than the bound, 4.2 %; whether a layout costs less is not known."},
		{engine.EffortNormal, []engine.PoolResult{best}, "No layout of these courses costs less, so no effort would save any."},
		{engine.EffortNormal, []engine.PoolResult{open}, ""},
		{engine.EffortNormal, nil, ""},
	} {
		s := &summary{b: &book{res: &engine.Result{Job: &engine.Job{Currency: "EUR"}, Effort: tt.effort, Pools: tt.pools}}}
		s.effort()
		if got := s.rows[0].remark; got != tt.want {
			t.Errorf("%s: %q, want %q", tt.effort, got, tt.want)
		}
	}
}

// So does the list of a batch.
func TestBatchAboveBounds(t *testing.T) {
	list := []BatchRow{{File: "a", Boards: 20, Bound: 20}, {File: "b", Boards: 33, Bound: 30}, {File: "c", Boards: 21, Bound: 20}, {File: "broken"}}
	if got := aboveBounds(list); !strings.HasPrefix(got, "4 boards of 74 above the bound") || !strings.HasSuffix(got, "Farthest is b: 33, of at least 30.") {
		t.Errorf("got %q", got)
	}
	if got := aboveBounds(append(list, BatchRow{File: "d", Boards: 9})); got != "" {
		t.Errorf("lengths of d are chosen by price, and its boards are measured: %q", got)
	}
	if got := aboveBounds(list[:1]); !strings.HasPrefix(got, "No layout") {
		t.Errorf("got %q", got)
	}
}
