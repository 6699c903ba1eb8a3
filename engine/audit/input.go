package audit

import (
	"iter"

	"lapwright/engine/measure"
)

// Job is what [Check] checks: walls as drawn, the cutting plan of them all,
// and the numbers stated about them. A part that is empty is checked against
// the others as empty; only Totals and Pools may simply be left out.
type Job struct {
	Kerf    measure.Length   // what one saw cut takes, at least 0
	Packers []measure.Length // thicknesses there are; none: not known
	Walls   []Wall
	Boards  []Board         // the cutting plan
	More    iter.Seq[*Part] // of a job that is not held at once; nil: none
	Hand    []Hand          // stock on hand
	Order   []Line
	Pools   []Pool
	Totals  []Total
}

// Part is some of a job's walls and the boards that are cut for them and for no
// others. What stands before the first hyphen of a mark stands there in no other
// part.
type Part struct {
	Next   func(*Wall) bool // writes the next wall over one that is done with, and reports whether there was one
	Boards iter.Seq[*Board] // which may be written one over another
	Cuts   int              // of all its boards, so that there is room for what they cut; 0: not known
}

func (j *Job) cuts() int {
	n := 0
	for i := range j.Boards {
		for _, c := range j.Boards[i].Cuts {
			n += len(c.Marks)
		}
	}
	return n
}

// parts are the walls and boards given outright, and then the others.
func (j *Job) parts() iter.Seq[*Part] {
	return func(yield func(*Part) bool) {
		n := 0
		held := &Part{Cuts: j.cuts(),
			Next: func(own *Wall) bool {
				if n++; n <= len(j.Walls) {
					*own = j.Walls[n-1]
				}
				return n <= len(j.Walls)
			},
			Boards: func(yield func(*Board) bool) {
				for i := range j.Boards {
					if !yield(&j.Boards[i]) {
						return
					}
				}
			},
		}
		if yield(held) && j.More != nil {
			j.More(yield)
		}
	}
}

// Limits are the rules one wall is held to. Lengths are micrometres, as
// everywhere. A limit of 0 asks nothing, except that LapMost and JointOff and
// BattenShort of 0 allow nothing.
type Limits struct {
	Width             measure.Length // of a full board
	LapLeast, LapMost measure.Length

	JointGap     measure.Length // exact
	JointOff     measure.Length // a joint's middle may be so far off its batten's middle
	WideWidth    measure.Length // least width of a batten behind a joint
	BattenShort  measure.Length // a joint's batten may stop so far short of the boards' edge
	StaggerLeast measure.Length // between joints of neighbouring courses
	StaggerBays  int            // between the same, counted along the battens that are on the grid
	Repeat       int            // a batten joints again at the earliest so many courses on
	PieceLeast   measure.Length // of a piece with a joint

	EndLeast       measure.Length // a screw keeps so far from a piece's end
	EndMost        measure.Length // a square end reaches no farther beyond the piece's last screw, nor a strip's beyond its single batten
	StripReach     measure.Length // a strip reaches no farther beyond its last screw
	TrimBeside     measure.Length // a trim that goes up a batten is no farther from its side
	StripSlope     measure.Length // a batten may end so far from a sloping strip's screw
	BattenEnd      measure.Length // a screw keeps so far from its batten's ends
	EndUseful      measure.Length // nearer to them it is not said to hold
	BelowLeast     measure.Length // and so far from the board below
	EdgeLeast      measure.Length // and so far below its upper edge
	PreDrillWithin measure.Length // nearer to an end than this, a hole is drilled first
	FixHeight      measure.Length // a batten counts where a piece stands higher than this on it
	CentresMost    measure.Length // between the battens one piece is fixed to

	Thickness   measure.Length // of a board; 0: nothing is packed
	PackerLeast measure.Length // a gap is packed that is not less than this
	GaugeUnder  measure.Length // of a course that has no gauge, nor the one below
	CutFeet     bool           // boards are cut to a sloping base, with no starter along it
	Behind      measure.Length // tape that a screw may go through besides
	Depth       measure.Length // of a batten, less what is left beyond a screw's point
}

// Wall is one wall as drawn, in its own x and z. Quantity walls are alike.
type Wall struct {
	Name     string
	Pool     string // the pool its pieces are cut in
	Quantity int
	Limits   Limits

	Base, Top measure.Profile  // boards fill all between the two but the voids
	Voids     []Rect           // no board may enter; they may overlap
	Studs     []measure.Length // given middles, along x; none: battens may stand anywhere
	Openings  []Rect           // as surveyed, the horns of their sills apart; no trim may run through one
	Courses   []Course         // upwards, numbered from 1
	Pieces    []Piece
	Battens   []Batten
	Screws    []Screw
	Packings  []Packing
	Trims     []Trim
	Strips    []Strip
	Zones     []Zone // wind zones the fixings are counted by; none: as one
	Fixings   []FixingCount
}

// Rect is an upright rectangle.
type Rect struct{ X, Z measure.Span }

// Course is one level of boards. Gauge and Lap are as stated, of the next
// course over this one; 0 for the last.
type Course struct {
	Number      int
	Bottom, Top measure.Length
	Gauge, Lap  measure.Length
}

// Piece is one board or part of one. A piece of Course 0 belongs to no course
// (a board of a lined reveal): it has no Outline and is only cut and counted.
type Piece struct {
	Mark     string
	Code     string // several with "; " where it is cut from several lengths
	Colour   string
	Stock    string // names of the boards it is cut from, several with ";"
	Course   int
	Outline  measure.Polygon // anticlockwise, notches cut
	Cutouts  []Rect          // notches again, and holes
	Length   measure.Length  // the outline's, rounded up to a tenth of a millimetre
	Width    measure.Length
	Quantity int

	JointLeft, JointRight bool
	LeftRake, RightRake   float64 // degrees from square; 0: none

	Short   bool  // flagged shorter than PieceLeast
	Stagger bool  // flagged: its joints need not keep stagger and repeat
	Fragile bool  // flagged as a thin strip: its screws may stand near its edge and over the board below
	Unfixed bool  // flagged: fewer than two screws hold it
	Loose   bool  // flagged: a square end may reach farther beyond its last screw
	Bare    []int // flagged: those battens (indices) do not hold it
}

// Batten is one length of upright batten, as fixed; as many are cut as there
// are walls.
type Batten struct {
	Mark, Code, Colour, Stock string

	Centre, Width measure.Length
	Z             measure.Span
	Grid          bool // one of the lines that StaggerBays counts
	Roll          bool // ordered by the metre and not in the cutting plan
	Tight         bool // flagged: screws may stand nearer to its end than BattenEnd
	Off           bool // flagged: it stands on none of the wall's studs
}

// Screw is one fixing of a board.
type Screw struct {
	X, Z          measure.Length
	Piece, Batten int // indices in the wall's Pieces and Battens
	PreDrilled    bool
	Visible       bool // no board hides it
}

// Packing is what fills the gap between a board and a batten it stands off.
type Packing struct {
	Piece, Batten int // indices in the wall's Pieces and Battens
	Foot          bool
	Thick         measure.Length
	Packers       []Packer
	Fixing        string         // code of what goes through, or pins it
	Length        measure.Length // of the board screw; 0: flagged as not known or too short
	Reach         measure.Length // it goes so far into its batten; 0: not known
	Flagged       bool           // no packers come near its gap
}

// Packer is one packer; Thickness 0: not in the catalogue.
type Packer struct {
	Code      string
	Thickness measure.Length
}

// Trim is one length of trim, as fixed, from its left or lower end. Quantity is
// for all walls alike. A trim off a Roll is ordered by the metre and not in the
// cutting plan.
type Trim struct {
	Mark, Code, Colour, Stock string
	Role                      string

	From, To measure.Point
	Length   measure.Length
	Quantity int
	Roll     bool

	Strip  bool             // fixed only where it crosses battens, at Screws
	Screws []measure.Length // along x, rising
	Loose  bool             // flagged: an end may reach farther than StripReach, or it crosses none; or it goes up none
	Up     bool             // goes up battens and is fixed only to them
}

// Strip is material ordered by the metre, for one wall.
type Strip struct {
	Code, Colour string
	Length       measure.Length
}

// Zone is a stretch of a wall; several may share a name.
type Zone struct {
	Name string
	X    measure.Span
}

// FixingCount is a stated count of fixings for one wall as drawn. Counts of
// board screws (Board) recount from the screws, those of a role's trims (Trim) too
// if all of them are strips; any go into the order.
type FixingCount struct {
	Zone, Code, Colour         string
	Board                      bool
	Trim                       string // role of the trims it counts
	Packed                     bool   // goes through packers, or pins them; recounts from the packings
	Battens                    bool   // holds battens to the wall, at Centres
	Centres                    measure.Length
	Holds                      bool // its check passes
	Count, PreDrilled, Visible int
}

// Board is one row of the cutting plan: Count boards cut alike. With n cuts
// of summed length L, r = Stock - L - (n-1) kerfs + Shared must not be below
// 0, and Offcut is r less the last kerf, or 0 where r is less than a kerf.
type Board struct {
	Name, Pool, Code, Colour string

	Stock  measure.Length
	Width  measure.Length // 0: not a board, nothing is ripped from it
	Count  int
	Cuts   []Cut
	Offcut measure.Length
	Shared measure.Length // saved where two raked pieces share one sloped cut
	Turns  bool           // may be turned end for end, so that a cut can be shared
	OnHand bool
}

// Cut is one length sawn from a board: one piece, or several ripped from it,
// which lie one above the other.
type Cut struct {
	Marks  []string
	Length measure.Length // the longest piece's
}

// Hand is stock on hand.
type Hand struct {
	Code, Colour string
	Length       measure.Length
	Count        int
}

// Line is an order line that recounts: of stock by the piece (boards bought),
// of trims off a roll and strips by the metre, of fixings by number. Lines of
// one code and colour are summed (several drops). Lines reckoned by area are
// not for the audit.
type Line struct {
	Code, Colour string
	Net          float64 // pieces or metres
}

// Pool is what is stated of one product of one pool: the boards used, on hand
// or new, and lower bounds on their number.
type Pool struct {
	Name, Code, Colour string
	Boards             int
	Bounds             []int
	Others             []string // further codes the pool is cut from
}

// Total is a stated sum and what it sums.
type Total struct {
	Name  string
	Rows  []float64
	Total float64
}
