package engine

import (
	"math"
	"slices"
	"testing"

	"lapwright/engine/measure"
)

// Sealer counted in millilitres is ordered by the tin: one wall's cut edges
// want the same whether its product is listed by the litre or not, and of tins
// of half a litre no more are bought than hold it. Order quantity is whole
// units, so by the litre up to a litre more is bought.
func TestPaintByTheTin(t *testing.T) {
	order := func(unit string, pack float64) OrderLine {
		job := testJob(Wall{Name: "A", Width: measure.MM(9000), Height: measure.MM(2700), Quantity: 3})
		job.Products = slices.DeleteFunc(slices.Clone(job.Products), func(p Product) bool { return p.Role == RolePaint })
		job.Products = append(job.Products, Product{Role: RolePaint, Code: "P", Unit: unit, Pack: pack, Price: 1})
		for _, l := range mustTakeoff(t, job).Order {
			if l.Role == RolePaint {
				return l
			}
		}
		t.Fatal("no paint is ordered")
		return OrderLine{}
	}
	l, ml := order("l", 0.5), order("ml", 500)
	if math.Abs(ml.Net-1000*l.Net) > 1e-6 || ml.Net == 0 {
		t.Errorf("%v ml are %v l", ml.Net, l.Net)
	}
	need := ml.Net * (1 + ml.Spare/100)
	if want := math.Ceil(need / 500); ml.Packs != want || ml.Packs > l.Packs {
		t.Errorf("%v ml take %v tins, want %v; by the litre it was %v", need, ml.Packs, want, l.Packs)
	}
}

// Sawn edges by hand, boards 180 wide: a square piece has its two ends, 360. A
// raked one that loses 240 along the edge has 300 of slope (180, 240, 300) and
// its other end, 480. A bottom corner notched 50 x 117: ends of 180 and of 63,
// and 117 + 50 of notch, 410. One notched 200 x 80 in its top edge: 360 and
// 80 + 200 + 80. A hole of 100 x 60: 360 and 320. Ripped all along: 360 and 1,000.
// A reveal board, of which no outline is kept: 2 x 138.
func TestCutEdge(t *testing.T) {
	poly := func(at ...int64) (out measure.Polygon) {
		for i := 0; i < len(at); i += 2 {
			out = append(out, measure.Point{X: mm(at[i]), Z: mm(at[i+1])})
		}
		return out
	}
	square := poly(0, 0, 1000, 0, 1000, 180, 0, 180)
	hole := VoidRect{X: measure.Span{Lo: mm(400), Hi: mm(500)}, Z: measure.Span{Lo: mm(60), Hi: mm(120)}}
	for _, c := range []struct {
		name  string
		piece Piece
		want  int64
	}{
		{"square", Piece{Outline: square}, 360},
		{"raked", Piece{Outline: poly(0, 0, 1000, 0, 1000, 180, 240, 180), Left: End{Kind: Rake}}, 480},
		{"notched at a corner", Piece{Outline: poly(0, 0, 950, 0, 950, 117, 1000, 117, 1000, 180, 0, 180)}, 410},
		{"notched at the top", Piece{Outline: poly(0, 0, 1000, 0, 1000, 180, 600, 180, 600, 100, 400, 100, 400, 180, 0, 180)}, 720},
		{"with a hole", Piece{Outline: square, Cutouts: []VoidRect{hole}, Holes: []VoidRect{hole}}, 680},
		{"ripped", Piece{Outline: square, Ripped: true, Length: mm(1000)}, 1360},
		{"reveal board", Piece{Width: mm(138)}, 276},
	} {
		if got := cutEdge(&WallResult{Pieces: []Piece{c.piece}}); got != mm(c.want) {
			t.Errorf("%s: %v mm, want %d", c.name, got, c.want)
		}
	}
}
