package engine

import (
	"math"
	"testing"
)

// Where lengths are chosen by price, cost is what is least. By hand: each course
// of a wall that a 3000 board spans takes at least one board, and none is cheaper
// than the 3000 one at 19.80; a bound of boards says nothing of that.
func TestBoundByPrice(t *testing.T) {
	job := testJob(Wall{Name: "w", Width: mm(2900), Height: mm(2600), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground})
	job.Products[0].Price = 19.80
	longer := job.Products[0]
	longer.Code, longer.Length, longer.Price = "B36", mm(3600), 25
	job.Products = append(job.Products, longer)
	res := mustTakeoff(t, job)
	same := func(a, b float64) bool { return math.Abs(a-b) < 0.005 }
	got, least := res.Boards(), 19.80*float64(len(res.Walls[0].Courses))
	if got.Bound != 0 || !got.Mixed || !same(got.CostBound, least) || !same(got.Cost, least) {
		t.Errorf("got %+v, want a cost and a bound of %.2f and no bound of boards", got, least)
	}
	job.Board = "B30"
	if got := mustTakeoff(t, job).Boards(); got.Mixed || got.Bound != len(res.Walls[0].Courses) || !same(got.CostBound, least) {
		t.Errorf("with one length: got %+v", got)
	}
}
