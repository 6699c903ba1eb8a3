package boards

import (
	"testing"

	"lapwright/engine/measure"
)

// threeWindows is a plain wall of 19 courses with three openings.
func threeWindows() Wall {
	x := span(0, 9000)
	return Wall{
		Base: measure.Level(x, mm(150)), Top: measure.Level(x, mm(2755)),
		Marks: marks(150, 135, 18), Width: mm(175), StripLeast: mm(50), PieceLeast: mm(600),
		Voids: []Void{
			{1, span(990, 2210), span(890, 2110)},
			{2, span(3590, 4210), span(1290, 2110)},
			{3, span(6390, 7410), span(-10, 2110)},
		},
	}
}

// gable is a gable of 9 by 5.65 m with the same openings.
func gable() Wall {
	w := threeWindows()
	w.Top = measure.Profile{{X: 0, Z: mm(2755)}, {X: mm(4500), Z: mm(5600)}, {X: mm(9000), Z: mm(2755)}}
	w.Marks = marks(150, 135, 40)
	return w
}

func benchmarkRuns(b *testing.B, walls ...Wall) {
	b.ReportAllocs()
	for b.Loop() {
		for _, w := range walls {
			Runs(w)
		}
	}
}

func BenchmarkRunsWall(b *testing.B)  { benchmarkRuns(b, threeWindows()) }
func BenchmarkRunsGable(b *testing.B) { benchmarkRuns(b, gable()) }
func BenchmarkRunsHouse(b *testing.B) {
	benchmarkRuns(b, threeWindows(), threeWindows(), gable(), gable())
}

// BenchmarkWallWithPieces is a whole wall down to the outline of each board,
// every run cut at each third of it.
func BenchmarkWallWithPieces(b *testing.B) {
	w := threeWindows()
	b.ReportAllocs()
	for b.Loop() {
		for _, r := range Runs(w) {
			for i := range measure.Length(3) {
				third := r.Span.Length() / 3
				r.Piece(measure.Span{Lo: r.Span.Lo + i*third, Hi: r.Span.Lo + (i+1)*third})
			}
		}
	}
}
