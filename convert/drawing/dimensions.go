package drawing

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// dimension draws a level dimension line with a stroke at each end.
func (v *view) dimension(x0, x1, y float64) {
	v.ink.level(x0, x1, y, weightDim, black)
	for _, x := range []float64{x0, x1} {
		v.ink.line(point{x - 8, y + 8}, point{x + 8, y - 8}, 3, black)
	}
}

// courseMarks puts, left of the wall, the number and the bottom of each course,
// or of every second, fifth and so on where they stand too close.
func (v *view) courseMarks() {
	s := textSize{26, false}
	step, n := markStep(v.leastFace(), float64(s.px)+4), len(v.w.Courses)
	for i, c := range v.w.Courses {
		y := v.z(c.Bottom)
		wide := 26.0
		if i%step == 0 || i == n-1 {
			wide = 44
		}
		v.ink.level(v.left-wide-8, v.left-8, y, weightDim, black)
		crowded := i == n-1 && i%step != 0 && float64(i%step)*v.leastFace() < float64(s.px)+4
		if (i%step == 0 && !v.nearTop(i, step, s)) || (i == n-1 && !crowded) || (i == n-1 && v.nearTop(i-i%step, step, s)) {
			v.text(s, v.left-60, y, atEnd, c.Bottom.Nearest(measure.Millimetre).String())
			v.text(textSize{22, true}, v.left-156, y, atEnd, strconv.Itoa(c.Number))
		}
	}
	v.heights()
}

// nearTop reports whether a mark would crowd the last one, which always shows.
func (v *view) nearTop(i, step int, s textSize) bool {
	last := len(v.w.Courses) - 1
	return i != last && last%step != 0 && i == last-last%step && float64(last-i)*v.leastFace() < float64(s.px)+4
}

// markStep returns the least of 1, 2, 5, 10 ... courses that leaves room for a
// text.
func markStep(face, room float64) int {
	for _, n := range []int{1, 2, 5, 10, 20, 50} {
		if float64(n)*face >= room {
			return n
		}
	}
	return 100
}

// heights draws the upright dimension of the whole wall.
func (v *view) heights() {
	x, lo, hi := v.left-240, v.z(v.zs.Lo), v.z(v.zs.Hi)
	v.ink.upright(x, hi, lo, weightDim, black)
	for _, y := range []float64{lo, hi} {
		v.ink.line(point{x - 8, y + 8}, point{x + 8, y - 8}, 3, black)
	}
	v.upText(textSize{28, false}, x-24, (lo+hi)/2, atMiddle, v.zs.Length().Nearest(measure.Millimetre).String())
	v.text(textSize{20, false}, v.left-156, v.base+30, atEnd, "course")
	v.text(textSize{20, false}, v.left-60, v.base+30, atEnd, "bottom")
}

// Places below the wall's base, in pixels. The whole width stands a step below the
// last chain.
const (
	battenTextAt   = 44
	openingChainAt = 228
	chainStep      = 54
)

// below is how many pixels are kept below the wall: more where openings and a
// broken outline take several chains.
func below(w *engine.WallResult) int {
	n := len(openingChains(w))
	if len(outlineBreaks(w)) > 0 {
		n++
	}
	return marginBottom + chainStep*(n-1)
}

// dimensions draws, below the wall, the battens, the chains of the openings, where
// the outline changes, and the whole width; right of it the heights of the outline.
func (v *view) dimensions() {
	v.battenRow()
	y := v.base + openingChainAt
	for i, c := range openingChains(v.w) {
		v.chain(v.edgesOf(c), y)
		if s := (textSize{20, false}); i > 0 && v.letters.width(s, c.names()) < marginLeft-80 {
			v.text(s, v.left-60, y, atEnd, c.names())
		}
		y += chainStep
	}
	all := v.wall()
	if breaks := outlineBreaks(v.w); len(breaks) > 0 {
		v.chain(append(append([]measure.Length{all.Lo}, breaks...), all.Hi), y)
		v.text(textSize{20, false}, v.left-60, y, atEnd, "outline")
		y += chainStep
	}
	v.chain([]measure.Length{all.Lo, all.Hi}, y)
	v.outlineHeights()
}

// openingChain is openings of which none reaches into another's width.
type openingChain []*engine.Opening

// chainsMost is the most chains: what has no room in them stands in the last.
const chainsMost = 4

// openingChains parts the openings of a wall into as few chains as show each
// one's width whole: windows of two storeys that lie askew want two.
func openingChains(w *engine.WallResult) []openingChain {
	var out []openingChain
	for _, o := range w.Voids {
		i := slices.IndexFunc(out, func(c openingChain) bool {
			return !slices.ContainsFunc(c, func(p *engine.Opening) bool {
				same := p.Left == o.Opening.Left && p.Width == o.Opening.Width
				return !same && p.Left < o.Opening.Left+o.Opening.Width && o.Opening.Left < p.Left+p.Width
			})
		})
		switch {
		case i >= 0:
			out[i] = append(out[i], o.Opening)
		case len(out) < chainsMost:
			out = append(out, openingChain{o.Opening})
		default:
			out[chainsMost-1] = append(out[chainsMost-1], o.Opening)
		}
	}
	return out
}

func (c openingChain) names() string {
	var out []string
	for _, o := range c {
		out = append(out, o.Name)
	}
	return strings.Join(out, ", ")
}

// wall returns the span of the wall itself.
func (v *view) wall() measure.Span {
	if len(v.w.Outline) == 0 {
		return v.xs
	}
	xs, _ := v.w.Outline.Bounds()
	return xs
}

// edgesOf returns where a chain's openings and the wall begin and end.
func (v *view) edgesOf(c openingChain) []measure.Length {
	out := []measure.Length{v.wall().Lo, v.wall().Hi}
	for _, o := range c {
		out = append(out, o.Left, o.Left+o.Width)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// chain draws dimensions from each place to the next.
func (v *view) chain(at []measure.Length, y float64) {
	s := textSize{28, false}
	for i := 1; i < len(at); i++ {
		lo, hi := v.span(measure.Span{Lo: at[i-1], Hi: at[i]})
		v.dimension(lo, hi, y)
		text := (at[i] - at[i-1]).Nearest(measure.Millimetre).String()
		size := s
		for size.px > 14 && float64(v.letters.width(size, text)) > hi-lo-14 {
			size.px -= 2
		}
		if float64(v.letters.width(size, text)) <= hi-lo-6 {
			v.text(size, (lo+hi)/2, y-20, atMiddle, text)
		}
	}
}

// title names the wall and says how it is seen.
func (v *view) title() {
	name := strings.TrimSpace(v.w.Plot + " " + v.w.Name)
	v.text(textSize{44, true}, 40, 44, atStart, "Wall "+name)
	seen := "seen from outside"
	if v.w.Mirrored > 0 {
		seen = "HANDED (mirrored), " + seen
	}
	v.text(textSize{28, v.w.Mirrored > 0}, float64(v.o.Width-40), 36, atEnd, seen)
	small := textSize{22, false}
	for i, line := range v.joined(small, v.unsaid()) {
		v.text(small, float64(v.o.Width-40), 74+float64(28*i), atEnd, line)
	}
}

// joined puts what is said on as few lines as the picture is wide for: the second
// touches the zones of a high wall.
func (v *view) joined(s textSize, said []string) []string {
	var out []string
	for _, text := range said {
		if n := len(out); n > 0 {
			if line := out[n-1] + "; " + text; v.letters.width(s, line) < v.o.Width-80 {
				out[n-1] = line
				continue
			}
		}
		out = append(out, text)
	}
	return out
}

// unsaid names what had no room in the drawing.
func (v *view) unsaid() []string {
	out := slices.Clone(v.uncentred)
	if said := datumSaid(v.zs); said != "" {
		out = append(out, said)
	}
	switch n := len(v.hidden); {
	case n == 0:
	case n <= 4:
		out = append(out, "no room for the mark of "+strings.Join(v.hidden, ", "))
	default:
		out = append(out, fmt.Sprintf("%d pieces too small for a mark here: see the cut list", n))
	}
	if len(v.nameless) > 0 {
		out = append(out, "no room for the name of "+strings.Join(v.nameless, ", "))
	}
	switch n := len(v.unlettered); {
	case n == 0:
	case n <= 4:
		out = append(out, "no room for the letters of trims at "+strings.Join(v.unlettered, ", "))
	default:
		out = append(out, fmt.Sprintf("no room for the letters of trims at %d places: see the list of trims", n))
	}
	return out
}

// legend says what the lines mean and draws the scale bar.
func (v *view) legend() {
	y, x := float64(v.ink.h-50), 60.0
	s := textSize{24, false}
	sample := func(name string, draw func(a, b point)) {
		draw(point{x, y}, point{x + 70, y})
		v.text(s, x+82, y, atStart, name)
		x += 82 + float64(v.letters.width(s, name)) + 40
	}
	sample("board edge", func(a, b point) { v.ink.line(a, b, weightBoard, black) })
	sample("batten behind", func(a, b point) { v.ink.dashes(a, b, 14, 10, weightHidden, black) })
	sample("trim, by its letter", func(a, b point) { v.double([][2]point{{a, b}}) })
	sample("opening", func(a, b point) { v.ink.line(a, b, weightOpening, black) })
	if datumSaid(v.zs) == "" {
		sample("datum", func(a, b point) { v.ink.dashes(a, b, 30, 10, weightDim, black) })
	}
	v.scaleBar(y, float64(v.o.Width)-120-x)
	y -= 48
	if x = v.trimKey(y); len(v.w.Zones) > 1 {
		sample("zone edge", func(a, b point) { v.ink.dashes(a, b, 40, 24, weightHidden, black) })
	}
}

// scaleBar draws the longest bar of a round length for which there is room.
func (v *view) scaleBar(y, room float64) {
	long := 50 * measure.Millimetre
	for _, l := range []measure.Length{measure.Metre / 10, measure.Metre / 5, measure.Metre / 2, measure.Metre, 2 * measure.Metre, 5 * measure.Metre, 10 * measure.Metre} {
		if float64(l)*v.scale <= min(500, room) {
			long = l
		}
	}
	wide := float64(long) * v.scale
	x := float64(v.o.Width) - 120 - wide
	for i := range 4 {
		a, b := x+wide*float64(i)/4, x+wide*float64(i+1)/4
		v.ink.rect(near(a), near(y-8), near(b), near(y+8), black)
		if i%2 == 1 {
			v.ink.rect(near(a)+2, near(y-6), near(b)-2, near(y+6), paper)
		}
	}
	s := textSize{24, false}
	v.text(s, x, y-26, atMiddle, "0")
	v.text(s, x+wide, y-26, atMiddle, fmt.Sprintf("%v mm", long))
}

// describe says in words what the drawing shows.
func describe(w *engine.WallResult) string {
	xs, zs := extent(w)
	out := fmt.Sprintf("Elevation of wall %s, seen from outside: %v mm wide, %v mm high, %d courses of boards, %d pieces, %d battens.",
		strings.TrimSpace(w.Plot+" "+w.Name), xs.Length(), zs.Length(), len(w.Courses), len(w.Pieces), len(w.Battens))
	if w.Mirrored > 0 {
		out += " Drawn handed: left and right changed over."
	}
	if said := datumSaid(zs); said != "" {
		out += " T" + said[1:] + "."
	}
	for _, o := range w.Voids {
		out += fmt.Sprintf(" Opening %s: %v by %v mm, %v mm from the left edge, sill at %v mm.",
			o.Opening.Name, o.Opening.Width, o.Opening.Height, o.Opening.Left, o.Opening.Sill)
	}
	return out
}
