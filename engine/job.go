package engine

import (
	"strconv"

	"lapwright/engine/measure"
)

func itoa(n int) string { return strconv.Itoa(n) }

// Job is a whole survey as read: what to clad, with what, by which rules.
type Job struct {
	Name, Site, PreparedBy, SurveyDate string

	Board   string // product code of the board; blank: the first board listed
	Colour  string // colour of walls that name none
	Pool    Pool
	Order   OrderParties
	Wind    WindInput
	Storeys []measure.Length // floor levels above the datum, rising
	Origins map[string]Place // job item -> its cell, for flags

	Walls    []Wall
	Plots    []Plot
	Rules    Rules
	Products []Product
	Declared []Declared
	Offcuts  []Offcut
	Currency string // ISO 4217, blank: GBP
	Effort   Effort
	Whole    int // different walls of the survey that this job is a part of, see [Job.Different]; 0: it is no part

	Left  []LeftOut        // walls whose rows could not be taken
	Edits map[EditKey]Edit // a reader's own spare, pack and price on order lines
}

// LeftOut is a wall that the survey names and does not describe well enough.
// Wall is its outline as far as it is understood, or nil.
type LeftOut struct {
	Plot, Name, Why string
	Wall            *Wall
}

// EditKey names an order line.
type EditKey struct{ Drop, Role, Code, Colour string }

// Edit replaces inputs of an order line; nil leaves what the rules and the
// catalogue say.
type Edit struct{ Spare, Pack, Price *float64 }

// Inputs are what an order line is worked out with: spare in per cent, units in
// a pack, and the price of one unit.
type Inputs struct{ Spare, Pack, Price float64 }

// over returns the inputs with the edits in their place.
func (e Edit) over(in Inputs) Inputs {
	for _, f := range []struct {
		to   *float64
		from *float64
	}{{&in.Spare, e.Spare}, {&in.Pack, e.Pack}, {&in.Price, e.Price}} {
		if f.from != nil {
			*f.to = *f.from
		}
	}
	return in
}

// Pool is the group of walls within which offcuts are shared.
type Pool string

// The pools a job may be cut in.
const (
	PoolWall Pool = "wall"
	PoolPlot Pool = "plot"
	PoolDrop Pool = "drop"
	PoolJob  Pool = "job"
)

// Different returns how many different walls are laid out: those of dwellings of one
// type and colour count once where each dwelling is cut by itself, and once in every
// drop where a drop is cut together.
func (j *Job) Different() int {
	if len(j.Plots) == 0 {
		return len(j.Walls)
	}
	walls := map[string]int{} // of a house type
	for i := range j.Walls {
		walls[j.Walls[i].Plot]++
	}
	n, met := 0, map[kind]bool{}
	for _, p := range j.Plots {
		k := kind{p.HouseType, p.Colour, p.Drop}
		if j.byDwelling() {
			k.drop = ""
		}
		if !met[k] {
			met[k] = true
			n += walls[p.HouseType]
		}
	}
	return n
}

// byDwelling reports whether no boards are cut for two dwellings together.
func (j *Job) byDwelling() bool { return j.Pool != PoolDrop && j.Pool != PoolJob }

// Effort says how hard to search for the fewest boards. It counts work, not
// time: the result does not depend on the machine.
type Effort string

// The efforts; blank lets the engine choose by the size of the job.
const (
	EffortAuto     Effort = ""
	EffortQuick    Effort = "quick"
	EffortNormal   Effort = "normal"
	EffortThorough Effort = "thorough"
)

// OrderParties heads an order document.
type OrderParties struct {
	Number, IssueDate      string
	Buyer, BuyerEndpoint   string
	Seller, SellerEndpoint string
	SellerCountry          string // ISO 3166-1 alpha-2
}

// WindInput is what the survey says of wind and the building. Zero or unset
// means not given.
type WindInput struct {
	PeakPressure   float64 // Pa, given outright
	PressureSource string
	BasicVelocity  float64 // m/s
	Terrain        string  // 0, I, II, III, IV
	BuildingHeight measure.Length
	BuildingDepth  measure.Length
	BuildingWidth  measure.Length
	AirDensity     float64 // kg/m3; 0: 1.25
	TimberClass    string  // EN 338, as C16
}

// Edge is the condition of one of a wall's four edges.
type Edge string

// Edges of the sides, the top and the base.
const (
	ExternalCorner Edge = "external corner"
	InternalCorner Edge = "internal corner"
	Abutment       Edge = "abutment"
	OpenEnd        Edge = "open end"
	Soffit         Edge = "soffit"
	Verge          Edge = "verge"
	OpenTop        Edge = "open"
	Ground         Edge = "ground"
	Roof           Edge = "roof"
	Deck           Edge = "deck"
)

// Opt is a length that the survey may leave blank.
type Opt = measure.Optional[measure.Length]

// Wall is one surveyed wall, as its row gives it. x runs from its left edge as
// seen from outside, z up from the survey datum; sizes are on the face of the
// wall behind the battens.
type Wall struct {
	Plot, Name string // Plot names a plot, or a house type where the job has Plots
	Origin     Origin

	Width       measure.Length
	Height      measure.Length // datum to the underside of what stands above
	HeightRight Opt
	ApexHeight  Opt
	ApexLeft    Opt // blank: the middle

	Base        Opt // bottom of the first board; blank: the ground clearance
	StepLeft    Opt
	StepBase    Opt             // bottom of the first board right of the step
	BaseProfile measure.Profile // the ground or roof itself
	TopProfile  measure.Profile

	Left, Right, Top, Bottom Edge
	LeftMeets, RightMeets    string
	LevelLine                string

	Centres     Opt // batten centres
	FirstBatten Opt
	Studs       []measure.Length // given stud positions, rising; blank: from centres
	Colour      string
	Quantity    int // at least 1
	FaceLength  Opt
	FaceLeft    Opt              // where the wall starts in its whole face
	Party       []measure.Length // compartment walls behind this wall
	PinGauge    Opt
	PinMark     Opt
	Notes       string

	Openings []Opening
}

// Opening is a rectangle the boards keep clear of.
type Opening struct {
	Name   string
	Origin Origin
	Kind   string // window, door, vent, other

	Left      measure.Length // from the wall's left edge
	Sill      measure.Length // underside of the sill above the datum
	SillWidth Opt            // where the horns are wider than the opening
	SillDepth Opt            // how high the horns stand
	Width     measure.Length
	Height    measure.Length // from the sill's underside to the head
	Reveal    measure.Length // 0: flush
	Lined     bool
	Notes     string
}

// Plot is one dwelling of a house type.
type Plot struct {
	Name, HouseType string
	Handed          bool
	Colour, Drop    string
	Address         string
	Origin          Origin
}

// Product is one catalogue line.
type Product struct {
	Role, Code, Description, Colour, Unit string

	Length, Width, Thickness measure.Length
	Pack                     float64 // units a pack; 0: 1
	Price                    float64 // for one unit
	Weight                   float64 // kg for one unit
	Turns                    bool    // may be turned end for end with its face out
	Origin                   Origin
}

// Declared is one value that a maker or a designer declares, with its source.
type Declared struct {
	Item   string
	Value  string
	Unit   string
	Source string
	Origin Origin
}

// Offcut is stock on hand.
type Offcut struct {
	Code, Colour string
	Length       measure.Length
	Count        int
	Origin       Origin
}
