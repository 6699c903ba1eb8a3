package engine

import (
	"context"
	"reflect"
	"testing"
)

// What is planned for one job after another is what each gets alone; only a pool
// that is equal, cut by the same rules and searched equally hard, is not planned
// again.
func TestLayoutsOfSeveralJobs(t *testing.T) {
	long := front()
	long.Width = mm(14000) // joints in every course
	var shared Layouts
	for _, c := range []struct {
		what   string
		change func(*Job)
		same   bool
	}{
		{"the first", func(*Job) {}, false},
		{"another drop", func(j *Job) { j.Plots[0].Drop, j.Plots[0].Name = "south", "2" }, true},
		{"another hand", func(j *Job) { j.Plots[0].Handed = true }, true},
		{"kerf", func(j *Job) { j.Rules.Kerf += mm(3) }, false},
		{"gap", func(j *Job) { j.Rules.JointGap += mm(2) }, false},
		{"stagger", func(j *Job) { j.Rules.StaggerBays++ }, false},
		{"repeat", func(j *Job) { j.Rules.JointRepeat++ }, false},
		{"least piece", func(j *Job) { j.Rules.PieceLeast = 2*j.Rules.BattenCentres + mm(50) }, false},
		{"price", func(j *Job) { j.Products = testProducts(); j.Products[0].Price *= 3 }, false},
		{"twice in the pool", func(j *Job) { j.Walls[0].Quantity = 2 }, false},
		{"effort", func(j *Job) { j.Effort = EffortNormal }, false},
		{"the first again", func(*Job) {}, true},
	} {
		job := func() *Job {
			w := long
			w.Plot = "A"
			j := testJob(w)
			j.Plots = []Plot{{Name: "1", HouseType: "A", Drop: "north"}}
			c.change(j)
			return j
		}
		before := len(shared.kept)
		got, err := shared.Takeoff(context.Background(), job())
		if err != nil {
			t.Fatal(err)
		}
		if want, err := Takeoff(context.Background(), job()); err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: not what the job gets alone (%v)", c.what, err)
		}
		if same := len(shared.kept) == before; same != c.same {
			t.Errorf("%s: planned from what was kept: %v, want %v", c.what, same, c.same)
		}
	}
}

// A search that was cut short is nobody's plan.
func TestLayoutsInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var shared Layouts
	if _, err := shared.Takeoff(ctx, testJob(front())); err == nil {
		t.Error("an interrupted takeoff has no error")
	}
	got, err := shared.Takeoff(context.Background(), testJob(front()))
	if want, _ := Takeoff(context.Background(), testJob(front())); err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("after an interrupted one the takeoff is another (%v)", err)
	}
}
