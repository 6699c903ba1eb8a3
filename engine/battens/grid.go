package battens

import (
	"math"
	"slices"

	"lapwright/engine/measure"
)

// next returns the farthest place to the right of x at which a batten keeps
// every zone's centres between the two.
func (w *Wall) next(x measure.Length) measure.Length {
	to := measure.Length(math.MaxInt64 / 4)
	for i, z := range w.Zones {
		if z.X.Hi <= x && i < len(w.Zones)-1 {
			continue
		}
		if z.X.Lo >= to {
			break
		}
		step := min(to, x+z.Centres)
		if i > 0 {
			step = max(step, z.X.Lo)
		}
		to = step
	}
	return to
}

// previous is next to the left.
func (w *Wall) previous(x measure.Length) measure.Length {
	to := measure.Length(math.MinInt64 / 4)
	for i, z := range slices.Backward(w.Zones) {
		if z.X.Lo >= x && i > 0 {
			continue
		}
		if z.X.Hi <= to {
			break
		}
		step := max(to, x-z.Centres)
		if i < len(w.Zones)-1 {
			step = min(step, z.X.Hi)
		}
		to = step
	}
	return to
}

// ends returns the places the grid runs between: the middles of the edge
// battens, or of normal ones that would stand at the ends.
func (w *Wall) ends(posts []post) measure.Span {
	out := measure.Span{Lo: w.Span.Lo + w.Width/2, Hi: w.Span.Hi - w.Width/2}
	for _, p := range posts {
		switch {
		case p.edge() && p.faces > 0:
			out.Lo = p.centre()
		case p.edge():
			out.Hi = p.centre()
		}
	}
	return out
}

// grid returns the places of the grid, rising, bay 0 first. An edge batten
// that starts it is its bay 0.
func (w *Wall) grid(posts []post) []measure.Length {
	ends := w.ends(posts)
	if len(w.Studs) > 0 {
		return w.studs(ends, posts)
	}
	start := w.First.Or(ends.Lo)
	if !ends.Holds(start) {
		start = ends.Lo
	}
	var out []measure.Length
	for x := w.previous(start); x > ends.Lo; x = w.previous(x) {
		out = append(out, x)
	}
	slices.Reverse(out)
	for x := start; x < ends.Hi || x == start; x = w.next(x) {
		out = append(out, x)
	}
	if last := out[len(out)-1]; w.Right == NoEdge && w.next(last) == ends.Hi {
		out = append(out, ends.Hi)
	}
	return out
}

// studs chooses studs that no post is in the way of: from each the farthest
// that the centres allow, or the next one if even that is too far.
func (w *Wall) studs(ends measure.Span, posts []post) []measure.Length {
	at := ends.Lo
	var free []measure.Length
	for _, s := range w.Studs {
		if block, _ := blocked(posts, s, w.half()); block.Empty() && s < ends.Hi {
			free = append(free, s)
		}
	}
	if w.Left == NoEdge && len(free) > 0 {
		at = free[0]
	}
	out := []measure.Length{at}
	for i := 0; i < len(free); i++ {
		if free[i] <= at {
			continue
		}
		reach := w.next(at)
		if reach >= ends.Hi && w.Right != NoEdge {
			break
		}
		for i+1 < len(free) && free[i+1] <= reach {
			i++
		}
		at = free[i]
		out = append(out, at)
	}
	return out
}

// half is what a grid batten, wide for a joint, needs to each side.
func (w *Wall) half() measure.Length { return w.Wide - w.Wide/2 + w.Clear }

// placed is a grid batten as it stands in the end.
type placed struct {
	at  measure.Length
	bay int
}

// fit sets the grid among the posts. A grid batten in a post's way is left out
// if the posts and its neighbours keep the centres without it; else it moves
// to the post's side, by whole millimetres, away from the post's middle, and a
// little on, so that no bay grows beyond its centres.
func (w *Wall) fit(grid []measure.Length, posts []post) []placed {
	out := make([]placed, 0, len(grid))
	half, ends := w.half(), w.ends(posts)
	for bay, g := range grid {
		if bay == 0 && w.Left != NoEdge && g == ends.Lo {
			continue // the left edge batten itself
		}
		block, part := blocked(posts, g, half)
		if block.Empty() {
			out = w.place(out, placed{g, bay})
			continue
		}
		left, right := w.around(out, posts, g)
		if bay+1 < len(grid) {
			right = min(right, grid[bay+1])
		}
		if right <= w.next(left) || len(w.Studs) > 0 {
			continue
		}
		before := g - (g - block.Lo + half).UpTo(measure.Millimetre)
		after := g + (block.Hi + half - g).UpTo(measure.Millimetre)
		before, after = w.apart(posts, before, left), w.apart(posts, after, right)
		if g <= block.Lo+block.Length()/2 {
			out = w.place(out, placed{before, bay})
			if part { // where that post is missing, the bay beyond is too wide
				out = w.place(out, placed{after, -1})
			}
			continue
		}
		if part {
			out = w.place(out, placed{before, -1})
		}
		out = w.place(out, placed{after, bay})
	}
	return out
}

// apart moves a grid batten that stands against a post on towards the next batten
// beyond, to the left or right, so that the two do not stand side by side as one: by
// the width of a wide batten, or less, so that three quarters of a bay are left on the
// one side and no more than a bay on the other.
func (w *Wall) apart(posts []post, at, next measure.Length) measure.Length {
	bay, hand := w.next(at)-at, measure.Length(1)
	if next < at {
		bay, hand = at-w.previous(at), -1
	}
	by := min(w.Wide, (next-at)*hand-bay*3/4, bay-w.half()-w.Wide/2).DownTo(measure.Millimetre)
	if by <= 0 {
		return at
	}
	if block, _ := blocked(posts, at+by*hand, w.half()); !block.Empty() {
		return at
	}
	return at + by*hand
}

// place adds a grid batten that lies in the wall and clear of the last one.
func (w *Wall) place(out []placed, p placed) []placed {
	left := p.at - w.Width/2
	if left < w.Span.Lo || left+w.Width > w.Span.Hi {
		return out
	}
	for i := max(0, len(out)-3); i < len(out); i++ {
		switch d := p.at - out[i].at; {
		case max(d, -d) >= w.Wide:
		case out[i].bay >= 0 || p.bay < 0:
			return out
		default: // one off the grid gives way
			out = slices.Delete(out, i, i+1)
			i--
		}
	}
	return append(out, p)
}

// blocked returns what the posts in the way of a grid batten at g cover, with
// those next to them that leave no room between, and whether one of them does
// not stand at every height. half is what a grid batten needs to each side.
func blocked(posts []post, g, half measure.Length) (block measure.Span, part bool) {
	block = measure.Span{Lo: g, Hi: g}
	reach := block.Grow(half)
	for grown := true; grown; {
		grown = false
		for _, p := range posts {
			if p.x.And(reach).Empty() || (block.Lo <= p.x.Lo && p.x.Hi <= block.Hi && !block.Empty()) {
				continue
			}
			if part, grown = part || p.part(), true; block.Empty() {
				block = p.x
			} else {
				block = measure.Span{Lo: min(block.Lo, p.x.Lo), Hi: max(block.Hi, p.x.Hi)}
			}
			reach = block.Grow(2 * half)
		}
	}
	return block, part
}

// around returns the battens next to the place g that stand at every height:
// grid battens placed so far and posts.
func (w *Wall) around(out []placed, posts []post, g measure.Length) (left, right measure.Length) {
	left, right = w.Span.Lo, w.Span.Hi
	for _, p := range posts {
		switch c := p.centre(); {
		case p.part():
		case c < g:
			left = max(left, c)
		default:
			right = min(right, c)
		}
	}
	if n := len(out); n > 0 && out[n-1].at < g {
		left = max(left, out[n-1].at)
	}
	return left, right
}
