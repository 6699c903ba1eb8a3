package engine

import (
	"testing"

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
