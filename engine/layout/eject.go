package layout

import "slices"

// relaid is a stretch laid anew, with the joints it had and those it has.
type relaid struct {
	stretch
	old, now []int32
}

// eject lays a stretch anew as if it might share joints with other courses,
// and then lays what is in its way anew around it (an ejection chain of one
// link: F. Glover, Discrete Applied Mathematics 65 (1996) 223-253). Where the
// same batten may joint only every third course, hardly a run can move alone.
// It reports whether a layout within the rules came of it, which then stands;
// w.moved says what to take back by restore.
func (w *walker) eject(price func(id int32) float64) bool {
	w.moved = w.moved[:0]
	s := w.stretchOf(3)
	cuts, ok := w.path(s, price, 2*w.heat)
	if !ok || equal(cuts, s.between) {
		return false
	}
	w.move(s, cuts)
	for _, k := range w.moved[0].now {
		for _, c := range w.m.conf[s.run.base+k] {
			if o := w.m.owner[c]; !w.yield(o, c-w.m.runs[o].base, price) {
				w.restore()
				return false
			}
		}
	}
	return true
}

// yield lays the two pieces at a joint of a run anew if it stands.
func (w *walker) yield(r, joint int32, price func(id int32) float64) bool {
	at, stands := slices.BinarySearch(w.st.cuts[r], joint)
	if !stands {
		return true
	}
	if w.frozen[r] {
		return false
	}
	s := w.part(r, at, 2)
	cuts, ok := w.path(s, price, 0)
	if ok {
		w.move(s, cuts)
	}
	return ok
}

// move replaces the joints of a stretch and remembers those it had.
func (w *walker) move(s stretch, cuts []int32) {
	n := len(w.moved)
	w.moved = slices.Grow(w.moved, 1)[:n+1]
	x := &w.moved[n]
	x.stretch = s
	x.old = append(x.old[:0], s.between...)
	x.now = append(x.now[:0], cuts...)
	w.relay(s, x.now)
}

// restore takes the moves back.
func (w *walker) restore() {
	for i := len(w.moved) - 1; i >= 0; i-- {
		x := &w.moved[i]
		x.between = x.now
		w.relay(x.stretch, x.old)
	}
	w.moved = w.moved[:0]
}
