package engine

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// A stone sill 140 deep whose horns reach 50 beyond a window from 1,000 to 2,000:
// with the gaps the horns stand from 940 to 2,060 and, the sill's underside at
// 970, from 960 to 1,120; the window keeps 990 to 2,010. Marks 150 + 135 k, boards
// of 180. The seventh course, 960 to 1,140, ends at the horns: above them 20 are
// left, the next course's. It is fixed at 1,120, where the jamb's battens, from
// 914.5 to 989.5, have just begun above the horn: its end is 25.5 past their near
// side, not half their width, and their middle is beyond it. The next batten of
// the grid is at 635, 305 from the end: more than 150. A short batten stands 150
// from the end, at 790, behind the course and its lap of 45: 915 to 1,140. On the
// right from 2,060 on, the next of the grid is at 2,435: a short one at 2,210.
func TestDeepSillsBoardsAreHeld(t *testing.T) {
	w := mustTakeoff(t, testJob(Wall{Name: "w", Width: mm(3000), Height: mm(2635), Left: Abutment, Right: Abutment, Top: Soffit, Bottom: Ground,
		Openings: []Opening{{Name: "o", Kind: "window", Left: mm(1000), Sill: mm(970), Width: mm(1000), Height: mm(1060), SillWidth: measure.Some(mm(1100)), SillDepth: measure.Some(mm(140))}}})).Walls[0]
	var got []string
	for _, b := range w.Battens {
		if b.Why == "short" {
			got = append(got, fmt.Sprint(b.Centre, b.Z))
		}
	}
	same(t, "short battens", got, []string{"790 {915 1140}", "2210 {915 1140}"})
	for i, p := range w.Pieces {
		if p.Course != 7 {
			continue
		}
		x, _ := p.Outline.Bounds()
		least := x.Length()
		for _, c := range w.Screws {
			if c.Piece == i {
				least = min(least, max(x.Hi-c.X, c.X-x.Hi), max(x.Lo-c.X, c.X-x.Lo))
			}
		}
		if least > mm(150) || p.Loose {
			t.Errorf("%s: its end reaches %v beyond its last fixing, loose %v", p.Mark, least, p.Loose)
		}
	}
}

// A window 30 from the end of a wall: less the gap of 10 no 25 are left, half a
// normal batten, and the jamb's trim is flagged; 45 from it a ripped batten stands.
func TestUnbackedTrimIsFlagged(t *testing.T) {
	for left, want := range map[int64]int{30: 1, 45: 0} {
		wall := longWall()
		wall.Left = OpenEnd
		wall.Openings = []Opening{{Name: "w1", Kind: "window", Left: mm(left), Sill: mm(900), Width: mm(1200), Height: mm(1050)}}
		f := flagged(takeOff(t, builderJob(wall)), "trim-unbacked")
		if len(f) != want || want > 0 && !strings.HasSuffix(f[0].What, "trim: w1 left jamb") {
			t.Errorf("%d from the end: %+v, want %d", left, f, want)
		}
	}
}

// crowded is a wall of openings close together, half of them with horns.
func (g generator) crowded() Wall {
	w := Wall{Name: "w", Quantity: 1, Width: g.length(2500, 6000, 5), Height: g.length(2400, 4200, 5),
		Left: g.edge(), Right: g.edge(), Top: Soffit, Bottom: Ground}
	for z := g.length(0, 900, 5); z < w.Height; z += g.length(900, 1500, 5) {
		for x := g.length(20, 700, 5); ; {
			o := Opening{Name: fmt.Sprintf("o%d", len(w.Openings)+1), Kind: "window", Left: x, Sill: z + g.length(0, 200, 5),
				Width: g.length(200, 1100, 5), Height: g.length(200, 650, 5), Lined: g.IntN(4) == 0, Reveal: mm(100)}
			if g.IntN(2) == 0 {
				o.SillWidth, o.SillDepth = measure.Some(o.Width+g.length(20, 240, 10)), measure.Some(g.length(40, 150, 5))
			}
			if o.Left+o.Width > w.Width || o.Sill+o.Height > w.Height {
				break
			}
			w.Openings = append(w.Openings, o)
			x = o.Left + o.Width + g.length(15, 400, 5)
		}
	}
	return w
}

// On crowded walls every jamb trim lies on battens, looked at each 10 mm, or is
// flagged, and every square end of a board has a screw within 150 mm, or the
// piece is flagged. Where horns or another opening stand in a batten's way the
// trim goes by them.
func TestCrowdedWallsAreCarried(t *testing.T) {
	trims, ends, flags := 0, 0, 0
	for seed := range uint64(60) {
		w := newGenerator(seed).crowded()
		res := mustTakeoff(t, testJob(w))
		if len(res.Walls) == 0 {
			continue
		}
		r := &res.Walls[0]
		said := ""
		for _, f := range res.Flags {
			if f.Code == "trim-unbacked" || f.Code == "fixing-overhang" || f.Code == "fixing-few" {
				said += f.What + ","
				flags++
			}
		}
		for _, tr := range r.Trims {
			if strings.HasSuffix(tr.Where, "jamb") && tr.Role != RoleFrame {
				trims++
				if bare := bareOver(r, tr); bare >= mm(160) && !strings.Contains(said, tr.Where+",") && !strings.Contains(said, " more") {
					t.Errorf("seed %d: %s at %v, %v to %v, has %v without a batten", seed, tr.Where, tr.From.X, tr.From.Z, tr.To.Z, bare)
				}
			}
		}
		for i := range r.Pieces {
			p := &r.Pieces[i]
			if p.Course == 0 || p.Loose || p.Few {
				if p.Course > 0 && !strings.Contains(said, p.Mark) && !strings.Contains(said, " more") {
					t.Errorf("seed %d: %s is marked and not flagged", seed, p.Mark)
				}
				continue
			}
			x, _ := p.Outline.Bounds()
			for _, end := range []struct {
				at   measure.Length
				kind EndKind
			}{{x.Lo, p.Left.Kind}, {x.Hi, p.Right.Kind}} {
				near := func(c Screw) bool { return c.Piece == i && max(c.X-end.at, end.at-c.X) <= mm(150) }
				if ends++; end.kind == Square && !slices.ContainsFunc(r.Screws, near) {
					t.Errorf("seed %d: %s has no screw near its end at %v", seed, p.Mark, end.at)
				}
			}
		}
	}
	if trims < 800 || ends < 3000 || flags < 20 {
		t.Errorf("%d trims, %d ends, %d flags: the walls are no test", trims, ends, flags)
	}
}

// bareOver returns the longest stretch of a jamb's trim without a batten beside
// it, to 10 mm.
func bareOver(r *WallResult, tr Trim) measure.Length {
	reach := measure.Span{Lo: tr.From.X, Hi: tr.From.X + mm(86)}
	if strings.HasSuffix(tr.Where, "left jamb") {
		reach = measure.Span{Lo: tr.From.X - mm(86), Hi: tr.From.X}
	}
	var most, run measure.Length
	for z := tr.From.Z; z < tr.To.Z; z += mm(10) {
		run += mm(10)
		if slices.ContainsFunc(r.Battens, func(b Batten) bool {
			return b.Centre+b.Width/2 > reach.Lo && b.Centre-b.Width/2 < reach.Hi && b.Z.Holds(z)
		}) {
			run = 0
		}
		most = max(most, run)
	}
	return most
}
