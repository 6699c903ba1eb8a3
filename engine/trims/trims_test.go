package trims

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"lapwright/engine/measure"
)

var mm = measure.MM

func span(lo, hi int64) measure.Span { return measure.Span{Lo: mm(lo), Hi: mm(hi)} }

func pt(x, z int64) measure.Point { return measure.Point{X: mm(x), Z: mm(z)} }

// plain is a wall of 4 m by 2.4 m without openings, all trims its own.
func plain() Wall {
	return Wall{
		Base: measure.Level(span(0, 4000), mm(150)), Top: measure.Level(span(0, 4000), mm(2400)), Vented: true,
		Left: Side{EdgeTrim, span(150, 2400)}, Right: Side{ExternalCorner, span(150, 2400)},
	}
}

// with returns the plain wall changed.
func with(change func(*Wall)) Wall {
	w := plain()
	change(&w)
	return w
}

// listing says lines shortly: role, where, from, to.
func listing(lines []Line) []string {
	var out []string
	for _, l := range lines {
		out = append(out, fmt.Sprintf("%s, %s: %v to %v", l.Role, l.Where, l.From, l.To))
	}
	return out
}

// What a wall takes where, by the rules of the trade (common practice): a
// starter and a vent strip along the base and over heads, a vent strip at sills
// and at the top, trims up every side and jamb.
func TestLines(t *testing.T) {
	for _, c := range []struct {
		name string
		wall Wall
		want string
	}{
		{"plain", plain(), `
			starter, base: 0,150 to 4000,150
			vent strip, base: 0,150 to 4000,150
			edge trim, left edge: 0,150 to 0,2400
			external corner, right edge: 4000,150 to 4000,2400
			vent strip, top: 0,2400 to 4000,2400`},
		{"a corner that the next wall carries, a top that does not breathe", with(func(w *Wall) { w.Right.Trim, w.Vented = "", false }), `
			starter, base: 0,150 to 4000,150
			vent strip, base: 0,150 to 4000,150
			edge trim, left edge: 0,150 to 0,2400`},
		{"a window", with(func(w *Wall) {
			w.Openings = []Opening{{Name: "w", X: span(1000, 2000), Z: span(900, 2100)}}
		}), `
			starter, base: 0,150 to 4000,150
			vent strip, base: 0,150 to 4000,150
			edge trim, left edge: 0,150 to 0,2400
			external corner, right edge: 4000,150 to 4000,2400
			vent strip, top: 0,2400 to 4000,2400
			edge trim, w left jamb: 1000,900 to 1000,2100
			edge trim, w right jamb: 2000,900 to 2000,2100
			starter, w head: 1000,2100 to 2000,2100
			vent strip, w head: 1000,2100 to 2000,2100
			vent strip, w sill: 1000,900 to 2000,900`},
		// Boards keep 10 to the window, and the strips lie where they begin and end.
		// Horns 50 wide and high fill 850 to 900 and 2,100 to 2,150 from 1,050 to
		// 1,100. Boards keep 10 above them: the jambs' trims begin at 1,110, and boards
		// that start at 1,000 end beside the horns up to there.
		{"a sill with horns", with(func(w *Wall) {
			w.Openings = []Opening{{Name: "w", X: span(900, 2100), Z: span(1050, 2250), Down: mm(50), Sill: Rect{span(850, 2150), span(1050, 1100)}, Gap: mm(10)}}
		}), `
			starter, base: 0,150 to 4000,150
			vent strip, base: 0,150 to 4000,150
			edge trim, left edge: 0,150 to 0,2400
			external corner, right edge: 4000,150 to 4000,2400
			vent strip, top: 0,2400 to 4000,2400
			edge trim, w left horn: 850,1000 to 850,1110
			edge trim, w right horn: 2150,1000 to 2150,1110
			edge trim, w left jamb: 900,1110 to 900,2250
			edge trim, w right jamb: 2100,1110 to 2100,2250
			starter, w head: 900,2260 to 2100,2260
			vent strip, w head: 900,2260 to 2100,2260
			vent strip, w sill: 850,1040 to 2150,1040`},
		// The second window's left horn, 1,960 to 2,010 by 1,500 to 1,550, reaches past
		// the first one's right jamb, where no board ends beside it: the jamb's trim
		// stops below and goes on above. The right horn passes the wall's end.
		{"a horn in another jamb's way and beyond the wall", with(func(w *Wall) {
			w.Openings = []Opening{{Name: "v", X: span(1000, 2000), Z: span(900, 2100), AtTop: true},
				{Name: "w", X: span(2010, 3990), Z: span(1500, 2400), AtTop: true, Sill: Rect{span(1960, 4040), span(1500, 1550)}, Gap: mm(10)}}
		}), `
			starter, base: 0,150 to 4000,150
			vent strip, base: 0,150 to 4000,150
			edge trim, left edge: 0,150 to 0,2400
			external corner, right edge: 4000,150 to 4000,1500
			external corner, right edge: 4000,1550 to 4000,2400
			vent strip, top: 0,2400 to 1000,2400
			vent strip, top: 2000,2400 to 2010,2400
			vent strip, top: 3990,2400 to 4000,2400
			edge trim, v left jamb: 1000,900 to 1000,2100
			edge trim, v right jamb: 2000,900 to 2000,1500
			edge trim, v right jamb: 2000,1550 to 2000,2100
			vent strip, v sill: 1000,900 to 2000,900
			edge trim, w left jamb: 2010,1560 to 2010,2400
			edge trim, w right jamb: 3990,1560 to 3990,2400
			vent strip, w sill: 2000,1490 to 4040,1490`},
		{"jambs that run down to the next course", with(func(w *Wall) {
			w.Openings = []Opening{{Name: "w", X: span(1000, 2000), Z: span(900, 2400), Down: mm(45), AtTop: true}}
		}), `
			starter, base: 0,150 to 4000,150
			vent strip, base: 0,150 to 4000,150
			edge trim, left edge: 0,150 to 0,2400
			external corner, right edge: 4000,150 to 4000,2400
			vent strip, top: 0,2400 to 1000,2400
			vent strip, top: 2000,2400 to 4000,2400
			edge trim, w left jamb: 1000,855 to 1000,2400
			edge trim, w right jamb: 2000,855 to 2000,2400
			vent strip, w sill: 1000,900 to 2000,900`},
		{"a lined door", with(func(w *Wall) {
			w.Openings = []Opening{{Name: "d", X: span(1000, 2000), Z: span(150, 2100), Lined: true, AtBase: true}}
		}), `
			starter, base: 0,150 to 1000,150
			vent strip, base: 0,150 to 1000,150
			starter, base: 2000,150 to 4000,150
			vent strip, base: 2000,150 to 4000,150
			edge trim, left edge: 0,150 to 0,2400
			external corner, right edge: 4000,150 to 4000,2400
			vent strip, top: 0,2400 to 4000,2400
			unequal corner, d left jamb: 1000,150 to 1000,2100
			unequal corner, d right jamb: 2000,150 to 2000,2100
			starter, d head: 1000,2100 to 2000,2100
			vent strip, d head: 1000,2100 to 2000,2100
			frame trim, d left jamb: 1000,150 to 1000,2100
			frame trim, d right jamb: 2000,150 to 2000,2100
			unequal corner, d head: 1000,2100 to 2000,2100
			frame trim, d head: 1000,2100 to 2000,2100`},
		{"a stepped base", with(func(w *Wall) {
			w.Base = measure.Profile{pt(0, 150), pt(1500, 150), pt(1500, 555), pt(4000, 555)}
		}), `
			starter, base: 0,150 to 1500,150
			vent strip, base: 0,150 to 1500,150
			edge trim, base step: 1500,150 to 1500,555
			starter, base: 1500,555 to 4000,555
			vent strip, base: 1500,555 to 4000,555
			edge trim, left edge: 0,150 to 0,2400
			external corner, right edge: 4000,150 to 4000,2400
			vent strip, top: 0,2400 to 4000,2400`},
		{"a door across a step", with(func(w *Wall) {
			w.Base = measure.Profile{pt(0, 150), pt(1500, 150), pt(1500, 555), pt(4000, 555)}
			w.Openings = []Opening{{Name: "d", X: span(1000, 2000), Z: span(150, 2100), AtBase: true}}
		}), `
			starter, base: 0,150 to 1000,150
			vent strip, base: 0,150 to 1000,150
			starter, base: 2000,555 to 4000,555
			vent strip, base: 2000,555 to 4000,555
			edge trim, left edge: 0,150 to 0,2400
			external corner, right edge: 4000,150 to 4000,2400
			vent strip, top: 0,2400 to 4000,2400
			edge trim, d left jamb: 1000,150 to 1000,2100
			edge trim, d right jamb: 2000,150 to 2000,2100
			starter, d head: 1000,2100 to 2000,2100
			vent strip, d head: 1000,2100 to 2000,2100`},
		{"a roof that rises to the top", with(func(w *Wall) {
			w.Base, w.Right.Z = measure.Profile{pt(0, 150), pt(3000, 2400), pt(4000, 2400)}, span(2400, 2400)
		}), `
			vent strip, base: 0,150 to 3000,2400
			edge trim, left edge: 0,150 to 0,2400
			vent strip, top: 0,2400 to 3000,2400`},
		{"a verge", with(func(w *Wall) {
			w.Top, w.Verge = measure.Profile{pt(0, 2400), pt(2000, 3900), pt(4000, 2400)}, true
		}), `
			starter, base: 0,150 to 4000,150
			vent strip, base: 0,150 to 4000,150
			edge trim, left edge: 0,150 to 0,2400
			external corner, right edge: 4000,150 to 4000,2400
			vent strip, top: 0,2400 to 2000,3900
			edge trim, verge: 0,2400 to 2000,3900
			vent strip, top: 2000,3900 to 4000,2400
			edge trim, verge: 2000,3900 to 4000,2400`},
	} {
		var want []string
		for _, l := range strings.Split(c.want, "\n") {
			if l = strings.TrimSpace(l); l != "" {
				want = append(want, l)
			}
		}
		if got := listing(Lines(c.wall)); !slices.Equal(got, want) {
			t.Errorf("%s:\ngot  %s\nwant %s", c.name, strings.Join(got, "\n     "), strings.Join(want, "\n     "))
		}
	}
}

// A verge's length is along the slope: 2,000 by 1,500 is the 3-4-5 triangle.
func TestSlopeLength(t *testing.T) {
	lines := Lines(with(func(w *Wall) { w.Top, w.Verge = measure.Profile{pt(0, 2400), pt(2000, 3900), pt(4000, 2400)}, true }))
	for _, l := range lines {
		if l.Where == "verge" && l.Length != mm(2500) {
			t.Errorf("got %v, want 2500", l.Length)
		}
		if l.Upright() != (l.From.X == l.To.X) {
			t.Errorf("%v: upright is %v", l, l.Upright())
		}
	}
}

// Joints of 6,500 in stock of 3,000 by hand: 3 lengths, 2,500 to spare. At 3,000
// and 6,000; a board joint at 3,050 with 100 to keep sends the first back to
// 2,950, and the second follows at 5,950. One at 5,960 as well sends that to
// 5,860. Joints all along leave no place: the length stays full.
func TestJoin(t *testing.T) {
	all := func() (out []measure.Length) {
		for x := int64(0); x < 6500; x += 150 {
			out = append(out, mm(x))
		}
		return out
	}
	for _, c := range []struct {
		name          string
		length, stock int64
		avoid         []measure.Length
		want          []measure.Length
	}{
		{"fits", 2400, 3000, nil, []measure.Length{mm(2400)}},
		{"just fits", 3000, 3000, nil, []measure.Length{mm(3000)}},
		{"no stock length known", 9000, 0, nil, []measure.Length{mm(9000)}},
		{"full lengths and the rest", 6500, 3000, nil, []measure.Length{mm(3000), mm(3000), mm(500)}},
		{"clear of a board joint", 6500, 3000, []measure.Length{mm(3050)}, []measure.Length{mm(2950), mm(3000), mm(550)}},
		{"clear of two", 6500, 3000, []measure.Length{mm(3050), mm(5960)}, []measure.Length{mm(2950), mm(2910), mm(640)}},
		{"a joint just as far as asked", 6500, 3000, []measure.Length{mm(3100)}, []measure.Length{mm(3000), mm(3000), mm(500)}},
		{"no room at all", 6500, 3000, all(), []measure.Length{mm(3000), mm(3000), mm(500)}},
		{"nothing to spare", 6000, 3000, []measure.Length{mm(3000)}, []measure.Length{mm(3000), mm(3000)}},
	} {
		if got := Join(mm(c.length), mm(c.stock), Seats{Avoid: c.avoid, Keep: mm(100)}); !slices.Equal(got, c.want) {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
}

// battens are those of a strip of 6,500: the first, and each 600 from there.
func battens(first int64) (out []measure.Length) {
	for x := first; x < 6500; x += 600 {
		out = append(out, mm(x))
	}
	return out
}

// Strips across battens at 75 and each 600 from there, by hand. 6,500 in stock of
// 3,000, 2,500 to spare: the farthest batten within 3,000 is 2,475, the next within
// 5,475 that itself, and 1,025 are left. Boards jointed at 2,475 send the first to
// 1,875, from there to 4,875 and 1,625; jointed at 2,475, 1,875, 1,275 and 675 as
// well they leave no batten that is clear within 500 to 3,000: it stays on 2,475. A
// line of 5,900 has 100 to spare, none of which reaches a batten from 3,000: a full
// length. One of 5,950 in stock of 2,975 has nothing to spare. At 3,000 exactly a
// batten is in reach.
func TestJoinOnBattens(t *testing.T) {
	for _, c := range []struct {
		name          string
		length, stock int64
		first         int64
		avoid         []measure.Length
		want          []measure.Length
	}{
		{"each on a batten", 6500, 3000, 75, nil, []measure.Length{mm(2475), mm(3000), mm(1025)}},
		{"off a board joint", 6500, 3000, 75, []measure.Length{mm(2475)}, []measure.Length{mm(1875), mm(3000), mm(1625)}},
		{"board joints on every batten", 6500, 3000, 75, battens(75), []measure.Length{mm(2475), mm(3000), mm(1025)}},
		{"no batten in reach", 5900, 3000, 75, nil, []measure.Length{mm(3000), mm(2900)}},
		{"nothing to spare", 5950, 2975, 75, nil, []measure.Length{mm(2975), mm(2975)}},
		{"a batten at the full length", 6500, 3000, 600, nil, []measure.Length{mm(3000), mm(3000), mm(500)}},
		{"fits", 2400, 3000, 75, nil, []measure.Length{mm(2400)}},
	} {
		if got := Join(mm(c.length), mm(c.stock), Seats{On: battens(c.first), Avoid: c.avoid, Keep: mm(100)}); !slices.Equal(got, c.want) {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
}

// No piece shorter than 300 by hand, stock of 3,000. A corner of 3,076: 76 would be
// left, so the first length gives up 224. One of 6,076: the second does. A strip of
// 6,162 on battens at 75 and each 600 from there: joined at 2,475, then 5,475 is the
// farthest and leaves 687. On battens at 600 from 600: 3,000, then 6,000 would leave
// 162 and 5,400 leaves 762. Boards jointed on 5,400 send it to 4,800, and 1,362 are
// left; jointed on all of them it stays on 5,400. Of a single batten at 2,950 in a
// strip of 3,100 the piece of 150 is what puts the joint on it. A board jointed at
// 2,850 lets the corner end clear of it, at 2,750. Where stock of 500 makes a line of
// 590 two lengths, neither can be 300: 295 each.
func TestJoinLeavesNoShortPiece(t *testing.T) {
	for _, c := range []struct {
		name          string
		length, stock int64
		on, avoid     []measure.Length
		want          []measure.Length
	}{
		{"one length and a bit", 3076, 3000, nil, nil, []measure.Length{mm(2776), mm(300)}},
		{"two lengths and a bit", 6076, 3000, nil, nil, []measure.Length{mm(3000), mm(2776), mm(300)}},
		{"long enough as it is", 3300, 3000, nil, nil, []measure.Length{mm(3000), mm(300)}},
		{"battens that leave no short one", 6162, 3000, battens(75), nil, []measure.Length{mm(2475), mm(3000), mm(687)}},
		{"the batten before", 6162, 3000, battens(600), nil, []measure.Length{mm(3000), mm(2400), mm(762)}},
		{"off a board joint too", 6162, 3000, battens(600), []measure.Length{mm(5400)}, []measure.Length{mm(3000), mm(1800), mm(1362)}},
		{"board joints on every batten", 6162, 3000, battens(600), battens(600), []measure.Length{mm(3000), mm(2400), mm(762)}},
		{"rather short than off its only batten", 3100, 3000, []measure.Length{mm(2950)}, nil, []measure.Length{mm(2950), mm(150)}},
		{"clear of a board joint and long enough", 3076, 3000, nil, []measure.Length{mm(2850)}, []measure.Length{mm(2750), mm(326)}},
		{"no room for the least", 590, 500, nil, nil, []measure.Length{mm(295), mm(295)}},
	} {
		if got := Join(mm(c.length), mm(c.stock), Seats{On: c.on, Avoid: c.avoid, Keep: mm(100), Least: mm(300)}); !slices.Equal(got, c.want) {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
}

// The first joint of a line is never off a batten where one lies in reach with
// the fewest lengths: every batten is tried.
func TestJoinMissesNoBatten(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	on := 0
	for range 4000 {
		length, stock := mm(1000+r.Int64N(9000)), mm(900+r.Int64N(2500))
		seats := Seats{Keep: mm(100)}
		for x := r.Int64N(600); x < 10000; x += 300 + r.Int64N(400) {
			seats.On = append(seats.On, mm(x))
		}
		for range r.IntN(4) {
			seats.Avoid = append(seats.Avoid, seats.On[r.IntN(len(seats.On))])
		}
		got := Join(length, stock, seats)
		fewest := int((length + stock - 1) / stock)
		if len(got) != fewest {
			t.Fatalf("%v of %v: %d lengths, want %d", length, stock, len(got), fewest)
		}
		if fewest == 1 {
			continue
		}
		reach := func(p measure.Length) bool {
			return 0 < p && p <= stock && (length-p+stock-1)/stock <= measure.Length(fewest-1)
		}
		best := slices.ContainsFunc(seats.On, func(p measure.Length) bool { return reach(p) && !slices.Contains(seats.Avoid, p) })
		some := slices.ContainsFunc(seats.On, reach)
		if is := slices.Contains(seats.On, got[0]); is != some || best && slices.Contains(seats.Avoid, got[0]) {
			t.Fatalf("%v of %v on %v, off %v: joined at %v", length, stock, seats.On, seats.Avoid, got[0])
		} else if is {
			on++
		}
	}
	if on < 2000 {
		t.Errorf("only %d joints on a batten", on)
	}
}

// Whatever is asked, the lengths make up the line, none is longer than stock,
// and there are as few as can be.
func TestJoinMakesTheLine(t *testing.T) {
	for n := int64(1); n < 4000; n++ {
		length, stock := mm(n*37%20000+1), mm(n*53%4000+500)
		avoid := []measure.Length{mm(n * 71 % 9000), mm(n * 91 % 9000), mm(n * 13 % 9000)}
		got := Join(length, stock, Seats{Avoid: avoid, Keep: mm(100), Least: mm(300)})
		sum := measure.Length(0)
		for _, l := range got {
			if l <= 0 || l > stock || len(got) > 1 && l < min(mm(300), length/measure.Length(len(got))-measure.Tenth) {
				t.Fatalf("%v of %v: a length of %v", length, stock, l)
			}
			sum += l
		}
		if fewest := (length + stock - 1) / stock; sum != length || len(got) != int(fewest) {
			t.Fatalf("%v of %v: got %v, a sum of %v", length, stock, got, sum)
		}
	}
}

// randomWall has up to five openings side by side between a level base and a
// level top, each with its own way of standing on the one or reaching the other.
func randomWall(r *rand.Rand) Wall {
	at := func(lo, hi int64) measure.Length { return mm(lo + r.Int64N(hi-lo)) }
	width := at(1000, 12000)
	x := measure.Span{Lo: 0, Hi: width}
	w := Wall{Base: measure.Level(x, mm(150)), Top: measure.Level(x, mm(2400)), Vented: true,
		Left: Side{ExternalCorner, span(150, 2400)}, Right: Side{EdgeTrim, span(0, 2400)}}
	for left := at(50, 900); ; {
		o := Opening{Name: fmt.Sprint(len(w.Openings)), X: measure.Span{Lo: left, Hi: left + at(300, 2000)},
			Z: span(900, 2100), Lined: r.IntN(3) == 0, AtBase: r.IntN(3) == 0, AtTop: r.IntN(4) == 0}
		if o.AtBase {
			o.Z.Lo = mm(150)
		} else if r.IntN(2) == 0 {
			o.Sill, o.Down, o.Gap = Rect{o.X.Grow(mm(50)), span(900, 950)}, mm(45), mm(10)
		}
		if o.AtTop {
			o.Z.Hi = mm(2400)
		}
		if max(o.X.Hi, o.Sill.X.Hi) >= width || len(w.Openings) == 5 {
			return w
		}
		w.Openings = append(w.Openings, o)
		left = o.X.Hi + at(150, 1500)
	}
}

// Metres of every role by sums over the openings, apart from where lines lie:
// what a bill would reckon.
func TestMetresAddUp(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for n := range 3000 {
		w := randomWall(r)
		width := w.Base.Extent().Length()
		want := map[Role]measure.Length{
			Starter: width, VentStrip: 2 * width, ExternalCorner: w.Left.Z.Length(), EdgeTrim: w.Right.Z.Length()}
		for _, o := range w.Openings {
			across, jambs, frames := o.X.Length(), 2*(o.Z.Length()+o.Down), 2*o.Z.Length()
			if o.Sill.Z.Length() > 0 { // horns 50 high, with a gap of 10 above
				jambs, frames = 2*o.Z.Length()-mm(2*60), frames-mm(2*60)
				want[EdgeTrim] += 2 * (o.Down + mm(60))
			}
			if o.AtBase {
				want[Starter] -= across
				want[VentStrip] -= across
			} else {
				want[VentStrip] += max(across, o.Sill.X.Length())
			}
			head := across
			if o.AtTop {
				want[VentStrip] -= across
				head = 0
			}
			want[Starter] += head
			want[VentStrip] += head
			if !o.Lined {
				want[EdgeTrim] += jambs
				continue
			}
			want[UnequalCorner] += jambs + head
			want[FrameTrim] += frames + head
		}
		got := map[Role]measure.Length{}
		for _, l := range Lines(w) {
			got[l.Role] += l.Length
			if l.Length <= 0 || l.From.X > l.To.X || l.From.Z > l.To.Z {
				t.Fatalf("wall %d: %v runs backwards or nowhere", n, l)
			}
		}
		for role, length := range want {
			if got[role] != length {
				t.Fatalf("wall %d: %s: got %v, want %v of %+v", n, role, got[role], length, w)
			}
		}
	}
}

// A mirrored wall takes the same lengths of every role.
func TestMirroredTakesTheSame(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	sum := func(w Wall) map[Role]measure.Length {
		out := map[Role]measure.Length{}
		for _, l := range Lines(w) {
			out[l.Role] += l.Length
		}
		return out
	}
	for range 500 {
		w := randomWall(r)
		end := w.Base.Extent().Hi
		turn := func(s measure.Span) measure.Span { return measure.Span{Lo: end - s.Hi, Hi: end - s.Lo} }
		m := w
		m.Left, m.Right, m.Openings = w.Right, w.Left, nil
		for _, o := range slices.Backward(w.Openings) {
			o.X, o.Sill.X = turn(o.X), turn(o.Sill.X)
			m.Openings = append(m.Openings, o)
		}
		if got, want := fmt.Sprint(sum(m)), fmt.Sprint(sum(w)); got != want {
			t.Fatalf("got %s, want %s of %+v", got, want, w)
		}
	}
}
