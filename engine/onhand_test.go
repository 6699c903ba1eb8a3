package engine

import (
	"math"
	"testing"
)

// 17 courses of 2,490, a board of 3,000 at 10.00 each; five lengths of 2,500 and two
// of 600 lie on hand. Each of the five makes a course, the two make none: 12 boards
// are bought, and 12.5 m used, worth 12.5 / 3 x 10 = 41.67. A batten on hand is not
// cut, and flagged.
func TestOnHandIsCountedAndWorth(t *testing.T) {
	job := testJob(Wall{Name: "w", Width: mm(2510), Height: mm(2635), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground})
	job.Offcuts = []Offcut{{Code: "B30", Length: mm(2500), Count: 5}, {Code: "B30", Length: mm(600), Count: 2}, {Code: "BT50", Length: mm(4800), Count: 3}}
	r := mustTakeoff(t, job)
	got := r.OnHand()
	if got.Listed != 10 || got.Used != 5 || got.Length != mm(12500) || math.Abs(got.Worth-41.67) > 0.005 {
		t.Errorf("got %+v, want 5 of 10, 12.5 m, 41.67", got)
	}
	if b := r.Boards(); b.Boards != 12 {
		t.Errorf("%d boards are bought, want 17 - 5", b.Boards)
	}
	if f := flagged(r, "on-hand-unused"); len(f) != 1 {
		t.Errorf("%d flags of stock that is not cut, want 1: %+v", len(f), f)
	}
}

// Without a list there is nothing on hand, and without a price it is worth nothing.
func TestOnHandWithoutListOrPrice(t *testing.T) {
	job := testJob(Wall{Name: "w", Width: mm(2510), Height: mm(2635), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground})
	if got := mustTakeoff(t, job).OnHand(); got != (OnHandTotals{}) {
		t.Errorf("got %+v of no stock on hand", got)
	}
	job.Offcuts = []Offcut{{Code: "B30", Length: mm(2500), Count: 5}}
	for i := range job.Products {
		job.Products[i].Price = 0
	}
	if got := mustTakeoff(t, job).OnHand(); got.Used != 5 || got.Worth != 0 {
		t.Errorf("got %+v, want five lengths without a price", got)
	}
}
