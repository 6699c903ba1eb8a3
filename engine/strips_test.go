package engine

import (
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// Strips of random walls are joined on battens wherever one lies in reach, and
// each has as many fixings as battens hold it: at the centres of 600 and more
// every batten of which more than 20 mm lie behind it, two where that is one.
func TestStripsLieOnBattens(t *testing.T) {
	joints, off := 0, 0
	for seed := range uint64(60) {
		job := testJob(newGenerator(seed).wall("w"))
		job.Rules.StripFixing = mm(1) // every batten
		for _, w := range mustTakeoff(t, job).Walls {
			want := 0
			for i := range w.Trims {
				tr := &w.Trims[i]
				if tr.Role != RoleStarter && tr.Role != RoleVent || tr.From.Z != tr.To.Z {
					continue
				}
				if want += battensBehind(&w, tr); i > 0 && w.Trims[i-1].Role == tr.Role && w.Trims[i-1].Where == tr.Where && w.Trims[i-1].To == tr.From {
					joints++
					if !slices.ContainsFunc(w.Battens, func(b Batten) bool { return b.Centre == tr.From.X }) {
						off++
					}
				}
			}
			got := 0
			for _, f := range w.Fixings {
				if f.Where == "trim starter" || f.Where == "trim vent strip" {
					got += f.Count
				}
			}
			if sloped := slices.ContainsFunc(w.Trims, func(tr Trim) bool { return tr.Role == RoleVent && tr.From.Z != tr.To.Z }); !sloped && got != want {
				t.Errorf("seed %d: %d fixings of strips, want %d", seed, got, want)
			}
		}
	}
	if joints < 200 || off > joints/5 {
		t.Errorf("%d of %d joints off the battens", off, joints)
	}
}

// battensBehind counts the fixings of a level strip by the middles of the battens
// behind it.
func battensBehind(w *WallResult, tr *Trim) int {
	middles := map[measure.Length]bool{}
	for _, b := range w.Battens {
		behind := min(b.Centre+b.Width/2, tr.To.X) - max(b.Centre-b.Width/2, tr.From.X)
		if behind > mm(20) && b.Z.Lo-mm(1) <= tr.From.Z && tr.From.Z <= b.Z.Hi+mm(1) {
			middles[b.Centre] = true
		}
	}
	if len(middles) == 1 {
		return 2
	}
	return len(middles)
}

// No length of batten is wide for a joint, and taped, where no boards butt on it:
// each that says so has an end of a board that is jointed within a joint's gap of its
// middle, at one of its heights.
func TestJointBattensHaveJoints(t *testing.T) {
	n, spliced := 0, 0
	for seed := range uint64(200) {
		for _, w := range mustTakeoff(t, testJob(newGenerator(seed).wall("w"))).Walls {
			joints := w.joints()
			for i, b := range w.Battens {
				if b.Why != "joint" {
					if i > 0 && w.Battens[i-1].Why == "joint" && w.Battens[i-1].Z.Hi == b.Z.Lo && w.Battens[i-1].Centre == b.Centre {
						spliced++
					}
					continue
				}
				if n++; !slices.ContainsFunc(joints, func(j butt) bool {
					return j.x <= b.Centre && b.Centre-j.x <= mm(2) && !j.z.And(b.Z).Empty()
				}) {
					t.Errorf("seed %d: no boards butt on %s, %v to %v at %v", seed, b.Mark, b.Z.Lo, b.Z.Hi, b.Centre)
				}
			}
		}
	}
	if n < 1000 || spliced < 5 {
		t.Errorf("%d battens under joints, %d narrow ones spliced on: no test", n, spliced)
	}
}

// A trim that goes up battens is fixed to them only, at 300. Beside a sill's horn the
// batten ends under the horn at 1,040 and the next begins over it at 1,110: of a trim
// from 1,000 to 1,110 only 40 are on timber, too short for two fixings (common
// practice): 1. Up the next from 1,110 to 2,250 are 1,140, 4 spaces: 5. From 700 to
// 1,310 there are 340 and 200: 3 and 2. From 1,030 on there are 10, and beside no
// batten nothing: none.
func TestTrimsUpBattens(t *testing.T) {
	w := WallResult{Battens: []Batten{
		{Centre: mm(852), Width: mm(75), Z: measure.Span{Lo: mm(630), Hi: mm(1040)}},
		{Centre: mm(852), Width: mm(75), Z: measure.Span{Lo: mm(1110), Hi: mm(4460)}},
	}}
	for _, test := range []struct{ x, from, to, want int64 }{
		{850, 1000, 1110, 1}, {900, 1110, 2250, 5}, {850, 700, 1310, 5}, {850, 1030, 1110, 0}, {915, 1110, 2250, 0},
	} {
		tr := Trim{Role: RoleEdge, From: measure.Point{X: mm(test.x), Z: mm(test.from)}, To: measure.Point{X: mm(test.x), Z: mm(test.to)}}
		if got := w.upTimber(&tr, mm(300)); got != int(test.want) {
			t.Errorf("at %d from %d to %d: %d fixings, want %d", test.x, test.from, test.to, got, test.want)
		}
	}
}

// Joined strips do not hold each other. A wall of 5,010 between abutments is clad from
// 10 to 5,000: 4,990 of vent strip, in 2,500 two lengths, so that their joint falls
// from 2,500 to 2,510. The grid from 35 has 2,435 and 3,035: the left length ends 75
// at most beyond its last batten, the right one begins 525 at least before its first,
// more than 400: at the base and at the top. Clad up to 4,850 it takes 4,840, and the
// joint can fall on 2,435: none is loose.
func TestJoinedStripsHoldThemselves(t *testing.T) {
	for _, test := range []struct {
		width int64
		want  []string
	}{
		{5010, []string{"base right", "top right"}},
		{4860, nil},
	} {
		wall := threeWindows()
		wall.Openings, wall.Width = nil, mm(test.width)
		var got []string
		for _, tr := range mustTakeoff(t, testJob(wall)).Walls[0].Trims {
			switch {
			case !tr.Loose:
			case tr.From.X >= mm(2500) && tr.Role == RoleVent:
				got = append(got, tr.Where+" right")
			default:
				got = append(got, tr.Mark)
			}
		}
		if !slices.Equal(got, test.want) {
			t.Errorf("%d: loose %v, want %v", test.width, got, test.want)
		}
	}
}
