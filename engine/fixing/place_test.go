package fixing

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// rect returns a rectangle in whole millimetres.
func rect(x0, z0, x1, z1 int64) measure.Polygon {
	return measure.Rect(measure.Span{Lo: mm(x0), Hi: mm(x1)}, measure.Span{Lo: mm(z0), Hi: mm(z1)})
}

// poly returns a polygon from x, z, x, z ... in whole millimetres.
func poly(xz ...int64) measure.Polygon {
	var p measure.Polygon
	for i := 0; i < len(xz); i += 2 {
		p = append(p, measure.Point{X: mm(xz[i]), Z: mm(xz[i+1])})
	}
	return p
}

func batten(centre, width, from, to int64) Batten {
	return Batten{Centre: um(centre * 500), Width: mm(width), Z: measure.Span{Lo: mm(from), Hi: mm(to)}}
}

// text writes screws as "piece/batten x,z kind" with P for pre-drilled, V for
// visible.
func text(screws []Screw) string {
	var out []string
	for _, s := range screws {
		line := fmt.Sprintf("%d/%d %v,%v %s", s.Piece, s.Batten, s.X, s.Z, s.Kind)
		if s.PreDrilled {
			line += " P"
		}
		if s.Visible {
			line += " V"
		}
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}

func codes(troubles []Trouble) string {
	var out []string
	for _, t := range troubles {
		out = append(out, fmt.Sprintf("%d/%d %s", t.Piece, t.Batten, t.Code))
	}
	return strings.Join(out, ", ")
}

// A board 0-1000, top at 330, with a cut only 5 deep from 500: the batten
// 475-550 stands under both. Below the full top, 330 - 20 = 310, a fixing at
// the cut's corner would be 15 under its edge; so it hangs from the cut, 325 -
// 20 = 305. On the batten 465-515 less of it stands under the cut, and the
// fixing stays at its centre, 490, 310: 15 up and 10 across from the corner,
// 18 away, it is drilled first.
func TestPlaceBesideAShallowCut(t *testing.T) {
	p := Piece{Outline: poly(0, 150, 1000, 150, 1000, 325, 500, 325, 500, 330, 0, 330), LapAbove: mm(40)}
	for _, c := range []struct {
		b    Batten
		want string
	}{
		{batten(1025, 75, 0, 400), "0/0 512.5,305 field V"},
		{batten(980, 50, 0, 400), "0/0 490,310 field P"},
	} {
		screws, _ := Place(nil, []Piece{p}, []Batten{c.b}, Rules{})
		if got := text(screws); got != c.want {
			t.Errorf("%s, want %s", got, c.want)
		}
	}
}

// A wall of 3000 mm worked by hand. Boards 175, gauge 135, lap 40; a joint at
// 1800 (gap 2); a window that boards keep off from 890 to 1510 above 240.
//
//	battens  0: 0-75   1: 575-625   2: 1175-1225, up to 240 only
//	         3: 1762.5-1837.5   4: 2375-2425   5: 2925-3000
//	         6: 815-890 and 7: 1510-1585 at the jambs
//	course 1, bottom 0, fixing line 175 - 20 = 155; the next bottom 135: hidden
//	  piece 0, 0-1799: battens 0, 1, 2, 3, 6, 7. On 0 its end lies 37.5 from
//	    the centre: stays there. On 3 it ends at 1799; 20 mm off is 1779.
//	  piece 1, 1801-3000: battens 3 (1801 + 20 = 1821), 4, 5
//	course 2, bottom 135, fixing line 310 - 20 = 290; the next bottom 270
//	  piece 2, 0-3000 with a notch 890-1510 down to 240: eight battens. On 2
//	    it hangs below the notch, 240 - 20 = 220, above the board below (175):
//	    visible. On 6 and 7 it ends at the notch, 37.5 off.
//	course 3, bottom 270, fixing line 445 - 20 = 425, nothing above: visible
//	  piece 3, 0-890: battens 0, 1, 6; piece 4, 1510-3000: 3, 4, 5, 7
//
// 24 screws: joint 2, end 2 + 4 + 4 = 10, field 12; visible 1 + 7 = 8.
func TestPlaceOnAWallByHand(t *testing.T) {
	battens := []Batten{
		batten(75, 75, 0, 445), batten(1200, 50, 0, 445), batten(2400, 50, 0, 240), batten(3600, 75, 0, 445),
		batten(4800, 50, 0, 445), batten(5925, 75, 0, 445), batten(1705, 75, 0, 445), batten(3095, 75, 0, 445),
	}
	notched := poly(0, 135, 3000, 135, 3000, 310, 1510, 310, 1510, 240, 890, 240, 890, 310, 0, 310)
	pieces := []Piece{
		{Outline: rect(0, 0, 1799, 175), LapAbove: mm(40), JointRight: true},
		{Outline: rect(1801, 0, 3000, 175), LapAbove: mm(40), JointLeft: true},
		{Outline: notched, LapBelow: mm(40), LapAbove: mm(40)},
		{Outline: rect(0, 270, 890, 445), LapBelow: mm(40)},
		{Outline: rect(1510, 270, 3000, 445), LapBelow: mm(40)},
	}
	want := `0/0 37.5,155 end
0/1 600,155 field
0/2 1200,155 field
0/3 1779,155 joint
0/6 852.5,155 field
0/7 1547.5,155 field
1/3 1821,155 joint
1/4 2400,155 field
1/5 2962.5,155 end
2/0 37.5,290 end
2/1 600,290 field
2/2 1200,220 field V
2/3 1800,290 field
2/4 2400,290 field
2/5 2962.5,290 end
2/6 852.5,290 end
2/7 1547.5,290 end
3/0 37.5,425 end V
3/1 600,425 field V
3/6 852.5,425 end V
4/3 1800,425 field V
4/4 2400,425 field V
4/5 2962.5,425 end V
4/7 1547.5,425 end V`
	screws, troubles := Place(nil, pieces, battens, Rules{})
	if got := text(screws); got != want {
		t.Errorf("screws:\n%s\nwant:\n%s", got, want)
	}
	if len(troubles) != 0 {
		t.Errorf("troubles %s, want none", codes(troubles))
	}
	for _, s := range screws {
		if s.Piece == 2 && s.Z <= mm(175) {
			t.Errorf("%+v goes through the board below, whose top is at 175", s)
		}
	}
}

// One piece of 1200 between two plain battens at 25 and 1175 and a third under
// its right end; each case by hand from the rules: 20 mm from an end without
// pre-drilling, never within 12, never within 5 of the batten's side.
func TestPlaceAtAnEnd(t *testing.T) {
	for _, test := range []struct {
		name     string
		end      int64 // of the piece, on a batten of the given width at 1200
		width    int64
		isJoint  bool
		want     string // the screw there
		troubles string
	}{
		{"joint on a wide batten", 1199, 75, true, "1179,155 joint", ""},
		// The batten begins at 1175, its seat at 1180; 1199 - 1180 = 19.
		{"joint on a narrow batten", 1199, 50, true, "1180,155 joint P", ""},
		// Seat from 1187: 1199 - 1187 = 12, just the least.
		{"joint on a batten of 36", 1199, 36, true, "1187,155 joint P", ""},
		{"joint on a batten too narrow", 1199, 34, true, "", "0/2 end"},
		{"end past the centre", 1225, 50, false, "1200,155 end", ""},
		{"end 10 past the centre", 1210, 50, false, "1190,155 end", ""},
		{"end 4 before the centre", 1196, 50, false, "1180,155 end P", ""},
		// 10 mm of board on the batten hold no screw and are not asked to.
		{"end on the batten's side", 1185, 50, false, "", ""},
		{"end beyond the batten", 1300, 50, false, "1200,155 field", ""},
	} {
		p := Piece{Outline: rect(0, 0, test.end, 175), LapAbove: mm(40), JointRight: test.isJoint}
		battens := []Batten{batten(50, 50, 0, 500), batten(1200, 50, 0, 500), batten(2400, test.width, 0, 500)}
		screws, troubles := Place(nil, []Piece{p}, battens, Rules{})
		got := ""
		for _, s := range screws {
			if s.Batten == 2 {
				got = strings.TrimPrefix(text([]Screw{s}), "0/2 ")
			}
		}
		if got != test.want || codes(troubles) != test.troubles {
			t.Errorf("%s: %q, troubles %q, want %q, %q", test.name, got, codes(troubles), test.want, test.troubles)
		}
	}
}

// Declared distances come before the defaults.
func TestPlaceByDeclaredDistances(t *testing.T) {
	p := Piece{Outline: rect(0, 0, 1199, 175), LapAbove: mm(40), JointRight: true}
	battens := []Batten{batten(50, 50, 0, 500), batten(2400, 75, 0, 500)}
	screws, _ := Place(nil, []Piece{p}, battens, Rules{Edge: mm(25), PreDrill: mm(35), EndLeast: mm(30), BattenEdge: mm(3)})
	// Batten 1162.5 to 1237.5, seat from 1165.5: 33.5 from the end.
	// The first batten, 0 to 50, allows the 35 mm that need no pre-drilling.
	if got, want := text(screws), "0/0 35,150 end\n0/1 1165.5,150 joint P"; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

// Pre-drilling asked for nearer than the least distance: the least distance
// still holds, 1199 - 12 = 1187. A second batten at the joint, too narrow for a
// place of its own, is said to be so though the first one's screw lies on it.
func TestPlaceLeastDistanceFirst(t *testing.T) {
	p := Piece{Outline: rect(0, 0, 1199, 175), LapAbove: mm(40), JointRight: true}
	battens := []Batten{batten(100, 50, 0, 500), batten(2400, 75, 0, 500), batten(2400, 34, 0, 500)}
	screws, troubles := Place(nil, []Piece{p}, battens, Rules{PreDrill: mm(10)})
	if got, want := text(screws), "0/0 50,155 field\n0/1 1187,155 joint"; got != want || codes(troubles) != "0/2 end" {
		t.Errorf("%s, troubles %q\nwant\n%s, 0/2 end", got, codes(troubles), want)
	}
}

// Under a sloped cut the screw hangs at right angles to it. A slope of 3 in 4
// is 5 long: 20 mm off it are 25 upright (and 2 micrometres for rounding).
func TestPlaceUnderARake(t *testing.T) {
	// Bottom 0 to 1200; the cut rises from (1200, 0) to (960, 180).
	p := Piece{Outline: poly(0, 0, 1200, 0, 960, 180, 0, 180), LapBelow: mm(40), LapAbove: mm(40)}
	mirror := Piece{Outline: poly(0, 0, 1200, 0, 1200, 180, 240, 180), LapBelow: p.LapBelow, LapAbove: p.LapAbove}
	for _, test := range []struct {
		centre   int64
		want     string
		troubles string
	}{
		{500, "500,160 field", ""},
		// At z 160 the cut is at 986.666, beyond the batten's side at 965; 20
		// off it at right angles are 20 x 5/3 = 33.334 along: 940 is clear.
		{940, "940,160 field", ""},
		// The batten lies from 945 to 995, so the cut ends on it; its seat
		// begins at 950: the screw moves in to 986.666 - 33.334 - 0.001.
		{970, "953.331,160 rake", ""},
		// Under the slope: height there (1200 - 1000) x 3/4 = 150, less 25.
		{1000, "1000,124.998 rake V", ""},
		// 1100: 75 - 25 = 50, above the board below at 40.
		{1100, "1100,49.998 rake V", ""},
		// 1120: 60 - 25 = 35: through the board below.
		{1120, "", "0/2 lap"},
		// 1160: 30 - 25 = 5: too near the bottom.
		{1160, "", "0/2 strip"},
	} {
		battens := []Batten{batten(100, 50, 0, 500), batten(400, 50, 0, 500), batten(2*test.centre, 50, 0, 500)}
		screws, troubles := Place(nil, []Piece{p}, battens, Rules{})
		got := strings.TrimPrefix(text(screws[2:]), "0/2 ")
		if got != test.want || codes(troubles) != test.troubles {
			t.Errorf("batten at %d: %q, troubles %q, want %q, %q", test.centre, got, codes(troubles), test.want, test.troubles)
		}
		for i, b := range battens {
			battens[i].Centre = mm(1200) - b.Centre
		}
		mirrored, _ := Place(nil, []Piece{mirror}, battens, Rules{})
		if len(mirrored) != len(screws) {
			t.Errorf("batten at %d: %d screws, %d in the mirror", test.centre, len(screws), len(mirrored))
			continue
		}
		for i, s := range screws {
			if m := mirrored[i]; (m.X+s.X-mm(1200)).Nearest(10) != 0 || m.Z != s.Z || m.Kind != s.Kind {
				t.Errorf("batten at %d: %s, in the mirror %s", test.centre, text(screws[i:i+1]), text(mirrored[i:i+1]))
			}
		}
	}
}

// Fixed 50 mm off a slope of 3 in 4, so 62.5 upright, the screw at 1000 would
// stand at 150 - 62.5 = 87.5: in the middle of a hole there.
func TestPlaceUnderARakeInAHole(t *testing.T) {
	p := Piece{Outline: poly(0, 0, 1200, 0, 960, 180, 0, 180)}
	battens := []Batten{batten(100, 50, 0, 500), batten(400, 50, 0, 500), batten(2000, 50, 0, 500)}
	if screws, _ := Place(nil, []Piece{p}, battens, Rules{Edge: mm(50)}); len(screws) != 3 || screws[2].Z != um(87498) {
		t.Fatalf("without the hole: %s, want the third at 87.498", text(screws))
	}
	p.Holes = []measure.Polygon{rect(960, 50, 1040, 110)}
	screws, troubles := Place(nil, []Piece{p}, battens, Rules{Edge: mm(50)})
	if len(screws) != 2 || codes(troubles) != "0/2 strip" {
		t.Errorf("with the hole: %s, troubles %q, want two screws and 0/2 strip", text(screws), codes(troubles))
	}
}

func TestPlaceTroubles(t *testing.T) {
	full := []Batten{batten(100, 50, 0, 500), batten(1200, 50, 0, 500), batten(2300, 50, 0, 500)}
	whole := rect(0, 0, 1200, 175)
	for _, test := range []struct {
		name    string
		piece   Piece
		battens []Batten
		screws  int
		want    string
	}{
		{"all well", Piece{Outline: whole}, full, 3, ""},
		{"one batten only", Piece{Outline: whole}, full[:1], 1, "0/-1 few"},
		{"no batten", Piece{Outline: whole}, nil, 0, "0/-1 few"},
		{"no outline", Piece{}, full, 0, "0/-1 few"},
		{"batten too short", Piece{Outline: whole}, append(slices.Clone(full[:2]), batten(2300, 50, 0, 100)), 2, "0/2 batten"},
		{"batten in another course", Piece{Outline: whole}, append(slices.Clone(full), batten(1800, 50, 175, 500)), 3, ""},
		// Spliced at 100: the upper length carries the screw, once.
		{"spliced batten", Piece{Outline: whole}, append(slices.Clone(full), batten(1800, 50, 0, 100), batten(1800, 50, 100, 500)), 4, ""},
		// Spliced right at the fixing line.
		{"spliced at the line", Piece{Outline: whole}, append(slices.Clone(full), batten(1800, 50, 0, 155), batten(1800, 50, 155, 500)), 4, ""},
		// One that ends within the lap of 40 is covered by the board below; one
		// that goes on 1 mm more is not.
		{"ends behind the board below", Piece{Outline: whole, LapBelow: mm(40)}, append(slices.Clone(full), batten(1800, 50, -200, 40)), 3, ""},
		{"ends above the board below", Piece{Outline: whole, LapBelow: mm(40)}, append(slices.Clone(full), batten(1800, 50, -200, 41)), 3, "0/3 batten"},
		// One that goes on 30 mm aside carries it, at 870, which is behind the
		// lower one's 862.5 to 937.5; at 860 that would not be.
		{"goes on aside", Piece{Outline: whole}, append(slices.Clone(full), batten(1800, 75, 0, 100), batten(1740, 50, 101, 500)), 4, ""},
		{"another far aside", Piece{Outline: whole}, append(slices.Clone(full), batten(1800, 75, 0, 100), batten(1720, 50, 101, 500)), 4, "0/3 batten"},
		// A strip of 30 above a head: 10 mm below the fixing line.
		{"strip above a head", Piece{Outline: poly(0, 0, 500, 0, 500, 145, 700, 145, 700, 0, 1200, 0, 1200, 175, 0, 175)}, full, 2, "0/1 strip"},
		// Of 32 they are just the least distance of 12, of 31 they are not.
		{"strip of 32", Piece{Outline: poly(0, 0, 500, 0, 500, 143, 700, 143, 700, 0, 1200, 0, 1200, 175, 0, 175)}, full, 3, ""},
		{"strip of 31", Piece{Outline: poly(0, 0, 500, 0, 500, 144, 700, 144, 700, 0, 1200, 0, 1200, 175, 0, 175)}, full, 2, "0/1 strip"},
		// A strip of 50 below a sill: 30 - 20 are below the next board's top.
		{"strip below a sill", Piece{Outline: poly(0, 0, 1200, 0, 1200, 175, 700, 175, 700, 50, 500, 50, 500, 175, 0, 175), LapBelow: mm(40)}, full, 2, "0/1 lap"},
		// A hole of 100 x 100 around the middle batten leaves 20 mm above it.
		{"hole", Piece{Outline: whole, Holes: []measure.Polygon{rect(550, 55, 650, 155)}}, full, 2, "0/1 strip"},
		// The cut begins at the very height of the fixing line.
		{"corner on the line", Piece{Outline: poly(0, 0, 1200, 0, 1200, 155, 1190, 175, 0, 175)}, full, 3, ""},
		{"joint at the left, too narrow", Piece{Outline: rect(610, 0, 2400, 175), JointLeft: true}, full, 1, "0/1 end, 0/-1 few"},
		{"hole lower down", Piece{Outline: whole, Holes: []measure.Polygon{rect(550, 40, 650, 140)}}, full, 3, ""},
	} {
		screws, troubles := Place(nil, []Piece{test.piece}, test.battens, Rules{})
		if len(screws) != test.screws || codes(troubles) != test.want {
			t.Errorf("%s: %d screws, troubles %q, want %d, %q:\n%s", test.name, len(screws), codes(troubles), test.screws, test.want, text(screws))
		}
	}
}

func TestPlaceVisible(t *testing.T) {
	battens := []Batten{batten(100, 50, 0, 500), batten(2300, 50, 0, 500)}
	for _, test := range []struct {
		name  string
		piece Piece
		want  bool
	}{
		{"covered", Piece{Outline: rect(0, 0, 1200, 175), LapAbove: mm(40)}, false},
		{"just covered: the next course begins at the fixing line", Piece{Outline: rect(0, 0, 1200, 175), LapAbove: mm(20)}, false},
		{"lap too small to cover", Piece{Outline: rect(0, 0, 1200, 175), LapAbove: um(19999)}, true},
		{"top course", Piece{Outline: rect(0, 0, 1200, 175)}, true},
		{"said to be", Piece{Outline: rect(0, 0, 1200, 175), LapAbove: mm(40), Visible: true}, true},
		// A notch 15 deep: its fixing at 140 is above the next course's bottom
		// at 135, but under a sill no next course runs.
		{"under a sill", Piece{Outline: poly(0, 0, 1250, 0, 1250, 175, 1240, 175, 1240, 160, 10, 160, 10, 175, 0, 175), LapAbove: mm(40)}, true},
	} {
		screws, _ := Place(nil, []Piece{test.piece}, battens, Rules{})
		for _, s := range screws {
			if s.Visible != test.want {
				t.Errorf("%s: %s", test.name, text([]Screw{s}))
			}
		}
		if len(screws) != 2 {
			t.Errorf("%s: %d screws, want 2", test.name, len(screws))
		}
	}
}

// A board 180 high whose upper edge rises 3 in 4 from 0 to 240 and is level from
// there. The batten 175-225 is cut square under it: 131. Square to the slope 20 is
// 20 x 5/4 = 25 upright, less the two micrometres for rounding: 150 - 25 = 125, which
// leaves 6 to the batten's head; 20 from it is 111. A board below that reaches up to
// 111 leaves no room for that: the fixing goes down to 5 above it, 116, half a screw of
// 6 and 2 beside it. One that reaches up to 120 leaves no place: at 125 the fixing
// would be less than 5 above it. Under the level edge the
// batten 475-525 holds it at 160 where it ends at 180, and not where it ends at 179,
// unless two boards butt there.
func TestPlaceClearOfTheBattensHead(t *testing.T) {
	raked := Piece{Outline: poly(0, 0, 1000, 0, 1000, 180, 240, 180), LapBelow: mm(40), LapAbove: mm(40)}
	butting := raked
	butting.Outline, butting.JointRight = poly(0, 0, 500, 0, 500, 180, 240, 180), true
	low := raked
	low.LapBelow = mm(111)
	lower := raked
	lower.LapBelow = mm(120)
	for _, c := range []struct {
		name, want string
		piece      Piece
		b          Batten
	}{
		{"lower, clear of it", "0/0 200,111 rake V", raked, batten(400, 50, 0, 131)},
		{"a board below in the way", "0/0 200,116 rake V", low, batten(400, 50, 0, 131)},
		{"no place clear of the board below", "", lower, batten(400, 50, 0, 131)},
		{"just clear under a level edge", "0/0 500,160 field", raked, batten(1000, 50, 0, 180)},
		{"not clear under a level edge", "", raked, batten(1000, 50, 0, 179)},
		{"a joint", "0/0 480,160 joint", butting, batten(1000, 75, 0, 179)},
	} {
		screws, troubles := Place(nil, []Piece{c.piece}, []Batten{c.b}, Rules{})
		if got := text(screws); got != c.want {
			t.Errorf("%s: got %s, want %s", c.name, got, c.want)
		}
		if missed := strings.Contains(codes(troubles), "0/0 batten") || strings.Contains(codes(troubles), "0/0 lap"); missed != (c.want == "") {
			t.Errorf("%s: troubles %s", c.name, codes(troubles))
		}
	}
}
