package engine

import (
	"fmt"
	"testing"

	"lapwright/engine/layout"
)

// The effort goes by the different walls that are laid out for the whole survey, so
// that its time does not grow with the number of its parts.
func TestEffortBySize(t *testing.T) {
	job := func(pool Pool, types, plots, drops int) *Job {
		j := testJob()
		j.Pool, j.Effort = pool, EffortAuto
		for i := range 4 * types {
			j.Walls = append(j.Walls, Wall{Plot: fmt.Sprint(i / 4), Name: fmt.Sprint(i % 4)})
		}
		for i := range plots {
			j.Plots = append(j.Plots, Plot{Name: fmt.Sprint(i), HouseType: fmt.Sprint(i % types), Drop: fmt.Sprint(i * drops / plots)})
		}
		return j
	}
	for _, c := range []struct {
		job       *Job
		different int
		favours   bool
	}{
		{job(PoolPlot, 10, 0, 0), 40, true},
		{job(PoolPlot, 10, 600, 30), 40, true}, // each house is cut by itself: ten of them
		{job("", 200, 600, 30), 800, true},
		{job(PoolWall, 10, 600, 30), 40, true},
		{job(PoolDrop, 10, 600, 30), 1200, false}, // every drop holds all ten
		{job(PoolJob, 10, 600, 10), 400, true},
		{job(PoolDrop, 10, 600, 1), 40, true},
	} {
		u := newTakeoff(c.job)
		if n := c.job.Different(); n != c.different || u.favours() != c.favours {
			t.Errorf("cut together by %q, %d walls, %d plots: %d different, often built ones favoured: %v", c.job.Pool, len(c.job.Walls), len(c.job.Plots), n, u.favours())
		}
	}

	for _, c := range []struct {
		walls, whole int
		asked, want  Effort
	}{
		{manyWalls, 0, EffortAuto, EffortNormal}, {manyWalls + 1, 0, EffortAuto, EffortQuick},
		{4, manyWalls, EffortAuto, EffortNormal}, {4, manyWalls + 1, EffortAuto, EffortQuick},
		{4, manyWalls + 1, EffortNormal, EffortNormal}, {4, 0, EffortThorough, EffortThorough},
	} {
		u := newTakeoff(testJob())
		u.job.Effort, u.job.Whole, u.stands = c.asked, c.whole, make([]*stand, c.walls)
		if got := u.effort(); got != c.want {
			t.Errorf("%d walls of %d, asked for %q: %q, want %q", c.walls, c.whole, c.asked, got, c.want)
		}
	}

	u := newTakeoff(testJob())
	u.job.Effort = EffortQuick
	often := &pool{stands: make([]*stand, 2), built: 2 * oftenBuilt}
	if a, b := u.layoutEffort(often, true), u.layoutEffort(often, false); a != layout.Normal || b != layout.Quick {
		t.Errorf("a pool that is built often: %v favoured, %v not", a, b)
	}
}
