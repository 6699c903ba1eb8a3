package drawing

import (
	"fmt"
	"strings"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// segment is a piece on its board, from lo to hi along the bar. Up to clear its box
// overlaps that of the piece before.
type segment struct {
	lo, clear, hi float64
	shape         Shape
	length        string
	text          string // what it has room for of mark and length, about the middle
	size          textSize
	middle        float64
	said          bool // that is all of it
}

// segments places the pieces of a board and says what goes into each: its mark
// and length, of boards that share a bar the length alone, or as much of it as
// there is room for.
func (d sawyer) segments(r engine.CutRow, shared bool) []segment {
	out := make([]segment, len(r.Cuts))
	x := float64(barLeft)
	for i, c := range r.Cuts {
		p := segment{lo: x - float64(c.Saved)*d.scale, clear: x, length: c.Length.Nearest(measure.Tenth).String()} // slopes that share a cut lie side by side
		p.hi = p.lo + float64(c.Length)*d.scale
		if len(c.Marks) == 1 {
			p.shape = d.shapes[c.Marks[0]]
		}
		if c.Turned {
			p.shape = p.shape.turned()
		}
		texts := []string{p.length}
		if mark := strings.Join(c.Marks, "+"); !shared {
			texts = []string{mark + "  " + p.length, mark}
		}
		d.letter(&p, texts)
		out[i], x = p, p.hi
	}
	return out
}

// letter chooses the first of texts for which a segment has room, and its size.
func (d sawyer) letter(p *segment, texts []string) {
	from, to := p.clear, p.hi
	if p.shape.drawn() {
		room := p.shape.room()
		from, to = p.lo+float64(room.Lo)*d.scale, p.lo+float64(room.Hi)*d.scale
	}
	p.middle = (from + to) / 2
	for i, text := range texts {
		for px := 26; px >= 18; px -= 2 {
			s := textSize{px, true}
			if float64(d.letters.width(s, text)) <= to-from-10 {
				p.text, p.size, p.said = text, s, i == 0
				return
			}
		}
	}
}

// segment draws one piece on the bar whose top is y: its outline where it has
// one, what comes off hatched, and its text. Lengths are to scale; the board's
// width is what the bar's height stands for.
func (d sawyer) segment(p segment, y float64) {
	d.frame(p.clear, p.hi, y, 3)
	if p.shape.drawn() {
		d.hatch(p.clear, p.hi, y)
		up := barTall / float64(p.shape.Width)
		pts := make([]point, len(p.shape.Outline))
		for i, c := range p.shape.Outline {
			pts[i] = point{p.lo + float64(c.X)*d.scale, y + barTall - float64(c.Z)*up}
		}
		d.ink.polygon(pts, paper)
		d.ink.outline(pts, 3, black)
	}
	if p.text != "" {
		d.text(p.size, p.middle, y+barTall/2, atMiddle, p.text)
	}
}

// drawn reports whether a piece is drawn in outline.
func (s Shape) drawn() bool { return len(s.Outline) > 2 && s.Width > 0 }

// room returns where along a piece a text has room at half its height.
func (s Shape) room() measure.Span {
	const letters = 27 // pixels, the tallest with air and half a line at either side
	tall := measure.Length(letters * float64(s.Width) / barTall)
	return widest(within(s.Outline, s.Width/2-tall/2, s.Width/2+tall/2))
}

// turned is the shape turned end for end on its board.
func (s Shape) turned() Shape {
	if len(s.Outline) == 0 {
		return s
	}
	xs, _ := s.Outline.Bounds()
	out := make(measure.Polygon, len(s.Outline))
	for i, c := range s.Outline {
		out[i] = measure.Point{X: xs.Lo + xs.Hi - c.X, Z: s.Width - c.Z}
	}
	s.Outline = out
	return s
}

// pieceWords says of a bar's pieces what their segments do not: their mark and
// length where there is no room for both, and how they are to be sawn.
func (d sawyer) pieceWords(b *bar) []string {
	var out []string
	shared := len(b.rows) > 1
	for i, c := range b.rows[0].Cuts {
		name := strings.Join(c.Marks, "+") + " "
		switch {
		case shared && len(b.rows[0].Cuts) == 1:
			name = "each "
		case shared:
			name = fmt.Sprintf("piece %d, ", i+1)
		}
		var words []string
		for k, m := range c.Marks {
			w := d.shapes[m].Words
			switch {
			case w == "":
				continue
			case len(c.Marks) > 1 && shared:
				w = [...]string{"first", "second", "further"}[min(k, 2)] + " one " + w
			case len(c.Marks) > 1:
				w = m + " " + w
			}
			words = append(words, w)
		}
		said := strings.TrimRight(name, ", ")
		if !b.pieces[i].said {
			said = name + b.pieces[i].length
		}
		if len(words) > 0 {
			said += ": " + strings.Join(words, "; ")
		}
		if len(words) > 0 || !b.pieces[i].said {
			out = append(out, said+";")
		}
	}
	if n := len(out); n > 0 {
		out[n-1] = strings.TrimSuffix(out[n-1], ";") + "."
	}
	return out
}
