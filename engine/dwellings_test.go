package engine

import (
	"fmt"
	"reflect"
	"testing"
)

// A plan that is made for one plot and used for another, in another drop or
// handed, is the plan that other one would have had by itself, to the last
// field.
func TestPlanOfALikePlot(t *testing.T) {
	walls, _ := pair()
	walls[2].Quantity = 2
	for _, pool := range []Pool{"", PoolWall, PoolPlot} {
		of := func(p Plot) *Job {
			job := testJob(walls...)
			job.Pool, job.Plots = pool, []Plot{p}
			return job
		}
		first := mustTakeoff(t, of(Plot{Name: "1", HouseType: "A", Drop: "north"}))
		for i, p := range []Plot{{Drop: "north"}, {Drop: "south", Handed: true}, {}, {Handed: true}} {
			p.Name, p.HouseType = fmt.Sprint(i+2), "A"
			want := mustTakeoff(t, of(p))
			got := first.For(want.Job)
			if !reflect.DeepEqual(got, want) {
				t.Errorf("cut together by %q, %+v: the plan of plot 1 differs from its own", pool, p)
			}
		}
	}
}
