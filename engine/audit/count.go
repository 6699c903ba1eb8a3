package audit

import (
	"slices"

	"lapwright/engine/measure"
)

// counts recounts the stated numbers of board fixings.
func (s *site) counts() {
	var got FixingCount
	for i := range s.w.Screws {
		got.Count++
		got.PreDrilled += one(s.w.Screws[i].PreDrilled)
		got.Visible += one(s.w.Screws[i].Visible)
	}
	var said FixingCount
	for _, f := range s.w.Fixings {
		if f.Board {
			said.Count += f.Count
			said.PreDrilled += f.PreDrilled
			said.Visible += f.Visible
		}
	}
	if got != said {
		s.r.add("", "fixing-count", "stated %d board fixings, %d pre-drilled, %d visible; there are %d, %d, %d",
			said.Count, said.PreDrilled, said.Visible, got.Count, got.PreDrilled, got.Visible)
	}
	s.zoneCounts()
	s.studs()
}

// zoneCounts recounts by zone; a screw where two zones meet may count in
// either.
func (s *site) zoneCounts() {
	for i, z := range s.w.Zones {
		if slices.ContainsFunc(s.w.Zones[:i], func(y Zone) bool { return y.Name == z.Name }) {
			continue
		}
		said, least, most, holds, sound := 0, 0, 0, 0, 0
		for _, f := range s.w.Fixings {
			if f.Board && f.Zone == z.Name {
				said += f.Count
				if f.Holds {
					holds += f.Count
				}
			}
		}
		for k := range s.w.Screws {
			in, on := inZone(s.w.Zones, z.Name, s.w.Screws[k].X)
			least += one(in)
			most += one(on)
			sound += one(on && s.sound(&s.w.Screws[k]))
		}
		if said < least || said > most {
			s.r.add(z.Name, "fixing-count", "stated %d board fixings in the zone; there are %d to %d", said, least, most)
		}
		if holds > sound {
			s.r.add(z.Name, "fixing-holds", "%d board fixings in the zone are said to hold; %d stand %v or more from their batten's end", holds, sound, s.w.Limits.EndUseful)
		}
	}
}

// studs checks that a batten on none of the given studs is flagged, and that no
// more fixings of battens are said to hold than those on studs take.
func (s *site) studs() {
	if len(s.w.Studs) == 0 {
		return
	}
	var on []measure.Length // lengths of battens
	for i := range s.w.Battens {
		b := &s.w.Battens[i]
		behind := slices.ContainsFunc(s.w.Studs, func(x measure.Length) bool { return 2*max(x-b.Centre, b.Centre-x) <= b.Width+1 })
		switch {
		case behind:
			on = append(on, b.Z.Hi-b.Z.Lo)
		case !b.Off:
			s.r.add(b.Mark, "batten-stud", "it stands on no stud at x %v", b.Centre)
		}
	}
	said, most := 0, 0
	for _, f := range s.w.Fixings {
		if !f.Battens || !f.Holds || f.Centres <= 0 {
			continue
		}
		if said += f.Count; most == 0 {
			for _, l := range on {
				most += int((l+f.Centres-1)/f.Centres) + 1
			}
		}
	}
	if said > most {
		s.r.add("", "batten-stud", "%d fixings of battens are said to hold; %d stand on studs", said, most)
	}
}

// sound reports whether a screw is far enough from its batten's ends to hold.
func (s *site) sound(c *Screw) bool {
	if c.Batten < 0 || c.Batten >= len(s.w.Battens) {
		return false
	}
	z := s.w.Battens[c.Batten].Z
	return min(c.Z-z.Lo, z.Hi-c.Z) >= s.w.Limits.EndUseful
}

// inZone reports whether x is inside the zones of a name, and in or on them.
func inZone(zones []Zone, name string, x measure.Length) (in, on bool) {
	for _, z := range zones {
		if z.Name == name && z.X.Holds(x) {
			on = true
			in = in || (z.X.Lo < x && x < z.X.Hi)
		}
	}
	return in, on
}

func one(b bool) int {
	if b {
		return 1
	}
	return 0
}
