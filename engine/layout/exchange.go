package layout

// exchange lets two runs of a wall swap the joints they have between two
// places where both begin, end or are jointed, where the rules allow: no piece
// changes, but the layout moves on. Without it the stagger rules lock a layout
// that no single run can leave.
func (w *walker) exchange() {
	r := w.runs[w.below(len(w.runs))]
	others := w.m.walls[w.m.runs[r].wall]
	o := others[w.below(len(others))]
	if o == r || w.m.runs[o].qty != w.m.runs[r].qty || w.frozen[o] {
		return
	}
	p, q, ok := w.common(r, o)
	if !ok {
		return
	}
	x, y := w.st.cuts[r], w.st.cuts[o]
	var fit, fits bool
	w.mine, fit = w.splice(w.mine[:0], r, p, o, y[q[0]:q[1]])
	w.theirs, fits = w.splice(w.theirs[:0], o, q, r, x[p[0]:p[1]])
	if !fit || !fits {
		return
	}
	w.st.lift(r)
	w.st.lift(o)
	w.st.put(r, w.mine)
	ok = w.st.breaches(r) == 0
	if ok {
		w.st.put(o, w.theirs)
		ok = w.st.breaches(o) == 0
		w.st.lift(o)
	}
	w.st.lift(r)
	if ok {
		x, y = append(x[:0], w.mine...), append(y[:0], w.theirs...)
	}
	w.st.put(r, x)
	w.st.put(o, y)
}

// common finds two neighbouring places that the joints or ends of both runs
// share, with joints between, and returns the joints between as ranges of
// indices.
func (w *walker) common(r, o int32) (p, q [2]int, ok bool) {
	x, y := w.st.cuts[r], w.st.cuts[o]
	open := w.m.key(r, 0) == w.m.key(o, 0) // the place before is shared
	pi, pj, n := 0, 0, 0
	for i, j := 0, 0; i <= len(x) && j <= len(y); {
		kx, ky := w.m.keyAt(r, x, i), w.m.keyAt(o, y, j)
		switch {
		case kx == ky:
			if open && (i > pi || j > pj) {
				// Each such stretch is as likely (reservoir sampling).
				if n++; w.below(n) == 0 {
					p, q, ok = [2]int{pi, i}, [2]int{pj, j}, true
				}
			}
			open = true
			i, j = i+1, j+1
			pi, pj = i, j
		case w.m.placeAt(r, x, i) <= w.m.placeAt(o, y, j) && i < len(x) || j == len(y):
			i++
		default:
			j++
		}
	}
	return p, q, ok
}

// splice appends to buf the joints of run r with those in the range p replaced
// by the places of o's joints; it fails if r may not be jointed there.
func (w *walker) splice(buf []int32, r int32, p [2]int, o int32, with []int32) ([]int32, bool) {
	x, sh := w.st.cuts[r], w.m.runs[r].shape
	buf = append(buf, x[:p[0]]...)
	last := int32(0)
	if p[0] > 0 {
		last = x[p[0]-1]
	}
	for _, k := range with {
		at := w.m.point(r, w.m.key(o, k))
		if at < 0 || sh.seg[int(last)*sh.n+int(at)] == none {
			return buf, false
		}
		buf = append(buf, at)
		last = at
	}
	to := int32(sh.n - 1)
	if p[1] < len(x) {
		to = x[p[1]]
	}
	if sh.seg[int(last)*sh.n+int(to)] == none {
		return buf, false
	}
	return append(buf, x[p[1]:]...), true
}
