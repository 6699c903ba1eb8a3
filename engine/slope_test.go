package engine

import (
	"context"
	"slices"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// A wall of 3,000 above a roof that rises from 0 to 1,500: boards of 180, 10 thick,
// are cut to 150 + x/2. Their marks go from 155, the slope at the abutment's gap of
// 10, up to 2,625 - 180 = 2,445: 16 gauges of 143, laps of 37. Battens stand at 35,
// 635, 1,235, 1,835, 2,435 and 2,965. Where the slope crosses them, by hand:
//
//	35:    167.5, course 1 from 155; none below: 10 x (335 - 167.5)/143 = 11.7 off
//	635:   467.5, course 3 from 441 lies on the tip of course 2, up to 478; behind that
//	       the batten, cut square at 480, does not reach
//	1,235: 767.5, course 5 from 728; course 4 ends at 764: 10 x (908 - 767.5)/143 = 9.8
//	1,835: 1,067.5, course 7 from 1,014; course 6 ends at 1,051: 8.8
//	2,435: 1,367.5, course 9 from 1,300; course 8 ends at 1,337: 7.9
//	2,965: 1,632.5, course 11 from 1,586; course 10 ends at 1,623: 9.3
//
// The short battens that hold the tips are crossed too, so that every course from 1
// to 11 has a board to pack, and the first is the farthest off.
func TestBoardsCutToASlopeArePacked(t *testing.T) {
	job := testJob(Wall{Name: "w", Width: mm(3000), Height: mm(2635), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Roof,
		BaseProfile: measure.Profile{{X: 0, Z: 0}, {X: mm(3000), Z: mm(1500)}}})
	u := newTakeoff(job)
	if err := u.plan(context.Background()); err != nil {
		t.Fatal(err)
	}
	w := u.result.Walls[0]
	for _, p := range w.Pieces {
		if p.FootPacked != (p.Course <= 11) {
			t.Errorf("%s of course %d: packed %v", p.Mark, p.Course, p.FootPacked)
		}
	}
	w.Battens = slices.DeleteFunc(slices.Clone(w.Battens), func(b Batten) bool { return b.Why == "short" })
	want := map[int]float64{1: 11.7, 3: 0, 5: 9.8, 7: 8.8, 9: 7.9, 11: 9.3}
	for i, p := range w.Pieces {
		off := 0.0
		for _, k := range u.offSlope(&w, i) {
			off = max(off, k.Off.Shown())
		}
		if off != want[p.Course] {
			t.Errorf("%s stands %v off a batten of the grid, want %v", p.Mark, off, want[p.Course])
		}
	}
	// By packers of 2, 3 and 5: 12 is 5 + 5 + 2, 10 is 5 + 5, 9 is 5 + 2 + 2, 8 is 5 + 3.
	for gap, want := range map[float64]string{11.7: "PK5 PK5 PK2", 9.8: "PK5 PK5", 8.8: "PK5 PK2 PK2", 7.9: "PK5 PK3", 9.3: "PK5 PK2 PK2"} {
		if _, codes := u.fill(measure.Length(gap*1000), u.stacks()); strings.Join(codes, " ") != want {
			t.Errorf("a gap of %v is filled by %v, want %s", gap, codes, want)
		}
	}
	r := mustTakeoff(t, job)
	feet, packers := 0, map[string]float64{}
	for _, k := range r.Walls[0].Packings {
		feet++
		for _, code := range k.Packers {
			packers[code]++
		}
	}
	same(t, "packers ordered", orderOf(r, RolePacker), packers)
	if pins := row(t, &r.Walls[0], "", "trim packer", false); feet < 11 || pins.Count != feet || pins.Fixing != "TF" {
		t.Errorf("%d feet are packed, pinned with %+v", feet, pins)
	}
	flags := flagged(r, "slope-packed")
	if len(flags) != 1 || !strings.Contains(flags[0].What, "up to 12 mm") || !strings.HasSuffix(flags[0].What, "W1-10a, W1-11a") {
		t.Errorf("flags: %+v", flags)
	}
}

// Boards over a level roof stand on a starter, and those over sloping ground on
// treads: nothing is packed there. Who makes the flashing is said of roofs alone.
func TestLevelFeetAreNotPacked(t *testing.T) {
	for _, c := range []struct {
		bottom Edge
		right  int64
		said   bool
	}{{Roof, 0, true}, {Ground, 1500, false}} {
		res := mustTakeoff(t, testJob(Wall{Name: "w", Width: mm(3000), Height: mm(2635), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: c.bottom,
			BaseProfile: measure.Profile{{X: 0, Z: 0}, {X: mm(3000), Z: mm(c.right)}}}))
		packed := slices.ContainsFunc(res.Walls[0].Pieces, func(p Piece) bool { return p.FootPacked })
		said := slices.ContainsFunc(res.Notes, func(n string) bool { return strings.Contains(n, "flashing") })
		if packed || len(flagged(res, "slope-packed")) > 0 || said != c.said {
			t.Errorf("%s to %d: packed %v, flashing said %v", c.bottom, c.right, packed, said)
		}
	}
}
