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

// Every wall knows the plots it is built in: those of its house type, colour and
// drop, whichever hand they are of, and no plot is in two walls of one name.
func TestWallsKnowTheirPlots(t *testing.T) {
	walls, _ := pair()
	job := testJob(walls[:1]...)
	job.Plots = []Plot{
		{Name: "1", HouseType: "A", Drop: "D1"}, {Name: "2", HouseType: "A", Drop: "D2"}, {Name: "3", HouseType: "A", Drop: "D1", Handed: true},
		{Name: "4", HouseType: "A", Drop: "D1", Colour: "chalk"}, {Name: "5", HouseType: "other", Drop: "D1"},
	}
	var got []string
	for _, w := range mustTakeoff(t, job).Walls {
		got = append(got, fmt.Sprint(w.Drop, " ", w.Plots, " ", w.Quantity, " ", w.Mirrored))
	}
	want := []string{"D1 [0 2] 2 1", "D2 [1] 1 0", "D1 [3] 1 0"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
