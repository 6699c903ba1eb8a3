package engine

import (
	"math"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// slopes returns a wall without openings under one or two slopes of up to 45
// degrees.
func (g generator) slopes(name string) Wall {
	w := Wall{Name: name, Width: g.length(2400, 11000, 10), Height: g.length(1800, 3500, 5),
		Left: g.edge(), Right: g.edge(), Top: Verge, Bottom: Ground}
	steep := 0.3 + 0.7*g.Float64()
	if g.IntN(3) == 0 {
		w.HeightRight = measure.Some(w.Height + measure.Length(steep*float64(w.Width)/2).Nearest(mm(5)))
		return w
	}
	w.ApexHeight = measure.Some(w.Height + measure.Length(steep*float64(w.Width)/2).Nearest(mm(5)))
	return w
}

// No raked tip reaches more than 300 mm beyond the screw next to it, or, where
// the board gets high enough for one only farther off, 100 beyond that place
// (common practice); half a batten more, as a screw may stand off its middle.
// Screws, not battens, are measured: so the battens stand where the boards are
// fixed. Tips of boards that are nowhere high enough are left.
func TestRakedTipsAreHeld(t *testing.T) {
	tips := 0
	for seed := range uint64(60) {
		g := newGenerator(seed)
		job := testJob(g.slopes("slope"))
		job.Rules.BattenCentres = []measure.Length{mm(400), mm(600)}[g.IntN(2)]
		for _, w := range mustTakeoff(t, job).Walls {
			screws := firstScrews(&w)
			for i, p := range w.Pieces {
				x, z := p.Outline.Bounds()
				beyond := []measure.Length{screws[i].Lo - x.Lo, x.Hi - screws[i].Hi}
				for n, end := range []End{p.Left, p.Right} {
					height, place := firstPlace(&w, p.Course, end)
					if end.Kind != Rake || z.Length() < height {
						continue
					}
					tips++
					if most := max(mm(300), place+mm(100)) + mm(25); beyond[n] > most {
						t.Errorf("seed %d: %s: tip %d reaches %v beyond its screw, most %v", seed, p.Mark, n, beyond[n], most)
					}
				}
			}
		}
	}
	if tips < 1000 {
		t.Errorf("only %d raked tips: the walls are no test", tips)
	}
}

// firstScrews returns where each piece's first and last screws stand.
func firstScrews(w *WallResult) []measure.Span {
	out := make([]measure.Span, len(w.Pieces))
	for i := range out {
		out[i] = measure.Span{Lo: math.MaxInt64 / 4, Hi: math.MinInt64 / 4}
	}
	for _, s := range w.Screws {
		o := &out[s.Piece]
		o.Lo, o.Hi = min(o.Lo, s.X), max(o.Hi, s.X)
	}
	return out
}

// firstPlace returns how high a raked board must be for a screw, 20 mm below the
// slope at right angles and 5 clear of the lap, with 2 for roundings, and how far
// from the tip it is.
func firstPlace(w *WallResult, course int, e End) (height, place measure.Length) {
	var lap measure.Length
	for _, c := range w.Courses {
		if c.Number == course-1 {
			lap = c.Lap
		}
	}
	rake := math.Tan(math.Pi / 180 * e.Degrees) // from square: level run over rise
	height = measure.Length(20e3*math.Hypot(1, 1/rake)) + mm(7) + lap
	return height, measure.Length(float64(height) * rake)
}

// Under a level top short battens stand only where strips ask for them. The grid's
// batten at 635 stands behind the middle of a window's: of 300 it holds them, 150 from
// both ends as a board's end may be; of 302, 151 from both, it does not, and of 800,
// 400 from both, though that is within reach: so one 150 from each end, over and under
// the window; of 302, where 50 clear of it and of the jamb's is no room, beside it.
func TestShortBattensForStripsOnOneBatten(t *testing.T) {
	for _, test := range []struct {
		width int64
		want  []measure.Length
	}{
		{300, nil},
		{302, []measure.Length{mm(585), mm(585), mm(685), mm(685)}},
		{800, []measure.Length{mm(385), mm(385), mm(885), mm(885)}},
	} {
		wall := threeWindows()
		wall.Openings = wall.Openings[:1]
		wall.Openings[0].Width, wall.Openings[0].Left = mm(test.width), mm(635-test.width/2)
		var got []measure.Length
		w := mustTakeoff(t, testJob(wall)).Walls[0]
		for _, b := range w.Battens {
			if b.Why == "short" {
				got = append(got, b.Centre)
			}
		}
		if !slices.Equal(got, test.want) {
			t.Errorf("%d: short battens at %v, want %v", test.width, got, test.want)
		}
		for _, tr := range w.Trims {
			if tr.acrossBattens() && tr.Loose {
				t.Errorf("%d: %s at %s is loose", test.width, tr.Role, tr.Where)
			}
		}
	}
}

// The last boards at the example's two apexes, 356 mm at their foot, are held
// twice each: at the right gable the batten 38 mm beside the apex is wide for
// joints lower down and goes on as a normal one, at the left gable above the step
// that it is wide for.
func TestExampleApexesAreHeld(t *testing.T) {
	apexes := 0
	for _, w := range mustTakeoff(t, testJob(exampleWalls(t)...)).Walls {
		screws := map[int]int{}
		for _, s := range w.Screws {
			screws[s.Piece]++
		}
		for i, p := range w.Pieces {
			if p.Course == 0 {
				continue // of a reveal
			}
			if p.Few || screws[i] < 2 {
				t.Errorf("%s: %d fixings", p.Mark, screws[i])
			}
			if x, _ := p.Outline.Bounds(); p.Left.Kind == Rake && p.Right.Kind == Rake && x.Length() < mm(400) {
				apexes++
			}
		}
	}
	if apexes != 2 {
		t.Errorf("%d last triangles, want 2", apexes)
	}
}
