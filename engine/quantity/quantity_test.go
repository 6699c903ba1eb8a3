package quantity

import "testing"

// The order arithmetic is that of a spreadsheet's ROUNDUP on decimal values;
// the expected figures are worked by hand.
func TestOrder(t *testing.T) {
	for _, c := range []struct {
		name              string
		net, spare, pack  float64
		order, packs, sum float64 // sum at a price of 2 a unit
	}{
		{"nothing", 0, 10, 1, 0, 0, 0},
		{"no spare", 41, 0, 1, 41, 41, 82},
		{"spare rounds up", 41, 5, 1, 44, 44, 88},      // 43.05
		{"70 with 10 % is 77", 70, 10, 1, 77, 77, 154}, // binary: 77.00000000000001
		{"packs round up", 205, 0, 100, 205, 3, 600},   // 2.05 packs
		{"a full pack stays one", 100, 0, 100, 100, 1, 200},
		{"part units", 3.2, 5, 5, 4, 1, 10}, // 3.36 -> 4
		{"no pack counts as one", 7, 0, 0, 7, 7, 14},
	} {
		order := Order(c.net, c.spare)
		packs := Packs(order, c.pack)
		if sum := Amount(packs, c.pack, 2); order != c.order || packs != c.packs || sum != c.sum {
			t.Errorf("%s: got order %v, packs %v, amount %v, want %v, %v, %v", c.name, order, packs, sum, c.order, c.packs, c.sum)
		}
	}
}

// An amount is the decimal number that multiplying by hand gives: 53 x 0.9 is
// 47.7, though in binary it is a hair less.
func TestAmountWithoutNoise(t *testing.T) {
	for _, c := range []struct{ packs, pack, price, want float64 }{
		{53, 1, 0.9, 47.7}, {3, 1, 0.1, 0.3}, {7, 100, 0.033, 23.1}, {1, 1, 0.0125, 0.0125},
	} {
		if got := Amount(c.packs, c.pack, c.price); got != c.want {
			t.Errorf("%v x %v x %v: got %v, want %v", c.packs, c.pack, c.price, got, c.want)
		}
	}
}

func TestSums(t *testing.T) {
	tally := NewTally()
	tally.Add(Key{Role: "screw", Code: "S"}, 5)
	tally.Add(Key{Role: "board", Code: "B2"}, 1)
	tally.Add(Key{Role: "board", Code: "B1"}, 2)
	tally.Add(Key{Role: "board", Code: "B1"}, 3)
	tally.Add(Key{Role: "tape", Code: "T"}, 0)
	tally.Add(Key{Role: "paint", Colour: "Red"}, 2)
	tally.Add(Key{Role: "paint", Colour: "Green"}, 3)
	tally.Add(Key{Role: "other", Code: "O"}, 1)
	want := []Sum{{Key{Role: "board", Code: "B1"}, 5}, {Key{Role: "board", Code: "B2"}, 1}, {Key{Role: "screw", Code: "S"}, 5},
		{Key{Role: "paint", Colour: "Green"}, 3}, {Key{Role: "paint", Colour: "Red"}, 2}, {Key{Role: "other", Code: "O"}, 1}}
	got := tally.Sums([]string{"board", "screw", "tape", "paint"})
	if len(got) != len(want) {
		t.Fatalf("got %v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("line %d: got %v, want %v", i, got[i], want[i])
		}
	}
}

// A roll 1.5 m wide lapped by 150 mm covers 1.35 m: ten rolls' worth cover nine.
func TestMembrane(t *testing.T) {
	if got := Membrane(90, 1.5, 0.15); got < 99.9999 || got > 100.0001 {
		t.Errorf("90 m2: got %v, want 100", got)
	}
	if got := Membrane(90, 0.1, 0.15); got != 90 {
		t.Errorf("roll narrower than its lap: got %v, want 90", got)
	}
}
