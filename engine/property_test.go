package engine

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

func mustTakeoff(t *testing.T, job *Job) *Result {
	t.Helper()
	res, err := Takeoff(context.Background(), job)
	if err != nil {
		t.Fatal(err)
	}
	mustPass(t, res)
	return res
}

// mustPass fails for every wall that the audit kept out.
func mustPass(t *testing.T, res *Result) {
	t.Helper()
	for _, f := range res.Flags {
		if f.Code == "audit" {
			t.Errorf("%s %s: %s", f.Plot, f.Wall, f.What)
		}
	}
}

// totals are what a reader orders by: they must not depend on how the survey's
// rows happen to be sorted.
func totals(r *Result) []string {
	var out []string
	for _, l := range r.Order {
		// Sums of the same numbers in another order may part in the last bit, which
		// a half of the sixth place would show.
		out = append(out, fmt.Sprintf("%s %s %s %.6f", l.Drop, l.Role, l.Code, l.Net+1e-9))
	}
	return out
}

// Row order has no meaning: shuffled walls and openings give the same order.
func TestShufflingRowsChangesNothing(t *testing.T) {
	for seed := range uint64(25) {
		g := newGenerator(seed)
		var walls []Wall
		for i := range 4 {
			w := g.wall(fmt.Sprintf("wall %d", i+1))
			w.LevelLine = "house"
			walls = append(walls, w)
		}
		want := totals(mustTakeoff(t, testJob(walls...)))
		shuffled := slices.Clone(walls)
		g.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		for i := range shuffled {
			o := slices.Clone(shuffled[i].Openings)
			g.Shuffle(len(o), func(i, j int) { o[i], o[j] = o[j], o[i] })
			shuffled[i].Openings = o
		}
		if got := totals(mustTakeoff(t, testJob(shuffled...))); !reflect.DeepEqual(got, want) {
			t.Errorf("seed %d: the order changes with the rows:\ngot  %q\nwant %q", seed, got, want)
		}
	}
}

// Equal jobs give equal results, down to the last piece.
func TestTwoRunsAgree(t *testing.T) {
	for seed := range uint64(10) {
		walls := []Wall{newGenerator(seed).wall("a"), newGenerator(seed + 100).wall("b")}
		job := func() *Job { j := testJob(walls...); j.Effort = EffortNormal; return j }
		one, two := mustTakeoff(t, job()), mustTakeoff(t, job())
		one.Job, two.Job = nil, nil
		if !reflect.DeepEqual(one, two) {
			t.Errorf("seed %d: two runs differ", seed)
		}
	}
}

// A window moved sideways by a whole bay leaves the set-out, the areas and the
// trims as they were: only what lies on other battens may change.
func TestMovingAnOpeningByABay(t *testing.T) {
	at := func(left int64) *Result {
		return mustTakeoff(t, testJob(Wall{Name: "w", Width: mm(7200), Height: mm(2600), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground,
			Openings: []Opening{{Name: "o", Kind: "window", Left: mm(left), Sill: mm(900), Width: mm(1000), Height: mm(1200)}}}))
	}
	one, two := at(1700), at(2300)
	a, b := one.Walls[0], two.Walls[0]
	if !reflect.DeepEqual(a.Courses, b.Courses) || a.Net != b.Net || a.Gross != b.Gross {
		t.Errorf("courses or areas moved: %v %v, %v %v", a.Net, b.Net, a.Gross, b.Gross)
	}
	if x, y := sumTrims(a), sumTrims(b); !reflect.DeepEqual(x, y) {
		t.Errorf("trims: got %v, want %v", y, x)
	}
	if x, y := pieceArea(a), pieceArea(b); x != y {
		t.Errorf("area of boards: got %v, want %v", y, x)
	}
}

func sumTrims(w WallResult) map[string]measure.Length {
	out := map[string]measure.Length{}
	for _, tr := range w.Trims {
		out[tr.Role] += tr.Length
	}
	return out
}

// pieceArea is the boards' area with their joint gaps filled, so that it does
// not depend on where joints fall.
func pieceArea(w WallResult) int64 {
	var sum int64
	for _, p := range w.Pieces {
		sum += p.Outline.Area2()
		if p.Right.Kind == Joint {
			sum += 2 * int64(mm(2)) * int64(p.Width)
		}
	}
	return sum
}

// A corner that two walls share is ordered once, by the wall on its left.
func TestSharedCornerOnce(t *testing.T) {
	wall := func(name, left, right string) Wall {
		return Wall{Name: name, Width: mm(4000), Height: mm(2600), Left: ExternalCorner, Right: ExternalCorner, Top: Soffit, Bottom: Ground, LeftMeets: left, RightMeets: right}
	}
	for _, c := range []struct {
		name  string
		walls []Wall
		want  int
	}{
		{"a lone wall has both its corners", []Wall{wall("a", "", "")}, 2},
		{"two walls that both say so", []Wall{wall("a", "", "b"), wall("b", "a", "")}, 3},
		{"one says so", []Wall{wall("a", "", "b"), wall("b", "", "")}, 3},
		{"the other says so", []Wall{wall("a", "", ""), wall("b", "a", "")}, 3},
		{"four walls round a house", []Wall{wall("a", "d", "b"), wall("b", "a", "c"), wall("c", "b", "d"), wall("d", "c", "a")}, 4},
	} {
		n := 0
		for _, w := range mustTakeoff(t, testJob(c.walls...)).Walls {
			for _, tr := range w.Trims {
				if tr.Role == RoleExternal {
					n++
				}
			}
		}
		if n != c.want {
			t.Errorf("%s: got %d corners, want %d", c.name, n, c.want)
		}
	}
}

// Linings cut from the wall's own board, where the catalogue has no reveal
// board, are planned apart and audited with the rest; so is a colour that the
// catalogue lacks.
func TestLiningsOfTheWallsOwnBoard(t *testing.T) {
	for _, colour := range []string{"", "Grey"} {
		job := testJob(Wall{Name: "w", Width: mm(7200), Height: mm(2600), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground, Colour: colour,
			Openings: []Opening{{Name: "o", Kind: "window", Left: mm(1700), Sill: mm(900), Width: mm(1000), Height: mm(1200), Reveal: mm(100), Lined: true}}})
		job.Products = slices.DeleteFunc(job.Products, func(p Product) bool { return p.Role == RoleReveal })
		for i := range job.Products {
			if job.Products[i].Role == RoleBoard {
				job.Products[i].Colour = "Sand"
			}
		}
		n := 0
		for _, p := range mustTakeoff(t, job).Walls[0].Pieces {
			if p.Reveal != "" {
				n++
			}
		}
		if n != 3 {
			t.Errorf("colour %q: got %d linings, want 3", colour, n)
		}
	}
}
