package audit

import (
	"slices"
	"strings"
	"testing"
)

// inParts states a job wall by wall, each with the boards that cut its marks; the
// other boards go with the first. Walls and boards are written over one another, as
// who states a large job does.
func inParts(job *Job) *Job {
	out := *job
	walls, boards := out.Walls, out.Boards
	out.Walls, out.Boards = nil, nil
	of := func(b *Board) int {
		for i := range walls {
			if len(b.Cuts) > 0 && len(b.Cuts[0].Marks) > 0 && strings.HasPrefix(b.Cuts[0].Marks[0], walls[i].Name+"-") {
				return i
			}
		}
		return 0
	}
	out.More = func(yield func(*Part) bool) {
		for i := range walls {
			told := 0
			part := Part{
				Next: func(own *Wall) bool {
					*own = walls[i]
					told++
					return told == 1
				},
				Boards: func(yield func(*Board) bool) {
					var own Board
					for k := range boards {
						if own = boards[k]; of(&own) == i && !yield(&own) {
							return
						}
					}
				},
			}
			if !yield(&part) {
				return
			}
		}
	}
	return &out
}

// A job in parts has the faults of the same job at once, whatever is spoilt.
func TestParts(t *testing.T) {
	for _, m := range slices.Concat(geometry, jointing, fixed, trimmed, stocked, summed) {
		job := whole(m.base(), twin("Q"), twin("R"))
		for _, f := range Check(*inParts(job)) {
			t.Fatalf("%s: before it is spoilt: %v", m.name, f)
		}
		m.do(job, &job.Walls[0])
		if got, want := rules(inParts(job)), rules(job); !slices.Equal(got, want) {
			t.Errorf("%s: in parts %v, at once %v", m.name, got, want)
		}
	}
}

// twin is a plain wall of another name.
func twin(name string) Wall {
	w := plain()
	old := w.Name
	w.Name = name
	for i := range w.Pieces {
		w.Pieces[i].Mark = name + strings.TrimPrefix(w.Pieces[i].Mark, old)
	}
	for i := range w.Battens {
		w.Battens[i].Mark = name + strings.TrimPrefix(w.Battens[i].Mark, old)
	}
	return w
}

// What one part has another may not have, nor cut.
func TestPartsApart(t *testing.T) {
	job := whole(twin("Q"), twin("R"))
	for _, c := range []struct {
		what string
		do   func()
	}{
		{"a mark of another part's wall", func() { job.Walls[1].Pieces[0].Mark = "Q-new" }},
		{"a board that cuts for another part", func() {
			i := slices.IndexFunc(job.Boards, func(b Board) bool { return b.Cuts[0].Marks[0] == job.Walls[0].Pieces[0].Mark })
			job.Boards[i].Cuts = append(job.Boards[i].Cuts, Cut{[]string{job.Walls[1].Pieces[0].Mark}, mm(1)})
		}},
	} {
		job = whole(twin("Q"), twin("R"))
		if got := rules(inParts(job)); len(got) > 0 {
			t.Fatal(got)
		}
		if c.do(); !slices.Contains(rules(inParts(job)), "mark") {
			t.Errorf("%s: %v", c.what, rules(inParts(job)))
		}
	}
}
