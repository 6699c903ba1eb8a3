package drawing

import (
	"fmt"
	"slices"
	"testing"

	"lapwright/engine"
	"lapwright/engine/measure"
)

func outlined(corners ...[2]int64) *engine.WallResult {
	w := &engine.WallResult{Name: "North"}
	for _, c := range corners {
		w.Outline = append(w.Outline, measure.Point{X: measure.MM(c[0]), Z: measure.MM(c[1])})
	}
	return w
}

// TestOutlineMarks holds the heights and breaks that set out four shapes, read off
// their own corners.
func TestOutlineMarks(t *testing.T) {
	for _, tt := range []struct {
		name   string
		w      *engine.WallResult
		marks  []string
		breaks []int64
	}{
		{"rectangle", outlined([2]int64{0, 150}, [2]int64{4000, 150}, [2]int64{4000, 2500}, [2]int64{0, 2500}), nil, nil},
		{"gable over a step", outlined([2]int64{0, 430}, [2]int64{2500, 430}, [2]int64{2500, 150}, [2]int64{6000, 150}, [2]int64{6000, 4890}, [2]int64{3000, 7250}, [2]int64{0, 4890}),
			[]string{"apex 7250", "sides 4890", "base 430", "base 150"}, []int64{2500, 3000}},
		{"falling to the right", outlined([2]int64{0, 150}, [2]int64{7000, 150}, [2]int64{7000, 4100}, [2]int64{0, 4592}),
			[]string{"left 4592", "right 4100", "base 150"}, nil},
		{"lower roof at the left, base on the datum", outlined([2]int64{0, 0}, [2]int64{5000, 0}, [2]int64{5000, 4000}, [2]int64{2000, 4000}, [2]int64{2000, 2600}, [2]int64{0, 2600}),
			[]string{"right 4000", "left 2600"}, []int64{2000}},
	} {
		var got []string
		for _, m := range outlineMarks(tt.w) {
			got = append(got, fmt.Sprint(m.name, " ", m.z))
		}
		if !slices.Equal(got, tt.marks) {
			t.Errorf("%s: heights %q, want %q", tt.name, got, tt.marks)
		}
		var breaks []int64
		for _, x := range outlineBreaks(tt.w) {
			breaks = append(breaks, int64(x/measure.Millimetre))
		}
		if !slices.Equal(breaks, tt.breaks) {
			t.Errorf("%s: breaks %v, want %v", tt.name, breaks, tt.breaks)
		}
	}
}

// TestJointsAlike: joints of 2 mm, a pixel and less, are drawn as wide wherever they
// fall among the pixels, on a wall as given and on one built handed.
func TestJointsAlike(t *testing.T) {
	w := plainWall()
	w.Pieces, w.Voids, w.Battens = nil, nil, nil
	joints := []int64{301, 777, 1234, 1999, 2502, 3100, 3656}
	from := int64(0)
	for i, x := range append(joints, 4000) {
		w.Pieces = append(w.Pieces, engine.Piece{Mark: fmt.Sprint(i), Course: 1, Outline: measure.Rect(at(from, x), at(150, 550))})
		from = x + 2
	}
	handed := *w
	handed.Quantity, handed.Mirrored = 1, 1
	for _, w := range []*engine.WallResult{w, handed.Handed()} {
		v := New().place(w, Options{}.filled())
		v.boards()
		y, runs, run := near(v.z(measure.MM(350))), []int{}, 0
		for x := near(v.left) + 20; x < near(v.right())-20; x++ {
			switch {
			case v.ink.black(x, y):
				run++
			case run > 0:
				runs, run = append(runs, run), 0
			}
		}
		if len(runs) != len(joints) || slices.ContainsFunc(runs, func(n int) bool { return n != weightJoint }) {
			t.Errorf("joints are %v pixels wide, want %d of %d", runs, len(joints), weightJoint)
		}
	}
}

// TestTrimLettersApart: the letters of trims that lie along one slope stand side by
// side, and those at the left edge between the ticks of courses.
func TestTrimLettersApart(t *testing.T) {
	w := outlined([2]int64{0, 150}, [2]int64{4000, 150}, [2]int64{4000, 2500}, [2]int64{0, 3500})
	for n := range int64(20) {
		w.Courses = append(w.Courses, engine.Course{Number: int(n) + 1, Bottom: measure.MM(150 + 150*n), Top: measure.MM(330 + 150*n), Gauge: measure.MM(150)})
	}
	corner := func(i int) measure.Point { return w.Outline[i] }
	w.Trims = []engine.Trim{
		{Role: engine.RoleVent, Where: "top", From: corner(3), To: corner(2)},
		{Role: engine.RoleEdge, Where: "verge", From: corner(3), To: corner(2)},
		{Role: engine.RoleExternal, Where: "left", From: corner(0), To: corner(3)},
	}
	v := New().place(w, Options{}.filled())
	v.trimMarks()
	if len(v.taken) != 3 {
		t.Fatalf("%d letters written, want 3", len(v.taken))
	}
	for i, a := range v.taken {
		if v.onTick(a) {
			t.Errorf("letter %d stands on a course's tick", i)
		}
		for _, b := range v.taken[:i] {
			if a.lo.x < b.hi.x && b.lo.x < a.hi.x && a.lo.y < b.hi.y && b.lo.y < a.hi.y {
				t.Errorf("letters %v and %v overlap", a, b)
			}
		}
	}
}
