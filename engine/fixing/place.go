package fixing

import (
	"cmp"

	"lapwright/engine/measure"
)

// Piece is one board or part of it, as far as its fixings go, in the wall's x
// and z.
type Piece struct {
	Outline               measure.Polygon   // cut-outs through an edge included
	Holes                 []measure.Polygon // wholly inside
	JointLeft, JointRight bool              // the outermost end butts another piece
	Bare                  []measure.Span    // along x, what the next course leaves bare of the fixing line: at its joints and beyond its ends

	LapBelow measure.Length // by which it covers the course below; 0 for a first course
	LapAbove measure.Length // by which the next course covers it; 0: nothing does
	Visible  bool           // its fixings stay in sight whatever the laps say
}

// Batten is one length of upright batten.
type Batten struct {
	Centre, Width measure.Length
	Z             measure.Span // foot and top
}

func (b *Batten) span() measure.Span {
	return measure.Span{Lo: b.Centre - b.Width/2, Hi: b.Centre + b.Width/2}
}

// Rules are the distances that board fixings keep. 0 takes the default, all
// common practice; a declared distance comes first.
type Rules struct {
	Edge       measure.Length // from the board's top edge down to the fixing; 0: 20 mm
	PreDrill   measure.Length // closer than this to an end or a cut: pre-drilled; 0: 20 mm
	EndLeast   measure.Length // never closer than this to an end or a cut; 0: 12 mm
	BattenEdge measure.Length // never closer than this to the batten's side; 0: 5 mm
	BattenEnd  measure.Length // under a sloped cut never closer than this to the batten's head, where the board leaves room; 0: 20 mm
	Below      measure.Length // never closer than this above the board below: half the screw, with some to spare; 0: 5 mm
	Aside      measure.Length // closer than this to a bare stretch the next course does not hide the fixing: half its head, with some to spare; 0: 14 mm
}

func (r Rules) filled() Rules {
	mm := measure.MM
	return Rules{
		Edge:       cmp.Or(r.Edge, mm(20)),
		PreDrill:   cmp.Or(r.PreDrill, mm(20)),
		EndLeast:   cmp.Or(r.EndLeast, mm(12)),
		BattenEdge: cmp.Or(r.BattenEdge, mm(5)),
		BattenEnd:  cmp.Or(r.BattenEnd, mm(20)),
		Below:      cmp.Or(r.Below, mm(5)),
		Aside:      cmp.Or(r.Aside, mm(14)),
	}
}

// Screw is one board fixing as placed.
type Screw struct {
	X, Z       measure.Length
	Piece      int // index in the pieces given
	Batten     int // index in the battens given
	Kind       string
	PreDrilled bool
	Visible    bool // not covered by the next course
}

// The kinds of a screw: joint beside a joint, end beside any other upright
// end, rake beside a sloped cut, field elsewhere.
const (
	field = "field"
	joint = "joint"
	atEnd = "end"
	rake  = "rake"
)

// Trouble is a fixing that should be there and cannot. Code is one of
//
//	end     the board's end leaves no place at its least distance on the batten
//	strip   what is left of the board there is too narrow to be fixed
//	lap     a fixing there would go through the board below, or bite into its edge
//	batten  the batten stops short of the fixing line
//	few     the piece has fewer than two fixings in all; Batten is -1
type Trouble struct {
	Piece, Batten int
	Code          string
}

// Place adds the screws of the pieces to a list and returns it, with what could
// not be done. It puts one screw on each batten that each piece crosses, the edge
// distance below the piece's top edge there: at a notch under a sill below the
// notch, under a sloped cut at right angles to it, and lower where the batten's
// head would be too near. So a batten under a joint
// has two, one in each piece. A screw sits on the batten's centre unless an
// end wants it further in; it is pre-drilled where it must stay near the end,
// and its shank stays clear of the board below. Where a board of the next course ends
// in front of it, it stands aside, so that neither a joint's gap nor the end
// shows it or wets its hole: towards the middle of its own board if both sides of
// the batten have room and are covered, and where it was if neither has.
//
// Screws are in the order of the pieces, then of the battens. A batten that
// only the last bit of a square end touches is not crossed.
func Place(screws []Screw, pieces []Piece, battens []Batten, r Rules) ([]Screw, []Trouble) {
	var troubles []Trouble
	b := board{rules: r.filled(), battens: battens, across: make([]measure.Span, len(battens))}
	for j := range battens {
		b.across[j] = battens[j].span()
	}
	for i := range pieces {
		if len(pieces[i].Outline) < 3 {
			troubles = append(troubles, Trouble{i, -1, "few"})
			continue
		}
		b.take(&pieces[i])
		from, missed := len(screws), len(troubles)
		screws, troubles = b.fix(screws, troubles)
		for k := range screws[from:] {
			screws[from+k].Piece = i
		}
		for k := range troubles[missed:] {
			troubles[missed+k].Piece = i
		}
	}
	return screws, troubles
}
