package audit

import (
	"math"
	"slices"
	"strings"

	"lapwright/engine/measure"
)

var jointing = []mutation{
	{"joint not stated on one side", plain, func(j *Job, w *Wall) { w.piece("P-1a").JointRight = false },
		" uncovered;P-1b joint-gap;P-2b lap"},
	{"joint stated where nothing faces", plain, func(j *Job, w *Wall) { w.piece("P-7a").JointLeft = true }, "P-7a joint-gap"},
	{"gap a millimetre wide", plain, func(j *Job, w *Wall) {
		p := w.piece("P-1b")
		p.stretch(mm(3601), mm(1))
		j.resize(p)
	}, " uncovered;P-1a joint-gap;P-1b joint-gap;P-2b lap"},
	{"boards butt hard, stated as a joint", plain, func(j *Job, w *Wall) {
		p := w.piece("P-1b")
		p.stretch(mm(3601), -mm(2))
		j.resize(p)
	}, "P-1a joint-gap;P-1a joint-gap;P-1b joint-gap"},
	{"boards butt hard, not stated", plain, func(j *Job, w *Wall) {
		p := w.piece("P-1b")
		p.stretch(mm(3601), -mm(2))
		j.resize(p)
		p.JointLeft, w.piece("P-1a").JointRight = false, false
	}, "P-1a joint-gap"},
	{"no gap asked for and none left", plain, func(j *Job, w *Wall) {
		w.Limits.JointGap = 0
		for i := range w.Pieces {
			p := &w.Pieces[i]
			xs, _ := bounds(p.Outline)
			if p.JointLeft {
				p.stretch(xs.Lo, -mm(1))
			}
			if p.JointRight {
				p.stretch(xs.Hi, mm(1))
			}
			for k := range p.Cutouts {
				c := &p.Cutouts[k].X
				c.Lo, c.Hi = max(c.Lo-mm(1), mm(2300)), min(c.Hi+mm(1), mm(3100))
			}
			j.resize(p)
		}
		w.piece("P-4a").Cutouts[0].X = span(2300, 2400)
		w.piece("P-4b").Cutouts[0].X = span(2400, 3100)
	}, ""},
	{"joint a millimetre off its batten's middle", plain, shiftJoint(mm(1)), "P-1a joint-batten"},
	{"the same within what is allowed", plain, func(j *Job, w *Wall) {
		shiftJoint(mm(1))(j, w)
		w.Limits.JointOff = mm(1)
	}, ""},
	{"batten behind a joint a millimetre narrow", plain, func(j *Job, w *Wall) { w.batten("P-T5").Width = mm(74) },
		"P-11a joint-batten;P-1a joint-batten;P-3a joint-batten"},
	{"batten stops a millimetre short of a joint's top", plain, func(j *Job, w *Wall) { w.batten("P-T9").Z.Hi -= mm(1); j.rebatten(w) },
		"P-4a joint-batten"},
	{"the same within what is allowed", plain, func(j *Job, w *Wall) {
		w.batten("P-T9").Z.Hi -= mm(1)
		w.Limits.BattenShort = mm(1)
		j.rebatten(w)
	}, ""},
	{"a batten at 2,400 as wide as the room to the one that ends at 2,300", plain, func(j *Job, w *Wall) { w.batten("P-T10").Width = mm(200) }, ""},
	{"a millimetre wider", plain, func(j *Job, w *Wall) { w.batten("P-T10").Width = mm(201) }, "P-T13 batten-overlap"},
	{"batten spliced behind a joint", plain, splice(0), ""},
	{"batten spliced with a millimetre between", plain, splice(mm(1)), "P-3a joint-batten"},
	{"joints of neighbours a millimetre too near", plain, func(j *Job, w *Wall) { w.Limits.StaggerLeast = mm(1201) },
		"P-11a stagger;P-12a stagger;P-2a stagger;P-3a stagger;P-4a stagger"},
	{"joints of neighbours a bay too near", plain, func(j *Job, w *Wall) { w.Limits.StaggerBays = 3 },
		"P-11a stagger;P-12a stagger;P-2a stagger;P-3a stagger;P-4a stagger"},
	{"joints exactly so many bays apart", plain, func(j *Job, w *Wall) { w.Limits.StaggerBays = 2; w.Limits.StaggerLeast = mm(1200) }, ""},
	{"too near, and flagged", plain, func(j *Job, w *Wall) {
		w.Limits.StaggerLeast = mm(1201)
		for _, mark := range []string{"P-3a", "P-11b"} {
			w.piece(mark).Stagger = true
		}
	}, "P-2a stagger"},
	{"a batten joints every second course, every third is allowed", plain, func(j *Job, w *Wall) { w.Limits.Repeat = 3 },
		"P-12a repeat;P-3a repeat;P-4a repeat"},
	{"short piece", plain, func(j *Job, w *Wall) { w.Limits.PieceLeast = mm(2400) },
		"P-10a short;P-11b short;P-12a short;P-1b short;P-2a short;P-3b short;P-4a short"},
	{"short by nothing", plain, func(j *Job, w *Wall) { w.Limits.PieceLeast = mm(2399) }, ""},
	{"short, and flagged", plain, func(j *Job, w *Wall) {
		w.Limits.PieceLeast = mm(2400)
		for _, mark := range []string{"P-11b", "P-12a", "P-1b", "P-2a", "P-3b", "P-4a", "P-10a"} {
			w.piece(mark).Short = true
		}
	}, ""},
	{"flagged short and is not", plain, func(j *Job, w *Wall) { w.piece("P-1a").Short = true }, "P-1a short"},
}

// shiftJoint moves the lowest joint and its screws along the wall.
func shiftJoint(d measure.Length) func(*Job, *Wall) {
	return func(j *Job, w *Wall) {
		a, b := w.piece("P-1a"), w.piece("P-1b")
		a.stretch(mm(3599), -d)
		b.stretch(mm(3601), -d)
		j.resize(a)
		j.resize(b)
	}
}

// stepAside cuts the batten at 600 behind course 3 (420 to 595) at 520, and
// moves its upper length, with its screws, aside.
func stepAside(aside measure.Length) func(*Job, *Wall) {
	return func(j *Job, w *Wall) {
		lower := w.batten("P-T2")
		upper := *lower
		lower.Z.Hi = mm(520)
		upper.Z.Lo, upper.Mark = mm(520), "P-T2x"
		upper.Centre += aside
		w.Limits.CentresMost = mm(640)
		w.Battens = append(w.Battens, upper)
		for i := range w.Screws {
			if s := &w.Screws[i]; s.Batten == 1 && s.Z > mm(520) {
				s.Batten = len(w.Battens) - 1
				s.X += aside
			}
		}
		j.rebatten(w)
	}
}

// splice makes two battens of the one behind joints at 3,600, with a gap in
// the middle of the joint of course 3 (420 to 595).
func splice(gap measure.Length) func(*Job, *Wall) {
	return func(j *Job, w *Wall) {
		lower := w.batten("P-T5")
		upper := *lower
		lower.Z.Hi = mm(500)
		upper.Z.Lo, upper.Mark = mm(500)+gap, "P-T5x"
		w.Battens = append(w.Battens, upper)
		for i := range w.Screws {
			if s := &w.Screws[i]; s.Batten == 4 && s.Z > mm(500) {
				s.Batten = len(w.Battens) - 1
			}
		}
		j.rebatten(w)
	}
}

// rebatten counts and cuts everything anew.
func (j *Job) rebatten(w *Wall) {
	*j = *whole(j.Walls...)
}

var fixed = []mutation{
	{"screw of no piece", plain, func(j *Job, w *Wall) { w.Screws[0].Piece = 99 }, " screw-place;P-1a screw-missing"},
	{"screw on no batten", plain, func(j *Job, w *Wall) { w.Screws[0].Batten = -1 }, " screw-place;P-1a screw-missing"},
	{"screw beside its batten", plain, func(j *Job, w *Wall) { w.screwOf("P-1a", 1).X += mm(38) }, "P-1a screw-place"},
	{"screw on its batten's very edge", plain, func(j *Job, w *Wall) { w.screwOf("P-1a", 1).X += mm(37.5) }, ""},
	{"screw above its piece", plain, func(j *Job, w *Wall) { w.screwOf("P-1a", 1).Z += mm(26) }, "P-1a screw-place"},
	{"screw above its batten", plain, func(j *Job, w *Wall) { w.batten("P-T9").Z.Hi = mm(664); j.rebatten(w) },
		"P-4a joint-batten;P-4a screw-place;P-4b screw-place"},
	// The top course's screws stand at 1,785, the first one's at 300.
	{"screw 20 from its batten's head", plain, func(j *Job, w *Wall) { w.endsAt(j, 150, 1805) }, ""},
	{"screw 19 from its batten's head", plain, func(j *Job, w *Wall) { w.endsAt(j, 150, 1804) }, "P-12a batten-end"},
	{"screw 20 from its batten's foot", plain, func(j *Job, w *Wall) { w.endsAt(j, 280, 1810) }, ""},
	{"screw 19 from its batten's foot", plain, func(j *Job, w *Wall) { w.endsAt(j, 281, 1810) }, "P-1a batten-end"},
	{"screw too near its batten's head, flagged", plain, func(j *Job, w *Wall) { w.endsAt(j, 150, 1804); w.batten("P-T1").Tight = true }, ""},
	{"screw in another piece", plain, func(j *Job, w *Wall) { w.screwOf("P-1a", 1).Piece = 1 },
		"P-1a screw-missing;P-1b screw-place"},
	{"screw too near an end", plain, func(j *Job, w *Wall) {
		s := w.screwOf("P-1b", 0)
		s.X, s.PreDrilled = mm(3601+11), true
		w.count()
	}, "P-1b screw-end"},
	{"screw exactly far enough from an end", plain, func(j *Job, w *Wall) {
		s := w.screwOf("P-1b", 0)
		s.X, s.PreDrilled = mm(3601+12), true
		w.count()
	}, ""},
	{"screw near an end not drilled first", plain, func(j *Job, w *Wall) { w.screwOf("P-1b", 0).X = mm(3601 + 19) }, "P-1b pre-drill"},
	{"screw drilled first for no reason", plain, func(j *Job, w *Wall) {
		w.screwOf("P-1b", 0).PreDrilled = true
		w.count()
	}, "P-1b pre-drill"},
	// square to a slope of 0.7, d along the board is d x 0.7/sqrt(1 + 0.7^2)
	// = 0.5735 d: 20.1, 19.5, 12.04 and 11.5 mm here
	{"screw beside a rake", gable, nearRake(35), ""},
	{"screw near a rake not drilled first", gable, nearRake(34), "G-6a pre-drill"},
	{"screw nearer a rake not drilled first", gable, nearRake(21), "G-6a pre-drill"},
	{"screw too near a rake", gable, nearRake(20), "G-6a pre-drill;G-6a screw-end"},
	{"screw too near the upper edge", plain, func(j *Job, w *Wall) { w.screwOf("P-1a", 1).Z += mm(6) }, "P-1a screw-edge"},
	{"the same in a thin strip", plain, func(j *Job, w *Wall) {
		w.screwOf("P-1a", 1).Z += mm(6)
		w.piece("P-1a").Fragile = true
	}, ""},
	{"screw through the board below", plain, func(j *Job, w *Wall) {
		s := w.screwOf("P-2a", 1)
		s.Z, s.Visible = mm(324), true
		w.count()
	}, "P-2a screw-through"},
	{"screw just clear of the board below", plain, func(j *Job, w *Wall) {
		s := w.screwOf("P-2a", 1)
		s.Z, s.Visible = mm(325.001), true
		w.count()
	}, ""},
	{"screw missing", plain, func(j *Job, w *Wall) { j.undrive(w, "P-1a", 1) }, "P-1a screw-missing"},
	{"screw missing on one side of a joint", plain, func(j *Job, w *Wall) { j.undrive(w, "P-1b", 0) }, "P-1b screw-missing"},
	{"few screws flagged where one batten is bare", plain, func(j *Job, w *Wall) {
		j.undrive(w, "P-1a", 1)
		w.piece("P-1a").Unfixed = true
	}, "P-1a screw-missing"},
	{"screw missing, its batten flagged", plain, func(j *Job, w *Wall) {
		w.piece("P-1a").Bare = []int{w.screwOf("P-1a", 1).Batten}
		j.undrive(w, "P-1a", 1)
	}, ""},
	{"screw missing, another batten flagged", plain, func(j *Job, w *Wall) {
		w.piece("P-1a").Bare = []int{w.screwOf("P-1a", 2).Batten, -1, 999}
		j.undrive(w, "P-1a", 1)
	}, "P-1a screw-missing"},
	{"left end as far from its screw as may be", plain, func(j *Job, w *Wall) { w.Limits.EndMost = endGap(w, "P-1a") }, ""},
	{"left end farther from its screw", plain, func(j *Job, w *Wall) { w.Limits.EndMost = endGap(w, "P-1a") - 1 }, "P-1a end-loose"},
	{"left end farther from its screw, flagged", plain, func(j *Job, w *Wall) {
		w.Limits.EndMost = endGap(w, "P-1a") - 1
		w.piece("P-1a").Loose = true
	}, ""},
	{"batten a little aside from the one below it", plain, stepAside(mm(4)), ""},
	{"batten far aside from the one below it", plain, stepAside(mm(40)), "P-3a screw-missing"},
	{"one screw left", stepped, func(j *Job, w *Wall) {
		for range 5 {
			j.undrive(w, "S-1a", 0)
		}
	}, strings.Repeat("S-1a screw-missing;", 5) + "S-1a two-screws"},
	{"one screw left, all flagged", stepped, func(j *Job, w *Wall) {
		for range 5 {
			p := w.piece("S-1a")
			p.Bare = append(p.Bare, w.screwOf("S-1a", 0).Batten)
			j.undrive(w, "S-1a", 0)
		}
		w.piece("S-1a").Unfixed = true
	}, ""},
	// course 2 butts at 2,400, its boards' ends at 2,399 and 2,401, its lower edge
	// at 285
	{"screw behind a joint of the next course stated hidden", plain, atSeam(2400, 300, false), "P-1a visible"},
	{"screw right at the end of the next course's board stated hidden", plain, atSeam(2399, 300, false), "P-1a visible"},
	{"screw right at its other board's end stated hidden", plain, atSeam(2401, 300, false), "P-1a visible"},
	{"screws there stated visible", plain, atSeam(2401, 300, true), ""},
	{"screw a micrometre behind the end stated hidden", plain, atSeam(2398.999, 300, false), ""},
	{"screw a micrometre behind the end stated visible", plain, atSeam(2398.999, 300, true), "P-1a visible"},
	{"screw at the next course's lower edge stated hidden", plain, atSeam(2390, 285, false), "P-1a visible"},
	{"screw at the next course's lower edge stated visible", plain, atSeam(2390, 285, true), ""},
	{"screw a micrometre above the lower edge stated visible", plain, atSeam(2390, 285.001, true), "P-1a visible"},
	{"screw through the very end of the board below", plain, lowScrew(3599), "P-2b screw-through"},
	{"screw through the joint of the boards below", plain, lowScrew(3599.001), ""},
	{"screws said to hold at their battens' ends", plain, holding(0), ""},
	{"screws said to hold nearer to their battens' ends", plain, holding(mm(10000)), "A fixing-holds"},
	{"studs behind all battens but one", plain, studded, "P-T3 batten-stud"},
	{"the same, flagged", plain, func(j *Job, w *Wall) {
		studded(j, w)
		w.Battens[2].Off = true
	}, ""},
	{"a batten off the studs said to be held", plain, func(j *Job, w *Wall) {
		studded(j, w)
		w.Battens[2].Off = true
		j.pin(w, w.Battens)
	}, " batten-stud"},
	{"only those on studs said to be held", plain, func(j *Job, w *Wall) {
		studded(j, w)
		w.Battens[2].Off = true
		j.pin(w, slices.Delete(slices.Clone(w.Battens), 2, 3))
	}, ""},
	// the board below ends at 325: a shank of 6 mm with 2 mm beside it stays 5 above that
	{"screw 5 mm above the board below", plain, clearScrew(330), ""},
	{"screw that bites into the board below", plain, clearScrew(329.997), "P-2a screw-through"},
	{"hidden screw stated visible", plain, func(j *Job, w *Wall) {
		w.screwOf("P-1a", 1).Visible = true
		w.count()
	}, "P-1a visible"},
	{"visible screw stated hidden", plain, func(j *Job, w *Wall) {
		w.screwOf("P-12a", 1).Visible = false
		w.count()
	}, "P-12a visible"},
	// the lower piece, cut by the base, is only 85 high on the last of five battens
	{"centres a millimetre too wide", vent, func(j *Job, w *Wall) { w.Limits.CentresMost = mm(599) },
		strings.Repeat("V-1a centres;", 3) + "V-2a centres;V-2a centres;V-2a centres;V-2a centres"},
	{"batten taken from behind two bays", plain, func(j *Job, w *Wall) {
		w.Battens = slices.Delete(w.Battens, 1, 2)
		w.Screws = slices.DeleteFunc(w.Screws, func(s Screw) bool { return s.Batten == 1 })
		for i := range w.Screws {
			w.Screws[i].Batten -= one(w.Screws[i].Batten > 1)
		}
		j.rebatten(w)
	}, "P-10a centres;P-11a centres;P-12a centres;P-1a centres;P-2a centres;P-3a centres;P-4a centres;" +
		"P-5a centres;P-6a centres;P-7a centres;P-8a centres;P-9a centres"},
	{"fixings counted one short", plain, func(j *Job, w *Wall) { w.Fixings[1].Count--; j.fill2("SC35", -2) }, " fixing-count"},
	{"pre-drilled counted one over", plain, func(j *Job, w *Wall) { w.Fixings[1].PreDrilled++ }, " fixing-count"},
	{"visible counted one short", plain, func(j *Job, w *Wall) { w.Fixings[1].Visible-- }, " fixing-count"},
	{"fixings counted in another zone", plain, func(j *Job, w *Wall) { w.Fixings[1].Count -= 13; w.Fixings[2].Count += 13 },
		"A fixing-count;B fixing-count"},
	{"fixings on the border of two zones counted in the other", plain, func(j *Job, w *Wall) { w.Fixings[1].Count -= 12; w.Fixings[2].Count += 12 }, ""},
}

// nearRake puts a batten of its own, and on it a screw, in the sixth course of
// the gable, d millimetres from the slope along the board.
func nearRake(d float64) func(*Job, *Wall) {
	return func(j *Job, w *Wall) {
		z := mm(900)
		x := (z-mm(600))*10/7 + mm(d)
		w.Battens = append(w.Battens, Batten{Mark: "G-Tx", Code: "BT48", Centre: x, Width: mm(50), Z: span(825, 900)})
		i := slices.IndexFunc(w.Pieces, func(p Piece) bool { return p.Mark == "G-6a" })
		w.Screws = append(w.Screws, Screw{X: x, Z: z, Piece: i, Batten: len(w.Battens) - 1, Visible: true})
		w.Limits.EdgeLeast = 0
		j.rebatten(w)
	}
}

// atSeam moves the screw of P-1a that stands on the batten at 2,400.
func atSeam(x, z float64, visible bool) func(*Job, *Wall) {
	return func(j *Job, w *Wall) {
		s := w.screwOf("P-1a", 5)
		s.X, s.Z, s.Visible = mm(x), mm(z), visible
		w.count()
	}
}

// lowScrew moves the screw of P-2b that stands on the batten at 3,600, behind
// which course 1 butts, down to where that reaches: its top is at 325.
func lowScrew(x float64) func(*Job, *Wall) {
	return func(j *Job, w *Wall) {
		s := w.screwOf("P-2b", 0)
		s.X, s.Z, s.Visible = mm(x), mm(324), true
		w.count()
	}
}

// holding has all screws said to hold, which stand off their battens' ends by as much
// as the nearest of them but for so much.
func holding(short measure.Length) func(*Job, *Wall) {
	return func(j *Job, w *Wall) {
		w.Limits.EndUseful = math.MaxInt64
		for _, s := range w.Screws {
			if z := w.Battens[s.Batten].Z; w.Zones[0].X.Holds(s.X) || w.Zones[2].X.Holds(s.X) {
				w.Limits.EndUseful = min(w.Limits.EndUseful, s.Z-z.Lo, z.Hi-s.Z)
			}
		}
		w.Limits.EndUseful += short
		for i := range w.Fixings {
			w.Fixings[i].Holds = w.Fixings[i].Zone == w.Zones[0].Name
		}
	}
}

// studded gives a stud behind every batten but the third, there one a millimetre
// beside its edge.
func studded(_ *Job, w *Wall) {
	for i := range w.Battens {
		x := w.Battens[i].Centre
		if i == 2 {
			x += w.Battens[i].Width/2 + mm(1)
		}
		w.Studs = append(w.Studs, x)
	}
}

// pin says that battens are held to the wall by fixings at 400 centres, one at each
// end, and orders those.
func (j *Job) pin(w *Wall, of []Batten) {
	f := FixingCount{Code: "BF", Battens: true, Holds: true, Centres: mm(400)}
	for _, b := range of {
		f.Count += int(math.Ceil(float64(b.Z.Length())/float64(f.Centres))) + 1
	}
	w.Fixings = append(w.Fixings, f)
	j.Order = append(j.Order, Line{Code: f.Code, Net: float64(f.Count * w.Quantity)})
}

// clearScrew sets one 5 mm at least from the board below at a height over it.
func clearScrew(z float64) func(*Job, *Wall) {
	return func(j *Job, w *Wall) {
		w.Limits.BelowLeast = mm(5)
		s := w.screwOf("P-2a", 1)
		s.Z, s.Visible = mm(z), true
		w.count()
	}
}

var filled = []mutation{
	{"no packers behind a screw", packed, func(j *Job, w *Wall) { w.unpack(j, 2) }, "P-4b packer"},
	{"none at a foot", roofed, func(j *Job, w *Wall) { w.unpack(j, 4) }, "C-1b packer"},
	{"packers counted and not ordered", packed, func(j *Job, w *Wall) { j.fill2("PK5", -1) }, "PK5 order"},
	{"a long screw ordered as an ordinary one", packed, func(j *Job, w *Wall) { j.fill2("SC45", -1); j.fill2("SC35", 1) }, "SC35 order;SC45 order"},
	{"a long screw scheduled as an ordinary one", packed, func(j *Job, w *Wall) { w.unlong(j) }, "SC45 fixing-count"},
	{"packers behind a screw of the lap", packed, func(j *Job, w *Wall) { w.pack(j, packing(0, 0, false, 5)) }, " packer"},
	{"packers twice", packed, func(j *Job, w *Wall) { w.pack(j, w.Packings[0]) }, " packer;SC45 fixing-count"},
	{"packers at a foot that lies on a tip", roofed, func(j *Job, w *Wall) { w.pack(j, packing(6, 3, true, 5)) }, " packer"},
	{"packers of the same thickness from others", packed, func(j *Job, w *Wall) { w.repack(j, 0, packing(0, 0, false, 3, 2)) }, ""},
	{"packers a millimetre thin", packed, func(j *Job, w *Wall) { w.repack(j, 0, packing(0, 0, false, 2, 2)) }, "P-4a packer-thick"},
	{"packers stated thicker than they are", packed, func(j *Job, w *Wall) { w.Packings[0].Thick += mm(1) }, "P-4a packer-thick"},
	{"nothing nearer to be had", packed, func(j *Job, w *Wall) {
		j.Packers = []measure.Length{mm(2)}
		for i := range w.Packings {
			w.repack(j, i, packing(0, 0, false, 2, 2))
		}
	}, ""},
	{"nothing near", packed, func(j *Job, w *Wall) { onlyTen(j, w, false) }, "P-4a packer-thick;P-4b packer-thick;P-4b packer-thick"},
	{"nothing near, and flagged", packed, func(j *Job, w *Wall) { onlyTen(j, w, true) }, ""},
	{"a screw that reaches just far enough", packed, func(j *Job, w *Wall) { w.Packings[0].Length = mm(43) }, ""},
	{"a screw a millimetre short", packed, func(j *Job, w *Wall) { w.Packings[0].Length = mm(42) }, "P-4a packer-screw"},
	{"a screw that just stays in", packed, func(j *Job, w *Wall) { w.Packings[0].Length = mm(48) }, ""},
	{"a screw a millimetre long", packed, func(j *Job, w *Wall) { w.Packings[0].Length = mm(49) }, "P-4a packer-screw"},
	{"too short, and flagged", packed, func(j *Job, w *Wall) { w.Packings[0].Length = 0 }, ""},
	{"a pin not stated", roofed, func(j *Job, w *Wall) {
		for i := range w.Fixings {
			if f := &w.Fixings[i]; f.Code == "PIN" {
				f.Count--
			}
		}
		j.fill()
	}, "PIN fixing-count"},
	{"a cut board so thin that it lies flat", packed, func(j *Job, w *Wall) {
		w.Limits.Thickness, w.Packings = mm(6), nil // 2.9
		w.count()
		j.fill()
	}, ""},
}

// onlyTen leaves packers of 10 to choose from, for a gap of 4.8 and a screw of 50.
func onlyTen(j *Job, w *Wall, flagged bool) {
	j.Packers = []measure.Length{mm(10)}
	for i := range w.Packings {
		w.repack(j, i, packing(0, 0, false, 10))
		w.Packings[i].Flagged, w.Packings[i].Length = flagged, mm(50)
	}
}

func (w *Wall) pack(j *Job, k Packing) {
	w.Packings = append(w.Packings, k)
	w.count()
	j.fill()
}

func (w *Wall) unpack(j *Job, n int) {
	w.Packings = slices.Delete(w.Packings, n, n+1)
	w.count()
	j.fill()
}

// repack fills the n-th gap with other packers.
func (w *Wall) repack(j *Job, n int, with Packing) {
	w.Packings[n].Packers, w.Packings[n].Thick = with.Packers, with.Thick
	j.fill()
}

// unlong counts one screw that goes through packers among the others.
func (w *Wall) unlong(j *Job) {
	for i := range w.Fixings {
		if f := &w.Fixings[i]; f.Code == "SC45" && f.Count > 0 {
			f.Count, f.Visible = f.Count-1, f.Visible-1
			g := &w.Fixings[slices.IndexFunc(w.Fixings, func(g FixingCount) bool { return g.Code == "SC35" && g.Zone == f.Zone })]
			g.Count, g.Visible = g.Count+1, g.Visible+1
			break
		}
	}
	j.fill()
}

// undrive takes a piece's n-th screw out.
func (j *Job) undrive(w *Wall, mark string, n int) {
	at := w.screwOf(mark, n)
	for i := range w.Screws {
		if &w.Screws[i] == at {
			w.Screws = slices.Delete(w.Screws, i, i+1)
			break
		}
	}
	w.count()
	j.fill()
}

// fill2 changes what is ordered of a code.
func (j *Job) fill2(code string, by float64) {
	for i := range j.Order {
		if j.Order[i].Code == code {
			j.Order[i].Net += by
		}
	}
}

var stocked = []mutation{
	{"two pieces of one mark", plain, func(j *Job, w *Wall) { w.piece("P-1a").Mark = "P-1b" },
		"B1 mark;B2 cut-length;B2 stock-named;P-1b mark"},
	{"blank mark", plain, func(j *Job, w *Wall) { w.piece("P-1a").Mark = "" }, " mark;B1 mark"},
	{"piece counted for one wall too many", plain, func(j *Job, w *Wall) { w.piece("P-1a").Quantity++ },
		"P-1a cut-count;P-1a quantity"},
	{"piece cut once too often", plain, func(j *Job, w *Wall) { j.board("P-1a").Count++; j.bought("BD36", 1) }, "P-1a cut-count"},
	{"piece not cut", plain, func(j *Job, w *Wall) { j.Boards = j.Boards[1:]; j.bought("BD36", -2) },
		"P-1a cut-count;P-1a stock-named"},
	{"piece cut from two boards as named", plain, func(j *Job, w *Wall) {
		j.board("P-1a").Count = 1
		b := *j.board("P-1a")
		b.Name = "B99"
		j.Boards = append(j.Boards, b)
		w.piece("P-1a").Stock = "B1; B99"
	}, ""},
	{"piece cut from two boards, one not named", plain, func(j *Job, w *Wall) {
		j.board("P-1a").Count = 1
		b := *j.board("P-1a")
		b.Name = "B99"
		j.Boards = append(j.Boards, b)
	}, "B99 stock-named;P-1a stock-named"},
	{"piece names another's board", plain, func(j *Job, w *Wall) { w.piece("P-1a").Stock = "B2" }, "B1 stock-named"},
	{"piece names no board", plain, func(j *Job, w *Wall) { w.piece("P-1a").Stock = "" }, "P-1a stock-named"},
	{"batten cut once too often", plain, func(j *Job, w *Wall) { j.board("P-T3").Count++; j.bought("BT48", 1) }, "P-T3 cut-count"},
	{"trim not cut", plain, func(j *Job, w *Wall) { w.Trims[0].Quantity++ }, "P-R1 cut-count"},
	{"stock of two boards swapped", plain, func(j *Job, w *Wall) {
		a, b := j.board("P-1a"), j.board("P-T3")
		a.Code, b.Code = b.Code, a.Code
	}, "B1 cut-stock;B27 cut-stock;BD36 order;BD36 order;BT48 order;BT48 order;job pool;job pool;job pool"},
	{"board of another colour", plain, func(j *Job, w *Wall) { w.piece("P-1a").Colour = "blue" }, "B1 cut-stock"},
	{"board of another pool", plain, func(j *Job, w *Wall) { j.board("P-1a").Pool = "other" }, "B1 cut-stock;job pool;job pool;job pool"},
	{"board cuts what is not marked", plain, func(j *Job, w *Wall) { j.board("P-1a").Cuts[0].Marks[0] = "Q" },
		"B1 mark;P-1a cut-count;P-1a stock-named"},
	{"piece a millimetre short on the board", plain, func(j *Job, w *Wall) {
		b := j.board("P-7a")
		b.Cuts[0].Length -= mm(1)
		b.Offcut += mm(1)
	}, "B19 cut-length"},
	{"offcut a millimetre off", plain, func(j *Job, w *Wall) { j.board("P-7a").Offcut++ }, "B19 board-fit"},
	{"stock a millimetre longer", plain, func(j *Job, w *Wall) { j.board("P-7a").Stock += mm(1) }, "B19 board-fit"},
	{"a board with nothing cut", plain, func(j *Job, w *Wall) {
		j.Boards = append(j.Boards, Board{Name: "B99", Pool: "job", Code: "BD36", Colour: "grey", Stock: mm(3600), Count: 1, Offcut: mm(3596)})
		j.bought("BD36", 1)
	}, "B99 board-fit"},
	{"a row of no boards", plain, func(j *Job, w *Wall) { j.board("P-1a").Count = 0; j.bought("BD36", -2) },
		"B1 board-fit;P-1a cut-count"},
	{"piece wider than its board", plain, func(j *Job, w *Wall) { j.board("P-1a").Width = mm(174) }, "B1 pair"},
	{"stock on hand that is there", plain, func(j *Job, w *Wall) { onHand(j, 2) }, ""},
	{"stock on hand that is not there", plain, func(j *Job, w *Wall) { onHand(j, 1) }, "B19 hand"},
	{"stock on hand ordered", plain, func(j *Job, w *Wall) { onHand(j, 2); j.fill2("BD36", 2) }, "BD36 order"},
}

// endsAt lets the left corner's batten run from and to a height and asks screws to
// keep 20 mm from its ends.
func (w *Wall) endsAt(j *Job, from, to float64) {
	w.Limits.BattenEnd = mm(20)
	w.batten("P-T1").Z = span(from, to)
	j.rebatten(w)
}

// trimmed are walls with a trim at the left jamb of their window, 2,310 to 3,090 by
// 700 to 1,355, or on its way round.
var trimmed = []mutation{
	{"trim along a jamb", plain, func(j *Job, w *Wall) { w.trim(2310, 700, 2310, 1355) }, ""},
	{"trim a micrometre into an opening", plain, func(j *Job, w *Wall) { w.trim(2310.001, 700, 2310.001, 1355) }, "P-R1 trim-opening"},
	{"trim up to an opening", plain, func(j *Job, w *Wall) { w.trim(2500, 150, 2500, 700) }, ""},
	{"trim a micrometre up into an opening", plain, func(j *Job, w *Wall) { w.trim(2500, 150, 2500, 700.001) }, "P-R1 trim-opening"},
	{"trim through the horns of a sill", plain, func(j *Job, w *Wall) { w.sill(); w.trim(2310, 700, 2310, 1355) }, "P-R1 trim-opening"},
	{"trim from the top of the horns", plain, func(j *Job, w *Wall) { w.sill(); w.trim(2310, 750, 2310, 1355) }, ""},
	{"strip along a sill and its horns", plain, func(j *Job, w *Wall) { w.sill(); w.trim(2260, 700, 3140, 700) }, ""},
	{"strip on battens", plain, func(j *Job, w *Wall) { w.strip(4) }, ""},
	{"strip with a screw beside its batten", plain, func(j *Job, w *Wall) { w.strip(4).Screws[1] += mm(37.5) }, "P-R1 strip-screw"},
	{"strip with a screw where no batten is", plain, func(j *Job, w *Wall) { w.strip(4).Screws[3] = mm(2080) }, "P-R1 strip-screw"},
	{"strip with a screw above its battens", plain, func(j *Job, w *Wall) { t := w.strip(4); t.From.Z, t.To.Z = mm(1812), mm(1812) },
		"P-R1 strip-screw;P-R1 strip-screw;P-R1 strip-screw;P-R1 strip-screw"},
	{"strip 400 beyond its last screw", plain, func(j *Job, w *Wall) { w.strip(4).To.X = mm(2200) }, ""},
	{"strip 401 beyond its last screw", plain, func(j *Job, w *Wall) { w.strip(4).To.X = mm(2201) }, "P-R1 strip-loose"},
	{"strip 401 beyond its last screw, flagged", plain, func(j *Job, w *Wall) { t := w.strip(4); t.To.X, t.Loose = mm(2201), true }, ""},
	{"strip 401 beyond its last screw, joined to another", plain, func(j *Job, w *Wall) {
		t := w.strip(4)
		t.To.X = mm(2201)
		on := Trim{Mark: "P-R9", Roll: true, Role: "strip", Code: t.Code, Strip: true, Loose: true, From: t.To, To: measure.Point{X: mm(2300), Z: t.To.Z}}
		w.Trims = append(w.Trims, on)
	}, "P-R1 strip-loose"},
	{"strip on one batten, 150 from both ends", plain, func(j *Job, w *Wall) { w.onOne(450, 750) }, ""},
	{"strip on one batten, 151 from its left end", plain, func(j *Job, w *Wall) { w.onOne(449, 750) }, "P-R1 strip-loose"},
	{"strip on one batten, 151 from its right end", plain, func(j *Job, w *Wall) { w.onOne(450, 751) }, "P-R1 strip-loose"},
	{"strip without a screw", plain, func(j *Job, w *Wall) { w.strip(0).Screws = nil }, "P-R1 strip-loose"},
	{"strip with a screw too many stated", plain, func(j *Job, w *Wall) { w.strip(5) }, "strip fixing-count"},
	{"trim 25 beside a batten", plain, func(j *Job, w *Wall) { w.up(100, 150, 700) }, ""},
	{"trim a micrometre farther from any batten", plain, func(j *Job, w *Wall) { w.up(100.001, 150, 700) }, "P-R1 trim-loose"},
	{"trim that begins where its batten ends", plain, func(j *Job, w *Wall) { w.up(100, 1810, 1900) }, "P-R1 trim-loose"},
	{"strip through a horn", plain, func(j *Job, w *Wall) { w.sill(); w.trim(2000, 720, 2270, 720) }, "P-R1 trim-opening"},
}

// strip makes the wall's first trim a strip along the base, fixed to its battens at
// 37.5, 600, 1,200 and 1,800 and reaching 300 beyond the last, with that many screws
// stated.
func (w *Wall) strip(stated int) *Trim {
	w.trim(0, 150, 2100, 150)
	w.Limits.StripReach = mm(400)
	w.Fixings = append(w.Fixings, FixingCount{Trim: "strip", Count: stated, Code: "SC80"}, FixingCount{Code: "SC80", Count: -stated})
	t := &w.Trims[0]
	t.Role, t.Strip, t.Screws = "strip", true, []measure.Length{mm(37.5), mm(600), mm(1200), mm(1800)}
	return t
}

// onOne is [Wall.strip] with two screws on the batten at 600 alone, which may be 150
// from an end.
func (w *Wall) onOne(from, to float64) {
	t := w.strip(2)
	t.From.X, t.To.X, t.Screws = mm(from), mm(to), []measure.Length{mm(600), mm(600)}
	w.Limits.EndMost = mm(150)
}

// up makes the wall's first trim one that goes up a batten, at most 25 from its side.
func (w *Wall) up(x, from, to float64) {
	w.trim(x, from, x, to)
	w.Trims[0].Up, w.Limits.TrimBeside = true, mm(25)
}

// trim says where the wall's first trim runs.
func (w *Wall) trim(x0, z0, x1, z1 float64) {
	w.Trims[0].From, w.Trims[0].To = measure.Point{X: mm(x0), Z: mm(z0)}, measure.Point{X: mm(x1), Z: mm(z1)}
}

// sill gives the window a sill with horns 50 wide and high.
func (w *Wall) sill() { w.Openings = append(w.Openings, Rect{span(2260, 3140), span(700, 750)}) }

// bought changes what is stated of boards used and ordered.
func (j *Job) bought(code string, by int) {
	j.fill2(code, float64(by))
	for i := range j.Pools {
		if p := &j.Pools[i]; p.Code == code {
			p.Boards += by
			for k := range p.Bounds {
				p.Bounds[k] += by
			}
		}
	}
}

// onHand takes the two boards of P-7a from stock, of which there are n.
func onHand(j *Job, n int) {
	j.board("P-7a").OnHand = true
	j.Hand = []Hand{{"BD36", "grey", mm(3600), n}}
	j.fill2("BD36", -2)
}

var summed = []mutation{
	{"order one board short", plain, func(j *Job, w *Wall) { j.Order[0].Net-- }, "BD36 order"},
	{"order a millimetre of strip over", plain, func(j *Job, w *Wall) { j.Order[3].Net += 0.001 }, "VS order"},
	{"order a screw over", plain, func(j *Job, w *Wall) { j.Order[5].Net++ }, "SC35 order"},
	{"line left out", plain, func(j *Job, w *Wall) { j.Order = j.Order[1:] }, "BD36 order"},
	{"line of something not used", plain, func(j *Job, w *Wall) { j.Order = append(j.Order, Line{"X", "", 1}) }, "X order"},
	{"line split in two", plain, func(j *Job, w *Wall) {
		j.Order = append(j.Order, Line{"BD36", "grey", 10})
		j.Order[0].Net -= 10
	}, ""},
	{"wall counted once more", plain, func(j *Job, w *Wall) { w.Strips[0].Length += mm(1) }, "TAPE order"},
	{"pool a board short", plain, func(j *Job, w *Wall) { j.Pools[0].Boards-- }, "job pool"},
	{"bound above what is used", plain, func(j *Job, w *Wall) { j.Pools[0].Bounds[1] += 2 }, "job pool"},
	{"total a penny off", plain, func(j *Job, w *Wall) { j.Totals[0].Total += 0.01 }, "metres total"},
	{"total summed in another order", plain, func(j *Job, w *Wall) {
		j.Totals = []Total{{"t", []float64{0.1, 0.2, 0.3}, 0.3 + 0.2 + 0.1}}
	}, ""},
}

// endGap moves the first screw of a piece a millimetre on, so that no other end
// is as far from its screw, and returns its distance from the piece's left end.
func endGap(w *Wall, mark string) measure.Length {
	xs, _ := bounds(w.piece(mark).Outline)
	c := w.screwOf(mark, 0)
	c.X += mm(1)
	return c.X - xs.Lo
}
