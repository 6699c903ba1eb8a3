package audit

import (
	"slices"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// found returns the faults as "mark rule", sorted.
func found(job *Job) []string {
	var out []string
	for _, f := range Check(*job) {
		out = append(out, f.Mark+" "+f.Rule)
	}
	slices.Sort(out)
	return out
}

func (w *Wall) piece(mark string) *Piece {
	return &w.Pieces[slices.IndexFunc(w.Pieces, func(p Piece) bool { return p.Mark == mark })]
}

func (w *Wall) batten(mark string) *Batten {
	return &w.Battens[slices.IndexFunc(w.Battens, func(b Batten) bool { return b.Mark == mark })]
}

// screwOf returns the n-th screw of a piece.
func (w *Wall) screwOf(mark string, n int) *Screw {
	for i := range w.Screws {
		if w.Pieces[w.Screws[i].Piece].Mark != mark {
			continue
		}
		if n == 0 {
			return &w.Screws[i]
		}
		n--
	}
	return nil
}

func (p *Piece) move(dx, dz measure.Length) {
	for i := range p.Outline {
		p.Outline[i].X += dx
		p.Outline[i].Z += dz
	}
}

// stretch moves those corners that are at x.
func (p *Piece) stretch(x, dx measure.Length) {
	for i := range p.Outline {
		if p.Outline[i].X == x {
			p.Outline[i].X += dx
		}
	}
}

// resize states the outline's size, in the piece and where it is cut.
func (j *Job) resize(p *Piece) {
	xs, zs := bounds(p.Outline)
	p.Length, p.Width = (xs.Length()+99)/100*100, zs.Length()
	j.recut(p)
}

// recut states the piece's length where it is cut.
func (j *Job) recut(p *Piece) {
	b := j.board(p.Mark)
	b.Cuts[0].Length = p.Length
	b.Offcut = max(0, b.Stock-p.Length-j.Kerf)
}

// board returns the board that cuts a mark.
func (j *Job) board(mark string) *Board {
	return &j.Boards[slices.IndexFunc(j.Boards, func(b Board) bool { return slices.Contains(b.Cuts[0].Marks, mark) })]
}

// drop takes a piece out of the wall, with its screws, board and counts.
func (j *Job) drop(w *Wall, mark string) {
	at := slices.IndexFunc(w.Pieces, func(p Piece) bool { return p.Mark == mark })
	w.Pieces = slices.Delete(w.Pieces, at, at+1)
	w.Screws = slices.DeleteFunc(w.Screws, func(s Screw) bool { return s.Piece == at })
	for i := range w.Screws {
		w.Screws[i].Piece -= one(w.Screws[i].Piece > at)
	}
	j.Boards = slices.DeleteFunc(j.Boards, func(b Board) bool { return b.Cuts[0].Marks[0] == mark })
	w.count()
	j.fill()
}

// lift moves all of a course and what is on it.
func (w *Wall) lift(course int, dz measure.Length) {
	c := &w.Courses[course-1]
	c.Bottom, c.Top = c.Bottom+dz, c.Top+dz
	for k := range w.Courses[:len(w.Courses)-1] {
		w.Courses[k].Gauge = w.Courses[k+1].Bottom - w.Courses[k].Bottom
		w.Courses[k].Lap = w.Courses[k].Top - w.Courses[k+1].Bottom
	}
	for i := range w.Pieces {
		if w.Pieces[i].Course == course {
			w.Pieces[i].move(0, dz)
		}
	}
}

// mutation spoils a right job in one way; want lists the faults due, as
// "mark rule;mark rule", sorted.
type mutation struct {
	name string
	base func() Wall
	do   func(j *Job, w *Wall)
	want string
}

func TestMutations(t *testing.T) {
	for _, list := range [][]mutation{geometry, jointing, fixed, filled, trimmed, stocked, summed} {
		for _, m := range list {
			job := whole(m.base())
			m.do(job, &job.Walls[0])
			if got := strings.Join(found(job), ";"); got != m.want {
				t.Errorf("%s:\n got  %s\n want %s", m.name, got, m.want)
			}
		}
	}
}

var geometry = []mutation{
	{"base and top over different spans", plain, func(j *Job, w *Wall) { w.Top[1].X -= um }, " region"},
	{"profile runs back", plain, func(j *Job, w *Wall) { w.Base = pts(0, 150, 6000, 150, 5000, 150) }, " region"},
	{"course number skipped", plain, func(j *Job, w *Wall) { w.Courses[3].Number = 5 }, " course"},
	{"courses out of order", plain, func(j *Job, w *Wall) { w.Courses[3].Bottom = w.Courses[4].Bottom }, " course; course; lap"},
	{"gauge stated a millimetre off", plain, func(j *Job, w *Wall) { w.Courses[3].Gauge += mm(1) }, " course"},
	{"lap stated a millimetre off", plain, func(j *Job, w *Wall) { w.Courses[3].Lap -= mm(1) }, " course"},
	{"lap at its greatest", stepped, func(j *Job, w *Wall) { w.Limits.LapMost = mm(40) }, ""},
	{"lap a micrometre over the greatest", stepped, func(j *Job, w *Wall) { w.Limits.LapMost = mm(40) - um },
		" lap; lap; lap; lap; lap"},
	{"lap at its least", stepped, func(j *Job, w *Wall) { w.Limits.LapLeast = mm(40) }, ""},
	{"lap a micrometre under the least", stepped, func(j *Job, w *Wall) { w.Limits.LapLeast = mm(40) + um },
		" lap; lap; lap; lap; lap;S-2a lap;S-3a lap;S-4a lap;S-4b lap;S-5a lap;S-5b lap;S-6a lap;S-6b lap"},
	{"board a millimetre wider than its course", plain, func(j *Job, w *Wall) { w.Limits.Width = mm(176) },
		strings.Repeat(" course;", 10) + " course"},
	{"outline clockwise", plain, func(j *Job, w *Wall) { slices.Reverse(w.Pieces[0].Outline) },
		" uncovered;P-1a shape;P-1b joint-gap;P-2a lap;P-2b lap"},
	{"outline crosses itself", plain, func(j *Job, w *Wall) { o := w.Pieces[0].Outline; o[2], o[3] = o[3], o[2] },
		" uncovered;P-1a shape;P-1b joint-gap;P-2a lap;P-2b lap"},
	{"stated a tenth short", plain, func(j *Job, w *Wall) {
		p := w.piece("P-1a")
		p.Length -= mm(0.1)
		j.recut(p)
	}, "P-1a size"},
	{"stated width a millimetre off", plain, func(j *Job, w *Wall) { w.piece("P-1a").Width -= mm(1) }, "P-1a size"},
	{"cut-out stated a millimetre too wide", plain, func(j *Job, w *Wall) { w.piece("P-4b").Cutouts[0].X.Hi += mm(1) },
		"P-4b cut-out;P-4b edge;P-5b lap"}, // course 5 still covers the place
	{"hole left out", vent, func(j *Job, w *Wall) { w.piece("V-2a").Cutouts = nil }, "V-2a void"},
	{"hole a millimetre low", vent, func(j *Job, w *Wall) {
		c := &w.piece("V-2a").Cutouts[0]
		c.Z.Lo, c.Z.Hi = c.Z.Lo-mm(1), c.Z.Hi-mm(1)
	}, " uncovered;V-2a edge;V-2a void"},
	{"rake stated two tenths off", gable, func(j *Job, w *Wall) { w.piece("G-6a").LeftRake += 0.2 }, "G-6a rake"},
	{"rake not stated", gable, func(j *Job, w *Wall) { w.piece("G-6a").RightRake = 0 }, "G-6a rake"},
	{"rake stated where the end is square", plain, func(j *Job, w *Wall) { w.piece("P-1a").LeftRake = 30 }, "P-1a rake"},
	{"piece of a course that is not there", plain, func(j *Job, w *Wall) { w.piece("P-1a").Course = 13 },
		" uncovered;P-1a band;P-1b joint-gap;P-2a lap;P-2b lap"},
	{"piece a millimetre up", plain, func(j *Job, w *Wall) { w.piece("P-7a").move(0, mm(1)) }, "P-7a band;P-7a edge"},
	{"piece a millimetre narrower", plain, func(j *Job, w *Wall) {
		p := w.piece("P-7a")
		p.Outline[2].Z -= mm(1)
		p.Outline[3].Z -= mm(1)
		j.resize(p)
	}, "P-7a edge"},
	{"piece beside the window a millimetre to the right", plain, func(j *Job, w *Wall) { w.piece("P-7a").move(mm(1), 0) },
		" uncovered;P-7a void;P-8a lap"},
	{"piece a millimetre past the wall's end", plain, func(j *Job, w *Wall) {
		p := w.piece("P-7b")
		p.stretch(mm(6000), mm(1))
		j.resize(p)
	}, "P-7b outside"},
	{"piece a millimetre over the slope", gable, func(j *Job, w *Wall) {
		p := w.piece("G-8a")
		p.Outline[2].X += mm(1)
	}, "G-8a edge;G-8a outside;G-8a rake"},
	{"piece a millimetre short of the slope", gable, func(j *Job, w *Wall) {
		p := w.piece("G-8a")
		p.Outline[1].X -= mm(1)
		p.Outline[2].X -= mm(1)
		j.resize(p)
	}, " uncovered;G-8a edge;G-9a lap"},
	{"pieces of a course overlap by a millimetre", plain, func(j *Job, w *Wall) {
		p := w.piece("P-1b")
		p.stretch(mm(3601), -mm(3))
		j.resize(p)
	}, "P-1a joint-gap;P-1b joint-gap;P-1b overlap"},
	{"piece left out under the sill", plain, func(j *Job, w *Wall) { j.drop(w, "P-4b") },
		" uncovered;" + strings.Repeat("P-3a visible;", 3) + strings.Repeat("P-3b visible;", 5) + "P-4a joint-gap;P-5b lap"},
	{"piece left out at the foot", stepped, func(j *Job, w *Wall) { j.drop(w, "S-1a") }, " uncovered;S-2a lap"},
	{"tip left out", gable, func(j *Job, w *Wall) { j.drop(w, "G-14a") }, " uncovered;G-13a visible"},
	{"void a millimetre wider", plain, func(j *Job, w *Wall) { w.Voids[0].X.Hi += mm(1) },
		"P-4b void;P-5b void;P-6b void;P-7b void;P-8b void;P-9b void"},
	{"void a millimetre lower than its boards", plain, func(j *Job, w *Wall) { w.Voids[0].Z.Hi -= mm(1) },
		" uncovered;P-10a lap;P-10b lap"},
	{"region a millimetre higher", stepped, func(j *Job, w *Wall) { w.Top = pts(0, 1001, 4800, 1001) }, " uncovered"},
	{"base a millimetre below the first mark", stepped, func(j *Job, w *Wall) { w.Base = pts(0, 149, 2400, 149, 2400, 420, 4800, 420) }, " uncovered"},
	{"base just within a millimetre", stepped, func(j *Job, w *Wall) { w.Base = pts(0, 149.001, 2400, 149.001, 2400, 420, 4800, 420) }, ""},
	{"board left out under a roof's ridge", cheek, func(j *Job, w *Wall) { j.drop(w, "C-3a") }, " uncovered;C-2a visible;C-2a visible;C-2a visible;C-4a lap"},
	{"region a millimetre deeper beyond the step", stepped, func(j *Job, w *Wall) { w.Base = pts(0, 150, 2400, 150, 2400, 419, 4800, 419) },
		" uncovered;S-3a lap;S-3b lap"},
}
