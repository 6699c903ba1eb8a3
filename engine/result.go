package engine

import (
	"strings"

	"lapwright/engine/fixing"
	"lapwright/engine/measure"
)

// Result is a whole takeoff. Its slices are in survey order; equal jobs give
// equal results.
type Result struct {
	Job      *Job
	Walls    []WallResult // those taken off
	Left     []LeftWall   // those a stop kept out
	Cutting  []CutRow     // none of a large job: see [Result.CutRows]
	Pools    []PoolResult
	Order    []OrderLine
	Measured []Measured
	Options  []Alternative
	Flags    []Flag
	Effort   Effort // the one used
	Board    Product
	Wind     WindResult
	Notes    []string // assumptions, in words

	Undeclared []string // items of Declared that are used and not there

	again *again // works out what is not held; nil: all is
}

// LeftWall is a wall that a stop keeps out of the firm order. Area is its net
// area as far as it is known, for a provisional quantity, else 0.
type LeftWall struct {
	Plot, Wall string
	Quantity   int
	NetArea    float64 // m2, one wall
	Boards     float64 // provisional, by area
	Why        string
}

// WallResult is one wall as drawn. Quantity walls are alike; of them Mirrored
// are built handed (mirrored left to right). Of a large job it holds no Screws,
// Packings, Battens, Trims, Strips and Fixings, and of its Pieces those of reveals
// alone: see [Result.Whole] and [Result.Lists].
type WallResult struct {
	Wall     *Wall
	Plot     string
	Name     string
	Code     string // short mark, unique in the job, that heads its piece marks
	Colour   string
	Quantity int
	Mirrored int
	Plots    []int // indices in Job.Plots of the dwellings it is built in; nil: the job has none
	Drop     string
	Pool     string

	LeftMeets, RightMeets string // the walls it meets at its corners, where the survey says

	Outline  measure.Polygon // the wall's face
	Clad     Region          // where boards go: the outline less gaps and allowances
	Voids    []Void
	Courses  []Course
	Battens  []Batten
	Pieces   []Piece
	Trims    []Trim
	Strips   []Strip
	Fixings  []FixingRow
	Screws   []Screw
	Packings []Packing
	Zones    []Zone
	Targets  []TargetResult
	Advice   []string // what the nearest change would buy
	Gross    float64  // m2 of the face, one wall
	Net      float64  // m2 of the face less openings

	jointed int // ends that butt on the next piece
}

// Region is the part of a wall between two profiles over one span.
type Region struct{ Base, Top measure.Profile }

// Void is an opening with the gaps the boards keep to it.
type Void struct {
	Opening *Opening
	Frame   []measure.Polygon // the opening and its sill horns as surveyed: rectangles
	Keep    []VoidRect        // the rectangles no board may enter
}

// VoidRect is an upright rectangle.
type VoidRect struct{ X, Z measure.Span }

// Course is one level of boards. The first has Number 1.
type Course struct {
	Number      int
	Bottom, Top measure.Length
	Gauge       measure.Length // to the next course; 0 at the top
	Lap         measure.Length // of the next course over this one; 0 at the top
	Note        string
}

// Batten is one length of upright batten as fixed.
type Batten struct {
	Mark   string
	Centre measure.Length
	Width  measure.Length
	Z      measure.Span
	Why    string // grid, corner, jamb, joint, edge, stud, step, short
	Code   string
	Stock  string
	Tight  bool // flagged: a board's fixing stands too near its end
	Off    bool // flagged: it stands on none of the studs given
}

// EndKind is how a piece ends.
type EndKind int

// The three ends.
const (
	Square EndKind = iota
	Joint
	Rake
)

// End is one end of a piece; Degrees is the slope of a rake from square. Under
// says that a rake takes the lower corner off, so that the long edge is the
// upper one; at a gable the long edge is the lower one.
type End struct {
	Kind    EndKind
	Degrees float64
	Under   bool
}

// Piece is one board or part of it, as fixed, for one wall as drawn.
type Piece struct {
	Mark       string
	Course     int             // number; 0: a reveal board
	Reveal     string          // of a reveal board: opening and side
	Outline    measure.Polygon // in the wall's x and z, cut-outs through an edge included
	Cutouts    []VoidRect      // in the wall's x and z
	Holes      []VoidRect      // those of them wholly inside, which Outline does not show
	Length     measure.Length  // along the long edge, a multiple of a tenth
	Width      measure.Length
	Left       End
	Right      End
	Ripped     bool
	Fragile    bool     // a strip thinner than the least
	Short      bool     // shorter than the least piece
	Relaxed    bool     // no layout keeps the joint rules in its run
	OffGrid    bool     // it butts on a batten off the grid, flagged
	Packed     bool     // packers stand behind its cut upper edge
	FootPacked bool     // packers stand behind its lower edge, cut to a slope below
	Bare       []int    // indices in Battens that it crosses and cannot be fixed to, each flagged but where the next ones are near enough
	Few        bool     // held by fewer than two fixings, flagged
	Loose      bool     // a square end reaches too far beyond its last fixing, flagged
	Unfixed    []string // in words why it cannot be fixed like the others, each flagged
	Colour     string
	Code       string
	Quantity   int
	Stock      string // the Board of the cutting plan; several with ";"
}

// Trim is one length of trim, strip or starter as fixed, for one wall.
type Trim struct {
	Mark     string
	Role     string
	Code     string
	Colour   string
	Where    string
	Length   measure.Length
	From, To measure.Point
	Quantity int
	Stock    string

	Screws []measure.Length // along x, of a strip that is fixed only to the battens it crosses
	Loose  bool             // flagged: an end of such a strip has no batten near it, or one holds all of it; or a trim goes up none
}

// Strip is a length of material that is not cut as pieces: tape.
type Strip struct {
	Role   string
	Where  string
	Width  measure.Length
	Length measure.Length
}

// Screw is one board fixing as placed, in the wall's x and z.
type Screw struct {
	X, Z       measure.Length
	Piece      int    // index in Pieces
	Batten     int    // index in Battens
	Kind       string // field, joint, end, rake, visible
	PreDrilled bool
	Visible    bool
	Packing    int // in Packings, from 1: the packers it goes through; 0: none
}

// FixingRow is one row of the fixing schedule, for one wall as drawn. Load, a
// design value, is that of the row's worst fixing by the part of its board that
// it carries. Resistance and Use are 0 where Basis says not checked; so is Load
// where nothing is known of it.
type FixingRow struct {
	Zone                       string
	Role                       string // of the product: screw, visible screw, trim fixing, batten fixing
	Fixing                     string // product code
	Where                      string // begins with board, trim or batten
	Centres                    measure.Length
	Count, PreDrilled, Visible int
	Packers                    measure.Span // of what they go through, the thinnest and the thickest; zero: nothing
	Load, Resistance, Use      float64      // N, N, per cent
	Basis                      string
	Verdict                    string
}

// Zone is a strip of a wall in one wind zone.
type Zone struct {
	Name              string
	X                 measure.Span
	Suction, Pressure float64 // Pa
	Centres           measure.Length
	Why               string // what governs the centres

	lapped, top []fixing.Check // of courses that the next one laps, and of the top course
	verdict     fixing.Verdict // the worst of both; blank: no wind
	holds       bool
}

// TargetResult is one height the courses try to meet.
type TargetResult struct {
	Kind string // base, sill, head, top
	Name string // opening
	At   measure.Length
	Met  string         // how, or blank
	Off  measure.Length // by how much it is missed, signed: mark less target
}

// CutRow is one pattern of the cutting plan: Count boards cut alike.
type CutRow struct {
	Board  string
	*Lot   // never nil
	Count  int
	Cuts   []Cut
	Offcut measure.Length
	Shared measure.Length // saved by raked cuts that serve two pieces
}

// Lot is what rows of the cutting plan have in common, which share it: one
// product of one length, cut for one pool.
type Lot struct {
	Pool, Drop         string
	Role, Code, Colour string
	Stock              measure.Length
	OnHand             bool
}

// Cut is one piece, or a ripped pair, sawn from a board.
type Cut struct {
	Marks  []string
	Length measure.Length
	Turned bool           // the piece lies on the board turned end for end
	Saved  measure.Length // by the cut before it, which also ends its neighbour; 0: no shared cut
}

// SharedCuts says in words which neighbours one raked cut parts, and which of
// their pieces lies turned end for end; blank where no cut is shared.
func (r *CutRow) SharedCuts() string {
	var out []string
	for i := 1; i < len(r.Cuts); i++ {
		a, b := r.Cuts[i-1], r.Cuts[i]
		if b.Saved == 0 {
			continue
		}
		turned := b
		if a.Turned {
			turned = a
		}
		out = append(out, strings.Join(a.Marks, "+")+" and "+strings.Join(b.Marks, "+")+" by one raked cut, "+strings.Join(turned.Marks, "+")+" turned end for end")
	}
	return strings.Join(out, "; ")
}

// PoolResult says how near the limit one pool of one cut product is.
type PoolResult struct {
	Pool, Role, Code, Colour string
	Others                   []string // further codes it is cut from: other stock lengths
	Boards                   int      // bought
	OnHand                   int      // and used of what lies on hand
	PlanBound                int      // least boards for the pieces as laid out
	LayoutBound              int      // least boards for any layout the rules allow
	Mixed                    bool     // bought in several lengths, by price: cost is what is least, not the number; their length where they have no price
	CostBound                float64  // least cost for any layout the rules allow, 0: not known
	Proven                   bool
	Cost, HandCost           float64 // of the boards bought, 0: not priced
	Hand                     int     // boards the best hand method takes
	HandName                 string
	Used, Bought             measure.Length // lengths of pieces and of boards
	Price                    float64        // of one board
}

// OrderLine is one line to buy.
type OrderLine struct {
	Drop                                  string
	Role, Code, Description, Colour, Unit string
	Net, Spare                            float64
	Order, Packs, Amount                  float64
	Pack, Price                           float64
	Weight                                float64 // kg for one unit
	Issued                                Inputs  // what the rules and the catalogue say, whatever a reader edited
}

// Measured is one line of the measured quantities, for the bill.
type Measured struct {
	Plot, Item, Unit string
	Quantity         float64
	Note             string
}

// Alternative is what another choice within the rules would give.
type Alternative struct {
	Change  string
	Boards  int
	Waste   float64 // per cent
	Floor   float64 // per cent, the least any layout wastes
	Joints  int
	Cost    float64
	Current bool
	Note    string
	checks  int // flags that want a decision
}

// WindResult is the pressure the fixings are checked against.
type WindResult struct {
	Checked  bool
	Pressure float64 // Pa
	Basis    string
}

// BoardTotals are the headline figures of the boards.
type BoardTotals struct {
	Boards, Hand              int
	Bound                     int     // no layout takes fewer; 0 where lengths are chosen by price
	Mixed                     bool    // lengths are chosen by price
	Cost, CostBound, HandCost float64 // CostBound 0: not known
	Proven                    bool    // no layout takes fewer, or costs less where lengths are chosen by price
	Waste                     float64 // per cent of the length bought that is not on the wall
	Floor                     float64 // per cent, had the bound been reached; 0 where lengths are chosen by price
}

// Boards sums the pools of the role board.
func (r *Result) Boards() BoardTotals {
	t := BoardTotals{Proven: true}
	var used, bought, floor float64
	known := true
	for _, p := range r.Pools {
		if p.Role != RoleBoard {
			continue
		}
		t.Boards += p.Boards
		t.Bound += p.LayoutBound
		t.Hand += p.Hand
		t.Cost, t.CostBound, t.HandCost = t.Cost+p.Cost, t.CostBound+p.CostBound, t.HandCost+p.HandCost
		t.Mixed = t.Mixed || p.Mixed
		known = known && p.CostBound > 0
		t.Proven = t.Proven && p.Proven
		used += float64(p.Used)
		bought += float64(p.Bought)
		if p.Boards > 0 {
			floor += float64(p.Bought) * float64(p.LayoutBound) / float64(p.Boards)
		}
	}
	if bought > 0 {
		t.Waste = 100 * (1 - used/bought)
	}
	switch {
	case t.Mixed: // fewer boards may be longer and dearer ones
		t.Bound = 0
	case floor > 0:
		t.Floor = max(0, 100*(1-used/floor))
	}
	if !known {
		t.CostBound = 0
	}
	return t
}
