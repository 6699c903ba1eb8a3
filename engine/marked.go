package engine

import (
	"cmp"
	"strings"
)

// markedFlag is a flag of a wall as one group of dwellings builds it, which others
// may share but for the marks of what it concerns.
type markedFlag struct {
	Flag
	marks []string // put behind what is wrong; none: it says all by itself
}

// flag notes a flag for the wall, and the marks it names.
func (s *stand) flag(g Flag, marks ...string) { s.flags = append(s.flags, markedFlag{g, marks}) }

// groupsNamed is how many groups of dwellings a flag gives the marks of.
const groupsNamed = 3

// flagWalls hands the flags of walls as built to the walls as surveyed: one that
// several groups of dwellings raise alike names the marks in each of them, where
// they are not the same.
func flagWalls(stands []*stand) {
	type key struct {
		face       *face
		code, what string
		place      Place
	}
	type told struct {
		flag  int // index in the face's flags
		by    *stand
		marks string
		times int
	}
	known := map[key]*told{}
	for _, s := range stands {
		for _, g := range s.flags {
			f, k := s.face, key{s.face, g.Code, g.What, g.Place}
			marks := listed(g.marks)
			switch first := known[k]; {
			case first == nil:
				known[k] = &told{len(f.flags), s, marks, 1}
				if marks != "" {
					g.What += ": " + marks
				}
				f.flags = append(f.flags, g.Flag)
			case marks == first.marks:
			default:
				if first.times++; first.times > groupsNamed {
					continue
				}
				f.flags[first.flag].What += "; in " + s.unlike(first.by) + ": " + marks
			}
		}
		s.flags = nil
	}
	for k, first := range known {
		if more := first.times - groupsNamed; more > 0 {
			k.face.flags[first.flag].What += "; and in " + itoa(more) + " more drops or colours"
		}
	}
}

// unlike says by what a group of dwellings differs from another of its type.
func (s *stand) unlike(o *stand) string {
	var out []string
	if s.drop != o.drop {
		out = append(out, "drop "+cmp.Or(s.drop, "blank"))
	}
	if s.colour != o.colour {
		out = append(out, cmp.Or(s.colour, "no colour"))
	}
	return strings.Join(out, ", ")
}
