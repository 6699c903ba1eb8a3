package drawing

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"slices"
	"strings"
	"testing"

	"lapwright/engine"
	"lapwright/engine/measure"
)

func at(lo, hi int64) measure.Span { return measure.Span{Lo: measure.MM(lo), Hi: measure.MM(hi)} }

// plainWall is 4,000 by 1,000 with two courses: the lower jointed at 2,500,
// the upper whole, a vent at 1,000 and a batten at 3,000.
func plainWall() *engine.WallResult {
	piece := func(mark string, course int, from, to, bottom int64) engine.Piece {
		return engine.Piece{Mark: mark, Course: course, Outline: measure.Rect(at(from, to), at(bottom, bottom+400))}
	}
	opening := &engine.Opening{Name: "V1", Left: measure.MM(1000), Sill: measure.MM(600), Width: measure.MM(200), Height: measure.MM(200)}
	return &engine.WallResult{
		Plot: "7", Name: "North", Code: "W1", Outline: measure.Rect(at(0, 4000), at(0, 1000)),
		Courses: []engine.Course{{Number: 1, Bottom: measure.MM(150), Top: measure.MM(550), Gauge: measure.MM(360)}, {Number: 2, Bottom: measure.MM(510), Top: measure.MM(910)}},
		Pieces:  []engine.Piece{piece("W1-1a", 1, 0, 2500, 150), piece("W1-1b", 1, 2500, 4000, 150), piece("W1-2a", 2, 0, 4000, 510)},
		Battens: []engine.Batten{{Centre: measure.MM(3000), Width: measure.MM(50), Z: at(150, 990)}},
		Voids:   []engine.Void{{Opening: opening, Frame: []measure.Polygon{measure.Rect(at(1000, 1200), at(600, 800))}}},
		Zones:   []engine.Zone{{Name: "A", X: at(0, 4000)}},
	}
}

// handedWall is the plain wall as it is built mirrored.
func handedWall() *engine.WallResult {
	w := plainWall()
	w.Quantity, w.Mirrored = 1, 1
	return w.Handed()
}

func drawn(t *testing.T, w *engine.WallResult, o Options) (*image.Paletted, Picture) {
	t.Helper()
	p, err := New().Elevation(w, o)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(p.PNG))
	if err != nil {
		t.Fatal(err)
	}
	if b := img.Bounds(); b.Dx() != p.Width || b.Dy() != p.Height {
		t.Fatalf("the picture is %v, said to be %d x %d", b, p.Width, p.Height)
	}
	return img.(*image.Paletted), p
}

// inked reports whether a pixel or its neighbour is black: lines lie on whole
// pixels, their places need not.
func inked(img *image.Paletted, x, y float64) bool {
	for dx := -2; dx <= 2; dx++ {
		for dy := -2; dy <= 2; dy++ {
			r, _, _, _ := img.At(int(x)+dx, int(y)+dy).RGBA()
			if r < 0x3000 {
				return true
			}
		}
	}
	return false
}

// TestToScale looks for lines where the numbers say they must be: the scale
// and the place of the wall are worked out here from the margins, as ratios of
// the wall's own sizes.
func TestToScale(t *testing.T) {
	img, p := drawn(t, plainWall(), Options{})
	px := float64(2400-marginLeft-marginRight) / 4000 // the width decides
	if got := Scale(plainWall(), Options{}); got-px > 1e-9 || px-got > 1e-9 {
		t.Fatalf("got %v pixels a millimetre, want %v", got, px)
	}
	base := float64(p.Height - marginBottom)
	x := func(mm float64) float64 { return marginLeft + mm*px }
	z := func(mm float64) float64 { return base - mm*px }
	for _, tt := range []struct {
		name string
		x, z float64
		want bool
	}{
		{"bottom of course 1", 600, 150, true},
		{"bottom of course 2", 600, 510, true},
		{"top of the wall's last board", 600, 910, true},
		{"face of course 1", 600, 230, false},
		{"joint", 2500, 400, true},
		{"joint hidden by the lap", 2500, 530, false},
		{"no joint in course 2", 2500, 650, false},
		{"left of the vent", 1000, 650, true},
		{"right of the vent", 1200, 750, true},
	} {
		if got := inked(img, x(tt.x), z(tt.z)); got != tt.want {
			t.Errorf("%s: dark is %v, want %v", tt.name, got, tt.want)
		}
	}
	handed, _ := drawn(t, handedWall(), Options{})
	if !inked(handed, x(4000-2500), z(400)) || inked(handed, x(2500), z(400)) {
		t.Error("the handed wall's joint does not stand at the other side")
	}
	if !inked(handed, x(4000-1000), z(650)) {
		t.Error("the handed wall's vent does not stand at the other side")
	}
}

// TestWords holds the words that stand for the picture.
func TestWords(t *testing.T) {
	_, p := drawn(t, plainWall(), Options{})
	for _, want := range []string{"7 North", "4000 mm wide, 1000 mm high", "2 courses", "3 pieces", "Opening V1: 200 by 200 mm, 1000 mm from the left", "sill at 600"} {
		if !strings.Contains(p.Text, want) {
			t.Errorf("%q does not say %q", p.Text, want)
		}
	}
	if _, p := drawn(t, handedWall(), Options{}); !strings.Contains(p.Text, "handed") || !strings.Contains(p.Text, "2800 mm from the left") {
		t.Errorf("%q does not say handed, and the vent 4000 - 1000 - 200 from the left", p.Text)
	}
}

// TestSameWhateverCameBefore: a drawer keeps memory from picture to picture,
// and none of it may show.
func TestSameWhateverCameBefore(t *testing.T) {
	d := New()
	first, err := d.Elevation(plainWall(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	other := plainWall()
	other.Outline, other.Name = measure.Rect(at(0, 3000), at(0, 6000)), "Tower"
	if _, err := d.Elevation(handedWall(), Options{}); err != nil {
		t.Fatal(err)
	}
	if _, err := d.Bars([]engine.CutRow{{Board: "B1", Lot: &engine.Lot{Stock: measure.MM(3000)}, Count: 1}}, 0, nil); err != nil {
		t.Fatal(err)
	}
	again, err := d.Elevation(plainWall(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first.PNG, again.PNG) {
		t.Error("the second drawing of a wall differs from the first")
	}
}

// TestFitsThePage: no wall makes a picture larger than it may be, and an empty
// one makes a picture none the less.
func TestFitsThePage(t *testing.T) {
	for _, size := range [][2]int64{{500, 200}, {40_000, 2500}, {3000, 30_000}, {8000, 5000}, {1, 1}} {
		w := plainWall()
		w.Outline = measure.Rect(at(0, size[0]), at(0, size[1]))
		w.Pieces, w.Voids = nil, nil
		_, p := drawn(t, w, Options{Width: 1600, Height: 1200})
		if p.Width != 1600 || p.Height > 1200 {
			t.Errorf("%v: the picture is %d x %d, want at most 1600 x 1200", size, p.Width, p.Height)
		}
	}
	drawn(t, &engine.WallResult{}, Options{})
}

// large is a wall of 34 courses of four boards.
func large() *engine.WallResult {
	w := &engine.WallResult{Outline: measure.Rect(at(0, 8000), at(0, 4800))}
	for i := range 34 {
		z := int64(150 + 135*i)
		w.Courses = append(w.Courses, engine.Course{Number: i + 1, Bottom: measure.MM(z), Top: measure.MM(z + 175), Gauge: measure.MM(135)})
		for x := range int64(4) {
			w.Pieces = append(w.Pieces, engine.Piece{Mark: "W1-12a", Course: i + 1, Outline: measure.Rect(at(2000*x, 2000*x+1998), at(z, z+175))})
		}
	}
	for x := range int64(14) {
		w.Battens = append(w.Battens, engine.Batten{Centre: measure.MM(25 + 600*x), Width: measure.MM(50), Z: at(150, 4790)})
	}
	return w
}

func BenchmarkElevation(b *testing.B) {
	w, d := large(), New()
	for b.Loop() {
		if _, err := d.Elevation(w, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// manyBoards are 400 of two pieces each; every fourth is cut to a length of its own.
func manyBoards() []engine.CutRow {
	var rows []engine.CutRow
	for i := range 400 {
		cuts := []engine.Cut{{Marks: []string{fmt.Sprintf("W1-%da", i)}, Length: measure.MM(2398)}, {Marks: []string{fmt.Sprintf("W1-%db", i)}, Length: measure.MM(1198)}}
		if i%4 == 0 {
			cuts[1].Length = measure.MM(1000 - int64(i))
		}
		rows = append(rows, engine.CutRow{Board: fmt.Sprintf("B%d", i+1), Lot: &engine.Lot{Code: "LB", Stock: measure.MM(3600)}, Count: 1 + i%2, Cuts: cuts})
	}
	return rows
}

func BenchmarkBars(b *testing.B) {
	d, rows := New(), manyBoards()
	for b.Loop() {
		if _, err := d.Bars(rows, 0, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// TestBarsAlike: boards cut to the same lengths share a bar, none is lost, and
// no page is higher than it may be.
func TestBarsAlike(t *testing.T) {
	d, rows := New(), manyBoards()
	bars := newSawyer(d, rows, 0, nil).alike(rows)
	boards, said := 0, map[string]bool{}
	for _, b := range bars {
		for _, r := range b.rows {
			boards++
			if c := r.Cuts[1].Length; c != b.rows[0].Cuts[1].Length {
				t.Errorf("%s is cut to %v beside %v", r.Board, c, b.rows[0].Cuts[1].Length)
			}
		}
		for _, line := range b.lines {
			for _, word := range strings.Split(line, "   ") {
				name, _, _ := strings.Cut(word, ":")
				said[name[strings.LastIndexByte(name, ' ')+1:]] = true
			}
		}
	}
	if boards != 400 || len(said) != 300 || len(bars) < 101 || len(bars) > 110 {
		t.Errorf("%d bars of %d boards, %d listed; want 100 single ones, and 300 boards listed under a few", len(bars), boards, len(said))
	}
	pics, err := d.Bars(rows, 0, nil)
	if err != nil || len(pics) < 3 {
		t.Fatalf("got %d pages, %v", len(pics), err)
	}
	for _, p := range pics {
		if p.Height > barPage {
			t.Errorf("a page is %d high, %d at most", p.Height, barPage)
		}
	}
}

// TestFarDatum: the plain wall with its base at 9,000, by hand. Drawn from the datum
// its 10,000 would have 926 pixels; from its own base its 1,000 have them, and the
// width decides as for the wall at the datum. Its lines stand where that one's do.
// Where the datum lies is said, in words too. At 300 the datum is drawn, and so
// it is at a quarter of a wall's height; below ground it is if the wall reaches up to it.
func TestFarDatum(t *testing.T) {
	lifted := func(by int64) *engine.WallResult {
		w := plainWall()
		for i := range w.Outline {
			w.Outline[i].Z += measure.MM(by)
		}
		for i := range w.Pieces {
			for k := range w.Pieces[i].Outline {
				w.Pieces[i].Outline[k].Z += measure.MM(by)
			}
		}
		for i := range w.Courses {
			w.Courses[i].Bottom, w.Courses[i].Top = w.Courses[i].Bottom+measure.MM(by), w.Courses[i].Top+measure.MM(by)
		}
		w.Battens, w.Voids = nil, nil
		return w
	}
	px := float64(2400-marginLeft-marginRight) / 4000
	if got := Scale(lifted(9000), Options{}); got-px > 1e-9 || px-got > 1e-9 {
		t.Errorf("got %v pixels a millimetre, want %v", got, px)
	}
	img, p := drawn(t, lifted(9000), Options{})
	base := float64(p.Height - below(lifted(9000)))
	if !inked(img, marginLeft+600*px, base-150*px) || inked(img, marginLeft+600*px, base-230*px) {
		t.Error("the first board does not stand 150 above the lowest line drawn")
	}
	const said = "he datum lies 9000 mm below what is drawn"
	if !strings.Contains(p.Text, "T"+said) || !strings.Contains(p.Text, "1000 mm high") {
		t.Errorf("in words: %q", p.Text)
	}
	v := New().place(lifted(9000), Options{}.filled())
	if got := v.unsaid(); !slices.Contains(got, "t"+said) {
		t.Errorf("said beside the drawing: %q", got)
	}
	for by, want := range map[int64]bool{0: false, 300: false, 301: true, -300: false, -1500: true} {
		if got := datumSaid(New().place(lifted(by), Options{}.filled()).zs) != ""; got != want {
			t.Errorf("base at %d: datum left out %v, want %v", by, got, want)
		}
	}
}

// TestNarrowZones: of a wall of 4,000 in 2,010 pixels a zone of 200 has 100, and no
// text of thirty letters goes into it. Its width and centres are said beside the drawing, once
// for both ends; those of the zone between stand in it.
func TestNarrowZones(t *testing.T) {
	w := plainWall()
	w.Zones = []engine.Zone{{Name: "A", X: at(0, 200), Centres: measure.MM(300)}, {Name: "B", X: at(200, 3800), Centres: measure.MM(450)}, {Name: "A", X: at(3800, 4000), Centres: measure.MM(300)}}
	v := New().place(w, Options{}.filled())
	v.zones()
	if got := v.unsaid(); !slices.Equal(got, []string{"zone A 200, battens at 300 centres"}) {
		t.Errorf("said beside the drawing: %q", got)
	}
}

// TestSaidOnFewLines: what had no room goes on one line as long as the picture is
// wide for it.
func TestSaidOnFewLines(t *testing.T) {
	v := New().place(plainWall(), Options{}.filled())
	long := strings.Repeat("word ", 30)
	for _, c := range []struct{ said, want []string }{
		{nil, nil},
		{[]string{"one", "two"}, []string{"one; two"}},
		{[]string{long, long, "two"}, []string{long, long + "; two"}},
	} {
		if got := v.joined(textSize{22, false}, c.said); !slices.Equal(got, c.want) {
			t.Errorf("%q: got %q, want %q", c.said, got, c.want)
		}
	}
}
