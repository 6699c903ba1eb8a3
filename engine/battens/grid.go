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
func (w *Wall) ends() measure.Span {
	left, right := w.edgeWidth(w.Left), w.edgeWidth(w.Right)
	if left == 0 {
		left = w.Width
	}
	if right == 0 {
		right = w.Width
	}
	return measure.Span{Lo: w.Span.Lo + left/2, Hi: w.Span.Hi - (right - right/2)}
}

// grid returns the places of the grid, rising, bay 0 first. An edge batten
// that starts it is its bay 0.
func (w *Wall) grid() []measure.Length {
	ends := w.ends()
	if len(w.Studs) > 0 {
		return w.studs(ends)
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

// studs chooses studs: from each the farthest that the centres allow, or the
// next one if even that is too far.
func (w *Wall) studs(ends measure.Span) []measure.Length {
	out := []measure.Length{}
	at, i := ends.Lo, 0
	if w.Left == NoEdge {
		at = w.Studs[0]
	}
	out = append(out, at)
	for i < len(w.Studs) && w.Studs[i] <= at {
		i++
	}
	for i < len(w.Studs) && w.Studs[i] < ends.Hi && w.next(at) < ends.Hi {
		for reach := w.next(at); i+1 < len(w.Studs) && w.Studs[i+1] <= reach && w.Studs[i+1] < ends.Hi; {
			i++
		}
		at = w.Studs[i]
		out = append(out, at)
		i++
	}
	return out
}

// placed is a grid batten as it stands in the end.
type placed struct {
	at  measure.Length
	bay int
}

// fit sets the grid among the posts. A grid batten in a post's way is left out
// if the posts and its neighbours keep the centres without it; else it moves
// to the post's side, away from the post's middle, so that no bay grows.
func (w *Wall) fit(grid []measure.Length, posts []post) []placed {
	out := make([]placed, 0, len(grid))
	half := w.Wide - w.Wide/2 + w.Clear
	for bay, g := range grid {
		if bay == 0 && w.Left != NoEdge && g == w.ends().Lo {
			continue // the left edge batten itself
		}
		block, part := blocked(posts, measure.Span{Lo: g - half, Hi: g + half})
		if block.Empty() {
			out = append(out, placed{g, bay})
			continue
		}
		left, right := w.around(out, posts, g)
		if bay+1 < len(grid) {
			right = min(right, grid[bay+1])
		}
		if right <= w.next(left) || len(w.Studs) > 0 {
			continue
		}
		beside := [2]measure.Length{block.Lo - half, block.Hi + half}
		if middle := block.Lo + block.Length()/2; part {
			out = append(out, placed{beside[0], bay}, placed{beside[1], -1})
		} else if g <= middle {
			out = append(out, placed{beside[0], bay})
		} else {
			out = append(out, placed{beside[1], bay})
		}
	}
	return out
}

// blocked returns what the posts that overlap x cover together, and whether
// one of them does not stand at every height.
func blocked(posts []post, x measure.Span) (block measure.Span, part bool) {
	for _, p := range posts {
		if p.x.And(x).Empty() {
			continue
		}
		if part = part || p.part(); block.Empty() {
			block = p.x
		} else {
			block = measure.Span{Lo: min(block.Lo, p.x.Lo), Hi: max(block.Hi, p.x.Hi)}
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
