package exchange

import (
	"io"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// Run names a takeoff for its JSON.
type Run struct {
	Program, Survey, Digest string
	Lacks                   string // what the order leaves out, in words
}

// Names of members end in their unit: _mm, _m2, _kg, _pa, _n, _percent,
// _degrees. Points are [x, z] in millimetres from the wall's left edge and the
// survey datum.

type result struct {
	Program  string        `json:"program"`
	Survey   string        `json:"survey"`
	Digest   string        `json:"digest"`
	Units    string        `json:"units"`
	Job      job           `json:"job"`
	Figures  figures       `json:"figures"`
	Lacks    string        `json:"order_lacks,omitempty"`
	Walls    []wall        `json:"walls"`
	Left     []leftWall    `json:"left_out"`
	Cutting  []board       `json:"cutting_plan"`
	Pools    []pool        `json:"pools"`
	Order    []OrderLine   `json:"order"`
	Measured []measuredRow `json:"measured"`
	Options  []alternative `json:"alternatives"`
	Flags    []engine.Flag `json:"flags"`
	Notes    []string      `json:"assumptions"`
	Missing  []string      `json:"not_declared"`
}

type job struct {
	Name     string `json:"name"`
	Site     string `json:"site"`
	Prepared string `json:"prepared_by"`
	Date     string `json:"survey_date"`
	Pool     string `json:"cut_together_by"`
	Currency string `json:"currency"`
	Effort   string `json:"effort"`
	Number   string `json:"order_number,omitempty"`
	Issued   string `json:"issue_date,omitempty"`
	Buyer    string `json:"buyer,omitempty"`
	Seller   string `json:"seller,omitempty"`
}

type figures struct {
	Built  int     `json:"walls_built"`
	Net    float64 `json:"net_m2"`
	Gross  float64 `json:"gross_m2"`
	Boards int     `json:"boards"`
	Bound  int     `json:"boards_bound,omitempty"` // 0 where lengths are chosen by price

	BoardsCost float64 `json:"boards_cost"`
	CostBound  float64 `json:"boards_cost_bound,omitempty"` // no layout costs less

	Waste    float64 `json:"waste_percent"`
	Floor    float64 `json:"least_waste_percent,omitempty"` // 0 where lengths are chosen by price
	Amount   float64 `json:"amount"`
	Unpriced int     `json:"lines_without_price"`
	Wind     float64 `json:"wind_pressure_pa,omitempty"`
}

type wall struct {
	Plot     string       `json:"plot,omitempty"`
	Name     string       `json:"wall"`
	Code     string       `json:"code"`
	Colour   string       `json:"colour,omitempty"`
	Drop     string       `json:"drop,omitempty"`
	Pool     string       `json:"pool,omitempty"`
	Quantity int          `json:"quantity"`
	Handed   int          `json:"handed"`
	Net      float64      `json:"net_m2"`
	Gross    float64      `json:"gross_m2"`
	Outline  [][2]float64 `json:"outline_mm"`
	Openings []opening    `json:"openings"`
	Courses  []course     `json:"courses"`
	Battens  []batten     `json:"battens"`
	Pieces   []piece      `json:"pieces"`
	Trims    []trim       `json:"trims"`
	Tapes    []tape       `json:"tapes"`
	Fixings  []fixing     `json:"fixings"`
	Screws   []screw      `json:"screws"`
	Packings []packing    `json:"packings"`
	Zones    []zone       `json:"zones"`
	Advice   []string     `json:"advice,omitempty"`
}

type opening struct {
	Name   string  `json:"opening"`
	Kind   string  `json:"kind"`
	Left   float64 `json:"from_left_mm"`
	Sill   float64 `json:"sill_mm"`
	Width  float64 `json:"width_mm"`
	Height float64 `json:"height_mm"`
	Reveal float64 `json:"reveal_mm"`
	Lined  bool    `json:"lined"`
}

type course struct {
	Number int     `json:"course"`
	Bottom float64 `json:"bottom_mm"`
	Top    float64 `json:"top_mm"`
	Gauge  float64 `json:"gauge_mm,omitempty"`
	Lap    float64 `json:"lap_mm,omitempty"`
	Note   string  `json:"note,omitempty"`
}

type batten struct {
	Mark   string  `json:"batten"`
	Centre float64 `json:"centre_mm"`
	Width  float64 `json:"width_mm"`
	From   float64 `json:"from_mm"`
	To     float64 `json:"to_mm"`
	Why    string  `json:"why"`
	Code   string  `json:"code"`
	Stock  string  `json:"stock_board"`
}

type end struct {
	Kind    string  `json:"kind"`
	Degrees float64 `json:"degrees,omitempty"` // from square
	Under   bool    `json:"takes_lower_corner,omitempty"`
}

type piece struct {
	Mark     string       `json:"piece"`
	Course   int          `json:"course,omitempty"` // 0: a reveal board
	Reveal   string       `json:"reveal,omitempty"`
	Outline  [][2]float64 `json:"outline_mm"`
	Cutouts  [][4]float64 `json:"cutouts_xzwh_mm,omitempty"` // x, z, width, height
	Length   float64      `json:"length_mm"`
	Width    float64      `json:"width_mm"`
	Left     end          `json:"left_end"`
	Right    end          `json:"right_end"`
	Ripped   bool         `json:"ripped,omitempty"`
	Packed   bool         `json:"packed,omitempty"`
	Foot     bool         `json:"foot_packed,omitempty"`
	Colour   string       `json:"colour,omitempty"`
	Code     string       `json:"code"`
	Quantity int          `json:"quantity"`
	Stock    string       `json:"stock_board"`
}

type trim struct {
	Mark     string     `json:"mark"`
	Role     string     `json:"role"`
	Code     string     `json:"code"`
	Colour   string     `json:"colour,omitempty"`
	Where    string     `json:"where"`
	Length   float64    `json:"length_mm"`
	From     [2]float64 `json:"from_mm"`
	To       [2]float64 `json:"to_mm"`
	Quantity int        `json:"quantity"`
	Stock    string     `json:"stock_board,omitempty"`
}

type tape struct {
	Role   string  `json:"role"`
	Where  string  `json:"where"`
	Width  float64 `json:"width_mm"`
	Length float64 `json:"length_mm"`
}

type fixing struct {
	Zone       string  `json:"zone,omitempty"`
	Fixing     string  `json:"fixing"`
	Where      string  `json:"where"`
	Centres    float64 `json:"centres_mm,omitempty"`
	Count      int     `json:"count"`
	PreDrilled int     `json:"pre_drilled"`
	Visible    int     `json:"visible"`
	Load       float64 `json:"load_n,omitempty"`
	Resistance float64 `json:"resistance_n,omitempty"`
	Use        float64 `json:"use_percent,omitempty"`
	Basis      string  `json:"basis"`
	Verdict    string  `json:"verdict,omitempty"`
}

type screw struct {
	At         [2]float64 `json:"at_mm"`
	Piece      string     `json:"piece"`
	Batten     string     `json:"batten"`
	Kind       string     `json:"kind"`
	PreDrilled bool       `json:"pre_drilled,omitempty"`
	Visible    bool       `json:"visible,omitempty"`
}

type packing struct {
	Piece   string   `json:"piece"`
	Batten  string   `json:"batten"`
	Foot    bool     `json:"foot,omitempty"`
	Height  float64  `json:"height_mm"`
	Gap     float64  `json:"gap_mm"`
	Thick   float64  `json:"packers_mm"`
	Packers []string `json:"packers"`
	Fixing  string   `json:"fixing"`
}

type zone struct {
	Name     string  `json:"zone,omitempty"`
	From     float64 `json:"from_mm"`
	To       float64 `json:"to_mm"`
	Suction  float64 `json:"suction_pa,omitempty"`
	Pressure float64 `json:"pressure_pa,omitempty"`
	Centres  float64 `json:"batten_centres_mm,omitempty"`
	Why      string  `json:"why,omitempty"`
}

type leftWall struct {
	Plot     string  `json:"plot,omitempty"`
	Wall     string  `json:"wall"`
	Quantity int     `json:"quantity"`
	Net      float64 `json:"net_m2,omitempty"`
	Boards   float64 `json:"provisional_boards,omitempty"`
	Why      string  `json:"why"`
}

type board struct {
	Board  string  `json:"board"`
	Pool   string  `json:"pool,omitempty"`
	Drop   string  `json:"drop,omitempty"`
	Role   string  `json:"role"`
	Code   string  `json:"code"`
	Colour string  `json:"colour,omitempty"`
	Stock  float64 `json:"stock_mm"`
	Count  int     `json:"count"`
	Cuts   []cut   `json:"cuts"`
	Offcut float64 `json:"offcut_mm"`
	Shared float64 `json:"shared_mm,omitempty"`
	OnHand bool    `json:"on_hand,omitempty"`
}

type cut struct {
	Marks  []string `json:"marks"`
	Length float64  `json:"length_mm"`
}

type pool struct {
	Pool   string  `json:"pool,omitempty"`
	Role   string  `json:"role"`
	Code   string  `json:"code"`
	Colour string  `json:"colour,omitempty"`
	Boards int     `json:"boards"`
	OnHand int     `json:"on_hand,omitempty"`
	Bound  int     `json:"boards_bound"`
	Cost   float64 `json:"cost,omitempty"`
	Least  float64 `json:"cost_bound,omitempty"`
	Mixed  bool    `json:"lengths_by_price,omitempty"`
	Proven bool    `json:"proven"`
	Used   float64 `json:"used_mm"`
	Bought float64 `json:"bought_mm"`
}

// OrderLine is one line of an order, wherever one is given as JSON.
type OrderLine struct {
	Drop        string  `json:"drop,omitempty"`
	Role        string  `json:"role"`
	Code        string  `json:"code"`
	Description string  `json:"description"`
	Colour      string  `json:"colour,omitempty"`
	Unit        string  `json:"unit"`
	UnitCode    string  `json:"unit_code"` // UN/ECE Recommendation 20
	Net         float64 `json:"net"`
	Spare       float64 `json:"spare_percent"`
	Order       float64 `json:"order"`
	Pack        float64 `json:"pack"`
	Packs       float64 `json:"packs"`
	Price       float64 `json:"unit_price"`
	Amount      float64 `json:"amount"`
	Weight      float64 `json:"unit_weight_kg,omitempty"`
}

type measuredRow struct {
	Plot     string  `json:"plot,omitempty"`
	Item     string  `json:"item"`
	Unit     string  `json:"unit"`
	Quantity float64 `json:"quantity"`
	Note     string  `json:"note,omitempty"`
}

type alternative struct {
	Change string  `json:"change"`
	Boards int     `json:"boards"`
	Waste  float64 `json:"waste_percent"`
	Floor  float64 `json:"least_waste_percent,omitempty"`
	Joints int     `json:"joints"`
	Cost   float64 `json:"cost"`
	InUse  bool    `json:"in_force,omitempty"`
	Note   string  `json:"note,omitempty"`
}

const units = "Names end in their unit: mm, m2, kg, pa (pascal), n (newton), percent, degrees. Points are [x, z] in mm: x from the wall's left edge seen from outside, z from the survey datum. Amounts are in the job's currency, without tax."

// JSON writes a whole result, a wall at a time.
func JSON(w io.Writer, res *engine.Result, run Run) error {
	out := result{
		Program: run.Program, Survey: run.Survey, Digest: run.Digest, Units: units, Lacks: run.Lacks,
		Job: jobOf(res), Figures: figuresOf(res), Walls: []wall{},
		Left: each(res.Left, func(l *engine.LeftWall) leftWall {
			return leftWall{l.Plot, l.Wall, l.Quantity, l.NetArea, l.Boards, l.Why}
		}),
		Cutting: boardsOf(res), Pools: each(res.Pools, poolOf), Order: OrderLines(res.Order),
		Measured: each(res.Measured, func(m *engine.Measured) measuredRow {
			return measuredRow{m.Plot, m.Item, m.Unit, m.Quantity, m.Note}
		}),
		Options: each(res.Options, func(a *engine.Alternative) alternative {
			return alternative{a.Change, a.Boards, a.Waste, a.Floor, a.Joints, a.Cost, a.Current, a.Note}
		}),
		Flags: some(res.Flags), Notes: some(res.Notes), Missing: some(res.Undeclared),
	}
	return Stream(w, out, "walls", len(res.Walls), func(i int) any { return wallOf(res.Whole(i)) })
}

// OrderJSON writes an order by itself.
func OrderJSON(w io.Writer, o Order, program string) error {
	return encode(w, map[string]any{
		"program": program, "currency": o.Currency, "order": OrderLines(o.Lines), "amount": engine.Amount(o.Lines),
		"lines_without_price": Unpriced(o.Lines), "order_lacks": o.Lacks,
	}, "")
}

// each turns every one of a list into what JSON holds of it; none is a list
// all the same.
func each[T, U any](in []T, of func(*T) U) []U {
	out := make([]U, len(in))
	for i := range in {
		out[i] = of(&in[i])
	}
	return out
}

func some[T any](in []T) []T {
	if in == nil {
		return []T{}
	}
	return in
}

func mm(l measure.Length) float64 { return l.Millimetres() }

func at(p measure.Point) [2]float64 { return [2]float64{mm(p.X), mm(p.Z)} }

func points(p measure.Polygon) [][2]float64 {
	return each(p, func(c *measure.Point) [2]float64 { return at(*c) })
}
