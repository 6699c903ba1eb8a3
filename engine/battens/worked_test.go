package battens

import (
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// same compares lines with what was worked out by hand: centre, width, why,
// bay and the spans, millimetres.
func same(t *testing.T, got []Line, want []Line) {
	t.Helper()
	for i := range max(len(got), len(want)) {
		switch {
		case i >= len(got):
			t.Errorf("line %d: got none, want %v", i, want[i])
		case i >= len(want):
			t.Errorf("line %d: got %v, want none", i, got[i])
		case got[i].Centre != want[i].Centre || got[i].Width != want[i].Width || got[i].Why != want[i].Why ||
			got[i].Bay != want[i].Bay || !slices.Equal(got[i].Spans, want[i].Spans):
			t.Errorf("line %d: got %v, want %v", i, got[i], want[i])
		}
	}
}

// board is a board over the same heights everywhere.
func board(lo, hi int64) func(measure.Length) measure.Span {
	return func(measure.Length) measure.Span { return span(lo, hi) }
}

func half(n int64) measure.Length { return mm(n) / 2 }

// TestThreeWindows: 9,000 wide, corner at the left, open at the right, 600
// centres, battens from 140 to 2,755. Openings with their gaps: 990..2,210 by
// 890..2,110, 3,590..4,210 by 1,290..2,110 and a door 6,390..7,410 up to 2,110.
//
// Edges: corner 75 wide, middle 37.5; the right one 50 wide, middle 8,975.
// Jambs, 75 wide, middle 37.5 from the face: 952.5, 2,247.5, 3,552.5, 4,247.5,
// 6,352.5, 7,447.5, all the way up.
// Grid from 37.5: 637.5, 1,237.5, ... A batten for a joint takes 37.5 to each
// side, so a grid batten closer than 75 to a jamb batten's middle is in its
// way. 637.5 to 952.5: 315, clear. 1,237.5 and 1,837.5 lie in the first
// opening: two spans. 2,437.5: 190 from 2,247.5. 3,037.5. 3,637.5: 85 from
// 3,552.5, clear, in the second opening. 4,237.5: 10 from 4,247.5, in the way:
// without it 4,247.5 to 4,837.5 is 590, but 3,637.5 to 4,247.5 is 610, too
// far; so it moves off to its own side, to 4,247.5 - 75 = 4,172.5, and 75 on, to
// 4,097.5, not to stand against it: that leaves 460 to 3,637.5, more than three
// quarters of a bay. 4,837.5, 5,437.5, 6,037.5: clear. 6,637.5 and 7,237.5 over the door. 7,837.5,
// 8,437.5; 9,037.5 is past the end; 8,437.5 to 8,975 is 537.5.
func TestThreeWindows(t *testing.T) {
	w := threeWindows()
	full := []measure.Span{span(140, 2755)}
	first, second := []measure.Span{span(140, 890), span(2110, 2755)}, []measure.Span{span(140, 1290), span(2110, 2755)}
	door := []measure.Span{span(2110, 2755)}
	same(t, w.Lines(), []Line{
		{half(75), mm(75), AtCorner, 0, full, nil, measure.Span{}},
		{half(1275), mm(50), AtGrid, 1, full, nil, measure.Span{}},
		{half(1905), mm(75), AtJamb, -1, full, nil, measure.Span{}},
		{half(2475), mm(50), AtGrid, 2, first, nil, measure.Span{}},
		{half(3675), mm(50), AtGrid, 3, first, nil, measure.Span{}},
		{half(4495), mm(75), AtJamb, -1, full, nil, measure.Span{}},
		{half(4875), mm(50), AtGrid, 4, full, nil, measure.Span{}},
		{half(6075), mm(50), AtGrid, 5, full, nil, measure.Span{}},
		{half(7105), mm(75), AtJamb, -1, full, nil, measure.Span{}},
		{half(7275), mm(50), AtGrid, 6, second, nil, measure.Span{}},
		{half(8195), mm(50), AtGrid, 7, second, nil, measure.Span{}},
		{half(8495), mm(75), AtJamb, -1, full, nil, measure.Span{}},
		{half(9675), mm(50), AtGrid, 8, full, nil, measure.Span{}},
		{half(10875), mm(50), AtGrid, 9, full, nil, measure.Span{}},
		{half(12075), mm(50), AtGrid, 10, full, nil, measure.Span{}},
		{half(12705), mm(75), AtJamb, -1, full, nil, measure.Span{}},
		{half(13275), mm(50), AtGrid, 11, door, nil, measure.Span{}},
		{half(14475), mm(50), AtGrid, 12, door, nil, measure.Span{}},
		{half(14895), mm(75), AtJamb, -1, full, nil, measure.Span{}},
		{half(15675), mm(50), AtGrid, 13, full, nil, measure.Span{}},
		{half(16875), mm(50), AtGrid, 14, full, nil, measure.Span{}},
		{mm(8975), mm(50), AtEdge, -1, full, nil, measure.Span{}},
	})
	// A board over 825..1,000 cannot joint on lines 3 and 4, in the first
	// opening's height, nor over the door; it can in the second opening, whose
	// sill is at 1,290.
	if got, want := Sites(w.Lines(), board(825, 1000), 0), []int{1, 6, 7, 9, 10, 12, 13, 14, 19, 20}; !slices.Equal(got, want) {
		t.Errorf("sites: got %v, want %v", got, want)
	}
}

func threeWindows() Wall {
	x := span(0, 9000)
	return Wall{
		Span: x, Base: measure.Level(x, mm(140)), Top: measure.Level(x, mm(2755)),
		Zones: []Zone{{x, mm(600)}}, Width: mm(50), Wide: mm(75), Left: CornerEdge,
		Voids: []Void{
			{X: span(990, 2210), Z: span(890, 2110)},
			{X: span(3590, 4210), Z: span(1290, 2110)},
			{X: span(6390, 7410), Z: span(-10, 2110)},
		},
	}
}

// TestGable: 3,000 wide, eaves 1,500, apex 3,000 in the middle: the top rises
// 1 in 1. Edge battens 50 wide end at 1,500, the lower of their two corners.
// Grid from 25: 625, whose left corner is at 600: 1,500 + 600 = 2,100; 1,225:
// 1,200, so 2,700; 1,825: its right corner at 1,850 is 1,150 from the right
// end: 2,650; 2,425: 550: 2,050. 3,025 is past the end.
func TestGable(t *testing.T) {
	x := span(0, 3000)
	w := Wall{
		Span: x, Base: measure.Level(x, mm(140)),
		Top:   measure.Profile{{X: 0, Z: mm(1500)}, {X: mm(1500), Z: mm(3000)}, {X: mm(3000), Z: mm(1500)}},
		Zones: []Zone{{x, mm(600)}}, Width: mm(50), Wide: mm(75),
	}
	to := func(z int64) []measure.Span { return []measure.Span{span(140, z)} }
	same(t, w.Lines(), []Line{
		{mm(25), mm(50), AtEdge, 0, to(1500), nil, measure.Span{}},
		{mm(625), mm(50), AtGrid, 1, to(2100), nil, measure.Span{}},
		{mm(1225), mm(50), AtGrid, 2, to(2700), nil, measure.Span{}},
		{mm(1825), mm(50), AtGrid, 3, to(2650), nil, measure.Span{}},
		{mm(2425), mm(50), AtGrid, 4, to(2050), nil, measure.Span{}},
		{mm(2975), mm(50), AtEdge, -1, to(1500), nil, measure.Span{}},
	})
}

// TestZones: 3,000 wide, 400 up to 1,000, then 600. From 25: 425, 825; the
// next bay lies partly in the 400 zone, so 1,225; then 1,825, 2,425, and the
// edge at 2,975. Turned round, 600 up to 1,000, then 400: 625; the next may
// reach 1,000 at least, and 625 + 400 = 1,025 keeps both; 1,425, 1,825, 2,225,
// 2,625.
func TestZones(t *testing.T) {
	x := span(0, 3000)
	for _, test := range []struct {
		centres [2]int64
		want    []int64
	}{
		{[2]int64{400, 600}, []int64{25, 425, 825, 1225, 1825, 2425, 2975}},
		{[2]int64{600, 400}, []int64{25, 625, 1025, 1425, 1825, 2225, 2625, 2975}},
		{[2]int64{600, 300}, []int64{25, 625, 1000, 1300, 1600, 1900, 2200, 2500, 2800, 2975}},
	} {
		w := Wall{
			Span: x, Base: measure.Level(x, 0), Top: measure.Level(x, mm(2400)), Width: mm(50), Wide: mm(75),
			Zones: []Zone{{span(0, 1000), mm(test.centres[0])}, {span(1000, 3000), mm(test.centres[1])}},
		}
		var got []int64
		for _, l := range w.Lines() {
			got = append(got, int64(l.Centre/measure.Millimetre))
		}
		if !slices.Equal(got, test.want) {
			t.Errorf("centres %v: got %v, want %v", test.centres, got, test.want)
		}
	}
}

// TestPiers: between two openings of one height. 200: a jamb batten at each
// face. 149: two of 75 do not fit, one in the middle, 1,074.5, to the millimetre.
// 60: one ripped to 60. 10: none; those above and below the openings stand side by
// side: the one left of the face at 1,010 would cover 935..1,010 and stops at
// 1,000, which leaves 65, its middle at 967.5: at 64, 935..999, it is at 967.
func TestPiers(t *testing.T) {
	for _, test := range []struct {
		pier   int64
		widths []int64
		first  measure.Length
	}{
		{200, []int64{75, 75}, half(2075)},
		{149, []int64{75}, mm(1074)},
		{60, []int64{60}, mm(1030)},
		{10, []int64{64, 75}, mm(967)},
	} {
		x := span(0, 3000)
		w := Wall{
			Span: x, Base: measure.Level(x, 0), Top: measure.Level(x, mm(2400)), Width: mm(50), Wide: mm(75),
			Zones: []Zone{{x, mm(5000)}},
			Voids: []Void{{X: span(400, 1000), Z: span(900, 2000)}, {X: span(1000+test.pier, 2500), Z: span(900, 2000)}},
		}
		var got []int64
		first := measure.Length(0)
		for _, l := range w.Lines() {
			if l.Why == AtJamb && l.Centre > mm(900) && l.Centre < mm(1300) {
				if got = append(got, int64(l.Width/measure.Millimetre)); first == 0 {
					first = l.Centre
				}
			}
		}
		if !slices.Equal(got, test.widths) || first != test.first {
			t.Errorf("pier of %d: got widths %v from %v, want %v from %v", test.pier, got, first, test.widths, test.first)
		}
	}
}

// TestSteppedBase: 2,400 wide, the base steps from 140 to 545 at 1,000, where
// no batten stands; a batten across the step starts at its upper side: the one
// at 1,000 covers 975..1,025. First at 400: back to the left edge is 375, on to
// 1,000, 1,600, 2,200; the edge at 2,375 is 175 on.
func TestSteppedBase(t *testing.T) {
	x := span(0, 2400)
	w := Wall{
		Span: x, Base: measure.Profile{{X: 0, Z: mm(140)}, {X: mm(1000), Z: mm(140)}, {X: mm(1000), Z: mm(545)}, {X: mm(2400), Z: mm(545)}},
		Top: measure.Level(x, mm(1540)), Zones: []Zone{{x, mm(600)}}, Width: mm(50), Wide: mm(75), First: measure.Some(mm(400)),
	}
	from := func(z int64) []measure.Span { return []measure.Span{span(z, 1540)} }
	same(t, w.Lines(), []Line{
		{mm(25), mm(50), AtEdge, -1, from(140), nil, measure.Span{}},
		{mm(400), mm(50), AtGrid, 0, from(140), nil, measure.Span{}},
		{mm(1000), mm(50), AtGrid, 1, from(545), nil, measure.Span{}},
		{mm(1600), mm(50), AtGrid, 2, from(545), nil, measure.Span{}},
		{mm(2200), mm(50), AtGrid, 3, from(545), nil, measure.Span{}},
		{mm(2375), mm(50), AtEdge, -1, from(545), nil, measure.Span{}},
	})
}

// TestJambsStopWhereTheyAreNotWanted: the three windows again, their jamb battens
// wanted from 150 below each sill to 150 above each head. Grid and jambs as
// before: 37.5, 637.5, 952.5 j, 1,237.5, 1,837.5, 2,247.5 j, 2,437.5, 3,037.5,
// 3,552.5 j, 3,637.5, 4,172.5, 4,247.5 j, 4,837.5 ... 6,037.5, 6,352.5 j,
// 6,637.5, 7,237.5, 7,447.5 j, 7,837.5.
// Without 952.5 the bay is 637.5 to 1,237.5, 600: it is spared above and below,
// so from 890 - 150 = 740 to 2,110 + 150 = 2,260. Without 2,247.5: 1,837.5 to
// 2,437.5, 600, spared. 3,552.5: 3,037.5 to 3,637.5, 600: spared, 1,140 to 2,260.
// 4,247.5: 4,172.5 to 4,837.5 is 665: it stays all the way. 6,352.5: 6,037.5 to
// 6,637.5: spared above the door, and there is nothing below it. 7,447.5: 7,237.5
// to 7,837.5: the same.
func TestJambsStopWhereTheyAreNotWanted(t *testing.T) {
	w := threeWindows()
	for i := range w.Voids {
		w.Voids[i].Hold = w.Voids[i].Z.Grow(mm(150))
	}
	got := map[measure.Length][]measure.Span{}
	for _, l := range w.Lines() {
		if l.Why == AtJamb {
			got[l.Centre] = l.Spans
		}
	}
	for centre, want := range map[measure.Length]measure.Span{
		half(1905): span(740, 2260), half(4495): span(740, 2260), half(7105): span(1140, 2260),
		half(8495): span(140, 2755), half(12705): span(140, 2260), half(14895): span(140, 2260),
	} {
		if s := got[centre]; len(s) != 1 || s[0] != want {
			t.Errorf("jamb at %v: got %v, want %v", centre, s, want)
		}
	}
	// Everything else stands as it did.
	for i, l := range threeWindows().Lines() {
		if o := w.Lines()[i]; o.Centre != l.Centre || l.Why != AtJamb && !slices.Equal(o.Spans, l.Spans) {
			t.Errorf("line %d: got %v, want %v", i, o, l)
		}
	}
}

// TestStepNarrowsUnderASlope: 3,000 wide, the top rises 1 in 1 from 2,000 to 3,500
// in the middle and falls again; the base steps from 140 up to 545 at 1,462.5, where
// the lower boards end on a batten of 75 at 1,425 that is wanted up to 725. First
// at 300: the grid goes 25 (edge), 300, 900, 1,500, which is just 37.5 from the
// step's batten; 900 to 1,500 is 600, so that is spared above 725. First at 250:
// 850, 1,450, which is in its way and moves to 1,462.5 + 37.5 = 1,500: without the
// step's batten 850 to 1,500 would be 650. So it goes all the way up, to the lower
// of its sides, 1,387.5: 3,387.5. A board fixed at 3,395 is held by a normal one
// only, whose sides are 1,400 and 1,450: 3,400.
func TestStepNarrowsUnderASlope(t *testing.T) {
	x := span(0, 3000)
	w := Wall{
		Span: x, Base: measure.Profile{{X: 0, Z: mm(140)}, {X: half(2925), Z: mm(140)}, {X: half(2925), Z: mm(545)}, {X: mm(3000), Z: mm(545)}},
		Top:   measure.Profile{{X: 0, Z: mm(2000)}, {X: mm(1500), Z: mm(3500)}, {X: mm(3000), Z: mm(2000)}},
		Zones: []Zone{{x, mm(600)}}, Width: mm(50), Wide: mm(75),
		Steps: []Step{{X: half(2925), Z: span(140, 545), Hold: span(0, 725)}},
	}
	step := func(first int64) Line {
		w.First = measure.Some(mm(first))
		lines := w.Lines()
		return lines[slices.IndexFunc(lines, func(l Line) bool { return l.Why == AtStep })]
	}
	wide := func(hi measure.Length) Line {
		return Line{mm(1425), mm(75), AtStep, -1, []measure.Span{{Lo: mm(140), Hi: hi}}, nil, measure.Span{}}
	}
	same(t, []Line{step(300)}, []Line{wide(mm(725))})
	l := step(250)
	same(t, []Line{l}, []Line{wide(half(6775))})
	same(t, w.Narrow(l, []measure.Length{mm(3385)}), []Line{wide(half(6775))})
	same(t, w.Narrow(l, []measure.Length{mm(3395)}), []Line{wide(mm(725)), {mm(1425), mm(50), AtGrid, -1, []measure.Span{span(725, 3400)}, nil, measure.Span{}}})
	same(t, w.Narrow(l, []measure.Length{mm(3399)}), []Line{wide(half(6775))}) // neither
}

// TestWidenUnderASlope: 6,000 wide, eaves 4,880, apex 7,240 in the middle, so the
// top rises 2,360 in 3,000. The grid batten at 3,038, 50 wide, reaches 63 beyond
// the apex: 7,240 - 63 x 2,360 / 3,000 = 7,190.44; 75 wide it reaches 75.5 and
// ends at 7,240 - 59.393 = 7,180.607 (both to the micrometre below). A board at
// the apex is fixed at 7,184.6, which only the normal batten reaches: it goes on
// above the boards that butt on the line up to 6,530. Where a fixing needs no
// more than the wide one gives, or less than 150 would be left above the joint,
// the batten is wide all the way.
func TestWidenUnderASlope(t *testing.T) {
	x := span(0, 6000)
	w := Wall{
		Span: x, Base: measure.Level(x, mm(150)),
		Top:   measure.Profile{{X: 0, Z: mm(4880)}, {X: mm(3000), Z: mm(7240)}, {X: mm(6000), Z: mm(4880)}},
		Zones: []Zone{{x, mm(600)}}, Width: mm(50), Wide: mm(75), First: measure.Some(mm(3038)),
	}
	lines := w.Lines()
	at := slices.IndexFunc(lines, func(l Line) bool { return l.Centre == mm(3038) })
	high := func(z float64) measure.Length { return measure.Length(z * 1000) }
	for _, test := range []struct {
		name     string
		butts    []measure.Span
		fixing   float64
		wide     float64
		narrowed bool
	}{
		{"as the board at the apex wants", []measure.Span{span(1500, 1680), span(6350, 6530)}, 7184.6, 6530, true},
		{"a fixing the wide one holds", []measure.Span{span(6350, 6530)}, 7178, 7180.606, false},
		{"a fixing neither holds", []measure.Span{span(6350, 6530)}, 7190, 7180.606, false},
		{"a joint 150 below the head", []measure.Span{span(6860, 7040)}, 7184.6, 7040, true},
		{"a joint 149 below the head", []measure.Span{span(6862, 7042)}, 7184.6, 7180.606, false},
	} {
		got := w.Widen(lines[at], test.butts, []measure.Length{high(test.fixing)})
		want := []Line{{mm(3038), mm(75), AtJoint, lines[at].Bay, []measure.Span{{Lo: mm(150), Hi: high(test.wide)}}, nil, measure.Span{}}}
		if test.narrowed {
			want = append(want, Line{mm(3038), mm(50), AtGrid, lines[at].Bay, []measure.Span{{Lo: high(test.wide), Hi: high(7190.44)}}, nil, measure.Span{}})
		}
		t.Run(test.name, func(t *testing.T) { same(t, got, want) })
	}
}

// TestSitesWantABatten: between a ridge below and a sill above 5 mm of batten
// are left at 685, the board there is 11 high, from 679 to 690: no place for a
// joint, though the batten stops short by no more than the 10 allowed. With 6 of
// 11 there is one.
func TestSitesWantABatten(t *testing.T) {
	for _, test := range []struct {
		from int64
		want []int
	}{{685, nil}, {684, []int{0}}} {
		s := []measure.Span{span(test.from, 690)}
		lines := []Line{{mm(1160), mm(50), AtGrid, 3, s, s, measure.Span{}}}
		if got := Sites(lines, board(679, 690), mm(10)); !slices.Equal(got, test.want) {
			t.Errorf("batten from %d: got %v, want %v", test.from, got, test.want)
		}
	}
}

func benchmarkLines(b *testing.B, walls ...Wall) {
	b.ReportAllocs()
	for b.Loop() {
		for _, w := range walls {
			w.Lines()
		}
	}
}

func BenchmarkLinesWall(b *testing.B) { benchmarkLines(b, threeWindows()) }
func BenchmarkLinesHouse(b *testing.B) {
	benchmarkLines(b, threeWindows(), threeWindows(), threeWindows(), threeWindows())
}

// TestBar: a grid batten at 1,000 made wide covers 962.5..1,037.5. A short one of 50
// at 1,062 begins at 1,037 and bars it, at all heights, as it would be wide all the
// way up; one at 1,063 begins at 1,038 and does not. Nor does one that stands where
// an opening leaves the grid batten out.
func TestBar(t *testing.T) {
	for _, test := range []struct {
		centre int64
		short  measure.Span
		sites  int
	}{{1062, span(500, 700), 0}, {1063, span(500, 700), 1}, {1062, span(2450, 2600), 1}} {
		lines := []Line{
			{Centre: mm(1000), Width: mm(50), Why: AtGrid, Bay: 1, Spans: []measure.Span{span(0, 2400)}, wide: []measure.Span{span(0, 2400)}},
			{Centre: mm(test.centre), Width: mm(50), Why: AtShort, Bay: -1, Spans: []measure.Span{test.short}},
		}
		Bar(lines, mm(75))
		if got := Sites(lines, board(1500, 1680), 0); len(got) != test.sites {
			t.Errorf("short batten at %d over %v: sites %v, want %d", test.centre, test.short, got, test.sites)
		}
	}
}

// A batten from 150 to 6,000 of stock of 3,000 would be spliced at 3,150, between
// boards fixed at 3,140 and 3,005, which are 135 apart as courses of that gauge are.
// 45 clear of the upper one is 3,095, which leaves 2,905; the lower one is 90 off.
// Up to 6,120 the splice has to be at 3,120 at least: it stays. Fixings 80 apart leave
// no place. A rest of 450 is less than 600 and shares with the length below: 3,150 +
// 450 = 3,600, cut in the middle, 1,725 up at 1,875; a fixing at 1,900 sends that to
// 1,855. Else it takes no more than it lacks: the splice is 600 below 3,600, at 3,000;
// a fixing at 3,010 sends that to 2,965.
func TestSpliceClearOfFixings(t *testing.T) {
	for _, c := range []struct {
		name        string
		top         int64
		evenly      bool
		fixings     []measure.Length
		first, last measure.Span
	}{
		{"clear below a fixing", 6000, false, []measure.Length{mm(3005), mm(3140)}, span(150, 3095), span(3095, 6000)},
		{"nothing near", 6000, true, []measure.Length{mm(3005), mm(3195)}, span(150, 3150), span(3150, 6000)},
		{"no shorter one would do", 6120, false, []measure.Length{mm(3005), mm(3140)}, span(150, 3150), span(3150, 6120)},
		{"no room", 6000, false, []measure.Length{mm(2980), mm(3060), mm(3140)}, span(150, 3150), span(3150, 6000)},
		{"even parts", 3600, true, []measure.Length{mm(1900)}, span(150, 1855), span(1855, 3600)},
		{"the least on top", 3600, false, nil, span(150, 3000), span(3000, 3600)},
		{"the least on top, clear", 3600, false, []measure.Length{mm(3010)}, span(150, 2965), span(2965, 3600)},
	} {
		got := Split(span(150, c.top), mm(3000), Splices{mm(600), c.fixings, mm(45), c.evenly})
		if len(got) != 2 || got[0] != c.first || got[1] != c.last {
			t.Errorf("%s: got %v, want %v and %v", c.name, got, c.first, c.last)
		}
	}
}

// A fixing keeps 20 from a head at 3,400: at 3,380, or as much higher as the head,
// cut to the millimetre, may be lower.
func TestReachesClearOfTheHead(t *testing.T) {
	w := Wall{End: mm(20)}
	l := Line{Centre: mm(600), Width: mm(50), Spans: []measure.Span{span(140, 3400)}}
	for z, want := range map[measure.Length]bool{mm(3380): true, mm(3380) + 999: true, mm(3381): false, mm(3399): false, mm(140): true, mm(139): false} {
		if got := w.Reaches(&l, z, mm(3400)); got != want {
			t.Errorf("%v: got %v, want %v", z, got, want)
		}
	}
}

// A grid batten that has to stand against one at a jamb moves on by the 75 of a wide
// batten, as far as three quarters of a bay, 450 of 600, are left to the next one
// beyond, and not to where it is in the way of another jamb. Against the jamb the two
// middles are 75 apart: of centres of 200 that bay has room for 125 more, of 120 for 45.
func TestGridBattensStandApartFromJambs(t *testing.T) {
	for _, c := range []struct{ centres, at, next, other, want int64 }{
		{600, 1000, 400, 5000, 925},
		{600, 1000, 460, 5000, 925}, // 540 less 450 are 90
		{600, 1000, 500, 5000, 950},
		{600, 1000, 550, 5000, 1000}, // 450 left already
		{600, 1000, 600, 5000, 1000},
		{600, 1000, 1600, 5000, 1075},
		{600, 1000, 400, 880, 1000}, // a jamb's batten from 842.5 to 917.5
		{200, 1000, 820, 5000, 970},
		{120, 1000, 900, 5000, 990}, // 10 more than 90 are left
	} {
		w := Wall{Span: span(0, 9000), Zones: []Zone{{span(0, 9000), mm(c.centres)}}, Width: mm(50), Wide: mm(75)}
		posts := []post{{x: measure.Span{Lo: mm(c.other) - half(75), Hi: mm(c.other) + half(75)}, limit: always()}}
		if got := w.apart(posts, mm(c.at), mm(c.next)); got != mm(c.want) {
			t.Errorf("centres %d, at %d, next %d, a jamb at %d: got %v, want %d", c.centres, c.at, c.next, c.other, got, c.want)
		}
	}
}
