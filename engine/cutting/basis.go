package cutting

import "math"

// basisOrder picks the columns of a basis one after the other: those with one
// open row first, then those alone in a row, then those with the fewest open
// rows. A row is open until a column pivots in it.
type basisOrder struct {
	t     *tableau
	cols  []int // columns to place
	done  []bool
	put   []bool  // placed or given up, by index into cols
	open  []int32 // open rows of a column
	start []int32 // columns of a row, from here in list
	list  []int32
	count []int32 // columns left of a row
	lone  []int32 // columns with one open row
	rows  []int32 // rows with one column
}

func newBasisOrder(t *tableau, cols []int, done []bool) *basisOrder {
	o := &basisOrder{t: t, cols: cols, done: done, put: make([]bool, len(cols)), open: make([]int32, len(cols)),
		start: make([]int32, t.m+1), count: make([]int32, t.m)}
	for k, j := range cols {
		for _, r := range t.cols[j].rows {
			o.start[r+1]++
			if !done[r] {
				o.open[k]++
				o.count[r]++
			}
		}
		if o.open[k] <= 1 {
			o.lone = append(o.lone, int32(k))
		}
	}
	for r := range t.m {
		if o.count[r] == 1 {
			o.rows = append(o.rows, int32(r))
		}
		o.start[r+1] += o.start[r]
	}
	o.list = make([]int32, o.start[t.m])
	next := append([]int32(nil), o.start...)
	for k, j := range cols {
		for _, r := range t.cols[j].rows {
			o.list[next[r]] = int32(k)
			next[r]++
		}
	}
	return o
}

// next returns the column to place and the row it should pivot in, -1 for any.
func (o *basisOrder) next() (int, int) {
	for len(o.lone) > 0 {
		k := o.lone[len(o.lone)-1]
		o.lone = o.lone[:len(o.lone)-1]
		if !o.put[k] {
			return int(k), -1
		}
	}
	for len(o.rows) > 0 {
		r := o.rows[len(o.rows)-1]
		o.rows = o.rows[:len(o.rows)-1]
		if o.done[r] {
			continue
		}
		for _, k := range o.list[o.start[r]:o.start[r+1]] {
			if !o.put[k] {
				return int(k), int(r)
			}
		}
	}
	best := -1
	for k, n := range o.open {
		if !o.put[k] && (best < 0 || n < o.open[best]) {
			best = k
		}
	}
	return best, -1
}

// place notes that column k has pivoted in row r, or in none.
func (o *basisOrder) place(k, r int) {
	o.put[k] = true
	for _, i := range o.t.cols[o.cols[k]].rows {
		if o.done[i] {
			continue
		}
		if o.count[i]--; o.count[i] == 1 {
			o.rows = append(o.rows, i)
		}
	}
	if r < 0 {
		return
	}
	o.done[r] = true
	for _, q := range o.list[o.start[r]:o.start[r+1]] {
		if o.open[q]--; o.open[q] == 1 && !o.put[q] {
			o.lone = append(o.lone, q)
		}
	}
}

// row picks the open row with the fewest columns left in which a column's entry
// is at least so large; the row asked for, if it is.
func (o *basisOrder) row(work []float64, open []int32, least float64, ask int) int {
	if ask >= 0 && math.Abs(work[ask]) >= least {
		return ask
	}
	best := -1
	for _, r := range open {
		if math.Abs(work[r]) >= least && (best < 0 || o.count[r] < o.count[best]) {
			best = int(r)
		}
	}
	return best
}

// factor factorises the columns in basis, in which it puts the surplus of a row
// wherever the columns are dependent.
func (t *tableau) factor() {
	want := append([]int(nil), t.basis...)
	for j := range t.cols {
		t.cols[j].at = -1
	}
	t.lu.reset(t.m)
	done := make([]bool, t.m)
	cols := make([]int, 0, t.m)
	for _, j := range want {
		if j >= 0 {
			cols = append(cols, j)
		} else if i := -1 - j; !done[i] {
			done[i] = true
			t.lu.unit(i)
		}
	}
	for i := range t.m {
		t.basis[i] = -1 - i
	}
	o := newBasisOrder(t, cols, done)
	for range cols {
		k, ask := o.next()
		r := t.lu.add(&t.cols[cols[k]], done, func(work []float64, open []int32, least float64) int { return o.row(work, open, least, ask) })
		o.place(k, r)
		if r >= 0 {
			t.basis[r] = cols[k]
			t.cols[cols[k]].at = r
		}
	}
	for i := range t.m {
		if !done[i] {
			t.lu.unit(i)
		}
	}
	t.meter.spend(2*len(cols)*t.m + 30*t.lu.size())
	t.refresh()
}
