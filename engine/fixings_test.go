package engine

import (
	"slices"
	"strings"
	"testing"

	"lapwright/engine/audit"
	"lapwright/engine/measure"
)

// bySeam returns how far a screw is from the nearest end of the next course's
// boards that butts on another, looked up in the boards themselves.
func (w *WallResult) bySeam(s Screw) measure.Length {
	least := measure.Metre
	for i := range w.Pieces {
		p := &w.Pieces[i]
		if p.Course != w.Pieces[s.Piece].Course+1 {
			continue
		}
		xs, zs := p.Outline.Bounds()
		if !zs.Holds(s.Z) {
			continue // below it: seen whether the board butts there or not
		}
		if p.Left.Kind == Joint {
			least = min(least, max(xs.Lo-s.X, s.X-xs.Lo))
		}
		if p.Right.Kind == Joint {
			least = min(least, max(xs.Hi-s.X, s.X-xs.Hi))
		}
	}
	return least
}

// A plain wall under a soffit shows the screws of its top course and no other,
// though its boards butt in every course. Gaps are 2 mm, so a screw 15 mm from
// a joint's middle is 14 mm from the end of the board that hides it.
func TestJointsHideTheScrewsBehind(t *testing.T) {
	w := &takeOff(t, testJob(longWall())).Walls[0]
	top, seen, behind := 0, 0, 0
	for _, s := range w.Screws {
		inTop := w.Pieces[s.Piece].Course == len(w.Courses)
		top += btoi(inTop)
		if s.Visible {
			seen++
		}
		if s.Visible != inTop {
			t.Errorf("course %d of %d: screw at %v, %v: visible %v", w.Pieces[s.Piece].Course, len(w.Courses), s.X, s.Z, s.Visible)
		}
		if off := w.bySeam(s); off == mm(14) {
			behind++
		} else if off < mm(14) {
			t.Errorf("screw at %v, %v is %v from the end of a board above", s.X, s.Z, off)
		}
	}
	if top == 0 || seen != top || behind < len(w.Courses)-1 { // each course but the lowest butts at least once in 8 m
		t.Errorf("%d screws in the top course, %d in sight, %d behind joints", top, seen, behind)
	}
}

// The same on walls of every shape: what stays in sight is never behind a joint,
// and no screw near one goes without its distances, which the audit has checked.
func TestNoScrewShowsInAJoint(t *testing.T) {
	aside := 0
	for seed := range uint64(60) {
		res := takeOff(t, testJob(newGenerator(seed).wall("wall")))
		for i := range res.Walls {
			w := &res.Walls[i]
			for _, s := range w.Screws {
				switch off := w.bySeam(s); {
				case off == mm(14):
					aside++
				case off < mm(14):
					t.Errorf("seed %d, %s: screw at %v, %v, visible %v, is %v from the end of a board above",
						seed, w.Pieces[s.Piece].Mark, s.X, s.Z, s.Visible, off)
				}
			}
		}
	}
	if aside < 500 {
		t.Errorf("%d screws stand aside, too few to show anything", aside)
	}
}

// ends returns the places of the upright ends of the boards of a course at a
// height, and which side of each the board is on: 1 to the right.
func (w *WallResult) ends(course int, z measure.Length) map[measure.Length]measure.Length {
	out := map[measure.Length]measure.Length{}
	for _, p := range w.Pieces {
		for i, a := range p.Outline {
			b := p.Outline[(i+1)%len(p.Outline)]
			switch {
			case p.Course != course || a.X != b.X:
			case b.Z < z && z < a.Z: // downwards: anticlockwise, the board is to the right
				out[a.X] = 1
			case a.Z < z && z < b.Z:
				out[a.X] = -1
			}
		}
	}
	return out
}

// No screw shows, or is hidden by less than 14 mm of board, beside an end of the
// next course if its batten reaches 14 mm and its own edge distance of 5 behind
// that board and its own board is there too. A screw at such an end or beyond it
// is in sight, whatever side the end is of.
func TestEndsHideTheScrewsBehind(t *testing.T) {
	moved, right := 0, 0
	for seed := range uint64(150) {
		u := newTakeoff(newGenerator(seed).oddJob())
		if err := u.plan(t.Context()); err != nil {
			t.Fatal(err)
		}
		for i := range u.result.Walls {
			w := &u.result.Walls[i]
			for _, s := range w.Screws {
				p := &w.Pieces[s.Piece]
				if c := w.Courses[p.Course-w.Courses[0].Number]; s.Z != c.Top-mm(20) {
					continue // hung from a cut or a notch
				}
				xs, _ := p.Outline.Bounds()
				b := w.Battens[s.Batten]
				seat := measure.Span{Lo: b.Centre - b.Width/2, Hi: b.Centre + b.Width/2}.Grow(-mm(5))
				ends := w.ends(p.Course+1, s.Z)
				for x, side := range ends {
					behind := (s.X - x) * side // how far behind the board's end it stands
					if s.Visible != (behind <= 0) && max(behind, -behind) < mm(1) {
						t.Errorf("seed %d, %s: screw at %v, %v from the end at %v, visible %v", seed, p.Mark, s.X, behind, x, s.Visible)
					}
					right += btoi(behind == 0)
					moved += btoi(behind == mm(14))
					place := x + mm(14)*side
					if behind > -b.Width && behind < mm(14) && seat.Holds(place) && xs.Grow(-mm(20)).Holds(place) && alone(ends, x, mm(28)) && s.Kind == "field" {
						t.Errorf("seed %d, %s: screw at %v is only %v behind the end at %v; %v has room", seed, p.Mark, s.X, behind, x, place)
					}
				}
			}
		}
	}
	if moved < 500 {
		t.Errorf("%d screws stand aside of an end, too few to show anything", moved)
	}
	t.Logf("%d aside, %d right at an end", moved, right)
}

// alone reports whether no other end is so near.
func alone(ends map[measure.Length]measure.Length, x, near measure.Length) bool {
	for y := range ends {
		if y != x && max(y-x, x-y) < near {
			return false
		}
	}
	return true
}

// The screw stood at the very end of a board above, x 1,779 in course 24: which
// of the two the point then was in used to hang on the end's hand.
func TestScrewAtAnEnd(t *testing.T) {
	for _, seed := range []uint64{589, 1090, 2991} {
		u := newTakeoff(newGenerator(seed).oddJob())
		if err := u.plan(t.Context()); err != nil {
			t.Fatal(err)
		}
		for _, f := range audit.Check(u.auditJob()) {
			t.Errorf("seed %d: %v", seed, f)
		}
	}
}

// Every piece that a fixing flag names says so itself, so that it can be said on
// the sheet of its wall, and no other piece does.
func TestUnfixedPiecesAreThoseFlagged(t *testing.T) {
	named := 0
	for seed := range uint64(40) {
		res := takeOff(t, testJob(newGenerator(seed).wall("wall")))
		for i := range res.Walls {
			for k := range res.Walls[i].Pieces {
				p, flagged := &res.Walls[i].Pieces[k], 0
				for _, f := range res.Flags {
					if strings.HasPrefix(f.Code, "fixing-") && f.Code != "fixing-overloaded" && slices.Contains(strings.FieldsFunc(f.What, func(r rune) bool { return r == ' ' || r == ',' }), p.Mark) {
						flagged++
					}
				}
				if strings.Contains(strings.Join(p.Unfixed, ""), "fewer") != p.Few {
					t.Errorf("seed %d, %s: held by few %v, but %q", seed, p.Mark, p.Few, p.Unfixed)
				}
				if flagged > len(p.Unfixed) {
					t.Errorf("seed %d, %s: flagged %d times, says %q", seed, p.Mark, flagged, p.Unfixed)
				}
				named += flagged
			}
		}
	}
	if named < 10 {
		t.Errorf("%d pieces are flagged, too few to show anything", named)
	}
}
