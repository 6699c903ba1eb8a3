package drawing

import (
	"slices"
	"strconv"
	"strings"

	"lapwright/engine/measure"
)

// battenColumn is the battens that stand one above the other at one centre.
type battenColumn struct {
	centre measure.Length
	marks  []string
}

// battenColumns gathers the battens by their centres, from left to right as
// drawn.
func (v *view) battenColumns() []battenColumn {
	at := map[measure.Length]*battenColumn{}
	var centres []measure.Length
	for _, b := range v.w.Battens {
		c := at[b.Centre]
		if c == nil {
			c = &battenColumn{centre: b.Centre}
			at[b.Centre] = c
			centres = append(centres, b.Centre)
		}
		c.marks = append(c.marks, shortMark(b.Mark, v.w.Code))
	}
	slices.Sort(centres)
	out := make([]battenColumn, len(centres))
	for i, c := range centres {
		out[i] = *at[c]
	}
	return out
}

// battenRow writes below the wall, reading upwards, each batten's centre from
// the wall's left edge and its number as in the list of batten marks. Where
// battens stand close, their texts are moved apart and a line leads to each.
func (v *view) battenRow() {
	columns := v.battenColumns()
	centres, marks := make([]string, len(columns)), make([]string, len(columns))
	for i, c := range columns {
		centres[i], marks[i] = c.centre.Nearest(measure.Tenth).String(), strings.Join(ranges(c.marks), ",")
	}
	const between = 10
	s, wide, high := textSize{22, false}, 0.0, 0.0
	for ; s.px >= 14; s.px -= 2 {
		wide, high = v.longest(s, centres), v.longest(textSize{s.px, true}, marks)
		if float64(len(columns)*(s.px+3)) <= float64(v.o.Width-marginLeft) && battenTextAt+wide+between+high < openingChainAt-30 {
			break
		}
	}
	s.px = max(s.px, 14)
	centreAt, markAt := v.base+battenTextAt+wide/2, v.base+battenTextAt+wide+between+high/2
	at := make([]float64, len(columns))
	for i, c := range columns {
		at[i] = v.x(c.centre)
	}
	texts := apart(at, float64(s.px+3))
	for i := range columns {
		v.ink.upright(at[i], v.base+8, v.base+22, weightHidden, black)
		v.ink.line(point{at[i], v.base + 22}, point{texts[i], v.base + 42}, weightHidden, black)
		v.upText(s, texts[i], centreAt, atMiddle, centres[i])
		v.upText(textSize{s.px, true}, texts[i], markAt, atMiddle, marks[i])
	}
	small := textSize{20, false}
	v.text(small, v.left-60, centreAt, atEnd, "batten centre")
	v.text(textSize{20, true}, v.left-60, markAt, atEnd, "batten")
}

// longest is how many pixels the longest of some texts takes.
func (v *view) longest(s textSize, texts []string) float64 {
	most := 0
	for _, t := range texts {
		most = max(most, v.letters.width(s, t))
	}
	return float64(most)
}

// apart moves places that rise so that no two are nearer than room, each as
// little as it can: those that press on each other stand evenly about the
// middle of where they wanted to be.
func apart(want []float64, room float64) []float64 {
	type group struct {
		sum float64 // of the wanted places, each less its steps in the group
		n   int
	}
	place := func(g group) float64 { return g.sum / float64(g.n) }
	var groups []group
	for _, w := range want {
		g := group{w, 1}
		for len(groups) > 0 {
			before := groups[len(groups)-1]
			if place(before)+float64(before.n)*room <= place(g) {
				break
			}
			g = group{before.sum + g.sum - float64(g.n)*float64(before.n)*room, before.n + g.n}
			groups = groups[:len(groups)-1]
		}
		groups = append(groups, g)
	}
	out := make([]float64, 0, len(want))
	for _, g := range groups {
		for i := range g.n {
			out = append(out, place(g)+float64(i)*room)
		}
	}
	return out
}

// ranges shortens marks that end in numbers which follow each other: N3, N4,
// N5 as N3-5.
func ranges(marks []string) []string {
	var out []string
	for i := 0; i < len(marks); {
		head, n, ok := numbered(marks[i])
		k := i + 1
		for ; ok && k < len(marks); k++ {
			if h, m, ok := numbered(marks[k]); !ok || h != head || m != n+k-i {
				break
			}
		}
		text := marks[i]
		if k > i+1 {
			text += "-" + strconv.Itoa(n+k-1-i)
		}
		out, i = append(out, text), k
	}
	return out
}

// numbered splits a mark into what heads it and the number at its end.
func numbered(mark string) (head string, n int, ok bool) {
	head = strings.TrimRight(mark, "0123456789")
	n, err := strconv.Atoi(mark[len(head):])
	return head, n, err == nil
}
