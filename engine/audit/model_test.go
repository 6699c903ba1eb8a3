package audit

import (
	"fmt"
	"slices"

	"lapwright/engine/measure"
)

// Right walls, set out by hand. Every height, joint and batten below is
// written down from a drawing; only screws, boards and counts are filled in by
// the plainest of rules. Lengths are in millimetres.

const um = measure.Length(1)

func mm(v float64) measure.Length { return measure.Length(v * 1000) }

func span(a, b float64) measure.Span { return measure.Span{Lo: mm(a), Hi: mm(b)} }

func pts(v ...float64) []measure.Point {
	var out []measure.Point
	for i := 0; i < len(v); i += 2 {
		out = append(out, measure.Point{X: mm(v[i]), Z: mm(v[i+1])})
	}
	return out
}

func limits() Limits {
	return Limits{
		Width: mm(175), LapLeast: mm(30), LapMost: mm(50),
		JointGap: mm(2), WideWidth: mm(75), StaggerLeast: mm(600), StaggerBays: 1, Repeat: 2, PieceLeast: mm(600),
		EndLeast: mm(12), EdgeLeast: mm(20), PreDrillWithin: mm(20), FixHeight: mm(90), CentresMost: mm(600),
	}
}

// rod gives n courses of 175 mm boards at a gauge of 135 from base, the last
// cut at top. Eleven gauges of 135 between the tops of twelve boards leave a
// lap of 40: 12 x 175 - 11 x 40 = 1,660 = 1,485 + 175 (arithmetic).
func rod(base float64, n int, top float64) []Course {
	var out []Course
	for k := range n {
		c := Course{Number: k + 1, Bottom: mm(base + 135*float64(k)), Gauge: mm(135), Lap: mm(40)}
		if c.Top = c.Bottom + mm(175); k == n-1 {
			c.Top, c.Gauge, c.Lap = min(c.Top, mm(top)), 0, 0
		}
		out = append(out, c)
	}
	return out
}

// put adds a piece of the course with that outline.
func (w *Wall) put(course int, outline []measure.Point) *Piece {
	mark := fmt.Sprintf("%s-%d", w.Name, course)
	n := 0
	for _, p := range w.Pieces {
		if p.Course == course {
			n++
		}
	}
	xs, zs := bounds(outline)
	up := func(l measure.Length) measure.Length { return (l + 99) / 100 * 100 }
	w.Pieces = append(w.Pieces, Piece{Mark: mark + string(rune('a'+n)), Code: "BD36", Colour: "grey", Course: course,
		Outline: outline, Length: up(xs.Length()), Width: zs.Length(), Quantity: w.Quantity})
	return &w.Pieces[len(w.Pieces)-1]
}

// plank adds a plain rectangle from x a to b, as high as its course.
func (w *Wall) plank(course int, a, b float64) *Piece {
	c := w.Courses[course-1]
	lo, hi := c.Bottom.Millimetres(), c.Top.Millimetres()
	return w.put(course, pts(a, lo, b, lo, b, hi, a, hi))
}

// butt marks the last two pieces as jointed.
func (w *Wall) butt() {
	n := len(w.Pieces)
	w.Pieces[n-2].JointRight, w.Pieces[n-1].JointLeft = true, true
}

// stand adds a batten row.
func (w *Wall) stand(centre, width, from, to float64, grid bool) {
	w.Battens = append(w.Battens, Batten{Mark: fmt.Sprintf("%s-T%d", w.Name, len(w.Battens)+1), Code: "BT48",
		Centre: mm(centre), Width: mm(width), Z: span(from, to), Grid: grid})
}

// topAt returns the upper edge of an outline at x.
func topAt(p measure.Polygon, x measure.Length) measure.Length {
	top := measure.Length(-1 << 40)
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if a.X > b.X && b.X <= x && x <= a.X { // an upper edge runs leftwards
			top = max(top, a.Z+(b.Z-a.Z)*(x-a.X)/(b.X-a.X))
		}
	}
	return top
}

// drive puts a screw on every batten of every piece, drop below its upper
// edge, where that is above the board below. seen tells whether one shows.
func (w *Wall) drive(drop float64, seen func(course int, x, z measure.Length) bool) {
	for i := range w.Pieces {
		p := &w.Pieces[i]
		xs, _ := bounds(p.Outline)
		for j, b := range w.Battens {
			x := b.Centre
			switch half := b.Width / 2; {
			case x-half < xs.Lo && xs.Lo < x+half && p.JointLeft:
				x = xs.Lo + mm(24)
			case x-half < xs.Hi && xs.Hi < x+half && p.JointRight:
				x = xs.Hi - mm(24)
			case x <= xs.Lo || x >= xs.Hi:
				continue
			}
			z := topAt(p.Outline, x) - mm(drop)
			if z <= w.Courses[p.Course-1].Bottom+mm(40) || !b.Z.Holds(z) {
				continue
			}
			w.Screws = append(w.Screws, Screw{X: x, Z: z, Piece: i, Batten: j, Visible: seen(p.Course, x, z) || w.behindJoint(p.Course+1, x)})
		}
	}
}

// behindJoint reports whether a joint of that course has its middle at x.
func (w *Wall) behindJoint(course int, x measure.Length) bool {
	return slices.ContainsFunc(w.Pieces, func(p Piece) bool {
		xs, _ := bounds(p.Outline)
		return p.Course == course && p.JointRight && xs.Hi+mm(1) == x
	})
}

// plain is a wall 6 m wide with twelve full courses and a window whose sill
// and head stand on course marks. Boards are 3.6 m; joints of neighbouring
// courses are 1.2 m apart.
func plain() Wall {
	w := Wall{Name: "P", Pool: "job", Quantity: 2, Limits: limits(),
		Base: pts(0, 150, 6000, 150), Top: pts(0, 1810, 6000, 1810),
		Voids:    []Rect{{span(2300, 3100), span(690, 1365)}},
		Openings: []Rect{{span(2310, 3090), span(700, 1355)}},
		Courses:  rod(150, 12, 1810),
	}
	for _, k := range []int{1, 2, 3, 10, 11, 12} {
		at := 3600.0
		if k%2 == 0 {
			at = 2400
		}
		w.plank(k, 0, at-1)
		w.plank(k, at+1, 6000)
		w.butt()
	}
	// the board under the sill loses its lap of 40
	w.put(4, pts(0, 555, 2399, 555, 2399, 690, 2300, 690, 2300, 730, 0, 730)).Cutouts = []Rect{{span(2300, 2399), span(690, 730)}}
	w.put(4, pts(2401, 555, 6000, 555, 6000, 730, 3100, 730, 3100, 690, 2401, 690)).Cutouts = []Rect{{span(2401, 3100), span(690, 730)}}
	w.butt()
	for k := 5; k <= 9; k++ { // beside the window; over the head nothing hangs down behind course 10
		w.plank(k, 0, 2300)
		w.plank(k, 3100, 6000)
	}
	w.stand(37.5, 75, 150, 1810, false)
	for _, x := range []float64{600, 1200, 1800, 3600, 4200, 4800, 5400} {
		w.stand(x, 75, 150, 1810, true)
	}
	for _, x := range []float64{2400, 3000} {
		w.stand(x, 75, 150, 690, true)
		w.stand(x, 75, 1365, 1810, true)
	}
	w.stand(2262.5, 75, 150, 1810, false)
	w.stand(3137.5, 75, 150, 1810, false)
	w.stand(5962.5, 75, 150, 1810, false)
	w.drive(25, func(course int, x, z measure.Length) bool {
		return course == 12 || (course == 4 && z < mm(690))
	})
	w.Zones = []Zone{{"A", span(0, 1200)}, {"B", span(1200, 4800)}, {"A", span(4800, 6000)}}
	return w
}

// gable is 4 m wide under a slope of 0.7, whose crossings with course marks
// are no whole micrometres.
func gable() Wall {
	w := Wall{Name: "G", Pool: "job", Quantity: 1, Limits: limits(),
		Base: pts(0, 150, 4000, 150), Top: pts(0, 600, 2000, 2000, 4000, 600),
		Courses: rod(150, 14, 2000),
	}
	left := func(z measure.Length) measure.Length { return (z - mm(600)) * 10 / 7 } // rounded down
	right := func(z measure.Length) measure.Length { return mm(4000) - (z-mm(600))*10/7 }
	at := func(x, z measure.Length) measure.Point { return measure.Point{X: x, Z: z} }
	for k := 1; k <= 3; k++ {
		j := 1800 + 600*float64(k%2)
		w.plank(k, 0, j-1)
		w.plank(k, j+1, 4000)
		w.butt()
	}
	eaves := mm(730)
	w.put(4, append(pts(0, 555, 1799, 555, 1799, 730), at(left(eaves), eaves), at(0, mm(600)))).LeftRake = 55.0
	w.put(4, append(pts(1801, 555, 4000, 555, 4000, 600), at(right(eaves), eaves), at(mm(1801), eaves))).RightRake = 55.0
	w.butt()
	lo, hi := w.Courses[4].Bottom, w.Courses[4].Top
	w.put(5, append(append([]measure.Point{at(left(lo), lo)}, pts(2399, 690, 2399, 865)...), at(left(hi), hi))).LeftRake = 55.0
	w.put(5, append(append(pts(2401, 690), at(right(lo), lo), at(right(hi), hi)), pts(2401, 865)...)).RightRake = 55.0
	w.butt()
	for k := 6; k <= 14; k++ {
		lo, hi := w.Courses[k-1].Bottom, w.Courses[k-1].Top
		outline := []measure.Point{at(left(lo), lo), at(right(lo), lo), at(right(hi), hi), at(left(hi), hi)}
		if k == 14 {
			outline = outline[:3]
		}
		p := w.put(k, outline)
		p.LeftRake, p.RightRake = 55.0, 55.0 // atan(1/0.7) = 55.008
	}
	w.Pieces[len(w.Pieces)-1].Unfixed = true // the tip, on one batten
	for x := 600.0; x < 4000; x += 600 {
		w.stand(x, 75, 150, 600+0.7*(min(x, 4000-x)-37.5), true)
	}
	w.stand(2000, 75, 150, 2000-0.7*37.5, false)
	w.stand(37.5, 75, 150, 600, false)
	w.stand(3962.5, 75, 150, 600, false)
	w.drive(39, func(course int, x, z measure.Length) bool {
		return course == 14 || z < w.Courses[course-1].Bottom+mm(135)
	})
	return w
}

// stepped stands on ground that rises by two gauges at its middle.
func stepped() Wall {
	w := Wall{Name: "S", Pool: "job", Quantity: 3, Limits: limits(),
		Base: pts(0, 150, 2400, 150, 2400, 420, 4800, 420), Top: pts(0, 1000, 4800, 1000),
		Courses: rod(150, 6, 1000),
	}
	w.plank(1, 0, 2400)
	w.plank(2, 0, 2400)
	for k := 3; k <= 6; k++ {
		j := 1800 + 1200*float64(k%2)
		w.plank(k, 0, j-1)
		w.plank(k, j+1, 4800)
		w.butt()
	}
	w.stand(37.5, 75, 150, 1000, false)
	for _, x := range []float64{600, 1200, 1800} {
		w.stand(x, 75, 150, 1000, true)
	}
	for _, x := range []float64{2437.5, 3000, 3600, 4200} { // the first beside the step's, which ends at 2,400
		w.stand(x, 75, 420, 1000, true)
	}
	w.stand(2362.5, 75, 150, 1000, false)
	w.stand(4762.5, 75, 420, 1000, false)
	w.drive(25, func(course int, x, z measure.Length) bool { return course == 6 })
	return w
}

// vent is a wall with an opening low enough to be a hole in one board, a
// sloped base and a bare joint pattern: nothing but pieces.
func vent() Wall {
	w := Wall{Name: "V", Pool: "job", Quantity: 1, Limits: limits(),
		Base: pts(0, 150, 3000, 250), Top: pts(0, 460, 3000, 460),
		Voids:   []Rect{{span(1000, 1200), span(345, 410)}},
		Courses: rod(150, 2, 460),
	}
	w.put(1, pts(0, 150, 3000, 250, 3000, 325, 0, 325)).RightRake = 88.1 // atan(3000/100) = 88.09
	w.plank(2, 0, 3000).Cutouts = []Rect{{span(1000, 1200), span(345, 410)}}
	for x := 300.0; x < 3000; x += 600 {
		w.stand(x, 50, 155+x/30, 460, true)
	}
	w.drive(25, func(course int, x, z measure.Length) bool { return course == 2 })
	return w
}

// cheek stands on a roof that rises by 0.3 to a ridge and falls by 0.36: its
// crossings with course marks and joints are no whole micrometres, and its
// lowest point is 0.4 mm below the first mark.
func cheek() Wall {
	w := Wall{Name: "C", Pool: "job", Quantity: 1, Limits: limits(),
		Base: pts(0, 149.6, 1500, 599.6, 2750, 149.6), Top: pts(0, 1000, 2750, 1000),
		Courses: rod(150, 6, 1000),
	}
	at := func(x, z measure.Length) measure.Point { return measure.Point{X: x, Z: z} }
	left := func(z measure.Length) measure.Length { return (z - mm(149.6)) * 10 / 3 }
	right := func(z measure.Length) measure.Length { return mm(2750) - (z-mm(149.6))*25/9 }
	for k := 1; k <= 3; k++ {
		c := w.Courses[k-1]
		w.put(k, []measure.Point{at(0, c.Bottom), at(left(c.Bottom), c.Bottom), at(left(c.Top), c.Top), at(0, c.Top)}).RightRake = 73.3                // atan(1/0.3) = 73.30
		w.put(k, []measure.Point{at(right(c.Top), c.Top), at(right(c.Bottom), c.Bottom), at(mm(2750), c.Bottom), at(mm(2750), c.Top)}).LeftRake = 70.2 // atan(1/0.36) = 70.20
	}
	c := w.Courses[3]
	p := w.put(4, []measure.Point{at(0, c.Bottom), at(left(c.Bottom), c.Bottom), at(mm(1500), mm(599.6)), at(right(c.Bottom), c.Bottom),
		at(mm(2750), c.Bottom), at(mm(2750), c.Top), at(0, c.Top)})
	p.RightRake, p.LeftRake = 73.3, 70.2
	w.plank(5, 0, 2750)
	w.plank(6, 0, 2750)
	for _, x := range []float64{37.5, 300, 800, 1400} {
		w.stand(x, 75, 149.6+0.3*(x+37.5), 1000, false)
	}
	for _, x := range []float64{1600, 2100, 2400, 2712.5} {
		w.stand(x, 75, 149.6+0.36*(2750-x+37.5), 1000, false)
	}
	w.drive(25, func(course int, x, z measure.Length) bool { return course == 6 })
	return w
}

// whole makes a job of walls: a board for every piece and a length of stock
// for every batten, and the numbers that follow from them.
func whole(walls ...Wall) *Job {
	job := &Job{Kerf: mm(4), Walls: walls, Packers: []measure.Length{mm(2), mm(3), mm(5)}}
	for i := range job.Walls {
		w := &job.Walls[i]
		w.Trims = []Trim{
			{Mark: w.Name + "-R1", Code: "TR30", Colour: "grey", Length: mm(1660), Quantity: 2 * w.Quantity},
			{Mark: w.Name + "-R2", Code: "VS", Colour: "grey", Length: mm(2500), Quantity: w.Quantity, Roll: true},
		}
		w.Strips = []Strip{{Code: "TAPE", Length: mm(1660.5)}}
		w.count()
		job.cut(w)
	}
	job.fill()
	return job
}

// countOf returns how many fixings of a code are stated.
func (w *Wall) countOf(code string) int {
	n := 0
	for _, f := range w.Fixings {
		if f.Code == code {
			n += f.Count
		}
	}
	return n
}

// packing is packers of 2, 3 and 5 mm behind a piece, stacked as given.
func packing(piece, batten int, foot bool, thick ...float64) Packing {
	k := Packing{Piece: piece, Batten: batten, Foot: foot, Fixing: "SC45", Length: mm(45), Reach: mm(27)}
	if foot {
		k.Fixing, k.Length, k.Reach = "PIN", 0, 0
	}
	for _, t := range thick {
		k.Packers = append(k.Packers, Packer{fmt.Sprintf("PK%v", t), mm(t)})
		k.Thick += mm(t)
	}
	return k
}

// packed is the plain wall with boards of 10: under the sill, at 690, they are fixed
// at 665, 65 below where course 4 would end at 730 were it whole: 10 x 65/135 = 4.8
// off the battens at 2,400, where two boards butt, and 3,000. A screw of 45 goes 45 -
// 10 - 1 - 5 = 29 into them. The top course is fixed 25 below its edge, and not cut.
func packed() Wall {
	w := plain()
	w.Limits.Thickness, w.Limits.PackerLeast, w.Limits.Behind, w.Limits.Depth = mm(10), mm(3), mm(1), mm(33)
	at := func(x float64) int {
		return slices.IndexFunc(w.Battens, func(b Batten) bool { return b.Centre == mm(x) && b.Z.Hi == mm(690) })
	}
	a := slices.IndexFunc(w.Pieces, func(p Piece) bool { return p.Mark == "P-4a" })
	w.Packings = []Packing{packing(a, at(2400), false, 5), packing(a+1, at(2400), false, 5), packing(a+1, at(3000), false, 5)}
	return w
}

// roofed is the cheek with its boards of 10 cut to the roof and packed. The roof
// stands, where the battens are, at 160.85, 239.6, 389.6 and 569.6 left of the ridge
// and at 563.6, 383.6, 275.6 and 163.1 right of it. Courses end at 325, 460 and 595:
// the gaps are 10 x (325 - 160.85)/135 = 12.2, 6.3, 5.2, 1.9, 2.3, 5.7, 3.7 and 12.0.
// At 1,400 and 1,600 course 4 lies on the tips of course 3.
func roofed() Wall {
	w := cheek()
	w.Limits.Thickness, w.Limits.PackerLeast, w.Limits.CutFeet = mm(10), mm(3), true
	w.Packings = []Packing{packing(0, 0, true, 5, 5, 2), packing(0, 1, true, 3, 3), packing(2, 2, true, 5),
		packing(3, 5, true, 3, 3), packing(1, 6, true, 2, 2), packing(1, 7, true, 5, 5, 2)}
	return w
}

func (w *Wall) count() {
	zone := func(x measure.Length) int {
		for i, z := range w.Zones {
			if x <= z.X.Hi {
				return i
			}
		}
		return 0
	}
	rows := map[string]*FixingCount{}
	w.Fixings = nil
	for _, name := range []string{"", "A", "B"} {
		rows[name] = &FixingCount{Zone: name, Code: "SC35", Board: true}
		rows[name+"packed"] = &FixingCount{Zone: name, Code: "SC45", Board: true, Packed: true}
	}
	for _, s := range w.Screws {
		name := ""
		if len(w.Zones) > 0 {
			name = w.Zones[zone(s.X)].Name
		}
		if slices.ContainsFunc(w.Packings, func(k Packing) bool { return !k.Foot && k.Piece == s.Piece && k.Batten == s.Batten }) {
			name += "packed"
		}
		rows[name].Count++
		rows[name].Visible += one(s.Visible)
		rows[name].PreDrilled += one(s.PreDrilled)
	}
	for _, name := range []string{"", "A", "B"} {
		w.Fixings = append(w.Fixings, *rows[name])
	}
	pins := FixingCount{Code: "PIN", Packed: true}
	for _, k := range w.Packings {
		pins.Count += one(k.Foot)
	}
	for _, row := range []FixingCount{*rows["packed"], *rows["Apacked"], *rows["Bpacked"], pins} {
		if row.Count > 0 {
			w.Fixings = append(w.Fixings, row)
		}
	}
	w.Fixings = append(w.Fixings, FixingCount{Code: "SC80", Count: 5 * len(w.Battens)})
}

// cut gives every item boards of its own.
func (j *Job) cut(w *Wall) {
	add := func(mark, code, colour string, stock, length measure.Length, n int) string {
		b := Board{Name: fmt.Sprintf("B%d", len(j.Boards)+1), Pool: w.Pool, Code: code, Colour: colour,
			Stock: stock, Count: n, Cuts: []Cut{{[]string{mark}, length}}, Offcut: max(0, stock-length-j.Kerf)}
		if code == "BD36" {
			b.Width = mm(175)
		}
		j.Boards = append(j.Boards, b)
		return b.Name
	}
	for i := range w.Pieces {
		p := &w.Pieces[i]
		p.Stock = add(p.Mark, p.Code, p.Colour, mm(3600), p.Length, p.Quantity)
	}
	for i := range w.Battens {
		b := &w.Battens[i]
		b.Stock = add(b.Mark, b.Code, b.Colour, mm(4800), b.Z.Length(), w.Quantity)
	}
	for i := range w.Trims {
		if t := &w.Trims[i]; !t.Roll {
			t.Stock = add(t.Mark, t.Code, t.Colour, mm(3000), t.Length, t.Quantity)
		}
	}
}

// fill states order, pools and totals.
func (j *Job) fill() {
	boards, battens, trims := 0, 0, 0
	for _, b := range j.Boards {
		switch b.Code {
		case "BD36":
			boards += b.Count
		case "BT48":
			battens += b.Count
		case "TR30":
			trims += b.Count
		}
	}
	j.Order = []Line{{"BD36", "grey", float64(boards)}, {"BT48", "", float64(battens)}, {"TR30", "grey", float64(trims)}}
	var strip, tape float64
	var screws, long, packed, pins int
	packers := map[string]int{}
	for _, w := range j.Walls {
		strip += 2.5 * float64(w.Quantity)
		tape += 1.6605 * float64(w.Quantity)
		screws += w.countOf("SC35") * w.Quantity
		packed += w.countOf("SC45") * w.Quantity
		pins += w.countOf("PIN") * w.Quantity
		for _, k := range w.Packings {
			for _, p := range k.Packers {
				packers[p.Code] += w.Quantity
			}
		}
		long += 5 * len(w.Battens) * w.Quantity
	}
	j.Order = append(j.Order, Line{"VS", "grey", strip}, Line{"TAPE", "", tape},
		Line{"SC35", "", float64(screws)}, Line{"SC80", "", float64(long)}, Line{"SC45", "", float64(packed)}, Line{"PIN", "", float64(pins)})
	for _, code := range []string{"PK2", "PK3", "PK5", "PK10"} {
		j.Order = append(j.Order, Line{code, "", float64(packers[code])})
	}
	j.Order = slices.DeleteFunc(j.Order, func(l Line) bool { return l.Net == 0 })
	j.Pools = []Pool{{"job", "BD36", "grey", boards, []int{boards, boards - 1}, nil}}
	j.Totals = []Total{{"metres", []float64{strip, tape}, strip + tape}}
}
