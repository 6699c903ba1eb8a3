package report

import (
	"strings"
	"testing"

	"lapwright/engine"
)

// TestPanelAsks: what the engine could not settle about a piece stands on the
// sheet that goes up the scaffold, not only in the office's list of flags.
func TestPanelAsks(t *testing.T) {
	res := fixture()
	w := &res.Walls[0]
	if said := strings.Join(panelLines(w, res), "\n"); strings.Contains(said, "ASK") || strings.Contains(said, "Outline") || !strings.Contains(said, "1 check on this wall") {
		t.Errorf("before: %s", said)
	}
	w.Pieces[0].Unfixed = []string{"held by fewer than two fixings"}
	w.Pieces[3].Unfixed = []string{"a fixing would go through the board below", "held by fewer than two fixings"}
	w.Pieces[1].Stock = "B1; B2; B7"
	w.Fixings = append(w.Fixings, engine.FixingRow{Role: engine.RoleBattenFixing, Fixing: "BF-9"}, engine.FixingRow{Role: engine.RoleTrimFixing, Fixing: "TF-9"})
	said := strings.Join(panelLines(w, res), "\n")
	for _, want := range []string{
		"ASK before fixing A1.1, A2.2: held by fewer than two fixings.",
		"ASK before fixing A2.2: a fixing would go through the board below.",
		"Batten fixings BF-9: at both ends of a batten and at most 400 mm apart.",
		"Trim fixings TF-9: starters, vent strips and verge trims on the battens they cross, 300 mm apart where battens allow;", // as they are counted: over a head no timber is behind the ends
		"other trims at most 300 mm apart",
		"Board B5+2 means",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("the panel does not say %q:\n%s", want, said)
		}
	}
}

// Screws in sight are named by their pieces and battens, so that whoever fixes them
// knows which to take: of the top course all three, of the one below the one under
// the sill.
func TestInSight(t *testing.T) {
	w := houseWall() // pieces A1.1 A1.2 A2.1 A2.2 A3.1 A3.2
	w.Screws = []engine.Screw{
		{Piece: 4, Batten: 0, Visible: true}, {Piece: 4, Batten: 3, Visible: true}, {Piece: 5, Batten: 7, Visible: true},
		{Piece: 2, Batten: 0}, {Piece: 2, Batten: 1, Visible: true}, {Piece: 2, Batten: 1, Visible: true, Kind: "joint"}, {Piece: 2, Batten: 2, Visible: true},
		{Piece: 0, Batten: 0},
	}
	if got, want := inSight(&w), "all of course 3; A2.1 at b2, b3"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	said := strings.Join(careLines(&w), "\n")
	if want := "Left in sight: 6 screws; use the colour-matched ones: all of course 3; A2.1 at b2, b3."; !strings.Contains(said, want) {
		t.Errorf("the panel does not say %q:\n%s", want, said)
	}
}

// TestFirstStock keeps the boards of walls built many times to their column.
func TestFirstStock(t *testing.T) {
	for in, want := range map[string]string{"": "", "B7": "B7", "B7; B12": "B7+1", "B230; B231; B232; B238": "B230+3"} {
		if got := firstStock(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}

// TestBoardScrewsAreNamed: the screw that holds the boards is said on every sheet,
// also where all that stay in sight go through packers.
func TestBoardScrewsAreNamed(t *testing.T) {
	hidden, seen := engine.FixingRow{Role: engine.RoleScrew, Fixing: "S40"}, engine.FixingRow{Role: engine.RoleVisibleScrew, Fixing: "V40"}
	packed := engine.FixingRow{Role: engine.RoleVisibleScrew, Fixing: "V50", Packers: span2(4, 10)}
	through := []engine.Packing{{}}
	for _, tt := range []struct {
		rows     []engine.FixingRow
		packings []engine.Packing
		want     string
	}{
		{[]engine.FixingRow{hidden}, nil, "Board screws S40."},
		{[]engine.FixingRow{hidden, seen}, nil, "Board screws S40; those left in sight V40."},
		{[]engine.FixingRow{hidden, packed}, through, "Board screws S40; those through packers by the list Packers."},
		{[]engine.FixingRow{hidden, seen, packed}, through, "Board screws S40; those left in sight V40; those through packers by the list Packers."},
		{[]engine.FixingRow{hidden}, []engine.Packing{{Foot: true}}, "Board screws S40."},
		{[]engine.FixingRow{seen}, nil, "Board screws: those left in sight V40."},
		{nil, through, ""},
	} {
		rules := engine.DefaultRules()
		if got := strings.Join(fixingLines(&engine.WallResult{Fixings: tt.rows, Packings: tt.packings}, &rules), "\n"); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}

// TestSpliceLines: a batten of two lengths is one line of timber: they touch, and
// each is held at the joint. One that an opening interrupts is no such.
func TestSpliceLines(t *testing.T) {
	w := houseWall()
	add := func(mark string, x, from, to int64) {
		w.Battens = append(w.Battens, engine.Batten{Mark: "A-" + mark, Centre: mmOf(x), Width: mmOf(50), Z: span2(from, to)})
	}
	add("b9", 25, 590, 900)
	add("b10", 589, 600, 900)
	add("b11", 1153, 590, 900)
	got := strings.Join(spliceLines(&w), "\n")
	if want := "Battens of two lengths (at 590 mm b1 and b9, b3 and b11): the upper stands tight on the lower,"; !strings.HasPrefix(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	whole := houseWall()
	if got := spliceLines(&whole); got != nil {
		t.Errorf("of whole battens is said %q", got)
	}
}
