package layout

import (
	"math"
	"math/rand/v2"
	"slices"
)

// walker walks from layout to layout within the rules. What makes one better
// than another is for those who embed it.
type walker struct {
	m      *model
	st     *state
	rng    *rand.PCG
	heat   float64   // of the annealing (S. Kirkpatrick, C. D. Gelatt and M. P. Vecchi, Science 220 (1983) 671-680)
	joint  []float64 // by joint: what it costs
	runs   []int32   // runs that may be re-laid
	frozen []bool    // runs that stay: those that break a rule

	noise    []float64 // exponential variates
	cost     []float64 // buffers
	from     []int32
	cuts     []int32
	mine     []int32
	theirs   []int32
	changing []int32
	moved    []relaid
}

func newWalker(m *model, start [][]int32, seed uint64) *walker {
	n := 0
	for _, s := range m.shapes {
		n = max(n, s.n)
	}
	w := &walker{m: m, st: newState(m), rng: rand.NewPCG(seed, 1), joint: make([]float64, len(m.conf)),
		noise: make([]float64, 1024), cost: make([]float64, n), from: make([]int32, n), frozen: make([]bool, len(m.runs))}
	for i := range w.noise {
		w.noise[i] = -math.Log(w.float())
	}
	for r := range m.runs {
		if !m.runs[r].shape.dead {
			w.st.put(int32(r), slices.Clone(start[r]))
		}
	}
	for r := range m.runs {
		sh := m.runs[r].shape
		w.frozen[r] = sh.dead || w.st.breaches(int32(r)) > 0
		if !w.frozen[r] && sh.n > 2 {
			w.runs = append(w.runs, int32(r))
		}
	}
	return w
}

// float is a random number between 0 and 1, neither included.
func (w *walker) float() float64 { return (float64(w.rng.Uint64()>>11) + 0.5) / (1 << 53) }

// below is a random number from 0 to n-1.
func (w *walker) below(n int) int { return int((w.rng.Uint64() >> 32) * uint64(n) >> 32) }

// accept decides on a change of energy.
func (w *walker) accept(d float64) bool {
	return d <= 0 || (d < 16*w.heat && w.float() < math.Exp(-d/w.heat))
}

// cool sets the heat at step i of n, falling from hot to cold.
func (w *walker) cool(i, n int, hot, cold float64) {
	w.heat = hot * math.Pow(cold/hot, float64(i)/float64(n))
}

// layout copies the present layout.
func (w *walker) layout() [][]int32 {
	out := make([][]int32, len(w.m.runs))
	for r := range out {
		out[r] = slices.Clone(w.st.cuts[r])
	}
	return out
}

// stretch is a part of a run from one point to another, and the joints that
// stand between.
type stretch struct {
	r        int32
	first    int // index of the first joint between
	lo, hi   int32
	between  []int32
	run      *run
	quantity float64
}

// stretchOf returns a stretch of some run, of a few pieces or all.
func (w *walker) stretchOf(most int) stretch {
	r := w.runs[w.below(len(w.runs))]
	old := w.st.cuts[r]
	n := len(old) + 1
	wide := n
	if n > 2 && w.below(most) > 0 {
		wide = 2 + w.below(2)
	}
	return w.part(r, w.below(n-wide+1), wide)
}

// part is the stretch of wide pieces of run r from piece i.
func (w *walker) part(r int32, i, wide int) stretch {
	old := w.st.cuts[r]
	n := len(old) + 1
	ru := &w.m.runs[r]
	s := stretch{r: r, first: i, hi: int32(ru.shape.n - 1), between: old[i : i+wide-1], run: ru, quantity: float64(ru.qty)}
	if i > 0 {
		s.lo = old[i-1]
	}
	if i+wide < n {
		s.hi = old[i+wide-1]
	}
	return s
}

// relay replaces the joints of the stretch.
func (w *walker) relay(s stretch, cuts []int32) {
	old := w.st.cuts[s.r]
	w.changing = append(w.changing[:0], old[:s.first]...)
	w.changing = append(w.changing, cuts...)
	w.changing = append(w.changing, old[s.first+len(s.between):]...)
	w.st.lift(s.r)
	w.st.put(s.r, append(old[:0], w.changing...))
}

// ids calls do with the number of every piece of the stretch if it is jointed
// at cuts.
func (s *stretch) ids(cuts []int32, do func(id int32)) {
	n, at := s.run.shape.n, int(s.lo)
	for _, k := range cuts {
		do(s.run.shape.seg[at*n+int(k)])
		at = int(k)
	}
	do(s.run.shape.seg[at*n+int(s.hi)])
}

// path finds cheap joints for the stretch around those that stand in other
// runs, with noise that grows with heat. With breach above 0 joints that others
// exclude are free at that price for each of them. The result lasts until the
// next call.
func (w *walker) path(s stretch, price func(id int32) float64, breach float64) ([]int32, bool) {
	sh := s.run.shape
	n := int32(sh.n)
	cost, from := w.cost, w.from
	cost[s.lo] = 0
	block := w.st.block[s.run.base : s.run.base+n]
	dice := int(w.rng.Uint64() & 1023)
	for j := s.lo + 1; j <= s.hi; j++ {
		cost[j], from[j] = math.Inf(1), none
		if j < s.hi && block[j] > 0 && breach == 0 {
			continue
		}
		for i := sh.last[j]; i >= max(s.lo, sh.first[j]); i-- {
			id := sh.seg[i*n+j]
			if id == none || (i > s.lo && from[i] == none) {
				continue
			}
			dice++
			if c := cost[i] + price(id) + w.heat*w.noise[dice&1023]; c < cost[j] {
				cost[j], from[j] = c, i
			}
		}
		if j < s.hi {
			cost[j] += s.quantity*w.joint[s.run.base+j] + breach*float64(block[j])
		}
	}
	if from[s.hi] == none {
		return nil, false
	}
	w.cuts = w.cuts[:0]
	for k := from[s.hi]; k > s.lo; k = from[k] {
		w.cuts = append(w.cuts, k)
	}
	slices.Reverse(w.cuts)
	return w.cuts, true
}
