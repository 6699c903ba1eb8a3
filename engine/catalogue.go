package engine

import (
	"slices"

	"lapwright/engine/measure"
	"lapwright/engine/trims"
)

// The roles of catalogue lines, in the order an order lists them.
const (
	RoleBoard        = "board"
	RoleReveal       = "reveal board"
	RoleStarter      = string(trims.Starter)
	RoleVent         = string(trims.VentStrip)
	RoleEdge         = string(trims.EdgeTrim)
	RoleInternal     = string(trims.InternalCorner)
	RoleExternal     = string(trims.ExternalCorner)
	RoleUnequal      = string(trims.UnequalCorner)
	RoleFrame        = string(trims.FrameTrim)
	RoleBatten       = "batten"
	RoleWideBatten   = "wide batten"
	RoleTape         = "tape"
	RoleMembrane     = "membrane"
	RoleScrew        = "screw"
	RoleVisibleScrew = "visible screw"
	RolePacker       = "packer"
	RoleBattenFixing = "batten fixing"
	RoleTrimFixing   = "trim fixing"
	RolePaint        = "paint"
)

// Roles returns every role in the order an order lists them.
func Roles() []string {
	return []string{RoleBoard, RoleReveal, RoleStarter, RoleVent, RoleEdge, RoleInternal, RoleExternal,
		RoleUnequal, RoleFrame, RoleBatten, RoleWideBatten, RoleTape, RoleMembrane, RoleScrew,
		RoleVisibleScrew, RolePacker, RoleBattenFixing, RoleTrimFixing, RolePaint}
}

// cutFromStock reports whether a role is cut from stock lengths.
func cutFromStock(role string) bool {
	i := slices.Index(Roles(), role)
	return i >= 0 && i <= slices.Index(Roles(), RoleWideBatten)
}

// catalogue answers which product serves a role in a colour, and remembers the
// roles it could not serve.
type catalogue struct {
	products []Product
	missing  []Product // a stand-in for each role and colour without a line
	plain    []Product // for each role and colour without a line of its own, the one without a colour that serves

	found map[roleColour][]Product // what all returned before
}

type roleColour struct{ role, colour string }

// lack is what a catalogue could not serve.
type lack struct{ missing, plain []Product }

func (c *catalogue) lacks() lack { return lack{c.missing, c.plain} }

// since returns what came after an earlier lack of the same catalogue.
func (l lack) since(before lack) lack {
	return lack{slices.Clone(l.missing[len(before.missing):]), slices.Clone(l.plain[len(before.plain):])}
}

// copied returns a catalogue that notes what it lacks by itself.
func (c *catalogue) copied() catalogue {
	return catalogue{products: c.products, missing: slices.Clone(c.missing), plain: slices.Clone(c.plain)}
}

// note takes over what a copy lacked, each role and colour once.
func (c *catalogue) note(l lack) {
	add := func(list, more []Product) []Product {
		for _, p := range more {
			if !slices.ContainsFunc(list, func(q Product) bool { return q.Role == p.Role && q.Colour == p.Colour && q.Length == p.Length }) {
				list = append(list, p)
			}
		}
		return list
	}
	c.missing, c.plain = add(c.missing, l.missing), add(c.plain, l.plain)
}

// all returns the lines of a role in a colour; where the colour has none, the
// lines of that role without a colour.
func (c *catalogue) all(role, colour string) []Product {
	key := roleColour{role, colour}
	lines, ok := c.found[key]
	if !ok {
		lines = c.search(role, colour)
		if c.found == nil {
			c.found = map[roleColour][]Product{}
		}
		c.found[key] = lines
	}
	return lines
}

func (c *catalogue) search(role, colour string) []Product {
	var exact, plain []Product
	for i := range c.products {
		switch p := &c.products[i]; {
		case p.Role != role:
		case p.Colour == colour:
			exact = append(exact, *p)
		case p.Colour == "":
			plain = append(plain, *p)
		}
	}
	if len(exact) > 0 {
		return exact
	}
	if len(plain) > 0 {
		c.notePlain(role, colour, plain[0].Code)
	}
	return plain
}

// notePlain remembers that a line without a colour serves where the role is
// listed in other colours but not in this one.
func (c *catalogue) notePlain(role, colour, code string) {
	coloured := func(p Product) bool { return p.Role == role && p.Colour != "" }
	known := func(p Product) bool { return p.Role == role && p.Colour == colour }
	if colour != "" && slices.ContainsFunc(c.products, coloured) && !slices.ContainsFunc(c.plain, known) {
		c.plain = append(c.plain, Product{Role: role, Colour: colour, Code: code})
	}
}

// pick returns the first line of a role in a colour. Where there is none it
// returns a stand-in without price, its code a question mark, and remembers it.
func (c *catalogue) pick(role, colour string) Product {
	return c.pickWide(role, colour, 0)
}

// pickWide returns the narrowest line of a role and colour at least width
// wide; where all are narrower, the widest.
func (c *catalogue) pickWide(role, colour string, width measure.Length) Product {
	lines := c.all(role, colour)
	if len(lines) == 0 {
		return c.standIn(role, colour)
	}
	best := lines[0]
	for _, p := range lines[1:] {
		fits, held := p.Width >= width, best.Width >= width
		if (fits && (!held || p.Width < best.Width)) || (!fits && !held && p.Width > best.Width) {
			best = p
		}
	}
	if width == 0 {
		return lines[0]
	}
	return best
}

func (c *catalogue) standIn(role, colour string) Product {
	return c.standInOf(role, colour, 0)
}

// standInOf returns a stand-in of that length where the catalogue has the role, but
// none that long; 0 for any length.
func (c *catalogue) standInOf(role, colour string, length measure.Length) Product {
	p := Product{Role: role, Colour: colour, Code: name("?", role, colour), Description: "not in the catalogue", Unit: "piece", Length: length}
	if length > 0 {
		p.Code = name(p.Code, length.String()+" mm")
	}
	if i := slices.IndexFunc(c.missing, func(q Product) bool { return q.Code == p.Code }); i >= 0 {
		return c.missing[i]
	}
	switch {
	case role == RolePaint:
		p.Unit = "ml"
	case role == RoleMembrane:
		p.Unit = "m2"
	case role == RoleTape || cutFromStock(role): // without a stock length
		p.Unit = "m"
	}
	c.missing = append(c.missing, p)
	return p
}

// byCode returns the line with that code.
func (c *catalogue) byCode(code string) (Product, bool) {
	i := slices.IndexFunc(c.products, func(p Product) bool { return p.Code == code })
	if i < 0 {
		return Product{}, false
	}
	return c.products[i], true
}

// board returns the board that the job is set out with: the one it names, else
// the first in its colour, else the first of all.
func (c *catalogue) board(j *Job) (Product, bool) {
	if p, ok := c.byCode(j.Board); ok && p.Role == RoleBoard {
		return p, true
	}
	if lines := c.all(RoleBoard, j.Colour); len(lines) > 0 {
		return lines[0], true
	}
	i := slices.IndexFunc(c.products, func(p Product) bool { return p.Role == RoleBoard })
	if i < 0 {
		return Product{}, false
	}
	return c.products[i], true
}

// boards returns the lines a wall of that colour may be cut from: the same
// board in the wall's colour. Where the job names a board its length is kept
// to if the colour has it.
func (c *catalogue) boards(main Product, named bool, colour string) []Product {
	var out, same []Product
	for _, p := range c.all(RoleBoard, colour) {
		if p.Width == main.Width && p.Thickness == main.Thickness {
			out = append(out, p)
			if p.Length == main.Length {
				same = append(same, p)
			}
		}
	}
	switch {
	case named && len(same) > 0:
		return same[:1]
	case len(out) == 0:
		return []Product{c.colourless(main, colour)}
	}
	return out
}

// colourless returns a stand-in for a board in a colour the catalogue lacks: as
// large as the main board, without price.
func (c *catalogue) colourless(main Product, colour string) Product {
	c.standIn(RoleBoard, colour)
	i := slices.IndexFunc(c.missing, func(p Product) bool { return p.Role == RoleBoard && p.Colour == colour })
	p := &c.missing[i]
	p.Unit, p.Length, p.Width, p.Thickness, p.Weight = main.Unit, main.Length, main.Width, main.Thickness, main.Weight
	return *p
}
