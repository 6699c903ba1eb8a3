package layout

import "math"

// A revised simplex method with an explicit inverse for min c x, A x >= b,
// x >= 0, whose columns and rows are found while it runs. It stays in floating
// point: what it yields are duals, and a bound is proved from them afterwards
// in integers.

// entry is one coefficient of a column.
type entry struct {
	row int32
	val float64
}

// column is a variable: a pattern, a segmentation, or a surplus.
type column struct {
	cost float64
	a    []entry
	norm float64 // length of (cost, a) when it was added
}

// simplex keeps a feasible basis and its inverse.
type simplex struct {
	cols  []column
	basis []int32 // row -> column
	in    []bool  // column -> basic
	inv   [][]float64
	x     []float64 // values of the basic columns
	y     []float64 // duals
	rhs   []float64
	alpha []float64
	nz    []int32
	work  int64
}

// addRow adds a row whose basic variable is column col, alone in the row with
// coefficient unit; the column is already in cols with an entry for every row
// it touches, and value is what it takes. old lists the row's coefficients in
// the columns that exist, and has been added to them.
func (s *simplex) addRow(col int32, unit, value, rhs float64) {
	n := len(s.basis)
	row := make([]float64, n+1, 2*(n+1))
	// The inverse of [B c; r u] for a new column c that touches old rows only
	// through length rows is built by the caller's order: c is zero there.
	for i, b := range s.basis {
		for _, e := range s.cols[b].a {
			if int(e.row) == n {
				for k, v := range s.inv[i] {
					if v != 0 {
						row[k] -= e.val * v / unit
					}
				}
			}
		}
	}
	row[n] = 1 / unit
	for i := range s.inv {
		s.inv[i] = append(s.inv[i], 0)
	}
	s.inv = append(s.inv, row)
	s.basis = append(s.basis, col)
	s.in[col] = true
	s.x = append(s.x, value)
	s.rhs = append(s.rhs, rhs)
	y := s.cols[col].cost
	for k, v := range row {
		if k < n {
			s.y[k] += y * v
		}
	}
	s.y = append(s.y, y/unit)
	s.alpha = append(s.alpha, 0)
}

func (s *simplex) addColumn(c column) int32 {
	c.norm = 1
	for _, e := range c.a {
		c.norm += e.val * e.val
	}
	c.norm = 1 / math.Sqrt(c.norm)
	s.cols = append(s.cols, c)
	s.in = append(s.in, false)
	return int32(len(s.cols) - 1)
}

// reduced is the reduced cost of a column.
func (s *simplex) reduced(c int32) float64 {
	d := s.cols[c].cost
	for _, e := range s.cols[c].a {
		d -= s.y[e.row] * e.val
	}
	return d
}

// pivot brings column c into the basis. It reports false if the column can
// grow without end, which a bounded problem shows only through rounding.
func (s *simplex) pivot(c int32) bool {
	n := len(s.basis)
	d := s.cols[c].cost
	alpha := s.alpha[:n]
	clear(alpha)
	for _, e := range s.cols[c].a {
		d -= s.y[e.row] * e.val
	}
	for i, row := range s.inv {
		v := 0.0
		for _, e := range s.cols[c].a {
			v += row[e.row] * e.val
		}
		alpha[i] = v
	}
	r, theta := s.ratio(alpha)
	if r < 0 {
		return false
	}
	s.work += int64(n * len(s.cols[c].a))
	s.in[s.basis[r]] = false
	s.in[c] = true
	s.basis[r] = c
	s.update(r, alpha, theta, d)
	return true
}

// ratio is the leaving row: least ratio, the largest pivot among near ties.
func (s *simplex) ratio(alpha []float64) (int, float64) {
	best, theta := -1, 0.0
	for i, a := range alpha {
		if a < 1e-7 {
			continue
		}
		t := max(0, s.x[i]) / a
		if best < 0 || t < theta-1e-10 || (t < theta+1e-10 && a > alpha[best]) {
			best, theta = i, t
		}
	}
	return best, theta
}

func (s *simplex) update(r int, alpha []float64, theta, d float64) {
	pr := s.inv[r]
	s.nz = s.nz[:0]
	f := 1 / alpha[r]
	for k, v := range pr {
		if v > 1e-13 || v < -1e-13 {
			pr[k] = v * f
			s.nz = append(s.nz, int32(k))
		} else if v != 0 {
			pr[k] = 0
		}
	}
	for i, a := range alpha {
		if i == r || (a < 1e-13 && a > -1e-13) {
			continue
		}
		row := s.inv[i]
		for _, k := range s.nz {
			row[k] -= a * pr[k]
		}
		s.x[i] -= theta * a
		s.work += int64(len(s.nz))
	}
	s.x[r] = theta
	for _, k := range s.nz {
		s.y[k] += d * pr[k]
	}
}

// value is the cost of the basis.
func (s *simplex) value() float64 {
	v := 0.0
	for i, b := range s.basis {
		v += s.cols[b].cost * s.x[i]
	}
	return v
}
