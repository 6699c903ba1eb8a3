package drawing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"lapwright/engine"
	"lapwright/engine/measure"
)

// TestApart: texts that are moved apart keep their order and their room, and
// move no more than they must: no other places that keep both move less in the
// sum of squares. Small cases are compared with a search over a grid.
func TestApart(t *testing.T) {
	for _, tt := range []struct{ want, got []float64 }{
		{[]float64{0, 100, 200}, []float64{0, 100, 200}},
		{[]float64{0, 5}, []float64{-7.5, 12.5}},
		{[]float64{0, 0, 0}, []float64{-20, 0, 20}},
		{[]float64{0, 5, 24, 100}, []float64{-10 - 1.0/3, 10 - 1.0/3, 30 - 1.0/3, 100}},
		{nil, []float64{}},
	} {
		got := apart(tt.want, 20)
		if !slices.EqualFunc(got, tt.got, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }) {
			t.Errorf("%v: got %v, want %v", tt.want, got, tt.got)
		}
	}
	r := rand.New(rand.NewPCG(1, 2))
	for range 40 {
		want := []float64{float64(r.IntN(30)), float64(r.IntN(30)), float64(r.IntN(30))}
		slices.Sort(want)
		got, best := apart(want, 8), math.Inf(1)
		for a := -20.0; a < 50; a++ {
			for b := a + 8; b < 50; b++ {
				for c := b + 8; c < 60; c++ {
					best = min(best, moved(want, []float64{a, b, c}))
				}
			}
		}
		if got[1]-got[0] < 8-1e-9 || got[2]-got[1] < 8-1e-9 || moved(want, got) > best+1e-9 {
			t.Errorf("%v: %v moves %v, a grid %v", want, got, moved(want, got), best)
		}
	}
}

func moved(want, got []float64) float64 {
	sum := 0.0
	for i := range want {
		sum += (want[i] - got[i]) * (want[i] - got[i])
	}
	return sum
}

// TestRanges shortens what follows each other and nothing else.
func TestRanges(t *testing.T) {
	for in, want := range map[string]string{
		"N3": "N3", "N3 N4": "N3-4", "N5 N6 N7": "N5-7", "N5 N7": "N5,N7", "N1 N2 N4 N5": "N1-2,N4-5", "a b": "a,b", "N9 N10": "N9-10", "N1 M2": "N1,M2",
	} {
		if got := strings.Join(ranges(strings.Fields(in)), ","); got != want {
			t.Errorf("%s: got %s, want %s", in, got, want)
		}
	}
}

// TestBattenColumns: every batten's mark stands once below the drawing, from
// left to right as drawn, those above an opening with those below it.
func TestBattenColumns(t *testing.T) {
	w := plainWall()
	w.Battens = nil
	for i, c := range []int64{38, 1000, 1000, 3000} {
		w.Battens = append(w.Battens, engine.Batten{Mark: fmt.Sprintf("W1-N%d", i+1), Centre: measure.MM(c), Width: measure.MM(50), Z: at(150, 900)})
	}
	for _, tt := range []struct {
		w    *engine.WallResult
		want []string
	}{{w, []string{"38 N1", "1000 N2 N3", "3000 N4"}}, {w.Handed(), []string{"1000 N4", "3000 N2 N3", "3962 N1"}}} {
		v := New().place(tt.w, Options{}.filled())
		var got []string
		for _, c := range v.battenColumns() {
			got = append(got, c.centre.String()+" "+strings.Join(c.marks, " "))
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("got %v, want %v", got, tt.want)
		}
	}
}

// trimmedWall has a starter and a vent strip along its base, one of them in two
// lengths, a corner, and trims about its vent.
func trimmedWall() *engine.WallResult {
	w := plainWall()
	trim := func(role, where string, x0, z0, x1, z1 int64) {
		w.Trims = append(w.Trims, engine.Trim{Role: role, Where: where, From: measure.Point{X: measure.MM(x0), Z: measure.MM(z0)}, To: measure.Point{X: measure.MM(x1), Z: measure.MM(z1)}})
	}
	trim(engine.RoleStarter, "base", 0, 150, 3000, 150)
	trim(engine.RoleStarter, "base", 3000, 150, 4000, 150)
	trim(engine.RoleVent, "base", 0, 150, 4000, 150)
	trim(engine.RoleExternal, "right edge", 4000, 150, 4000, 990)
	trim(engine.RoleEdge, "V1 left jamb", 1000, 600, 1000, 800)
	trim(engine.RoleEdge, "V1 right jamb", 1200, 600, 1200, 800)
	trim(engine.RoleVent, "V1 head", 1000, 800, 1200, 800)
	return w
}

// TestEdges: one set of letters a stretch, in the order met, each letter once.
func TestEdges(t *testing.T) {
	var got []string
	for _, e := range edges(trimmedWall()) {
		got = append(got, e.where+" "+e.letters)
	}
	want := []string{"base SV", "right edge X", "V1 left jamb E", "V1 right jamb E", "V1 head V"}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	letters := map[string]bool{}
	for _, l := range trimLetters {
		letters[l.letter] = true
	}
	if len(letters) != len(trimLetters) {
		t.Error("two trims share a letter")
	}
}

// TestUnlettered: what has no room for the letters of its trims is named, an opening
// once for all its sides. At 2,010 pixels for 4,000 a vent of 60 square has 30.
func TestUnlettered(t *testing.T) {
	w := trimmedWall()
	w.Voids[0].Frame = []measure.Polygon{measure.Rect(at(1000, 1060), at(600, 660))} // 30 pixels
	w.Voids[0].Opening.Name = "V1"
	v := New().place(w, Options{}.filled())
	v.trimMarks()
	if got := v.unsaid(); !slices.Equal(got, []string{"no room for the letters of trims at V1"}) {
		t.Errorf("said beside the drawing: %q", got)
	}
}

// TestTextsKeepApart draws walls crowded with openings of all sizes and holds
// that no two of the texts that are placed with care touch: letters of trims,
// names of openings too small for them, and marks of pieces.
func TestTextsKeepApart(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for n := range 60 {
		w := crowded(r)
		if n%2 == 1 {
			w = w.Handed()
		}
		v := New().place(w, Options{}.filled())
		v.trimMarks()
		v.openingTexts()
		v.pieceMarks()
		for i, a := range v.taken {
			for _, b := range v.taken[:i] {
				const air = 4 // of the two, which may touch
				if a.lo.x < b.hi.x-air && b.lo.x < a.hi.x-air && a.lo.y < b.hi.y-air && b.lo.y < a.hi.y-air {
					t.Errorf("wall %d: the texts at %v and %v touch", n, a, b)
				}
			}
		}
	}
}

// crowded is a wall with a row of openings, each with trims about it, and
// boards between.
func crowded(r *rand.Rand) *engine.WallResult {
	wide := int64(600 + r.IntN(20_000))
	w := &engine.WallResult{Name: "C", Code: "W1", Outline: measure.Rect(at(0, wide), at(0, 2600))}
	for i := range 17 {
		z := int64(150 + 140*i)
		w.Courses = append(w.Courses, engine.Course{Number: i + 1, Bottom: measure.MM(z), Top: measure.MM(z + 180), Gauge: measure.MM(140)})
		w.Pieces = append(w.Pieces, engine.Piece{Mark: fmt.Sprintf("W1-%da", i+1), Course: i + 1, Outline: measure.Rect(at(0, wide), at(z, z+180))})
	}
	for x := int64(100); ; {
		open := int64(100 + r.IntN(1500))
		if x+open+100 > wide {
			return w
		}
		name := fmt.Sprintf("V%d", len(w.Voids)+1)
		o := &engine.Opening{Name: name, Left: measure.MM(x), Sill: measure.MM(600), Width: measure.MM(open), Height: measure.MM(open)}
		w.Voids = append(w.Voids, engine.Void{Opening: o, Frame: []measure.Polygon{measure.Rect(at(x, x+open), at(600, 600+open))}})
		for _, side := range []struct {
			where          string
			x0, z0, x1, z1 int64
		}{{" left jamb", x, 600, x, 600 + open}, {" right jamb", x + open, 600, x + open, 600 + open}, {" head", x, 600 + open, x + open, 600 + open}, {" sill", x, 600, x + open, 600}} {
			w.Trims = append(w.Trims, engine.Trim{Role: engine.RoleEdge, Where: name + side.where,
				From: measure.Point{X: measure.MM(side.x0), Z: measure.MM(side.z0)}, To: measure.Point{X: measure.MM(side.x1), Z: measure.MM(side.z1)}})
		}
		x += open + int64(100+r.IntN(900))
	}
}

// TestZoneName says battens, which is what the centres are of, and how wide a zone
// is where there are several: nothing else says where they meet.
func TestZoneName(t *testing.T) {
	wall, part := at(0, 4000), at(0, 1200)
	for _, tt := range []struct {
		zones []engine.Zone
		want  string
	}{
		{[]engine.Zone{{Name: "B", X: wall, Centres: measure.MM(600)}}, "zone B, battens at 600 centres"},
		{[]engine.Zone{{X: wall, Centres: measure.MM(450)}}, "battens at 450 centres"},
		{[]engine.Zone{{Name: "A", X: wall}}, "zone A"},
		{[]engine.Zone{{Name: "A", X: part, Centres: measure.MM(400)}, {Name: "B", X: at(1200, 4000)}}, "zone A 1200, battens at 400 centres"},
	} {
		w := plainWall()
		w.Zones = tt.zones
		v := New().place(w, Options{}.filled())
		if got := v.zoneName(w.Zones[0]); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}

// TestOpeningChains: windows of 1,500 and 900 of two storeys, of which the upper
// begins and ends within the lower, have a chain each; those that stand right above
// each other or clear of each other share one.
func TestOpeningChains(t *testing.T) {
	for _, tt := range []struct {
		openings [][2]int64 // left and width
		want     string
	}{
		{nil, ""},
		{[][2]int64{{900, 1200}, {3100, 1010}, {5000, 1500}, {900, 1200}, {5300, 900}}, "a b c d | e"},
		{[][2]int64{{0, 1000}, {1000, 1000}}, "a b"},
		{[][2]int64{{0, 1000}, {999, 1000}, {998, 1000}, {997, 1000}, {996, 1000}}, "a | b | c | d e"}, // four at most
	} {
		w := plainWall()
		w.Voids = nil
		for i, o := range tt.openings {
			w.Voids = append(w.Voids, engine.Void{Opening: &engine.Opening{Name: string(rune('a' + i)), Left: measure.MM(o[0]), Width: measure.MM(o[1])}})
		}
		var got []string
		for _, c := range openingChains(w) {
			got = append(got, strings.ReplaceAll(c.names(), ",", ""))
		}
		if s := strings.Join(got, " | "); s != tt.want {
			t.Errorf("%v: got %q, want %q", tt.openings, s, tt.want)
		}
	}
}

// TestOpeningsInOneSize: openings that have room for it are lettered alike, each in
// its own bounds; a small one has smaller letters, and takes none from the others.
func TestOpeningsInOneSize(t *testing.T) {
	w := plainWall()
	w.Outline = measure.Rect(at(0, 8000), at(0, 3000))
	w.Voids = nil
	for i, o := range [][4]int64{{300, 300, 2000, 2000}, {2700, 300, 1000, 2100}, {4000, 300, 900, 1100}, {5400, 300, 330, 500}} {
		w.Voids = append(w.Voids, engine.Void{
			Opening: &engine.Opening{Name: fmt.Sprint("W", i+1), Left: measure.MM(o[0]), Sill: measure.MM(o[1]), Width: measure.MM(o[2]), Height: measure.MM(o[3])},
			Frame:   []measure.Polygon{measure.Rect(at(o[0], o[0]+o[2]), at(o[1], o[1]+o[3]))}})
	}
	v := New().place(w, Options{}.filled())
	v.openingTexts()
	high := map[string]float64{}
	for i, name := range []string{"first", "second", "third", "small"} {
		xs, zs := w.Voids[i].Frame[0].Bounds()
		lo, hi := v.span(xs)
		n := 0
		for _, b := range v.taken {
			if b.lo.x >= lo && b.hi.x <= hi && b.lo.y >= v.z(zs.Hi) && b.hi.y <= v.z(zs.Lo) {
				high[name], n = b.hi.y-b.lo.y, n+1
			}
		}
		if want := 3; n != want && name != "small" || n == 0 {
			t.Errorf("%s: %d lines in it, want %d", name, n, want)
		}
	}
	if high["first"] != high["second"] || high["second"] != high["third"] || high["small"] >= high["first"] {
		t.Errorf("letters are %v high", high)
	}
}
