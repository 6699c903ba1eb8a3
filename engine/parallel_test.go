package engine

import (
	"context"
	"fmt"
	"reflect"
	"runtime"
	"testing"
)

// TestCoresDoNotShow takes one job off on one core and on several: houses of
// two colours that the catalogue lacks parts of, so that flags and stand-ins
// come from many walls, and dwellings that share their walls.
func TestCoresDoNotShow(t *testing.T) {
	var walls []Wall
	for seed := range uint64(6) {
		for i, w := range newGenerator(300 + seed).house() {
			w.Plot, w.Colour = fmt.Sprint("type ", seed), []string{"grey", "red", ""}[(int(seed)+i)%3]
			walls = append(walls, w)
		}
	}
	job := testJob(walls...)
	for i := range 14 {
		job.Plots = append(job.Plots, Plot{Name: fmt.Sprint(i), HouseType: fmt.Sprint("type ", i%6), Handed: i%2 == 0, Drop: fmt.Sprint(i % 3)})
	}
	job.Effort = EffortNormal
	if testing.Short() {
		job.Effort = EffortQuick
	}
	var first *Result
	for _, cores := range []int{1, 4} {
		before := runtime.GOMAXPROCS(cores)
		got, err := Takeoff(context.Background(), job)
		runtime.GOMAXPROCS(before)
		if err != nil {
			t.Fatal(err)
		}
		if len(got.Walls) == 0 || len(got.Flags) == 0 {
			t.Fatalf("%d walls, %d flags: the job shows nothing", len(got.Walls), len(got.Flags))
		}
		if first == nil {
			first = got
		} else if !reflect.DeepEqual(first, got) {
			t.Errorf("on %d cores the result differs from that on one", cores)
		}
	}
}
