package fixing

import (
	"math/rand/v2"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

// gapAt is a joint's gap of 2 mm about its middle.
func gapAt(x int64) []measure.Span {
	return []measure.Span{{Lo: mm(x - 1), Hi: mm(x + 1)}}
}

// Boards 175 high, fixing line 155, under a joint of the next course whose
// middle is at the given place; battens at 25 and under that joint. By hand
// from the rules: 14 mm aside of the gap of 2 mm, so 15 of its middle, 20 from an end or else 12
// and drilled, 5 from the batten's side.
func TestPlaceAsideOfAJoint(t *testing.T) {
	for _, test := range []struct {
		name                       string
		to, centre, width, jointAt int64
		piece                      Piece // the rest of it
		rules                      Rules
		want                       string // the screw on the batten under the joint
	}{
		// The middle of 0-3000 is to the right, that of 0-2000 to the left.
		{"towards the right", 3000, 1200, 75, 1200, Piece{}, Rules{}, "1215,155 field"},
		{"towards the left", 2000, 1200, 75, 1200, Piece{}, Rules{}, "1185,155 field"},
		{"just in the middle", 2400, 1200, 75, 1200, Piece{}, Rules{}, "1185,155 field"},
		// A batten of 40 is seated from 1185 to 1215, one of 38 to 1214.
		{"batten just wide enough", 3000, 1200, 40, 1200, Piece{}, Rules{}, "1215,155 field"},
		{"batten too narrow", 3000, 1200, 38, 1200, Piece{}, Rules{}, "1200,155 field V"},
		// The batten ends at 1225, so it is seated to 1220: 1215 has room and
		// 1185 too, but 1197 + 15 = 1212 is nearer to 1200 than 1182.
		{"joint beside the centre", 2000, 1200, 50, 1197, Piece{}, Rules{}, "1212,155 field"},
		// 15 off already: 1200 is hidden.
		{"joint 15 off", 3000, 1200, 75, 1185, Piece{}, Rules{}, "1200,155 field"},
		{"joint 14 off", 3000, 1200, 75, 1186, Piece{}, Rules{}, "1201,155 field"},
		// An end at 1228 is 13 from 1215, so the left it is.
		{"end on one side", 1228, 1200, 75, 1200, Piece{}, Rules{}, "1185,155 end"},
		// On 1185 to 1235, so seated from 1190 to 1230. The end at 1237 lets 1210 be; 1204 - 15 is off the
		// batten, 1204 + 15 = 1219 is 18 from the end.
		{"end on one side, the other off the batten", 1237, 1210, 50, 1204, Piece{}, Rules{}, "1219,155 field P"},
		// The same with the end at 1230: 11 from it.
		{"neither side", 1230, 1210, 50, 1204, Piece{}, Rules{}, "1210,155 end V"},
		// Its own joint leaves it 21 from a joint over it.
		{"joints in line", 1199, 1200, 75, 1200, Piece{JointRight: true}, Rules{}, "1179,155 joint"},
		{"wider aside", 3000, 1200, 75, 1200, Piece{}, Rules{Aside: mm(31)}, "1232,155 field"},
		{"aside past the seat", 3000, 1200, 75, 1200, Piece{}, Rules{Aside: mm(32)}, "1200,155 field V"},
		// In sight anyhow, it stays where it was.
		{"in sight below the lap", 3000, 1200, 75, 1200, Piece{LapAbove: um(19999)}, Rules{}, "1200,155 field V"},
		{"said to be in sight", 3000, 1200, 75, 1200, Piece{Visible: true}, Rules{}, "1200,155 field V"},
	} {
		p := test.piece
		if p.LapAbove == 0 {
			p.LapAbove = mm(40)
		}
		p.Outline, p.Bare = rect(0, 0, test.to, 175), gapAt(test.jointAt)
		screws, troubles := Place(nil, []Piece{p}, []Batten{batten(50, 50, 0, 500), batten(2*test.centre, test.width, 0, 500)}, test.rules)
		if len(screws) != 2 || len(troubles) != 0 {
			t.Errorf("%s: %s, troubles %q", test.name, text(screws), codes(troubles))
			continue
		}
		if got := strings.TrimPrefix(text(screws[1:]), "0/1 "); got != test.want {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
}

// The next course stops at an opening beside the board: from there on it leaves
// the fixing line bare. The batten is 75 wide at 1200, seated from 1167.5 to
// 1232.5; a screw is hidden 14 mm and more behind the end.
func TestPlaceAsideOfAnEnd(t *testing.T) {
	for _, test := range []struct {
		name       string
		bare       measure.Span
		joint      int64
		want       string
		batten, to int64
	}{
		{"end right on the screw, board above to the left", span(1200, 3000), 0, "1186,155 field", 75, 3000},
		{"board above to the right", span(0, 1200), 0, "1214,155 field", 75, 3000},
		{"hidden already", span(1214, 3000), 0, "1200,155 field", 75, 3000},
		{"13 behind the end", span(1213, 3000), 0, "1199,155 field", 75, 3000},
		{"in sight, but the batten reaches behind the board", span(1182, 3000), 0, "1168,155 field", 75, 3000},
		{"the batten does not reach behind it", span(1181, 3000), 0, "1200,155 field V", 75, 3000},
		{"a narrow batten", span(1200, 3000), 0, "1200,155 field V", 37, 3000},
		{"just as wide as wanted", span(1200, 3000), 0, "1186,155 field", 38, 3000},
		// From 1240 on bare, a joint at 1215: 1200 is 14 from the joint's gap.
		{"a joint and an end", span(1240, 3000), 1215, "1200,155 field", 75, 3000},
		{"between a joint and an end", span(1228, 3000), 1200, "1185,155 field", 75, 3000},
		// The board's own end is 13 mm beyond the place, which 1186 is not.
		{"own end near", span(1200, 1213), 0, "1186,155 end", 75, 1213},
	} {
		p := Piece{Outline: rect(0, 0, test.to, 175), LapAbove: mm(40), Bare: []measure.Span{test.bare}}
		if test.joint > 0 {
			p.Bare = append(p.Bare, gapAt(test.joint)...)
		}
		screws, troubles := Place(nil, []Piece{p}, []Batten{batten(50, 50, 0, 500), batten(2400, test.batten, 0, 500)}, Rules{})
		if len(screws) != 2 || len(troubles) != 0 {
			t.Errorf("%s: %s, troubles %q", test.name, text(screws), codes(troubles))
			continue
		}
		if got := strings.TrimPrefix(text(screws[1:]), "0/1 "); got != test.want {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
}

func span(lo, hi int64) measure.Span { return measure.Span{Lo: mm(lo), Hi: mm(hi)} }

// A strip of 36 above a hole from 1205 on: at 1215 the screw would stand 155 -
// 144 = 11 from the hole, so it goes to 1185, away from the board's middle; that
// place lies 20 across and 11 up from the hole's corner, 22.8 off.
func TestPlaceAsideClearOfAHole(t *testing.T) {
	p := Piece{Outline: rect(0, 0, 3000, 175), LapAbove: mm(40), Holes: []measure.Polygon{rect(1205, 40, 1300, 144)}, Bare: gapAt(1200)}
	screws, _ := Place(nil, []Piece{p}, []Batten{batten(50, 50, 0, 500), batten(2400, 75, 0, 500)}, Rules{})
	if got, want := text(screws), "0/0 25,155 end\n0/1 1185,155 field"; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

// Under a cut that falls 1 in 10 from (1000, 175) to (2750, 0) a joint of the
// next course stands over the batten at 1200. 20 mm off the cut at right angles
// are 20 x 1.004988 = 20.09976 upright: 20.100, and 2 micrometres for rounding.
// Towards the board's middle, at 1215, the cut is at 175 - 21.5 =
// 153.5: the screw at 133.398, hidden from 115 on. Where the next course begins
// at 133.5 only 1185, where the cut is at 156.5, is hidden; with 137 neither.
func TestPlaceAsideUnderARake(t *testing.T) {
	for _, test := range []struct {
		lap  measure.Length
		want string
	}{
		{mm(60), "1215,133.398 rake"},
		{um(41500), "1185,136.398 rake"},
		{mm(38), "1200,134.898 rake V"},
	} {
		p := Piece{Outline: poly(0, 0, 2750, 0, 1000, 175, 0, 175), LapAbove: test.lap, Bare: gapAt(1200)}
		screws, _ := Place(nil, []Piece{p}, []Batten{batten(50, 50, 0, 500), batten(2400, 75, 0, 500)}, Rules{})
		if got := strings.TrimPrefix(text(screws[1:]), "0/1 "); got != test.want {
			t.Errorf("lap %v: %s, want %s", test.lap, got, test.want)
		}
	}
}

// Wherever some place to the millimetre on the batten is hidden and keeps its
// distances, the screw is hidden; it is drilled only if no such place lies clear
// of pre-drilling, and of those that serve it takes the nearest.
func TestPlaceAsideAgainstExhaustiveSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	count := map[string]int{}
	for range 6000 {
		from, to := r.Int64N(100), 130+r.Int64N(200)
		centre, width := r.Int64N(320), 2*(10+r.Int64N(40))
		gap := centre + r.Int64N(21) - 10
		p := Piece{Outline: rect(from, 0, to, 175), LapAbove: mm(40)}
		b := []Batten{batten(2*centre, width, 0, 500)}
		before, _ := Place(nil, []Piece{p}, b, Rules{})
		p.Bare = gapAt(gap)
		after, _ := Place(nil, []Piece{p}, b, Rules{})
		if len(before) != len(after) {
			t.Fatalf("board %d-%d, batten %d wide %d, joint %d: %d screws, %d without the joint", from, to, centre, width, gap, len(after), len(before))
		}
		if len(after) == 0 {
			continue
		}
		x, drilled, ok := searchAside(before[0].X, from, to, centre, width, gap)
		s := after[0]
		if s.Visible == ok || s.X != x || ok && s.PreDrilled != drilled {
			t.Fatalf("board %d-%d, batten %d wide %d, joint %d: %s, want %v, drilled %v, hidden %v", from, to, centre, width, gap, text(after), x, drilled, ok)
		}
		switch {
		case !ok:
			count["in sight"]++
		case x == before[0].X:
			count["stays"]++
		case drilled:
			count["moved, drilled"]++
		default:
			count["moved"]++
		}
	}
	for _, kind := range []string{"in sight", "stays", "moved, drilled", "moved"} {
		if count[kind] < 20 {
			t.Errorf("%s: %d cases, too few to show anything", kind, count[kind])
		}
	}
}

// searchAside looks at half millimetres: the middle of a board may lie on one.
func searchAside(x measure.Length, from, to, centre, width, gap int64) (best measure.Length, drilled, ok bool) {
	far := func(a, b measure.Length) measure.Length { return max(a-b, b-a) }
	if far(x, mm(gap)) >= mm(15) {
		off := min(x-mm(from), mm(to)-x)
		return x, off < mm(20), true
	}
	best = x
	for _, least := range []int64{20, 12} {
		for c := mm(from + least); c <= mm(to-least); c += um(500) {
			if far(c, mm(centre))+mm(5) > mm(width/2) || far(c, mm(gap)) < mm(15) {
				continue
			}
			nearer := far(c, x) < far(best, x) || far(c, x) == far(best, x) && far(2*c, mm(from+to)) < far(2*best, mm(from+to))
			if !ok || nearer {
				best, drilled, ok = c, least == 12, true
			}
		}
		if ok {
			return best, drilled, ok
		}
	}
	return best, false, false
}
