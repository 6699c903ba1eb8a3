package engine

import (
	"slices"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// Strips of random walls are joined on battens wherever one lies in reach, and
// each has as many fixings as battens hold it: at the centres of 600 and more
// every batten it crosses, one that stands just beside its end at a jamb, two at
// least. Counted by trying each millimetre of its length for a batten's middle.
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
				if want += max(2, middles(&w, tr)); i > 0 && w.Trims[i-1].Role == tr.Role && w.Trims[i-1].Where == tr.Where && w.Trims[i-1].To == tr.From {
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

// middles counts the places of a level strip at which a batten near its height
// holds it.
func middles(w *WallResult, tr *Trim) int {
	at := func(x measure.Length) bool {
		return slices.ContainsFunc(w.Battens, func(b Batten) bool {
			return b.Centre >= x && b.Centre < x+mm(1) && b.Z.Lo-mm(100) <= tr.From.Z && tr.From.Z <= b.Z.Hi+mm(100)
		})
	}
	n := 0
	first, last := tr.To.X, tr.From.X
	for x := tr.From.X.DownTo(mm(1)); x <= tr.To.X; x += mm(1) {
		if at(x) {
			n, first, last = n+1, min(first, x), x
		}
	}
	if !strings.Contains(tr.Where, "head") && !strings.Contains(tr.Where, "sill") && tr.Where != "base" && tr.Where != "top" {
		return n
	}
	// A jamb's batten beside an end, unless one within is as near.
	for x := tr.From.X - mm(62); x < tr.From.X && first-tr.From.X > mm(50); x += mm(1) {
		if at(x) {
			n++
			break
		}
	}
	for x := tr.To.X + mm(62); x > tr.To.X && tr.To.X-last > mm(50); x -= mm(1) {
		if at(x) {
			n++
			break
		}
	}
	return n
}
