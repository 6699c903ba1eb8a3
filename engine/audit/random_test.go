package audit

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// spoiler changes one number, anywhere of its kind, by at least a millimetre,
// a piece or a tenth of a degree; it says what it did, or "" if chance left
// nothing changed.
type spoiler struct {
	name string
	do   func(r *rand.Rand, j *Job, w *Wall) string
}

func pick[T any](r *rand.Rand, list []T) *T { return &list[r.IntN(len(list))] }

func among[T any](r *rand.Rand, list ...*T) *T { return list[r.IntN(len(list))] }

// off is a length of 1 to 400 mm, either way.
func off(r *rand.Rand) measure.Length {
	d := mm(1) + measure.Length(r.IntN(399000))
	if r.IntN(2) == 0 {
		return -d
	}
	return d
}

var spoilers = []spoiler{
	{"corner moved", func(r *rand.Rand, j *Job, w *Wall) string {
		p := pick(r, w.Pieces)
		v, d := pick(r, p.Outline), off(r)
		if r.IntN(2) == 0 {
			v.X += d
		} else {
			v.Z += d
		}
		return fmt.Sprint(p.Mark, " to ", *v, " by ", d)
	}},
	{"piece moved", func(r *rand.Rand, j *Job, w *Wall) string {
		p, dx, dz := pick(r, w.Pieces), off(r), measure.Length(0)
		if r.IntN(2) == 0 {
			dx, dz = 0, off(r)
		}
		p.move(dx, dz)
		return fmt.Sprint(p.Mark, " by ", dx, " ", dz)
	}},
	{"piece left out", func(r *rand.Rand, j *Job, w *Wall) string {
		mark := pick(r, w.Pieces).Mark
		j.drop(w, mark)
		return mark
	}},
	{"piece twice", func(r *rand.Rand, j *Job, w *Wall) string {
		p := *pick(r, w.Pieces)
		p.Mark += "x"
		w.Pieces = append(w.Pieces, p)
		*j = *whole(*w)
		return p.Mark
	}},
	{"piece in another course", func(r *rand.Rand, j *Job, w *Wall) string {
		p := pick(r, w.Pieces)
		p.Course = p.Course%len(w.Courses) + 1
		return p.Mark
	}},
	{"stated size", func(r *rand.Rand, j *Job, w *Wall) string {
		p := pick(r, w.Pieces)
		if r.IntN(2) == 0 {
			p.Length += off(r)
			j.recut(p)
		} else {
			p.Width += off(r)
		}
		return p.Mark
	}},
	{"corner of a cut-out moved", func(r *rand.Rand, j *Job, w *Wall) string {
		var cut []*Rect
		for i := range w.Pieces {
			for k := range w.Pieces[i].Cutouts {
				cut = append(cut, &w.Pieces[i].Cutouts[k])
			}
		}
		if len(cut) == 0 {
			return ""
		}
		c, d := among(r, cut...), mm(1)+measure.Length(r.IntN(50000))
		*among(r, &c.X.Lo, &c.Z.Lo) -= d // larger: into the board
		return fmt.Sprint("by ", d)
	}},
	{"void moved", func(r *rand.Rand, j *Job, w *Wall) string {
		if len(w.Voids) == 0 {
			return ""
		}
		v, d := pick(r, w.Voids), off(r)
		if r.IntN(2) == 0 {
			v.X.Lo, v.X.Hi = v.X.Lo+d, v.X.Hi+d
		} else {
			v.Z.Lo, v.Z.Hi = v.Z.Lo+d, v.Z.Hi+d
		}
		return fmt.Sprint("by ", d)
	}},
	{"region changed", func(r *rand.Rand, j *Job, w *Wall) string {
		p := pick(r, []measure.Profile{w.Base, w.Top})
		v, d := pick(r, *p), off(r)
		v.Z += d
		return fmt.Sprint(*v, " by ", d)
	}},
	{"course moved with its boards", func(r *rand.Rand, j *Job, w *Wall) string {
		k, d := r.IntN(len(w.Courses))+1, mm(11)
		if r.IntN(2) == 0 {
			d = -d
		}
		w.lift(k, d)
		return fmt.Sprint(k, " by ", d)
	}},
	{"mark of a course", func(r *rand.Rand, j *Job, w *Wall) string {
		c := pick(r, w.Courses)
		*among(r, &c.Bottom, &c.Top, &c.Gauge, &c.Lap) += off(r)
		return fmt.Sprint(c.Number)
	}},
	{"joint not stated", func(r *rand.Rand, j *Job, w *Wall) string {
		p := pick(r, w.Pieces)
		side := among(r, &p.JointLeft, &p.JointRight)
		*side = !*side
		return p.Mark
	}},
	{"joint moved", func(r *rand.Rand, j *Job, w *Wall) string {
		i := slices.IndexFunc(w.Pieces, func(p Piece) bool { return p.JointRight })
		if i < 0 {
			return ""
		}
		a, b, d := &w.Pieces[i], &w.Pieces[i+1], mm(1)+measure.Length(r.IntN(99000))
		xa, _ := bounds(a.Outline)
		xb, _ := bounds(b.Outline)
		a.stretch(xa.Hi, -d)
		b.stretch(xb.Lo, -d)
		j.resize(a)
		j.resize(b)
		return fmt.Sprint(a.Mark, " by ", d)
	}},
	{"joint batten", func(r *rand.Rand, j *Job, w *Wall) string {
		for i := range w.Pieces {
			p := &w.Pieces[i]
			xs, zs := bounds(p.Outline)
			at := slices.IndexFunc(w.Battens, func(b Batten) bool {
				return b.Centre == xs.Hi+mm(1) && !b.Z.And(zs).Empty()
			})
			if !p.JointRight || at < 0 || r.IntN(3) > 0 {
				continue
			}
			b := &w.Battens[at]
			switch r.IntN(3) {
			case 0:
				b.Width -= mm(1)
			case 1:
				b.Centre += mm(1)
			default:
				b.Z.Lo = zs.Lo + mm(1)
			}
			*j = *whole(*w)
			return p.Mark
		}
		return ""
	}},
	{"rake", func(r *rand.Rand, j *Job, w *Wall) string {
		p := pick(r, w.Pieces)
		*among(r, &p.LeftRake, &p.RightRake) += 0.2 + r.Float64()*30
		return p.Mark
	}},
	{"screw moved", func(r *rand.Rand, j *Job, w *Wall) string {
		s := pick(r, w.Screws)
		if r.IntN(2) == 0 {
			s.X += mm(76) + max(off(r), 0)
		} else {
			s.Z += mm(41) + max(off(r), 0)
		}
		return w.Pieces[s.Piece].Mark
	}},
	{"screw left out", func(r *rand.Rand, j *Job, w *Wall) string {
		i := r.IntN(len(w.Screws))
		mark := w.Pieces[w.Screws[i].Piece].Mark
		w.Screws = slices.Delete(w.Screws, i, i+1)
		return mark // the counts are left, so it shows even where the rules want no screw
	}},
	{"screw marked", func(r *rand.Rand, j *Job, w *Wall) string {
		s := pick(r, w.Screws)
		mark := among(r, &s.PreDrilled, &s.Visible)
		*mark = !*mark
		w.count()
		return w.Pieces[s.Piece].Mark
	}},
	{"fixings counted", func(r *rand.Rand, j *Job, w *Wall) string {
		f := pick(r, w.Fixings)
		*among(r, &f.Count, &f.Count, &w.Fixings[0].PreDrilled, &w.Fixings[1].Visible) += 1 + r.IntN(5)
		return f.Zone
	}},
	{"quantity", func(r *rand.Rand, j *Job, w *Wall) string {
		n := 1 + r.IntN(3)
		*among(r, &pick(r, w.Pieces).Quantity, &pick(r, w.Trims).Quantity, &w.Quantity) += n
		return fmt.Sprint(n)
	}},
	{"board's number", func(r *rand.Rand, j *Job, w *Wall) string {
		b := pick(r, j.Boards)
		d := off(r)
		switch r.IntN(4) {
		case 0:
			b.Stock += d
		case 1:
			b.Offcut += d
		case 2:
			b.Shared += d
		default:
			b.Cuts[0].Length += d
		}
		return fmt.Sprint(b.Name, " by ", d)
	}},
	{"board's count", func(r *rand.Rand, j *Job, w *Wall) string {
		b := pick(r, j.Boards)
		b.Count += 1 + r.IntN(2)
		j.fill()
		return b.Name
	}},
	{"boards exchanged", func(r *rand.Rand, j *Job, w *Wall) string {
		a, b := pick(r, j.Boards), pick(r, j.Boards)
		if a.Cuts[0].Marks[0] == b.Cuts[0].Marks[0] {
			return ""
		}
		a.Cuts, b.Cuts = b.Cuts, a.Cuts
		return a.Name + " " + b.Name
	}},
	{"cut twice from one board", func(r *rand.Rand, j *Job, w *Wall) string {
		b := pick(r, j.Boards)
		b.Cuts = append(b.Cuts, b.Cuts[0])
		b.Stock += b.Cuts[0].Length + j.Kerf // as if it fitted
		return b.Name
	}},
	{"board's code or colour", func(r *rand.Rand, j *Job, w *Wall) string {
		b := pick(r, j.Boards)
		*among(r, &b.Code, &b.Colour, &b.Pool, &b.Name) += "x"
		return b.Name
	}},
	{"packing", func(r *rand.Rand, j *Job, w *Wall) string {
		if len(w.Packings) == 0 {
			return ""
		}
		k := pick(r, w.Packings)
		switch r.IntN(5) {
		case 0:
			k.Thick += mm(1) + off(r)
		case 1:
			k.Packers = append(k.Packers, Packer{"PK2", mm(2)})
		case 2:
			k.Fixing += "x"
		case 3:
			k.Batten = (k.Batten + 1) % len(w.Battens)
		case 4:
			n := r.IntN(len(w.Packings))
			w.Packings = slices.Delete(w.Packings, n, n+1)
			return "a packing taken away"
		}
		return k.Fixing
	}},
	{"order", func(r *rand.Rand, j *Job, w *Wall) string {
		l := pick(r, j.Order)
		if r.IntN(2) == 0 {
			l.Net += 0.001 + r.Float64()
		} else {
			l.Code += "x"
		}
		return l.Code
	}},
}

// TestNoMutationUnnoticed spoils right jobs in one place at random; each must
// show at least one fault, whatever was spoilt.
func TestNoMutationUnnoticed(t *testing.T) {
	bases := []func() Wall{packed, gable, stepped, vent, roofed}
	for n, s := range spoilers {
		r := rand.New(rand.NewPCG(uint64(n), 42))
		done := 0
		for i := range 160 {
			job := whole(bases[i%len(bases)]())
			w := &job.Walls[0]
			name := w.Name
			what := s.do(r, job, w)
			if what == "" {
				continue
			}
			done++
			if len(Check(*job)) == 0 {
				t.Errorf("%s, wall %s: %s: nothing noticed", s.name, name, what)
			}
		}
		if done < 20 {
			t.Errorf("%s: chance spoilt only %d jobs", s.name, done)
		}
	}
}

// TestUncoveredPointsAreFound moves a corner of a gable's piece and looks at
// single points: where one inside the region lies in no piece and no joint,
// the audit must say that the wall is not covered.
func TestUncoveredPointsAreFound(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	bare := 0
	for range 300 {
		w := gable()
		p := pick(r, w.Pieces)
		pick(r, p.Outline).X += off(r)
		job := whole(w)
		uncovered := false
		for _, f := range Check(*job) {
			uncovered = uncovered || f.Rule == "uncovered" || f.Rule == "shape"
		}
		for range 3000 {
			x, z := 0.1+r.Float64()*3999.8, 150.1+r.Float64()*1850
			if z > min(600+0.7*x, 600+0.7*(4000-x))-0.1 || atJoint(&w, x) || inAny(&w, x, z) {
				continue
			}
			if bare++; !uncovered {
				t.Fatalf("%s spoilt: nothing covers %.2f, %.2f; not noticed", p.Mark, x, z)
			}
		}
	}
	if bare < 300 {
		t.Errorf("only %d bare points were met", bare)
	}
}

// atJoint leaves out the stretches in which the gable has joints.
func atJoint(w *Wall, x float64) bool {
	return (1798 < x && x < 1802) || (2398 < x && x < 2402)
}

// inAny counts crossings of a line to the left, in floating point.
func inAny(w *Wall, x, z float64) bool {
	for _, p := range w.Pieces {
		in := false
		for i, a := range p.Outline {
			b := p.Outline[(i+1)%len(p.Outline)]
			az, bz := a.Z.Millimetres(), b.Z.Millimetres()
			if (az > z) != (bz > z) && a.X.Millimetres()+(z-az)/(bz-az)*(b.X-a.X).Millimetres() < x+0.01 {
				in = !in
			}
		}
		if in {
			return true
		}
	}
	return false
}
