package report

import (
	"fmt"
	"math"
	"strings"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// shapeWords say how a piece differs from a whole board sawn square at both
// ends, so that it can be marked out with a rule: what comes off which corner
// or edge, as seen from the front with the top edge up.
func shapeWords(p *engine.Piece, full measure.Length) []string {
	var out []string
	if p.Width != full && full > 0 && (p.Ripped || !raked(p)) { // else its slopes alone make it narrower
		out = append(out, fmt.Sprintf("ripped to %v wide", p.Width.Nearest(measure.Tenth)))
	}
	if isReveal(p) {
		return append(out, p.Reveal)
	}
	if p.Outline.IsRect() || len(p.Outline) == 0 {
		return out
	}
	out = append(out, rakesWords(p)...)
	if side, e := slopedCorner(p); side != "" {
		out = append(out, rakeWords(p, side, e))
	}
	for _, c := range p.Cutouts {
		out = append(out, notchWords(p, c))
	}
	if saidByOutline(p) {
		out = append(out, "outline "+strings.ReplaceAll(outline(p), ";", "; ")) // to break between corners
	}
	return out
}

// saidByOutline reports whether a piece is no rectangle and neither raked nor
// notched, nor without one corner alone: only its corners say how it is sawn.
func saidByOutline(p *engine.Piece) bool {
	if len(p.Outline) == 0 || p.Outline.IsRect() || len(p.Cutouts) > 0 || raked(p) {
		return false
	}
	side, _ := slopedCorner(p)
	return side == ""
}

// raked reports whether an end of a piece is.
func raked(p *engine.Piece) bool { return p.Left.Kind == engine.Rake || p.Right.Kind == engine.Rake }

// slopedCorner says at which side a piece that is a rectangle otherwise lacks a
// corner, cut off by a slope though no end is raked, as where a verge comes down
// over a joint; the end is as a rake there would be. The side is empty if the
// piece is no such one.
func slopedCorner(p *engine.Piece) (side string, e engine.End) {
	at := slopes(p)
	if len(at) != 1 || raked(p) {
		return "", e
	}
	a, b := p.Outline[at[0]], p.Outline[(at[0]+1)%len(p.Outline)]
	along, down := max(a.X-b.X, b.X-a.X), max(a.Z-b.Z, b.Z-a.Z)
	xs, zs := p.Outline.Bounds()
	if p.Outline.Area2()+int64(along*down) != 2*int64(xs.Length()*zs.Length()) {
		return "", e
	}
	side = "left"
	if b.Z > a.Z { // outlines go anticlockwise: up at the right, down at the left
		side = "right"
	}
	e = engine.End{Kind: engine.Rake, Under: b.X > a.X, Degrees: math.Atan2(float64(along), float64(down)) * 180 / math.Pi}
	return side, e
}

// rakesWords say what raked ends take off, once where both are alike.
func rakesWords(p *engine.Piece) []string {
	var out []string
	for _, e := range []struct {
		side string
		end  engine.End
	}{{"left", p.Left}, {"right", p.Right}} {
		if e.end.Kind == engine.Rake {
			out = append(out, rakeWords(p, e.side, e.end))
		}
	}
	if len(out) == 2 {
		left, right := strings.TrimPrefix(out[0], "left "), strings.TrimPrefix(out[1], "right ")
		if left == right {
			return []string{"both " + left}
		}
	}
	return out
}

// rakeWords say what a raked cut takes off a corner: so much along the edge by
// so much of the end, and its angle from square.
func rakeWords(p *engine.Piece, side string, e engine.End) string {
	edge := "top"
	if e.Under {
		edge = "bottom"
	}
	along, down := rakeOf(p, side == "right")
	return fmt.Sprintf("%s %s %v x %v, %.1f\u00b0", side, edge, along.Nearest(measure.Tenth), down.Nearest(measure.Tenth), e.Degrees)
}

// rakeOf measures the sloping edge at one end of a piece.
func rakeOf(p *engine.Piece, right bool) (along, down measure.Length) {
	xs, _ := p.Outline.Bounds()
	for i, a := range p.Outline {
		b := p.Outline[(i+1)%len(p.Outline)]
		dx, dz := b.X-a.X, b.Z-a.Z
		if dx == 0 || dz == 0 {
			continue
		}
		atRight := a.X+b.X > xs.Lo+xs.Hi
		if len(slopes(p)) == 1 {
			atRight = right
		}
		if atRight == right && max(dz, -dz) > down {
			along, down = max(dx, -dx), max(dz, -dz)
		}
	}
	return along, down
}

// slopes lists the sloping edges of a piece.
func slopes(p *engine.Piece) []int {
	var out []int
	for i, a := range p.Outline {
		if b := p.Outline[(i+1)%len(p.Outline)]; a.X != b.X && a.Z != b.Z {
			out = append(out, i)
		}
	}
	return out
}

// notchWords say where a cut-out lies: its size, how far from the left, and
// along which edge.
func notchWords(p *engine.Piece, c engine.VoidRect) string {
	xs, zs := p.Outline.Bounds()
	size := fmt.Sprintf("%v x %v", c.X.Length(), c.Z.Length())
	at := (c.X.Lo - xs.Lo).String()
	switch {
	case c.Z.Lo <= zs.Lo && c.Z.Hi >= zs.Hi:
		return "gap " + size + " at " + at
	case c.Z.Hi >= zs.Hi:
		return "top notch " + size + " at " + at
	case c.Z.Lo <= zs.Lo:
		return "bottom notch " + size + " at " + at
	}
	return "hole " + size + " at " + at + ", " + (c.Z.Lo - zs.Lo).String() + " up"
}
