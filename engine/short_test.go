package engine

import (
	"testing"

	"lapwright/engine/boards"
	"lapwright/engine/measure"
)

// The room for fixings on a board is what trying every millimetre from its ends
// inwards finds.
func TestRoomMillimetreByMillimetre(t *testing.T) {
	all, sloped := 0, 0
	for seed := range uint64(240) {
		u := newTakeoff(testJob(newGenerator(seed).wall("wall")))
		u.declare()
		u.chooseBoard()
		u.shapeWalls()
		u.setOut()
		u.batten()
		f := u.faces[0]
		for k := range f.runs {
			h := u.holder(f, &f.runs[k])
			want := walked(&h)
			if got := h.room(); got != want {
				t.Fatalf("seed %d, course %d from %v to %v: room %v, want %v", seed, h.run.Course, h.run.Span.Lo, h.run.Span.Hi, got, want)
			}
			clear := h.run.Span.Grow(-2 * h.edge)
			all++
			if want.Lo > clear.Lo+mm(20) || want.Hi < clear.Hi-mm(20) {
				sloped++
			}
		}
	}
	if sloped < 300 {
		t.Errorf("%d of %d boards have a low end: the walls are no test", sloped, all)
	}
}

// walked returns the room for fixings on a board, tried millimetre by millimetre.
func walked(h *holder) measure.Span {
	clear := h.run.Span.Grow(-2 * h.edge)
	room := measure.Span{Lo: clear.Lo.UpTo(mm(1)), Hi: clear.Hi.DownTo(mm(1))}
	fits := func(x measure.Length) bool { _, ok := h.fixing(x); return ok }
	for room.Lo < room.Hi && !fits(room.Lo) {
		room.Lo += mm(1)
	}
	for room.Lo < room.Hi && !fits(room.Hi) {
		room.Hi -= mm(1)
	}
	return room
}

// The same under slopes so slight that the two millimetres about a fixing may
// read as level at one place and as sloped at the next: strips of 20 to 30 mm and
// more, where 25 are needed.
func TestRoomUnderSlightSlopes(t *testing.T) {
	x := measure.Span{Hi: mm(8000)}
	for rise := int64(1); rise < 200; rise += 1 + rise/10 {
		for _, top := range []measure.Profile{{{X: x.Lo, Z: mm(24)}, {X: x.Hi, Z: mm(24 + rise)}}, {{X: x.Lo, Z: mm(24 + rise)}, {X: x.Hi, Z: mm(24)}}} {
			runs := boards.Runs(boards.Wall{Base: measure.Level(x, 0), Top: top, Marks: []measure.Length{0}, Width: mm(180)})
			h := holder{run: &runs[0], edge: mm(20), need: mm(25)}
			if got, want := h.room(), walked(&h); got != want {
				t.Errorf("%v over 8 m: room %v, want %v", top, got, want)
			}
		}
	}
}
