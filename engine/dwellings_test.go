package engine

import (
	"fmt"
	"reflect"
	"strings"
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

// A wall's mark is no opening's name: where windows are called W1, walls are not. A
// wall's mark heads those of all that belongs to it, and the marks of what it is cut
// from are no wall's.
func TestWallsAreNotNamedLikeOpenings(t *testing.T) {
	for _, c := range []struct {
		openings []string
		want     string
	}{{nil, "W1"}, {[]string{"D1", "Window", "W"}, "W1"}, {[]string{"W1"}, "H1"}, {[]string{"w 12"}, "H1"}, {[]string{"H3", "W1"}, "K1"}, {[]string{"W1", "H1", "K1", "M1", "G1"}, "W1"}} {
		w := longWall()
		for i, name := range c.openings {
			w.Openings = append(w.Openings, Opening{Name: name, Kind: "window", Left: mm(int64(400 + 1000*i)), Sill: mm(900), Width: mm(500), Height: mm(600)})
		}
		res := mustTakeoff(t, testJob(w))
		if len(res.Walls) != 1 || res.Walls[0].Code != c.want || !strings.HasPrefix(res.Walls[0].Pieces[0].Mark, c.want+"-") {
			t.Errorf("openings %q: got the marks of %+v, want %s", c.openings, res.Walls[0].Code, c.want)
		}
		for _, r := range res.Cutting {
			if strings.HasPrefix(r.Board, c.want[:1]) || strings.HasPrefix(r.Board, "T") {
				t.Errorf("stock %s is named like a wall or a trim", r.Board)
			}
		}
	}
}
