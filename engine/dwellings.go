package engine

import (
	"cmp"
	"strings"

	"lapwright/engine/measure"
)

// stand is one surveyed wall as it stands in one group of equal dwellings: the
// unit a takeoff is made for.
type stand struct {
	face     *face // shared by all groups of its house type
	number   int   // of its wall in the result
	plot     string
	colour   string
	drop     string
	pool     string       // the group of walls it shares offcuts with
	each     int          // how many of it one pool holds
	pools    int          // how many equal pools there are
	mirrored int          // of each x pools, built handed
	plots    []int        // the group's dwellings
	flags    []markedFlag // of the wall as built here, until its face takes them

	joints  [][]int                 // of each run of the face: indices of sites
	relaxed []bool                  // of each run: it keeps no joint rules; nil: all keep them
	sawn    measure.Length          // edge of one wall
	packers map[string]int          // of one wall, by code
	unknown bool                    // whether it wants packers is not known
	evenly  map[measure.Length]bool // lengths of battens whose rest shares evenly with the length below
	kept    kept
}

// quantity returns how many walls like this are built.
func (s *stand) quantity() int { return s.each * s.pools }

// kind is what dwellings of a group have in common.
type kind struct{ houseType, colour, drop string }

// group is the dwellings of one kind.
type group struct {
	kind
	plots  []int // indices in the job's plots; nil: it has none, and this is one dwelling
	handed int
}

// dwellings returns how many there are.
func (g *group) dwellings() int { return max(1, len(g.plots)) }

// groupsOf returns the groups of a job's plots, in the order first met.
func groupsOf(plots []Plot) []group {
	var out []group
	at := map[kind]int{}
	for n, p := range plots {
		key := kind{p.HouseType, p.Colour, p.Drop}
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, group{kind: key})
		}
		out[i].plots = append(out[i].plots, n)
		if p.Handed {
			out[i].handed++
		}
	}
	return out
}

// standsOf places every face in the dwellings it is built in. A wall that is
// given no colour anywhere has the board's own.
func standsOf(j *Job, faces []*face, board Product) []*stand {
	var out []*stand
	if len(j.Plots) == 0 {
		for _, f := range faces {
			out = append(out, newStand(j, f, group{kind: kind{houseType: f.wall.Plot}}, board.Colour))
		}
		return out
	}
	byType := map[string][]*face{}
	for _, f := range faces {
		byType[f.wall.Plot] = append(byType[f.wall.Plot], f)
	}
	for _, g := range groupsOf(j.Plots) {
		for _, f := range byType[g.houseType] {
			out = append(out, newStand(j, f, g, board.Colour))
		}
	}
	return out
}

func newStand(j *Job, f *face, g group, plain string) *stand {
	walls := max(1, f.wall.Quantity)
	s := &stand{
		face: f, plot: g.houseType, drop: g.drop, plots: g.plots,
		colour:   cmp.Or(f.wall.Colour, g.colour, j.Colour, plain),
		mirrored: walls * g.handed,
	}
	switch j.Pool {
	case PoolWall:
		s.pool, s.each, s.pools = name(g.houseType, f.wall.Name, g.colour, g.drop), 1, walls*g.dwellings()
	case PoolDrop:
		s.pool, s.each, s.pools = name("drop", g.drop), walls*g.dwellings(), 1
	case PoolJob:
		s.pool, s.each, s.pools = name("job", g.drop), walls*g.dwellings(), 1 // a drop is ordered, and so cut, by itself
	default:
		s.pool, s.each, s.pools = name(g.houseType, g.colour, g.drop), walls, g.dwellings()
	}
	return s
}

// name joins the parts that are not blank, so that "A Red" is not taken for
// an A in Red.
func name(parts ...string) string {
	out := ""
	for _, p := range parts {
		if p == "" {
			continue
		}
		if out != "" {
			out += " / "
		}
		out += p
	}
	return cmp.Or(out, "all")
}

// wallLetters may head the marks of walls: W1, W2, ... None is used for anything
// else, on the drawing or in the cutting plan.
const wallLetters = "WHKMG"

// wallLetter returns the first of them that, with a number, names no opening, so
// that a window W1 is not taken for a wall; the first of all if each does.
func wallLetter(walls []Wall) string {
	named := map[byte]bool{}
	for i := range walls {
		for _, o := range walls[i].Openings {
			name := strings.ToUpper(strings.ReplaceAll(o.Name, " ", ""))
			if len(name) > 1 && '0' <= name[1] && name[1] <= '9' {
				named[name[0]] = true
			}
		}
	}
	for i := range len(wallLetters) {
		if !named[wallLetters[i]] {
			return wallLetters[i : i+1]
		}
	}
	return wallLetters[:1]
}

// letter returns the n-th letter mark (from 0): a, b, ... z, aa, ab, ...
func letter(n int) string {
	if n < 26 {
		return "abcdefghijklmnopqrstuvwxyz"[n : n+1]
	}
	out := ""
	for n++; n > 0; n /= 26 {
		n--
		out = string(rune('a'+n%26)) + out
	}
	return out
}

// For returns the takeoff of a job with one plot as that of the like job with
// another plot, of the same house type and colour: neither its drop nor its hand
// changes what is planned. The flags are those of r's own plot.
func (r *Result) For(job *Job) *Result {
	to := job.Plots[0]
	pools := map[string]string{}
	out := *r
	out.Job = job
	out.Walls = each(r.Walls, func(w WallResult) WallResult {
		s := newStand(job, &face{wall: w.Wall}, group{kind{to.HouseType, to.Colour, to.Drop}, []int{0}, btoi(to.Handed)}, "")
		pools[w.Pool] = s.pool
		w.Drop, w.Pool, w.Mirrored = s.drop, s.pool, s.mirrored
		return w
	})
	lots := map[*Lot]*Lot{}
	lotFor := func(l *Lot) *Lot {
		if lots[l] == nil {
			lot := *l
			lot.Drop, lot.Pool = to.Drop, pools[lot.Pool]
			lots[l] = &lot
		}
		return lots[l]
	}
	out.Cutting = each(r.Cutting, func(c CutRow) CutRow { c.Lot = lotFor(c.Lot); return c })
	if r.again != nil {
		out.again = r.again.with(lotFor)
	}
	out.Pools = each(r.Pools, func(p PoolResult) PoolResult { p.Pool = pools[p.Pool]; return p })
	out.Order = each(r.Order, func(l OrderLine) OrderLine { l.Drop = to.Drop; return l })
	return &out
}
